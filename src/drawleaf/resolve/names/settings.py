"""What the cover, the colophon and the printed figures need: the plan's head, its formats and shop allowances."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace
from fractions import Fraction
from typing import Literal

from drawleaf.language import Words, usual_language
from drawleaf.model.about import BEGINNER
from drawleaf.model.catalogue import GLUE, Catalogue
from drawleaf.model.plan import About, Making, Revision
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import CoverEntry, PlanHead, PlanSource, ShopEntry, SourceNode
from drawleaf.source.trade_words import item_mend
from drawleaf.units import LengthFormat, Units

DEFAULT_INCH_STEP = Fraction(1, 32)
DEFAULT_MM_STEP = Fraction(1, 2)
TAUGHT = BEGINNER
"""A plan for this skill is built by two, where the plan does not say otherwise."""
_YEAR_MONTH = re.compile(r"\d{4}-\d\d")
# A rough allowance that no shop has would only be a slip of the pen.
MOST_ALLOWANCE_MM = 100


def about(
    head: PlanHead, language: str, sources: Sources, findings: Findings, cover: CoverEntry | None = None
) -> About:
    """The plan's head as printed."""
    for node, date in ((head, head.date), *((entry, entry.date) for entry in head.history)):
        _look_at_date(date, node, sources, findings)
    for key in ("title", "number", "author"):
        if not getattr(head, key).strip():
            where = sources.at(head, key)
            findings.error(
                "empty-value",
                f"“{key}” is empty",
                where,
                "The cover prints it.",
                f"Write the {key} between the quotes.",
            )
    return About(
        title=head.title,
        subtitle=head.subtitle,
        number=head.number,
        revision=head.revision,
        date=head.date,
        author=head.author,
        contact=head.contact,
        copyright=head.copyright,
        terms=head.terms,
        summary=head.summary,
        skill=head.skill,
        hard_parts=tuple(head.hard_parts),
        care=tuple(head.care),
        price=_price(head, sources, findings),
        history=tuple(Revision(entry.mark, entry.date, entry.text) for entry in head.history),
        language=language,
        learner=head.skill == TAUGHT if head.learner is None else head.learner,
        picture=cover.picture if cover else "",
    )


def _look_at_date(date: str, node: SourceNode, sources: Sources, findings: Findings) -> None:
    """A date is year, month, day, or year and month: what others write first is day here and month there."""
    whole = f"{date}-01" if _YEAR_MONTH.fullmatch(date) else date
    try:
        sound = datetime.date.fromisoformat(whole).isoformat() == whole
    except ValueError:
        sound = False
    if not sound:
        findings.error(
            "odd-date",
            f"“{date}” is no date",
            sources.at(node, "date"),
            "A date is the year, the month and the day in figures, so that nobody takes one for the other.",
            "Write it as in “date: 2026-11-25”.",
        )


def _price(head: PlanHead, sources: Sources, findings: Findings) -> Fraction | None:
    if head.price is None:
        return None
    try:
        price = Fraction(head.price)
    except (ValueError, ZeroDivisionError):
        price = Fraction(-1)
    if price < 0:
        findings.error(
            "price", f"“{head.price}” is no price", sources.at(head, "price"), mend='Write “price: "14.00"”.'
        )
        return None
    return price


def length_format(plan: PlanSource, units: Units | None, evaluator: Evaluator, top: Scope) -> LengthFormat:
    """How lengths are printed. ``round_to`` is the finest step of its own unit; the other keeps its default."""
    chosen = _printed(plan.plan, units)
    step = evaluator.length(plan.plan.round_to, top, plan.plan, "round_to")
    if step is None or step.exact_mm <= 0:
        return LengthFormat(chosen, DEFAULT_INCH_STEP, DEFAULT_MM_STEP)
    if _written_in_mm(plan.plan.round_to or "", plan.plan.lengths):
        return LengthFormat(chosen, DEFAULT_INCH_STEP, step.exact_mm)
    return LengthFormat(chosen, step.inches, DEFAULT_MM_STEP)


def _printed(head: PlanHead, units: Units | None) -> Units:
    """The units of the booklet: as asked for, else as the plan says."""
    return Units(units or head.units or head.lengths)


def words(head: PlanHead, units: Units | None) -> Words:
    """Our words as the booklet has them: in the language that the plan says, else the English that is usual with its units."""
    printed = _printed(head, units)
    return Words(head.language or usual_language(printed), printed)


def _written_in_mm(text: str, unit: Literal["in", "mm"]) -> bool:
    if "mm" in text:
        return True
    return unit == "mm" and "in" not in text and '"' not in text


def paper(plan: PlanSource, chosen: str | None, form: LengthFormat) -> str:
    """As given, else Letter for inch booklets and A4 for metric ones."""
    return chosen or plan.plan.paper or ("a4" if form.units is Units.MM else "letter")


def making(entry: ShopEntry, evaluator: Evaluator, top: Scope, sources: Sources, findings: Findings) -> Making | None:
    """Shop allowances; None where one cannot be worked out."""
    lengths = {}
    for key in ("kerf", "sheet_trim", "end_trim", "jointing_allowance"):
        length = evaluator.length(getattr(entry, key), top, entry, key)
        if length is None:
            return None
        if not 0 <= length.exact_mm <= MOST_ALLOWANCE_MM:
            findings.error("allowance", f"“{key}” of {getattr(entry, key)} makes no sense", sources.at(entry, key))
            return None
        lengths[key] = length
    return Making(
        lengths["kerf"], lengths["sheet_trim"], lengths["end_trim"], entry.tools, lengths["jointing_allowance"]
    )


def glued_with(entry: ShopEntry, catalogue: Catalogue, sources: Sources, findings: Findings) -> Catalogue:
    """The catalogue with the plan's own glue as what joints are made with."""
    glues = {name: one for name, one in catalogue.consumables.items() if one.open_minutes is not None}
    if entry.glue in glues:
        return replace(catalogue, consumables={**catalogue.consumables, GLUE: glues[entry.glue]})
    if entry.glue != GLUE:
        findings.error(
            "unknown-glue",
            f"There is no glue “{entry.glue}” in shared/consumables",
            sources.at(entry, "glue"),
            mend=item_mend("consumables", entry.glue, glues),
        )
    return catalogue
