"""The faces of a part as graph nodes: on each axis two of low face, high face and extent, and the third from them.

Faces are kept in the frame of the part's own assembly. Nodes for copies (mirrored, repeated) follow from the original's.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import cos, radians, sin

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Face
from drawleaf.model.position import Position
from drawleaf.resolve.names.graph import Graph, Node, Value, Values
from drawleaf.resolve.names.scopes import KindDraft
from drawleaf.units import Length

Copy = tuple[int, bool]
"""Which copy of a part: its number from 1, and whether it is the mirrored twin."""
ORIGINAL: Copy = (1, False)
EXTENT_KEYS = {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}


@dataclass(frozen=True, slots=True)
class Given:
    """One thing that an author gave for an axis: ``key`` is low, high or extent; ``node`` its graph key; ``written`` how to call it."""

    role: str
    node: str
    written: str
    position: Position


class FaceNodes:
    """Makes the nodes for faces and extents, each when first asked for."""

    def __init__(self, graph: Graph) -> None:
        self._graph = graph

    def extent(self, kind: KindDraft, axis: Axis) -> str:
        return f"{kind.id}#{axis.value}.extent"

    def mirror_plane(self, kind: KindDraft) -> str:
        return f"{kind.id}#mirror"

    def count(self, kind: KindDraft) -> str:
        return f"{kind.id}#count"

    def pitch(self, kind: KindDraft) -> str:
        return f"{kind.id}#pitch"

    def offset(self, kind: KindDraft, number: int) -> str:
        """How far copy ``number`` stands from the first, for ``repeat: {at: [...]}``."""
        return f"{kind.id}#offset{number}"

    def low(self, kind: KindDraft, axis: Axis) -> str:
        return f"{kind.id}#{axis.value}.low"

    def high(self, kind: KindDraft, axis: Axis) -> str:
        return f"{kind.id}#{axis.value}.high"

    def face(self, kind: KindDraft, copy: Copy, face: Face) -> str:
        """The key of a face of a copy, in the frame of the part's assembly."""
        number, mirrored = copy
        axis = face.axis
        if mirrored and axis is kind.mirror:
            return self._mirrored_face(kind, number, face)
        if number > 1 and kind.entry.repeat is not None and kind.entry.repeat.along == axis.value:
            return self._repeated_face(kind, number, face)
        if number > 1 and kind.entry.around is not None and axis is not Axis.Z:
            return self._turned_face(kind, number, face)
        return self.low(kind, axis) if face.side < 0 else self.high(kind, axis)

    def centre(self, kind: KindDraft, axis: Axis) -> str:
        """Where the upright stands that copies stand around."""
        return f"{kind.id}#around.{axis.value}"

    def _turned_face(self, kind: KindDraft, number: int, face: Face) -> str:
        """The face of a copy around an upright, before it is turned: as far from its middle as that of the first."""
        key = f"{kind.id}#{number}.{face.value}"
        own = self.low(kind, face.axis) if face.side < 0 else self.high(kind, face.axis)
        sides = {axis: (self.low(kind, axis), self.high(kind, axis)) for axis in (Axis.X, Axis.Y)}
        centre = {axis: self.centre(kind, axis) for axis in (Axis.X, Axis.Y)}
        count = self.count(kind)

        def work(values: Values) -> Length | Diagnostic:
            copies = as_whole(values[count])
            if number > copies:
                return _no_copy(kind, number, copies)
            out = {
                axis: (length_of(values, low) + length_of(values, high)) / 2 - length_of(values, centre[axis])
                for axis, (low, high) in sides.items()
            }
            x, y = turned_by(out[Axis.X], out[Axis.Y], share_of_turn(number, copies))
            return length_of(values, own) + ({Axis.X: x, Axis.Y: y}[face.axis] - out[face.axis])

        needs = tuple(dict.fromkeys((own, *sides[Axis.X], *sides[Axis.Y], *centre.values(), count)))
        self._add_once(key, Node(f"{kind.id}.{number}.{face.value}", kind.position, needs, work))
        return key

    def _mirrored_face(self, kind: KindDraft, number: int, face: Face) -> str:
        original = self.face(kind, (number, False), face.opposite)
        plane = self.mirror_plane(kind)
        key = f"{kind.id}#{number}.mirrored.{face.value}"

        def work(values: Values) -> Length:
            return length_of(values, plane) * 2 - length_of(values, original)

        self._add_once(key, Node(f"{kind.id}.mirrored.{face.value}", kind.position, (plane, original), work))
        return key

    def _repeated_face(self, kind: KindDraft, number: int, face: Face) -> str:
        first = self.low(kind, face.axis) if face.side < 0 else self.high(kind, face.axis)
        key = f"{kind.id}#{number}.{face.value}"
        by_list = kind.entry.repeat is not None and kind.entry.repeat.at is not None
        step = self.offset(kind, number) if by_list else self.pitch(kind)
        times = 1 if by_list else number - 1
        count = self.count(kind)

        def work(values: Values) -> Length | Diagnostic:
            if number > as_whole(values[count]):
                return _no_copy(kind, number, as_whole(values[count]))
            return length_of(values, first) + length_of(values, step) * times

        self._add_once(key, Node(f"{kind.id}.{number}.{face.value}", kind.position, (first, step, count), work))
        return key

    def add_axis(self, kind: KindDraft, axis: Axis, given: tuple[Given, Given]) -> None:
        """Nodes for an axis of which two things are given: those under their own role, and the third from them."""
        keys = {"low": self.low(kind, axis), "high": self.high(kind, axis), "extent": self.extent(kind, axis)}
        labels = {
            "low": f"{kind.id}.{axis.low.value}",
            "high": f"{kind.id}.{axis.high.value}",
            "extent": f"{kind.id}.{EXTENT_KEYS[axis]}",
        }
        nodes = {one.role: one for one in given}
        for role, one in nodes.items():
            self._graph.add(keys[role], Node(labels[role], one.position, (one.node,), _copy_of(one.node)))
        low, high, extent = (nodes.get(role) for role in ("low", "high", "extent"))
        at = given[0].position
        if low is None and high is not None and extent is not None:
            self._difference(keys["low"], labels["low"], at, high.node, extent.node)
        elif high is None and low is not None and extent is not None:
            self._sum(keys["high"], labels["high"], at, low.node, extent.node)
        elif low is not None and high is not None:
            self._checked_extent(keys["extent"], labels["extent"], axis, low, high)

    def _difference(self, key: str, label: str, at: Position, a: str, b: str) -> None:
        self._graph.add(key, Node(label, at, (a, b), lambda values: length_of(values, a) - length_of(values, b)))

    def _sum(self, key: str, label: str, at: Position, a: str, b: str) -> None:
        self._graph.add(key, Node(label, at, (a, b), lambda values: length_of(values, a) + length_of(values, b)))

    def _checked_extent(self, key: str, label: str, axis: Axis, low: Given, high: Given) -> None:
        def work(values: Values) -> Length:
            return length_of(values, high.node) - length_of(values, low.node)

        self._graph.add(key, Node(label, low.position, (low.node, high.node), work))

    def _add_once(self, key: str, node: Node) -> None:
        if key not in self._graph:
            self._graph.add(key, node)


