"""What a listing in a shop says of a plan: as plain text, as Markdown, and as data that search engines read (schema.org, JSON-LD)."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from drawleaf.english import capitalized, counted, listed, lower_first
from drawleaf.language import Words
from drawleaf.sell.author_prices import Price
from drawleaf.sell.on_sale import OnSale
from drawleaf.units import LengthFormat, Units

LONGEST_WORDS = 13
"""So many key words: what most shops take."""
_UNITS = {Units.INCH: "inches", Units.MM: "metric", Units.BOTH: "inches and metric"}


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture of the listing: its file, and what it shows in words."""

    file: str
    alt: str


@dataclass(frozen=True, slots=True)
class Listing:
    """All that the three forms are made of, in the plan's language."""

    plan: OnSale
    summary: str
    facts: tuple[tuple[str, str], ...]
    inside: tuple[str, ...]
    key_words: tuple[str, ...]
    price: Price | None


def make_listing(plan: OnSale, pages: int, price: Price | None) -> Listing:
    """The listing of a plan; ``pages`` is how many its PDF has."""
    words, lengths = Words(plan.language), LengthFormat(plan.units)
    wide, deep, high = map(lengths.text, plan.overall)
    size = words.tell("{} wide, {} deep and {} high", wide, deep, high)
    summary = plan.summary or words.tell("A plan to build the {}: {}.", plan.title, size)
    facts = (
        (words.put("Size"), size),
        (words.put("Skill"), capitalized(plan.skill)),
        (words.put("Time"), words.tell("about {} of work over {}", counted(round(plan.hours), "hour"), counted(plan.days, "day"))),
        (words.put("Wood"), capitalized(listed(plan.materials))),
        (words.put("Parts"), words.tell("{} in {}", counted(plan.pieces, "piece"), counted(len(plan.steps), "step"))),
        (words.put("Tools"), capitalized(listed(lower_first(tool) for tool in plan.tools))),
        (words.put("Price"), price.text if price is not None else ""),
    )  # fmt: skip
    inside = (
        words.tell("PDF to print, {} on {}", counted(pages, "page"), "A4" if plan.paper == "a4" else "Letter"),
        words.put("the same for a tablet, a step on a screen"),
        words.put("cut list and shopping list, also as spreadsheets"),
        words.put("layouts of every sheet and board, with the cuts in order"),
        words.put("drawings of every part, exploded views and joints"),
        words.put("every step with its drawing, settings, checks and cautions"),
    )
    return Listing(plan, summary, tuple(fact for fact in facts if fact[1]), inside, _key_words(plan, words), price)


def _key_words(plan: OnSale, words: Words) -> tuple[str, ...]:
    title = plan.title.lower()
    usual = [words.put(one) for one in ("woodworking plan", "cut list", "step by step")]
    own = [title, f"{title} plan", *usual, _UNITS[plan.units], *(f"{one} {title}" for one in plan.materials)]
    return tuple(dict.fromkeys(own))[:LONGEST_WORDS]


def as_text(listing: Listing, pictures: Sequence[Shown]) -> str:
    """For the fields of a shop that take no marks."""
    words = Words(listing.plan.language)
    lines = [listing.plan.title, "", listing.summary, ""]
    lines += [f"{name}: {fact}" for name, fact in listing.facts]
    lines += ["", words.put("In the file"), *(f"- {one}" for one in listing.inside)]
    lines += ["", words.put("Key words"), ", ".join(listing.key_words)]
    lines += ["", words.put("Pictures, in words"), *(f"{one.file}: {one.alt}" for one in pictures)]
    return "\n".join(lines) + "\n"


def as_markdown(listing: Listing, pictures: Sequence[Shown]) -> str:
    """For a page of one's own."""
    words = Words(listing.plan.language)
    lines = [f"# {_plain(listing.plan.title)}", "", _plain(listing.summary), ""]
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
    maker = {"@type": "Person", "name": listing.plan.author}
    product: dict[str, Any] = {
        "@type": "Product",
        "name": listing.plan.title,
        "description": listing.summary,
        "sku": listing.plan.number,
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
        "name": listing.plan.title,
        "description": listing.summary,
        "inLanguage": listing.plan.language,
        "image": images[:1],
        "totalTime": f"PT{round(listing.plan.hours * 60)}M",
        "tool": [{"@type": "HowToTool", "name": one} for one in listing.plan.tools],
        "supply": [{"@type": "HowToSupply", "name": one} for one in listing.plan.supplies],
        "step": [
            {"@type": "HowToStep", "position": at, "name": one} for at, one in enumerate(listing.plan.steps, start=1)
        ],
    }
    data = {"@context": "https://schema.org", "@graph": [product, how]}
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"
