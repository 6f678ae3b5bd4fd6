"""``drawleaf measure``: an author's questions about a plan, answered at once.

A question is the id of a part or an assembly, ``everything``, two of them with ``to`` between (the clearance), or any expression in the
source's own notation, seen from the top of the plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from drawleaf.model.diagnostic import Diagnostic, has_errors
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part, Plan
from drawleaf.model.position import Position
from drawleaf.resolve.asking import QUESTION, Answering, resolve_to_ask
from drawleaf.solids.build import Solids, build_solids
from drawleaf.source.names import did_you_mean, nearest
from drawleaf.source.report import render
from drawleaf.source.values import Angle, Value
from drawleaf.units import Length, LengthFormat, Units, trimmed
from drawleaf.units.measures import convert

EVERYTHING = "everything"
_WAYS = {Axis.X: "left to right", Axis.Y: "front to back", Axis.Z: "bottom to top"}
_FINE = Fraction(1, 100)


@dataclass(frozen=True, slots=True)
class Answer:
    """What was asked, and lines that answer it; a diagnostic where it has no answer."""

    question: str
    lines: tuple[str, ...] = ()
    mistake: Diagnostic | None = None

    def text(self) -> str:
        """For a terminal."""
        if self.mistake is not None:
            return render(self.mistake, {QUESTION: self.question})
        if len(self.lines) == 1:
            return f"{self.question}: {self.lines[0]}"
        return "\n".join([self.question, *(f"    {line}" for line in self.lines)])


class Ruler:
    """Answers questions about one plan."""

    def __init__(self, answering: Answering) -> None:
        self.answering = answering
        self.plan: Plan = answering.plan
        self.solids: Solids = build_solids(self.plan)
        self.form = LengthFormat(Units.BOTH, self.plan.lengths.inch_step, _FINE)

    def answer(self, question: str) -> Answer:
        """One question, answered."""
        asked = " ".join(question.split())
        if " to " in asked:
            return self._between(asked)
        parts = self._parts(asked)
        if parts:
            return Answer(asked, self._about(asked, parts))
        value = self.answering.value(asked)
        if isinstance(value, Diagnostic):
            return Answer(asked, mistake=self._helped(asked, value))
        return Answer(asked, (self.value(value),))

    def overview(self) -> list[Answer]:
        """The piece as a whole, its dimensions and its parts, for who asks nothing in particular."""
        named = [Answer(one.name, (self.value(one.value),)) for one in self.plan.dimensions]
        parts = tuple(f"{part.id}: {self._size(part)}" for part in self.plan.parts)
        return [
            Answer(EVERYTHING, self._about(EVERYTHING, self.plan.parts)),
            *named,
            Answer("parts (length × width × thickness)", parts),
        ]

    def value(self, value: Value) -> str:
        """A value in words, lengths in both units; what rounding hides is reported."""
        if isinstance(value, Length):
            return self.length(value)
        if isinstance(value, Angle):
            return f"{trimmed(value.degrees, 3)}°"
        number = Fraction(value)
        return str(number) if number.denominator == 1 else f"{trimmed(number, 6)} ({number})"

    def length(self, length: Length) -> str:
        """Both units; with the decimal inches where the printed fraction is rounded."""
        text = self.form.text(length)
        if self.form.rounded(length, "in") != length:
            text += f", more exactly {trimmed(length.inches, 4)} in"
        return text

    def _parts(self, asked: str) -> tuple[Part, ...]:
        """The parts that a name stands for: itself, its copies, those of an assembly, or all."""
        if asked.lower() == EVERYTHING:
            return self.plan.parts
        name = asked.removesuffix(".original")
        own = tuple(part for part in self.plan.parts if part.id in (asked, name))
        if own:
            return own
        if any(assembly.id == asked for assembly in self.plan.assemblies):
            return self.plan.parts_in(asked)
        return tuple(part for part in self.plan.parts if part.kind == asked)

    def _about(self, asked: str, parts: Sequence[Part]) -> tuple[str, ...]:
        lines = []
        if len(parts) == 1 and asked != EVERYTHING:
            part = parts[0]
            lines += [
                f"{part.name}, {part.stock.name}, at {part.position}",
                f"size: {self._size(part)}{self._as_cut(part)}",
            ]
            lines += [f"{face.value}: {self.length(part.seen.face(face))}" for face in Face]
        else:
            box = _around([part.body for part in parts])
            lines += [f"{len(parts)} parts"]
            lines += [f"{way}: {self.length(box.extent(axis))}" for axis, way in _WAYS.items()]
        mass, center = self._mass(parts)
        places = (Length.of_mm(Fraction(value)) for value in center)
        told = ", ".join(f"{axis.value} {self.form.text(place)}" for axis, place in zip(Axis, places, strict=True))
        return (
            *lines,
            f"mass of the wood: {mass:.2f} kg ({convert(mass, 'kg', 'lb'):.2f} lb)",
            f"centre of gravity: {told}",
        )

    def _as_cut(self, part: Part) -> str:
        """A word on the size of what joints let into others: it is cut larger than it shows between its faces."""
        shows = sorted(part.seen.extent(axis) for axis in Axis)
        return "" if sorted(part.size) == shows else ", as it is cut, with what its joints take"

    def _size(self, part: Part) -> str:
        return " × ".join(self.form.text(side) for side in part.size)

    def _mass(self, parts: Sequence[Part]) -> tuple[float, tuple[float, float, float]]:
        """Kilograms and the centre of gravity in mm, from the machined solids; hardware and finish weigh nothing here."""
        masses = [part.stock.material.mass(self.solids.solid(part.id).volume) for part in parts]
        whole = sum(masses)
        centers = [self.solids.solid(part.id).centroid for part in parts]
        x, y, z = (sum(m * c[i] for m, c in zip(masses, centers, strict=True)) / whole for i in range(3))
        return whole, (x, y, z)

    def _between(self, asked: str) -> Answer:
        first, _, second = asked.partition(" to ")
        one, other = self._parts(first), self._parts(second)
        if one and other:
            shared = {part.id for part in one} & {part.id for part in other}
            if shared:
                return Answer(asked, (f"“{first}” and “{second}” have {sorted(shared)[0]} in common: no clearance.",))
            return Answer(asked, self._clearance(one, other))
        ends = []
        for name, found in ((first, one), (second, other)):
            if found:
                return Answer(asked, mistake=self._not_both(asked, name))
            value = self.answering.value(name)
            if isinstance(value, Diagnostic):
                return Answer(name, mistake=self._helped(name, value))
            if not isinstance(value, Length):
                return Answer(asked, mistake=_refusal(asked, f"“{name}” is no length", "Ask for two lengths or faces."))
            ends.append(value)
        return Answer(asked, (self.length(ends[1] - ends[0]),))

    def _not_both(self, asked: str, name: str) -> Diagnostic:
        return _refusal(
            asked,
            f"“{name}” is a part or an assembly, and what it is measured to is not",
            "Ask from part to part, or from face to face.",
        )

    def _clearance(self, one: Sequence[Part], other: Sequence[Part]) -> tuple[str, ...]:
        """The gap on each axis between the boxes, and the least distance between the solids themselves."""
        a, b = _around([part.body for part in one]), _around([part.body for part in other])
        lines = [f"{way}: {self._gap(a.span(axis), b.span(axis))}" for axis, way in _WAYS.items()]
        reach = float(
            sum(
                max(a.span(axis).high, b.span(axis).high).mm - min(a.span(axis).low, b.span(axis).low).mm
                for axis in Axis
            )
        )
        least = min(
            self.solids.solid(p.id).manifold.min_gap(self.solids.solid(q.id).manifold, reach)
            for p in one
            for q in other
        )
        words = "they touch" if least < 1e-3 else self.form.text(Length.of_mm(Fraction(least)))
        return (*lines, f"least distance: {words}")

    def _gap(self, a: Span, b: Span) -> str:
        gap = max(b.low - a.high, a.low - b.high)
        if not gap:
            return "level with each other, no gap"
        return f"gap of {self.length(gap)}" if gap > Length.of_mm(0) else f"overlap of {self.length(-gap)}"

    def _helped(self, asked: str, mistake: Diagnostic) -> Diagnostic:
        """A name that is not known, with the nearest of all ids where the plan's own scope had nothing better."""
        words = asked.split(".")
        ids = [part.id for part in self.plan.parts] + [assembly.id for assembly in self.plan.assemblies]
        tails = [an_id for an_id in ids if an_id.split(".")[-len(words) :] == words]
        if tails:
            mend = f"In full it is “{tails[0]}”." if len(tails) == 1 else f"There are {', '.join(tails[:4])}."
            return Diagnostic(mistake.code, mistake.message, mistake.position, mistake.cause, mend)
        if mistake.mend or mistake.code != "unknown-name":
            return mistake
        known = [*ids, *(one.name for one in self.plan.dimensions), EVERYTHING]
        by_tail = {an_id.split(".")[-1]: an_id for an_id in reversed(ids)}
        tail = nearest(asked, by_tail)
        near = did_you_mean(asked, known, otherwise=f"Did you mean “{by_tail[tail]}”?" if tail else "")
        return Diagnostic(mistake.code, mistake.message, mistake.position, mistake.cause, near)


def open_ruler(folder: Path, edition: str | None) -> tuple[Ruler | None, tuple[Diagnostic, ...], dict[str, str]]:
    """The plan ready to be asked, what is wrong with it, and the texts to quote from."""
    from drawleaf.resources import shared_folders
    from drawleaf.source.library import load_library
    from drawleaf.source.reader import read_plan

    library, found = load_library(shared_folders(folder))
    reading = read_plan(folder, library)
    found = (*found, *reading.diagnostics)
    texts = {**library.texts, **reading.texts}
    if has_errors(found):
        return None, found, texts
    answering, more = resolve_to_ask(reading, edition)
    return (Ruler(answering) if answering else None), (*found, *more), texts


def _refusal(asked: str, message: str, mend: str) -> Diagnostic:
    return Diagnostic("not-a-length", message, Position(QUESTION, 1, 1, len(asked)), "", mend)


def _around(boxes: Sequence[Box]) -> Box:
    spans = [Span(min(box.span(axis).low for box in boxes), max(box.span(axis).high for box in boxes)) for axis in Axis]
    return Box(*spans)
