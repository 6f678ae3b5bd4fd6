"""Elevations and sections to scale, and an enlarged detail of each distinct joint."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.step_needs import how_many
from drawleaf.book.page.figure_pages import Row, column_height, in_columns, in_rows, room_left, single_rows, usual_scale
from drawleaf.book.page.measure import text_height
from drawleaf.book.page.paper import Paper, paper_of
from drawleaf.model.catalogue import SCREWS
from drawleaf.model.drawings import Drawing
from drawleaf.setting_out.screws import SIXTY_FOURTH, clearance_bit, pilot_hole

_SIZES = "Sizes in {}. Dashed lines are hidden edges. A small circle on a dimension line is where its distances are measured from."
_CUT = (
    " Sections are cut on the lettered lines. Cut faces are hatched: plywood along its layers, solid wood "
    "slanting across the grain and in broken lines along it. Numbers are those of the cut list."
)
_DETAILS_HEAD, _DETAILS_HEAD_BELOW = 8.2, 14.2
"""The title of the details at the top of a page, and below something else."""
_TABLE_HEAD, _TABLE_HEAD_AGAIN, _ROW_AIR = 21.0, 12.0, 1.8
"""The title and the head of the table of plain joints, its head where it runs on, and the air in a row."""
_TABLE_REST, _HELD_WIDTH = 95.4, 51.6
"""What its other columns take of its width, and the width of the words on what holds a joint."""
_WORTH_WHILE = 100.0
"""With less room than this below the last section, details begin a page, but where that takes a page more."""


@dataclass(frozen=True, slots=True)
class PlainJoint:
    """A joint that a row of a table tells as well as a section: its detail, what meets, what holds it and the holes for that."""

    detail: Drawing
    meets: Markup
    held: Markup
    clearance: Markup
    pilot: Markup


def gather(book: Book) -> dict[str, Any] | None:
    drawings = book.drawings
    if not drawings.elevations:
        return None
    details = tuple(one for one in drawings.details if not one.plain)
    plain = tuple(_plain_joint(book, one) for one in drawings.details if one.plain)
    views = (*drawings.elevations, *drawings.sections)
    introduction = _SIZES.format(book.formatter.unit_name()) + (_CUT if drawings.sections else "")
    if not book.for_print:
        return {
            "introduction": introduction,
            "rows": single_rows(views),
            "pages": [(details,)] if details else [],
            "runs_on": True,
            "usual": usual_scale(details),
            "plain": plain,
        }
    paper = paper_of(book.derived.plan.paper)
    placed = _placed(views, details, text_height(introduction, paper.text_width, 10.5, 1.38) + 2.0, paper, book.begun)
    return {
        "introduction": introduction,
        "rows": placed.rows,
        "pages": placed.pages,
        "runs_on": placed.runs_on,
        "usual": usual_scale(details),
        "plain": plain,
        "follows": placed.follows,
        "ends": _end(placed.end, plain, paper),
    }


@dataclass(frozen=True, slots=True)
class _Placed:
    """Views and details in their places; whether the details begin below the last view and the views below another chapter; and how far
    down the last page they reach, in mm."""

    rows: tuple[Row, ...]
    pages: tuple[tuple[tuple[Drawing, ...], ...], ...]
    runs_on: bool
    follows: bool
    end: float

    @property
    def count(self) -> int:
        """How many pages they begin."""
        rows = sum(row.new_page for row in self.rows)
        return rows + (not self.follows) + len(self.pages) - self.runs_on


def _placed(
    views: Sequence[Drawing], details: Sequence[Drawing], introduction: float, paper: Paper, begun: float
) -> _Placed:
    """Views and details on pages of their own, or from ``begun`` mm on where that takes a page less."""
    room = paper.text_height - 2.0
    apart = _set_from(views, details, room, paper.opening - introduction, paper.text_width)
    below = paper.following(begun) - introduction
    follows = replace(_set_from(views, details, room, below, paper.text_width), follows=True)
    fits = not follows.rows[0].new_page and follows.rows[0].height <= below
    return follows if fits and follows.count < apart.count else apart


def _set_from(
    views: Sequence[Drawing], details: Sequence[Drawing], room: float, first_room: float, width: float
) -> _Placed:
    """Views and details where the first page has ``first_room`` mm for them and each other one ``room``."""
    rows = in_rows(views, width, room, first_room)
    left = room_left(rows, room, first_room)
    below = in_columns(details, room, left - _DETAILS_HEAD_BELOW)
    apart = in_columns(details, room, room - _DETAILS_HEAD)
    runs_on = any(below[:1] and below[0]) and (len(below) <= len(apart) or left > _WORTH_WHILE)
    pages = below if runs_on else apart
    end = room - left
    if pages:
        head = _DETAILS_HEAD * (len(pages) == 1)
        begins = end + _DETAILS_HEAD_BELOW if runs_on and len(pages) == 1 else head
        usual = usual_scale(details)
        end = begins + max(column_height(column, usual) for column in pages[-1])
    return _Placed(rows, pages, runs_on, False, end)


def _end(high: float, plain: Sequence[PlainJoint], paper: Paper) -> float:
    """How far down its last page the chapter reaches with the table of plain joints, whose rows may run on to a next one. In mm."""
    if not plain:
        return high
    meets, held = paper.text_width - _TABLE_REST, _HELD_WIDTH
    for place, joint in enumerate(plain):
        row = _ROW_AIR + max(text_height(joint.meets, meets, 9.5, 1.25), text_height(joint.held, held, 9.5, 1.25))
        high += row if place else row + _TABLE_HEAD
        if high > paper.text_height:
            high = row + _TABLE_HEAD_AGAIN
    return high


def _plain_joint(book: Book, detail: Drawing) -> PlainJoint:
    plan = book.derived.plan
    joints = [joint for joint in plan.joints if book.drawings.detail_of.get(joint.id) == detail.id]
    first, fmt = joints[0], book.formatter
    # Long joints of a line have more fasteners than short ones: then the count stands at each.
    unlike = len({len(joint.fasteners) for joint in joints}) > 1
    pairs = dict.fromkeys(
        (_named(book, joint.insert), _named(book, joint.receiver), f" (× {len(joint.fasteners)})" if unlike else "")
        for joint in joints
    )
    counts: dict[str, int] = {}
    items = {one.item.id: one.item for joint in joints for one in joint.fasteners}
    for one in first.fasteners:
        counts[one.item.id] = counts.get(one.item.id, 0) + 1
    held = (
        [Markup.escape(item.plural) for item in items.values()]
        if unlike
        else [how_many(items[item].name, items[item].plural, count) for item, count in counts.items()]
    )
    if first.glued:
        held.append(Markup.escape(book.words.put("glue")))
    bored = [one for one in first.fasteners if one.item.kind in SCREWS and one.item.gauge]
    gauges = dict.fromkeys(one.item.gauge for one in bored)
    pilots = dict.fromkeys(
        pilot_hole(one.item.gauge, plan.part(one.into).stock.material.specific_gravity)
        for one in bored
        if one.item.gauge
    )
    bits = replace(fmt, inch_step=SIXTY_FOURTH)
    return PlainJoint(
        detail,
        Markup("; ").join(Markup(book.words.put("{} to {}")).format(one, other) + count for one, other, count in pairs),
        fmt.join(held) or Markup.escape(book.words.put("dry")),
        fmt.join([bits.length(clearance_bit(gauge, plan.lengths)) for gauge in gauges if gauge]),
        fmt.join([bits.length(one) for one in pilots]),
    )


def _named(book: Book, part: str) -> Markup:
    """A part's name with its balloon."""
    item = book.item_by_part[part]
    return Markup('{}&nbsp;<span class="balloon">{}</span>').format(item.name, item.number)


CHAPTER = Chapter("elevations", "Elevations and joints", gather)
