"""What a listing in a shop says of a plan: as plain text, as Markdown, and as data that search engines read (schema.org, JSON-LD)."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from drawleaf.english import capitalized, counted, listed
from drawleaf.language import Words
from drawleaf.sell.author_prices import Price
from drawleaf.units import Length, LengthFormat, Units

LONGEST_WORDS = 13
"""So many key words: what most shops take."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture of the listing: its file, and what it shows in words."""

    file: str
    alt: str


@dataclass(frozen=True, slots=True)
class Listing:
    """All that the three forms are made of, in the plan's language."""

    title: str
    number: str
    revision: str
    author: str
    date: str
    language: str
    summary: str
    facts: tuple[tuple[str, str], ...]
    inside: tuple[str, ...]
    key_words: tuple[str, ...]
    tools: tuple[str, ...]
    supplies: tuple[str, ...]
    steps: tuple[str, ...]
    hours: float
    price: Price | None


def make_listing(plan: Any, pages: int, price: Price | None) -> Listing:
    """The listing of a compiled plan: ``plan`` is its ``plan.json`` as read, ``pages`` how many the PDF has."""
    about, words = plan["plan"], Words(plan["plan"]["language"])
    lengths = LengthFormat(Units(about["units"]))
    wide, deep, high = (
        lengths.text(Length.of_mm(Fraction(side).limit_denominator(10000))) for side in plan["overall_mm"]
    )
    hours, days = plan["schedule"]["active_hours"], plan["schedule"]["days"]
    tools = [row["name"] for row in plan["tools"] if row["steps"]]
    size = words.tell("{} wide, {} deep and {} high", wide, deep, high)
    parts = sum(row["quantity"] for row in plan["cut_list"])
    materials = list(dict.fromkeys(part["material"] for part in plan["parts"]))
    summary = about["summary"] or words.tell("A plan to build the {}: {}.", about["title"], size)
    facts = (
        (words.put("Size"), size),
        (words.put("Skill"), capitalized(about["skill"]) if about["skill"] else ""),
        (words.put("Time"), words.tell("about {} of work over {}", counted(round(hours), "hour"), counted(days, "day"))),
        (words.put("Wood"), capitalized(listed(materials))),
        (words.put("Parts"), words.tell("{} in {}", counted(parts, "piece"), counted(len(plan["steps"]), "step"))),
        (words.put("Tools"), listed(tools)),
        (words.put("Price"), price.text if price is not None else ""),
    )  # fmt: skip
    inside = (
        words.tell("PDF to print, {} on {}", counted(pages, "page"), "A4" if about["paper"] == "a4" else "Letter"),
        words.put("the same for a tablet, a step on a screen"),
        words.put("cut list and shopping list, also as spreadsheets"),
        words.put("layouts of every sheet and board, with the cuts in order"),
        words.put("drawings of every part, exploded views and joints"),
        words.put("every step with its drawing, settings, checks and cautions"),
    )
    return Listing(
        about["title"], about["number"], about["revision"], about["author"], about["date"], about["language"], summary,
        tuple(fact for fact in facts if fact[1]), inside, _key_words(about, materials, words), tuple(tools),
        tuple(row["name"] for row in plan["shopping"]["rows"]), tuple(step["title"] for step in plan["steps"]), hours, price,
    )  # fmt: skip


def _key_words(about: Any, materials: Sequence[str], words: Words) -> tuple[str, ...]:
    title = about["title"].lower()
    usual = [words.put(one) for one in ("woodworking plan", "cut list", "step by step")]
    skill = [f"{about['skill']} woodworking".lower()] if about["skill"] else []
    units = {"in": ["inches"], "mm": ["metric"], "both": ["inches and metric"]}[about["units"]]
    own = [title, f"{title} plan", *usual, *skill, *units, *(f"{one} {title}" for one in materials)]
    return tuple(dict.fromkeys(own))[:LONGEST_WORDS]


def as_text(listing: Listing, pictures: Sequence[Shown]) -> str:
    """For the fields of a shop that take no marks."""
    words = Words(listing.language)
    lines = [listing.title, "", listing.summary, ""]
    lines += [f"{name}: {fact}" for name, fact in listing.facts]
    lines += ["", words.put("In the file"), *(f"- {one}" for one in listing.inside)]
    lines += ["", words.put("Key words"), ", ".join(listing.key_words)]
    lines += ["", words.put("Pictures, in words"), *(f"{one.file}: {one.alt}" for one in pictures)]
    return "\n".join(lines) + "\n"


def as_markdown(listing: Listing, pictures: Sequence[Shown]) -> str:
    """For a page of one's own."""
    words = Words(listing.language)
    lines = [f"# {_plain(listing.title)}", "", _plain(listing.summary), ""]
    lines += [f"![{_plain(one.alt)}]({one.file})" for one in pictures[:1]]
    lines += ["", "| | |", "|---|---|", *(f"| {name} | {_plain(fact)} |" for name, fact in listing.facts)]
    lines += ["", f"## {words.put('In the file')}", "", *(f"- {one}" for one in listing.inside), ""]
    lines += [f"![{_plain(one.alt)}]({one.file})" for one in pictures[1:]]
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    """An author's words with no mark of Markdown or HTML at work in them."""
    return "".join(f"\\{sign}" if sign in "\\`*_[]<>|#" else sign for sign in text)


def as_data(listing: Listing, pictures: Sequence[Shown]) -> str:
    """A ``Product`` and a ``HowTo`` of schema.org as JSON-LD. An offer is there only where the author named a price."""
    images = [one.file for one in pictures]
    maker = {"@type": "Person", "name": listing.author}
    product: dict[str, Any] = {
        "@type": "Product",
        "name": listing.title,
        "description": listing.summary,
        "sku": listing.number,
        "category": "Woodworking plan",
        "image": images,
        "brand": maker,
        "additionalProperty": [{"@type": "PropertyValue", "name": name, "value": fact} for name, fact in listing.facts],
    }
    if listing.price is not None:
        product["offers"] = {
            "@type": "Offer",
            "price": f"{listing.price.amount:.2f}",
            "priceCurrency": listing.price.currency,
            "validFrom": listing.price.date,
        }
    how = {
        "@type": "HowTo",
        "name": listing.title,
        "description": listing.summary,
        "inLanguage": listing.language,
        "image": images[:1],
        "totalTime": f"PT{round(listing.hours * 60)}M",
        "tool": [{"@type": "HowToTool", "name": one} for one in listing.tools],
        "supply": [{"@type": "HowToSupply", "name": one} for one in listing.supplies],
        "step": [{"@type": "HowToStep", "position": at, "name": one} for at, one in enumerate(listing.steps, start=1)],
    }
    data = {"@context": "https://schema.org", "@graph": [product, how]}
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"
