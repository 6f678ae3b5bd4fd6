"""What is cut out of a part's body: a square-cornered volume, a hole, a profile along an edge."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drawleaf.model.place import Box, Face, Point
from drawleaf.model.position import Position
from drawleaf.model.shapes import Course, Vector
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class BoxCut:
    """A square-cornered volume removed from a part: dado, groove, rabbet, notch.

    ``box`` is the exact void within the part's body. ``open`` names the part's faces that the void breaks through; a
    solid modeller lets its cutter overshoot there. ``into`` is the face that the cut is made into (its depth runs from there).
    """

    kind: str
    box: Box
    into: Face
    open: tuple[Face, ...]
    joint: str | None
    position: Position

    def moved(self, by: Point) -> BoxCut:
        """The same cut at another place."""
        return replace(self, box=self.box.shifted(by))


@dataclass(frozen=True, slots=True)
class Bore:
    """A round hole. ``start`` is the centre on the ``face`` it enters, ``direction`` the unit vector into the wood.

    ``depth`` None goes through. ``kind``: ``shelf pin``, ``hole``, ``finger hole``, ``pocket``, ``pilot``. Bores of one row
    share ``row``. Pilot and clearance holes for screws are not bores of the solid: they follow from the fasteners.
    """

    kind: str
    face: Face
    start: Point
    direction: Vector
    diameter: Length
    depth: Length | None
    row: str | None
    position: Position
    side: Vector | None = None
    """Across the hole of a round end that leans: a side of the rod, so that the facets of the two lie on one another."""

    def moved(self, by: Point) -> Bore:
        """The same hole at another place."""
        return replace(self, start=self.start.shifted(by))


@dataclass(frozen=True, slots=True)
class EdgeProfile:
    """A round-over or chamfer run along the edge where two faces of a part meet, full length of that edge.

    Where the part is sawn to an outline the profile follows it along ``courses``. ``round_what`` is ``outline`` or ``opening`` for the whole
    rim of either at one face, which then appears twice in ``edge``.
    """

    kind: str
    edge: tuple[Face, Face]
    size: Length
    position: Position
    round_what: str = ""
    courses: tuple[Course, ...] = ()

    def moved(self, by: Point) -> EdgeProfile:
        """The same profile on a part at another place."""
        return replace(self, courses=tuple(course.moved(by) for course in self.courses)) if self.courses else self
