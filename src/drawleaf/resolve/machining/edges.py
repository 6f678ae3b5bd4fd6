"""``machining:`` along edges: round-overs, chamfers, coves, ogees and beads."""

from __future__ import annotations

from drawleaf.joinery.wording import say
from drawleaf.model.place import Face
from drawleaf.model.plan import EdgeProfile, Part
from drawleaf.model.position import Position
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.machining_models import EdgeEntry

RIMS = ("outline", "opening")
"""What has a rim of its own: ``outline-top`` is the edge all round a sawn outline, ``opening-top`` that of every opening."""


class EdgeReader:
    """Reads edges named by their two faces, and the size of the profile along them."""

    def __init__(self, evaluator: Evaluator, sources: Sources, findings: Findings) -> None:
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings

    def read(self, part: Part, entry: EdgeEntry, scope: Scope, position: Position, kind: str) -> list[EdgeProfile]:
        """The profiles; an edge that has a mistake is left out."""
        size = self._evaluator.length(entry.size, scope, entry, "size")
        made: list[EdgeProfile] = []
        for index, text in enumerate(entry.edges):
            word, _, face = text.partition("-")
            rim = word in RIMS and any(one.value == face for one in Face)
            here = self._sources.at(entry, "edges", index)
            edge = (Face(face), Face(face)) if rim else self._edge(text, here)
            if edge is None or size is None:
                continue
            least = min(part.seen.extent(face.axis) for face in edge)
            if size.exact_mm <= 0 or size > least:
                self._findings.error(
                    "edge-size",
                    f"A {kind} of {say(size, scope.unit)} does not fit the {text} edge of “{part.id}”",
                    self._sources.at(entry, "size"),
                    f"The part is only {say(least, scope.unit)} there." if size > least else "",
                )
                continue
            made.append(EdgeProfile(kind, edge, size, here if rim else position, word if rim else ""))
        return made

    def _edge(self, text: str, position: Position) -> tuple[Face, Face] | None:
        words = text.split("-")
        faces = [face for word in words for face in Face if face.value == word]
        if len(words) == 2 and len(faces) == 2 and faces[0].axis is not faces[1].axis:
            return faces[0], faces[1]
        cause = "Opposite faces do not meet." if len(faces) == 2 else ""
        self._findings.error(
            "no-such-edge",
            f"A part has no edge “{text}”",
            position,
            cause,
            "An edge is where two faces meet: front-top, left-bottom, back-right. A whole rim is outline-top or opening-top.",
        )
        return None
