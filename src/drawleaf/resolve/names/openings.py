"""Openings with a name: the faces of a rectangular cutout, as other parts refer to them (``panel.window.left``)."""

from __future__ import annotations

from collections.abc import Iterable

from drawleaf.model.place import Face
from drawleaf.resolve.names.axes import EXTENT_KEYS, length_of
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.graph import Graph, Node, Values
from drawleaf.resolve.names.scopes import AssemblyDraft, KindDraft, NamedOpening, Scope
from drawleaf.source.models import MachiningEntry
from drawleaf.units import Length


def name_openings(assemblies: Iterable[AssemblyDraft]) -> None:
    """Tell each part of the named openings that are cut in it. Those of other outlines than a rectangle have no faces to refer to."""
    for assembly in assemblies:
        for scope, entry in assembly.machining():
            cutout = entry.cutout
            if entry.name is None or cutout is None or cutout.at is None or cutout.outline:
                continue
            for kind in _named(entry, scope):
                across = Face(cutout.face).axis.others()
                keys = {
                    face: f"{kind.id}#opening.{entry.name}.{face.value}"
                    for axis in across
                    for face in (axis.low, axis.high)
                }
                kind.openings[entry.name] = NamedOpening(scope, cutout, keys)


def add_openings(kind: KindDraft, graph: Graph, evaluator: Evaluator) -> None:
    """The faces of a part's named openings as nodes of the graph."""
    for name, opening in kind.openings.items():
        entry = opening.entry
        for axis in Face(entry.face).axis.others():
            middle, extent = (f"{kind.id}#opening.{name}.{axis.value}.{word}" for word in ("middle", "extent"))
            label, size = f"{kind.id}.{name}", EXTENT_KEYS[axis]
            at, wide = getattr(entry.at, axis.value), getattr(entry, size)
            if at is None or wide is None or entry.at is None:
                continue  # told where the cutout is read
            sound = evaluator.add_node(middle, label, opening.scope, at, entry.at, axis.value)
            sound &= evaluator.add_node(extent, label, opening.scope, wide, entry, size)
            if sound:
                for face in (axis.low, axis.high):
                    node = Node(
                        f"{label}.{face.value}", kind.position, (middle, extent), _wall(middle, extent, face.side)
                    )
                    graph.add(opening.faces[face], node)


def _wall(middle: str, extent: str, side: int):
    def work(values: Values) -> Length:
        return length_of(values, middle) + length_of(values, extent) / 2 * side

    return work


def _named(entry: MachiningEntry, scope: Scope) -> list[KindDraft]:
    """The parts that a line names, where they are seen from its scope."""
    names = [entry.in_] if isinstance(entry.in_, str) else entry.in_
    found = []
    for name in names:
        first, *rest = name.split(".")
        level = next((one for one in scope.outward() if first in one.kinds or first in one.children), None)
        while level is not None and first in level.children and rest:
            level, first, rest = level.children[first].scope, rest[0], rest[1:]
        if level is not None and first in level.kinds:
            found.append(level.kinds[first])
    return found
