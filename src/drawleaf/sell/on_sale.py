"""What a ``plan.json`` tells of a plan that is offered for sale, typed."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from drawleaf.sell.piece import told_by
from drawleaf.units import Length, Units


@dataclass(frozen=True, slots=True)
class OnSale:
    """A compiled plan as a shop shows it. ``overall`` is its width, depth and height, ``pieces`` how many parts are cut; ``tools``, ``supplies``
    and ``steps`` are their names in order."""

    title: str
    number: str
    author: str
    language: str
    edition: str | None
    summary: str
    skill: str
    units: Units
    paper: str
    overall: tuple[Length, ...]
    pieces: int
    materials: tuple[str, ...]
    tools: tuple[str, ...]
    supplies: tuple[str, ...]
    steps: tuple[str, ...]
    hours: float
    days: int


def on_sale_from(text: str | bytes, name: str = "plan.json") -> OnSale:
    """The plan from the text of its ``plan.json``; ``name`` is for messages. Raises NotAPlanError where it is none."""
    return told_by(text, name, _on_sale)


def _on_sale(data: Any) -> OnSale:
    plan = data["plan"]
    return OnSale(
        title=plan["title"],
        number=plan["number"],
        author=plan["author"],
        language=plan["language"],
        edition=plan["edition"],
        summary=plan["summary"],
        skill=plan["skill"],
        units=Units(plan["units"]),
        paper=plan["paper"],
        overall=tuple(Length.of_mm(Fraction(side).limit_denominator(10000)) for side in data["overall_mm"]),
        pieces=sum(row["quantity"] for row in data["cut_list"]),
        materials=tuple(dict.fromkeys(part["material"] for part in data["parts"])),
        tools=tuple(row["name"] for row in data["tools"] if row["steps"]),
        supplies=tuple(row["name"] for row in data["shopping"]["rows"]),
        steps=tuple(step["title"] for step in data["steps"]),
        hours=data["schedule"]["active_hours"],
        days=data["schedule"]["days"],
    )
