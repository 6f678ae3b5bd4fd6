"""At a glance: what one gets, and what it takes."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.tools import runs_of
from drawleaf.english import lower_first
from drawleaf.model.lists import StockNeed
from drawleaf.model.steps import Schedule

SKILLS = {
    "beginner": "Beginner: no experience needed",
    "some experience": "Some experience: you have built a few things and can cut to a line",
    "experienced": "Experienced: you are at home with your tools and with fine joints",
}


def gather(book: Book) -> dict[str, Any]:
    derived = book.derived
    tools = {tool.id: tool for step in derived.steps for tool in step.tools}
    return {
        "weight": book.formatter.weight(derived.mass_kg),
        "skill": SKILLS.get(derived.plan.about.skill, derived.plan.about.skill),
        "powered": [lower_first(tool.name) for tool in tools.values() if tool.power],
        "wood": [line for need in derived.layouts.needs for line in _to_buy(book, need)],
        "schedule_drawing": book.drawings.schedule,
        "helper_steps": _helper_steps(derived.schedule),
        "pieces": sum(item.quantity for item in derived.cut_list.items),
    }


def _helper_steps(schedule: Schedule) -> list[str]:
    """The steps that a helper can do while the maker does others, in their order, where that saves a day at least: ``3``, ``5 to 8``."""
    if schedule.for_two or schedule.helped_days >= schedule.days:
        return []
    runs = runs_of({spell.step for spell in schedule.helped if spell.hand == 1})
    return [
        word
        for first, last in runs
        for word in ([f"{first} to {last}"] if last > first + 1 else [str(step) for step in range(first, last + 1)])
    ]


def _to_buy(book: Book, need: StockNeed) -> list[Markup]:
    lines = []
    for size, length, count in need.buy:
        line = Markup("{} × {}, {}").format(
            count, book.stock_words(need.stock) if not length else need.stock.name, size.name
        )
        lines.append(line + ", " + book.formatter.length(length) if length else line)
    return lines


CHAPTER = Chapter("glance", "At a glance", gather)
