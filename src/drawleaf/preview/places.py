"""From what is clicked on the page back to the lines of the source that made it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from itertools import chain
from typing import Any

from drawleaf.model.derived import Derived
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.position import Position
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Step
from drawleaf.setting_out.outlines import arcs_of
from drawleaf.source.text_files import lines_of
from drawleaf.units import Length, LengthFormat

_MOST = 8
_NUMBERED = ("exploded", "step", "section", "detail")
"""Drawings in which a whole number by itself is a part's number."""
_ACROSS_AND_UP = {
    "elevation-front": (Axis.X, Axis.Z),
    "elevation-side": (Axis.Y, Axis.Z),
    "elevation-top": (Axis.X, Axis.Y),
}


@dataclass(frozen=True, slots=True)
class Line:
    """A place in the source and what it makes."""

    words: str
    position: Position


class Places:
    """Looks up what made a part, a step or a dimension of one compiled plan."""

    def __init__(self, derived: Derived, texts: Mapping[str, str]) -> None:
        self.derived, self.plan, self.texts = derived, derived.plan, texts
        self._axes = tuple(Axis)

    def find(self, what: str, said: str = "", upright: bool = False, body: str | None = None) -> dict[str, Any]:
        """The answer for the page. ``what`` is ``part:3``, ``body:case.side``, ``step:glue-up-seat`` or ``drawing:part-03``; ``said`` the text
        that was clicked in a drawing, ``upright`` whether it stands along an upright dimension line, ``body`` the part or fitting that is
        seen there."""
        kind, _, name = what.partition(":")
        self._axes = _axes_of(name, upright)
        title, lines = self._found(kind, name, said.strip(), body)
        unique = list(dict.fromkeys(lines))[:_MOST]
        return {"title": title, "places": [self._quoted(line) for line in unique]}

    def of_all(self, title: str, shown: Collection[str] | None = None) -> dict[str, Any]:
        """The lines of all parts and fittings that are ``shown``, or of the whole piece, in the order of the source."""
        made = [Line(part.kind, part.position) for part in self.plan.parts if shown is None or part.id in shown]
        made += [Line(one.item.name, one.position) for one in self.plan.fittings if shown is None or one.id in shown]
        lines = sorted(_one_each(made), key=lambda line: line.position)
        return {"title": title, "places": [self._quoted(line) for line in lines]}

    def name_of(self, an_id: str) -> str:
        """What a part or fitting is called: ``3 Side, left``; empty where there is none of that id."""
        return self._of_body(an_id)[0]

    def _found(self, kind: str, name: str, said: str = "", body: str | None = None) -> tuple[str, list[Line]]:
        if kind == "drawing":
            return self._in_drawing(name, said, body)
        if kind == "step":
            step = next((step for step in self.derived.steps if step.id == name), None)
            return (f"Step {step.number}: {step.title}", self._of_step(step)) if step else ("", [])
        if kind == "body":
            return self._of_body(name)
        item = next((item for item in self.derived.cut_list.items if str(item.number) == name), None)
        return (f"{item.number} {item.name}", self._of_item(item)) if item else ("", [])

    def _of_body(self, an_id: str) -> tuple[str, list[Line]]:
        for part in self.plan.parts:
            if part.id == an_id:
                item = self.derived.cut_list.item_of(part.id)
                return f"{item.number} {part.name}", self._of_parts([part])
        for fitting in self.plan.fittings:
            if fitting.id == an_id:
                return fitting.item.name, [Line(fitting.item.name, fitting.position)]
        return "", []

    def _of_item(self, item: CutItem) -> list[Line]:
        return self._of_parts(item.parts)

    def _of_parts(self, parts: Iterable[Part]) -> list[Line]:
        """The lines of the parts, then those of the joints and machining that shape them."""
        parts = list(parts)
        ids = {part.id for part in parts}
        own = [Line(part.kind, part.position) for part in parts]
        joints = [
            Line(f"{joint.family.key}: {joint.insert} to {joint.receiver}", joint.position)
            for joint in self.plan.joints
            if joint.insert in ids or joint.receiver in ids
        ]
        made = [Line(feature.kind, feature.position) for part in parts for feature in part.features]
        return _one_each([*own, *joints, *made])

    def _of_step(self, step: Step) -> list[Line]:
        """What the step's work comes from: joints, machining, fittings and finish, then its parts."""
        operations = step.operations
        lines = [Line(f"{j.family.key}: {j.insert} to {j.receiver}", j.position) for o in operations for j in o.joints]
        lines += [Line(feature.kind, feature.position) for o in operations for _, feature in o.features]
        lines += [Line(fitting.item.name, fitting.position) for o in operations for fitting in o.fittings]
        lines += [Line("finish", o.coat.position) for o in operations if o.coat]
        ids = dict.fromkeys(chain(step.parts, *(o.parts for o in operations)))
        known = {part.id: part for part in self.plan.parts}
        lines += [Line(known[an_id].kind, known[an_id].position) for an_id in ids if an_id in known]
        return _one_each(lines)

    def _in_drawing(self, name: str, said: str, body: str | None) -> tuple[str, list[Line]]:
        item = self._item_drawn(name)
        if said:
            if said.isdigit() and name.startswith(_NUMBERED):
                title, lines = self._found("part", said)
                if lines:
                    return title, lines
            lines = self._of_length(said, item)
            if lines:
                return said, lines
        if body:
            return self._of_body(body)
        if item:
            return f"{item.number} {item.name}", self._of_item(item)
        number = re.fullmatch(r"step-(\d+)", name)
        step = next((step for step in self.derived.steps if number and step.number == int(number[1])), None)
        return self._found("step", step.id) if step else ("", [])

    def _item_drawn(self, name: str) -> CutItem | None:
        number = re.fullmatch(r"part-(\d+)", name)
        return next((item for item in self.derived.cut_list.items if number and item.number == int(number[1])), None)

    def _of_length(self, said: str, item: CutItem | None) -> list[Line]:
        """What has that length as it is printed: named dimensions, the cuts and size of the part drawn, then the sizes and faces of all."""
        form = self.plan.lengths
        lines = [
            Line(one.name, one.position)
            for one in self.plan.dimensions
            if isinstance(one.value, Length) and said in printed(form, one.value)
        ]
        parts = list(item.parts[:1]) if item else list(self.plan.parts)
        for part in parts:
            for feature in part.features if item else ():
                if any(said in printed(form, length) for length in _lengths_of(part, feature)):
                    lines.append(Line(feature.kind, feature.position))
            lines += [
                Line(f"{part.kind}, {word}", part.position)
                for word, axis in (("wide", Axis.X), ("deep", Axis.Y), ("high", Axis.Z))
                if axis in self._axes
                if said in printed(form, part.seen.extent(axis)) or said in printed(form, part.body.extent(axis))
            ]
        if not item:
            lines += [
                Line(f"{part.kind}.{face.value}", part.position)
                for part in parts
                for face in Face
                if face.axis in self._axes
                if said in printed(form, part.seen.face(face))
            ]
        return _one_each(lines)

    def _quoted(self, line: Line) -> dict[str, Any]:
        place = line.position
        text = lines_of(self.texts.get(place.file, ""))
        first = max(1, place.line - 1)
        return {
            "words": line.words,
            "file": place.file,
            "line": place.line,
            "column": place.column,
            "length": place.length,
            "first": first,
            "text": text[first - 1 : place.line + 1],
        }


