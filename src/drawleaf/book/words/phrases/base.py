"""What all phrases share: parts with their balloons, settings, and what a woodworker calls the sides of a part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any, Self

from markupsafe import Markup

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.phrases.alike import pattern
from drawleaf.book.words.phrases.mark_rows import TABLE_FROM, MarkRow, same_depth, table_of
from drawleaf.book.words.phrases.part_names import PartNames
from drawleaf.book.words.phrases.sides import Side
from drawleaf.derive.operations.drafts import title_names
from drawleaf.derive.shop.clamps import clamps_of, move_on, stays_clamped
from drawleaf.derive.shop.limits import THINNEST_PLANED
from drawleaf.derive.shop.times import clamp_hours, open_minutes
from drawleaf.english import counted
from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.model.run import Run, run_of
from drawleaf.model.steps import Operation, Step
from drawleaf.setting_out.channels import bounds, is_inside
from drawleaf.units import Length, Units

MIRRORED = {Face.LEFT: Face.RIGHT, Face.RIGHT: Face.LEFT}
UNDER_ROUTER = Length.of_inches(4)
"""Narrower wood holds a router's base, 6 in across, and a guide badly. Common practice, no source."""
MANY = 3
"""So many separate distances are spelled out; more are given as first, spacing and last."""


class Speech(PartNames):
    """What a template may ask about its operation. All answers are safe HTML."""

    def __init__(self, derived: Derived, formatter: Formatter, step: Step, operation: Operation) -> None:
        self.derived = derived
        self.plan = derived.plan
        self.words = derived.plan.words
        self.fmt = formatter
        self.bit_fmt = replace(formatter, inch_step=Fraction(1, 64))
        self.step = step
        self.op = operation

    def peers(self) -> list[Self]:
        """The same phrases for each operation of this kind in the step, in order."""
        kind = type(self)
        return [kind(self.derived, self.fmt, self.step, op) for op in self.step.operations if op.kind == self.op.kind]

    @property
    def opens_tool(self) -> bool:
        """Whether this is the first of the step's operations of its kind that is done with its tool."""
        return next(peer for peer in self.peers() if peer.tool == self.tool).op is self.op

    @property
    def closes_tool(self) -> bool:
        """Whether it is the last of them."""
        return [peer for peer in self.peers() if peer.tool == self.tool][-1].op is self.op

    @property
    def tool(self) -> str:
        """The tool that does the work, by its name in ``shared/tools``."""
        return self.op.method.tools[0].id if self.op.method.tools else ""

    def uses(self, tool: str) -> bool:
        """Whether the operation's method takes that tool, or one that is worded like it."""
        return any(tool in (one.id, one.handled_as) for one in self.op.method.tools)

    def part_words(self) -> str:
        """The operation's parts without balloons, for a setting: ``seat top``."""
        return title_names([self.plan.part(part) for part in self.op.parts])

    # Settings

    def has(self, name: str) -> bool:
        """Whether there is a setting of that name, and it is not left open."""
        return getattr(self.op.settings, name, None) is not None

    def value(self, name: str) -> Any:
        """A setting as it is. Raises KeyError where the operation has none of that name."""
        try:
            return getattr(self.op.settings, name)
        except AttributeError:
            raise KeyError(f"{self.op.kind} has no setting {name!r}") from None

    def word(self, name: str) -> str:
        """A setting in words. Raises TypeError where it is a flag: ask ``flag``."""
        value = self.value(name)
        if isinstance(value, bool):
            raise TypeError(f"{name!r} of {self.op.kind} is a flag, not a word")
        return str(value)

    def flag(self, name: str) -> bool:
        """A setting that is or is not so. Raises TypeError where it is anything else."""
        value = self.value(name)
        if not isinstance(value, bool):
            raise TypeError(f"{name!r} of {self.op.kind} is no flag")
        return value

    def number(self, name: str) -> int:
        """A count. Raises TypeError where the setting is none."""
        value = self.value(name)
        if not isinstance(value, int) or isinstance(value, bool):
            raise TypeError(f"{name!r} of {self.op.kind} is no count")
        return value

    def size(self, name: str) -> Markup:
        """A setting as it is printed: a length, degrees or words."""
        return self.fmt.setting(self.value(name))

    def bit(self, length: Length) -> Markup:
        """A bit's size, to the 64th of an inch that bits are sold in."""
        return self.bit_fmt.length(length)

    def diagonal_limit(self) -> Markup:
        return self.fmt.length(Length.of_inches(Fraction(1, 16)))

    def hair(self) -> Markup:
        """What the eye forgives: the limit for sizes."""
        return self.fmt.length(Length.of_inches(Fraction(1, 32)))

    def hours(self, hours: float) -> Markup:
        """A wait: ``1 hour``, ``12 hours``."""
        return Markup(self.fmt.count(int(hours), "hour")) if hours == int(hours) else Markup(self.fmt.hours(hours))

    @property
    def open_time(self) -> str:
        """``about 5 minutes``: from spreading the glue to closing the joint."""
        return f"about {open_minutes(self.plan.catalogue):g} minutes"

    @property
    def clamp_time(self) -> Markup:
        return self.hours(clamp_hours(self.plan.catalogue))

    def clamp_words(self) -> str:
        """``4 clamps``: what this operation needs at once; ``clamps`` where it was not counted."""
        count = self.clamp_count()
        return counted(count, "clamp") if count else "clamps"

    def clamp_count(self) -> int:
        """How many clamps this operation needs at once; 0 where they were not counted."""
        return sum(use.count for use in clamps_of(self.plan, [self.op]))

    def all_clamp_words(self) -> str:
        """``4 clamps``: what the step needs at once; ``clamps`` where it was not counted."""
        count = self.all_clamp_count()
        return counted(count, "clamp") if count else "clamps"

    def all_clamp_count(self) -> int:
        """How many clamps stay on what the step glues until it has set."""
        return sum(use.count for use in clamps_of(self.plan, [op for op in self.step.operations if stays_clamped(op)]))

    @property
    def narrow_for_router(self) -> bool:
        """Whether some part is too narrow for a router's base to ride on while a guide is clamped to it."""
        return any(self.plan.part(part).size[1] < UNDER_ROUTER for part in self.op.parts)

    @property
    def one_piece(self) -> bool:
        """Whether the step works on a single part."""
        return len(dict.fromkeys(part for op in self.step.operations for part in op.parts)) == 1

    @property
    def clamps_move_on(self) -> bool:
        """Whether the joint is longer than its clamps reach at once, and brads hold each stretch as it is done."""
        return move_on(self.plan, self.op)

    def needs_carrier(self) -> bool:
        """Whether a board is planed so thin that it goes through on a carrier."""
        thickness = self.value("thickness")
        return isinstance(thickness, Length) and thickness < THINNEST_PLANED

    @property
    def thinnest_planed(self) -> Length:
        """What the planer still takes without a carrier."""
        return THINNEST_PLANED

    def inches(self, numerator: int, denominator: int = 1) -> Markup:
        """A length of our own advice."""
        return self.fmt.length(Length.of_inches(Fraction(numerator, denominator)))

    def about(self, inches: int) -> Markup:
        """A rough length of our own advice: in millimetres the next round ten."""
        if self.fmt.units is Units.MM:
            return self.fmt.length(Length.of_mm(round(Length.of_inches(inches).exact_mm / 10) * 10))
        return self.inches(inches)

    def plus(self, length: Length, numerator: int, denominator: int) -> Markup:
        return self.fmt.length(length + Length.of_inches(Fraction(numerator, denominator)))

    # Sides

    def side(self, part: Part, face: Face) -> Side:
        """``inside face``, ``bottom edge``, ``left end``: what a woodworker calls a side of a part."""
        if face.axis is part.thickness:
            if face.axis is not Axis.X:
                return Side(face.value, "face")
            around = bounds(self.plan.parts_in(part.assembly))
            if is_inside(face, part, around):
                return Side("inside", "face", inward=True, of_twins=True)
            if is_inside(face.opposite, part, around):
                return Side("outside", "face", of_twins=True)
            return Side(face.value, "face")
        return Side(face.value, "end" if face.axis is part.length_axis else "edge")

    def _by_part(self, kind: type) -> list[tuple[list[str], list]]:
        """The operation's features of that type by part; copies of one source kind that are worked alike together."""
        own: dict[str, list] = {}
        for part_id, feature in self.op.features:
            if isinstance(feature, kind):
                own.setdefault(part_id, []).append(feature)
        groups: dict[tuple, tuple[list[str], list]] = {}
        for part_id, found in own.items():
            part = self.plan.part(part_id)
            ids, _ = groups.setdefault((part.kind, pattern(part, found)), ([], found))
            ids.append(part_id)
        return list(groups.values())

    def twin_side(self, ids: Sequence[str], part: Part, face: Face) -> Side:
        """A side of a part as its mirrored twins have it too: ``outer edge`` where the left one's left edge is the right one's right edge."""
        inner = self._faces_twin(ids, part, face)
        if inner is None:
            return self.side(part, face)
        if face.axis is part.thickness:
            return Side("inside" if inner else "outside", "face", inward=inner, of_twins=True)
        kind = "end" if face.axis is part.length_axis else "edge"
        return Side("inner" if inner else "outer", kind, inward=inner, of_twins=True)

    def _faces_twin(self, ids: Sequence[str], part: Part, face: Face) -> bool | None:
        """Whether a side of a part looks to a mirrored twin among these; None where none stands beyond or behind it."""
        for other in (self.plan.part(one) for one in ids if one != part.id):
            apart = (other.body.span(face.axis).middle - part.body.span(face.axis).middle).exact_mm
            if other.mirrored != part.mirrored and apart:
                return apart * face.side > 0
        return None

    def _nearest(self, part: Part, axis: Axis, at: Length) -> tuple[Face, Length]:
        span = part.body.span(axis)
        low, high = at - span.low, span.high - at
        return (axis.low, low) if low <= high else (axis.high, high)

    def distances(self, values: Sequence[Length]) -> Markup:
        """``2 in, 5 in and 8 in``; where many are evenly spaced, first, spacing and last."""
        steps = {after - before for before, after in pairwise(values)}
        if len(values) > MANY and len(steps) == 1:
            return Markup("{}, then every {} to {}").format(
                self.fmt.length(values[0]), self.fmt.length(steps.pop()), self.fmt.length(values[-1])
            )
        return self.fmt.join([self.fmt.length(value) for value in values])

    # Slides

    @staticmethod
    def slide_end(run: Run) -> str:
        """What a slide's end is called at which the drawer comes out: ``its front end``; ``its end`` for a drawer out of a side."""
        return "its front end" if run.out is Face.FRONT else "its end"

    @property
    def run(self) -> Run:
        """How the drawer of this operation runs."""
        return run_of(self.op.fittings[0]) if self.op.fittings else Run()

    def at_both_ends(self) -> str:
        """Where the room between slides is measured: at the front and at the back, or at the two ends of slides that run otherwise."""
        along = self.run.along
        return f"at the {along.low.value} and at the {along.high.value}"

    def from_side_to_side(self) -> str:
        """Across a drawer: ``from left to right``."""
        across = self.run.across
        return f"from {across.low.value} to {across.high.value}"

    def set_back(self, back: Length, run: Run, edge: str) -> Markup:
        """``1/8 in behind the front edge``, ``1/8 in from the right edge``, ``flush with the front edge``."""
        ends = Markup("the {} {}").format(run.out.value, edge)
        if not back:
            return Markup("flush with ") + ends
        return Markup("{} {} ").format(self.fmt.length(back), "behind" if run.out is Face.FRONT else "from") + ends

    def many_marks(self, rows: Sequence[MarkRow]) -> bool:
        """Whether so many places to mark stand in a table."""
        return len(rows) >= TABLE_FROM

    def mark_table(self, rows: Sequence[MarkRow]) -> Markup:
        """``, all 53/64 in deep: `` and the table of the places, as the end of an action."""
        deep = same_depth(rows)
        return (Markup(", all {} deep: ").format(deep) if deep else Markup(": ")) + table_of(rows)

    def join(self, lines: Sequence[Markup | MarkRow]) -> Markup:
        return Markup("; ").join(lines)

    def sentence(self, text: Markup) -> Markup:
        """The first letter large, where it is a letter of ours."""
        return text[:1].upper() + text[1:] if text[:1].isalpha() else text