def _no_copy(kind: KindDraft, number: int, there: int) -> Diagnostic:
    return Diagnostic(
        "unknown-copy",
        f"“{kind.id}.{number}” does not exist: there are {there}",
        kind.position,
        "The copies count from 1.",
    )


def share_of_turn(number: int, copies: int) -> Fraction:
    """By how many degrees copy ``number`` of those around an upright is turned."""
    return Fraction(360 * (number - 1), copies)


def turned_by(x: Length, y: Length, degrees: Fraction) -> tuple[Length, Length]:
    """A place turned about the zero, anticlockwise from above, to a millionth of a millimetre. y runs away from the eye, so that this is the
    trade's view from above with the front at the bottom."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    turned = (x.mm * c - y.mm * s, x.mm * s + y.mm * c)
    across, back = (Length.of_mm(Fraction(round(value * 1_000_000), 1_000_000)) for value in turned)
    return across, back


def length_of(values: Values, key: str) -> Length:
    """The value of a node that is known to be a length. Raises TypeError for any other."""
    value = values[key]
    if not isinstance(value, Length):
        raise TypeError(f"{key} is a number where a length was made")
    return value


def _copy_of(key: str):
    return lambda values: values[key]


def given_twice(kind: KindDraft, axis: Axis, given: list[Given]) -> Diagnostic:
    """The diagnostic for an axis that is given three ways."""
    words = " and ".join(f"“{one.written}”" for one in given)
    return Diagnostic(
        "over-determined",
        f"“{kind.id}” is given {words} along {axis.value}: one too many",
        given[-1].position,
        "On each axis two of low face, high face and extent say all; a third can only disagree.",
        _spare(given),
    )


def _spare(given: list[Given]) -> str:
    from_stock = next((one for one in given if one.written.startswith("stock ")), None)
    if from_stock is not None:
        return f"The {from_stock.written.removeprefix('stock ')} comes from the stock, so leave out one of the others."
    return "Leave out one of them."


def given_too_little(kind: KindDraft, axis: Axis, given: list[Given], position: Position) -> Diagnostic:
    """The diagnostic for an axis that is given less than two ways; a size that the stock gives as well says no more."""
    choices = {"low": axis.low.value, "high": axis.high.value, "extent": EXTENT_KEYS[axis]}
    if not given:
        cause = f"Nothing says where it stands along {axis.value}."
        mend = f"Give two of “{choices['low']}”, “{choices['high']}” and “{choices['extent']}”."
    elif len(given) > 1:
        written, stock = (one.written for one in given)
        cause = f"Along {axis.value} “{written}” and the {stock} both give its size, and nothing says where it is."
        mend = f"Write “{choices['low']}” or “{choices['high']}” in place of “{written}”."
    else:
        cause = f"Along {axis.value} only “{given[0].written}” is given."
        left = [word for role, word in choices.items() if role != given[0].role]
        mend = f"Give “{left[0]}” or “{left[1]}” as well."
    return Diagnostic("under-determined", f"“{kind.id}” is not fully placed along {axis.value}", position, cause, mend)


def as_whole(value: Value) -> int:
    """The value of a node that is known to be a count. Raises TypeError for any other."""
    if not isinstance(value, Fraction):
        raise TypeError("no count where a count was made")
    return int(value)