def _axes_of(drawing: str, upright: bool) -> tuple[Axis, ...]:
    """The axes that a dimension of a drawing can run along: the one across or the one up the paper, where the drawing looks square on."""
    axes = _ACROSS_AND_UP.get(drawing)
    return (axes[upright],) if axes else tuple(Axis)


def printed(form: LengthFormat, length: Length) -> set[str]:
    """How a length may be written in a drawing."""
    return {str(form.mixed(length)), form.millimetres(length), f"({form.millimetres(length)} mm)"}


def _lengths_of(part: Part, feature: Any) -> list[Length]:
    """Sizes of a cut and its distances from the part's edges."""
    if isinstance(feature, BoxCut):
        lengths = [feature.box.extent(axis) for axis in Axis]
        for axis in Axis:
            body, cut = part.body.span(axis), feature.box.span(axis)
            lengths += [cut.low - body.low, body.high - cut.high, cut.high - body.low, body.high - cut.low]
        return [length for length in lengths if length]
    if hasattr(feature, "start"):
        spans = [(part.body.span(axis), feature.start.along(axis)) for axis in Axis]
        return [feature.diameter, *(at - span.low for span, at in spans), *(span.high - at for span, at in spans)]
    if isinstance(feature, OutlineCut):
        return _of_outline(part, feature)
    return [feature.size] if hasattr(feature, "size") else []


def _of_outline(part: Part, cut: OutlineCut) -> list[Length]:
    """Distances of an outline's corners from the part's edges, its own sizes, and the radii of its arcs."""
    lengths = [cut.span.extent]
    for axis, bounds in zip(cut.outline.axis.others(), cut.outline.bounds, strict=True):
        body = part.body.span(axis)
        places = [corner.u if axis is cut.outline.axis.others()[0] else corner.v for corner in cut.outline.corners]
        lengths += [bounds.extent, *(at - body.low for at in places), *(body.high - at for at in places)]
    arcs = arcs_of(cut.outline)
    return [length for length in (*lengths, *(arc.radius for arc in arcs), *(abs(arc.rise) for arc in arcs)) if length]


def _one_each(lines: Iterable[Line]) -> list[Line]:
    """The first line for each place."""
    found: dict[Position, Line] = {}
    for line in lines:
        found.setdefault(line.position, line)
    return list(found.values())
