"""Looking up a name in an expression: dimension, count, stock, or a face or extent of a part, outward from a scope."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.english import NUMBERS, listed
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Face
from drawleaf.model.position import Position
from drawleaf.resolve.names.axes import ORIGINAL, Copy, FaceNodes
from drawleaf.resolve.names.scopes import AssemblyDraft, KindDraft, Scope
from drawleaf.resolve.names.stocks import StockDraft, thickness_key, width_key
from drawleaf.source.names import did_you_mean

EXTENT_WORDS = {"wide": Axis.X, "deep": Axis.Y, "high": Axis.Z}
_HOMES_WORTH_LISTING = 4
PART_WORDS = (*(face.value for face in Face), *EXTENT_WORDS, "thickness", "mirrored", "original")


@dataclass(frozen=True, slots=True)
class Reference:
    """The graph keys behind a name: its value, plus and minus the origins that bring a face into the writer's frame."""

    key: str
    plus: tuple[str, ...] = ()
    minus: tuple[str, ...] = ()

    @property
    def needs(self) -> tuple[str, ...]:
        return (self.key, *self.plus, *self.minus)


class NameFinder:
    """Finds what a dotted name stands for."""

    def __init__(self, stocks: dict[str, StockDraft], faces: FaceNodes) -> None:
        self._stocks = stocks
        self._faces = faces

    def find(self, name: str, scope: Scope, position: Position) -> Reference | Diagnostic:
        """The reference for ``name`` as seen from ``scope``, or what is wrong with it."""
        first, *rest = name.split(".")
        if first == "stock" and rest:
            return self._stock(name, rest, scope, position)
        for level in scope.outward():
            if first in level.values and not rest:
                return Reference(level.values[first])
            if first in level.kinds:
                return self._of_part(name, level.kinds[first], rest, scope, position)
            if first in level.children:
                return self._of_assembly(name, level.children[first], rest, scope, position)
            if first in level.values:
                return Diagnostic(
                    "unknown-name",
                    f"“{first}” is a single length and has no “{rest[0]}”",
                    position,
                    "Only parts have faces and sizes.",
                )
        return Diagnostic(
            "unknown-name",
            f"“{name}” is not known here",
            position,
            "It is no dimension, count, stock or part that can be seen from this place.",
            _as_figure(name) or _from_elsewhere(name, scope) or did_you_mean(first, scope.visible()),
        )

    def _stock(self, name: str, rest: list[str], scope: Scope, position: Position) -> Reference | Diagnostic:
        known = next((level.stocks for level in scope.outward() if level.stocks), {})
        plan_name = known.get(rest[0])
        if plan_name is None:
            return Diagnostic(
                "unknown-stock", f"There is no stock “{rest[0]}”", position, mend=did_you_mean(rest[0], known)
            )
        measure = ".".join(rest[1:])
        if measure == "thickness":
            return Reference(thickness_key(plan_name))
        if measure == "width":
            draft = self._stocks.get(plan_name)
            if draft is not None and not draft.has_width:
                return Diagnostic(
                    "stock-without-width",
                    f"“{name}”: this stock has no width of its own",
                    position,
                    "Sheets, and boards of random width, are cut to width.",
                )
            return Reference(width_key(plan_name))
        return Diagnostic(
            "unknown-name",
            f"Stock “{rest[0]}” has no “{measure}”" if measure else f"“{name}” is a stock, not a length",
            position,
            mend=f"Write “stock.{rest[0]}.thickness” or “stock.{rest[0]}.width”.",
        )

    def _of_assembly(
        self, name: str, assembly: AssemblyDraft, rest: list[str], scope: Scope, position: Position
    ) -> Reference | Diagnostic:
        inside = assembly.scope
        if not rest:
            return Diagnostic(
                "not-a-length",
                f"“{name}” is an assembly, not a length",
                position,
                mend=f"Name a face of one of its parts: “{name}.{next(iter(inside.kinds), 'side')}.right”.",
            )
        first, *deeper = rest
        if first in inside.kinds:
            return self._of_part(name, inside.kinds[first], deeper, scope, position)
        if first in inside.children:
            return self._of_assembly(name, inside.children[first], deeper, scope, position)
        if first in inside.values and not deeper:
            return Reference(inside.values[first])
        known = [*inside.kinds, *inside.children, *inside.values]
        return Diagnostic(
            "unknown-name",
            f"“{name}”: there is no “{first}” in “{assembly.id}”",
            position,
            mend=did_you_mean(first, known),
        )

    def _of_part(
        self, name: str, kind: KindDraft, rest: list[str], scope: Scope, position: Position
    ) -> Reference | Diagnostic:
        copy, words = read_copy(kind, rest)
        if isinstance(copy, str):
            return Diagnostic("unknown-copy", f"“{name}”: {copy}", position)
        if not words:
            return Diagnostic(
                "not-a-length",
                f"“{name}” is a part, not a length",
                position,
                mend=f"Name one of its faces or sizes: “{name}.right”, “{name}.thickness”.",
            )
        word = words[0]
        if word in kind.openings and len(words) == 2:
            return self._of_opening(name, kind, copy, words, scope, position)
        if len(words) > 1 or word not in PART_WORDS:
            return Diagnostic(
                "unknown-face",
                f"“{name}”: a part has no “{'.'.join(words)}”",
                position,
                "A part has the faces left, right, front, back, bottom, top and the sizes wide, deep, high, thickness.",
                did_you_mean(word, PART_WORDS),
            )
        if word == "thickness":
            return Reference(self._faces.extent(kind, Axis(kind.entry.thickness)))
        if word in EXTENT_WORDS:
            return Reference(self._faces.extent(kind, EXTENT_WORDS[word]))
        face = Face(word)
        plus, minus = frame_change(kind.assembly, scope.frame, face.axis)
        return Reference(self._faces.face(kind, copy, face), plus, minus)

    def _of_opening(
        self, name: str, kind: KindDraft, copy: Copy, words: list[str], scope: Scope, position: Position
    ) -> Reference | Diagnostic:
        """A face of a named opening of the first copy."""
        opening = kind.openings[words[0]]
        known = [face.value for face in opening.faces]
        if words[1] not in known or copy != ORIGINAL:
            return Diagnostic(
                "unknown-face",
                f"“{name}”: this opening has no “{words[1]}”"
                if copy == ORIGINAL
                else f"“{name}”: an opening is named on the first copy",
                position,
                f"An opening has the faces {', '.join(known)}.",
                did_you_mean(words[1], known, otherwise=f"Write “{kind.key}.{words[0]}.{known[0]}”."),
            )
        face = Face(words[1])
        home = opening.scope.frame or kind.assembly
        plus, minus = frame_change(home, scope.frame, face.axis)
        return Reference(opening.faces[face], plus, minus)


def _as_figure(name: str) -> str:
    """How to write a number that was written in words; empty for any other name."""
    return f"Write the figure: {NUMBERS.index(name)}." if name in NUMBERS else ""


def _from_elsewhere(name: str, scope: Scope) -> str:
    """How to write a name that is known in assemblies further off, by the assembly's name too; empty where it is known nowhere."""
    first = name.split(".")[0]
    *_, top = scope.outward()
    every = [one for child in top.children.values() for one in child.within()]
    homes = [
        one for one in every if first in one.scope.kinds or first in one.scope.children or first in one.scope.values
    ]
    if not homes:
        return ""
    written = listed([f"“{home.id}.{name}”" for home in homes[:_HOMES_WORTH_LISTING]], "or")
    return f"“{first}” belongs to “{homes[0].id}”: write {written}." if len(homes) == 1 else f"Write {written}."


def read_copy(kind: KindDraft, words: list[str]) -> tuple[Copy | str, list[str]]:
    """Which copy the leading words name (``mirrored``, ``original``, ``2``), or what is wrong in words; and the words left."""
    number, mirrored = ORIGINAL
    rest = list(words)
    while rest and (rest[0] in ("mirrored", "original") or rest[0].isdigit()):
        word = rest.pop(0)
        if word.isdigit():
            if not kind.repeats:
                return f"“{kind.id}” is not repeated, so it has no number {word}", rest
            number = int(word)
        elif kind.entry.mirror is None:
            return f"“{kind.id}” has no “mirror:”, so there is no “{word}”", rest
        else:
            mirrored = word == "mirrored"
    return (number, mirrored), rest


def frame_change(
    home: AssemblyDraft, frame: AssemblyDraft | None, axis: Axis
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Origins to add and to take away to bring a coordinate from ``home``'s frame into another. Origins that both share are left out,
    so that placing an assembly by its own parts is no ring."""
    ours = home.lineage()
    theirs = frame.lineage() if frame else ()
    plus = tuple(assembly.origin[axis] for assembly in ours if assembly not in theirs and axis in assembly.origin)
    minus = tuple(assembly.origin[axis] for assembly in theirs if assembly not in ours and axis in assembly.origin)
    return plus, minus
