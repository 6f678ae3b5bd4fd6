"""What hardware holds by: the part that its screw reaches through a thin panel, and whether that has wood enough."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.hardware_family import Wall
from drawleaf.model.place import Axis, Face, Point
from drawleaf.model.plan import Part
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import TargetFinder
from drawleaf.source.models import FittingEntry
from drawleaf.units import Length

# What an anti-tip strap is screwed to: common practice, no source.
LEAST_WOOD = Length.of_inches(Fraction(1, 2))


class Holding:
    """Judges what hardware is screwed to. ``shop`` are the parts as fitting finds them."""

    def __init__(
        self,
        targets: TargetFinder,
        shop: Mapping[str, Part],
        sources: Sources,
        findings: Findings,
    ) -> None:
        self._targets = targets
        self._shop = shop
        self._sources = sources
        self._findings = findings

    def named(self, entry: FittingEntry, scope: Scope) -> tuple[Part, ...] | None:
        """The parts that ``backing`` names, all copies of one or those of an assembly; none where it names none, None where it has a mistake."""
        if entry.backing is None:
            return ()
        target = self._targets.find(entry.backing, scope, self._sources.at(entry, "backing"))
        return None if target is None else tuple(target.parts(dict(self._shop))) or None

    def held(
        self,
        part: Part,
        named: tuple[Part, ...],
        face: Face,
        at: Point,
        item: HardwareItem,
        entry: FittingEntry,
    ) -> tuple[Part, ...] | None:
        """The part behind a place, of those that are named; None, with the mistake recorded, where none is, or where what must not come
        loose has no wood to hold: a strap on a thin panel pulls straight out of it."""
        backing = tuple(
            other for other in named if _against(other, part, face) and not _off(other, at, face.axis.others())
        )
        if named and not backing:
            written = entry.backing or ""
            self._findings.error(
                "not-behind",
                f"“{written}” does not lie behind “{part.id}” where the {item.name.lower()} sits",
                self._sources.at(entry, "backing"),
                mend=self._where(part, named, face, at)
                or self._where(part, tuple(self._shop.values()), face, at)
                or "Leave “backing” out, or put the hardware where that part lies.",
            )
            return None
        if item.family.wall is Wall.STRAP and not backing and part.body.extent(face.axis) < LEAST_WOOD:
            self._findings.error(
                "thin-hold",
                f"{item.name}: “{part.id}” is too thin to hold its screw",
                self._sources.at(entry, "on"),
                "The strap must hold when somebody climbs the piece, and the screw pulls straight out of a thin panel.",
                self._where(part, tuple(self._shop.values()), face, at)
                or "Give the panel a rail to lie on, and let the screw go through into that: “backing: back_rail”.",
            )
            return None
        return backing[:1]

    def _where(self, part: Part, among: tuple[Part, ...], face: Face, at: Point) -> str:
        """How to reach through a panel into what holds: by the part behind it, the highest where several do; empty where none does."""
        across = face.axis.others()
        behind = [
            other
            for other in among
            if _against(other, part, face)
            and other.body.extent(face.axis) >= LEAST_WOOD
            and all(other.body.span(axis).overlap(part.body.span(axis)) is not None for axis in across)
        ]
        if not behind:
            return ""

        def far(other: Part) -> tuple[int, bool, Fraction]:
            off = _off(other, at, across)
            return len(off), off == [Axis.X], -other.body.z.high.exact_mm

        best = min(behind, key=far)
        words = f"Let the screw go through it into what lies behind: “backing: {best.id}”"
        places = " and ".join(
            f"“{axis.value}: ({best.id}.{axis.low.value} + {best.id}.{axis.high.value}) / 2”"
            for axis in _off(best, at, across)
        )
        return f"{words}, with {places} in “at”." if places else f"{words}."


def _against(other: Part, part: Part, face: Face) -> bool:
    """Whether the one lies against the back of the other, seen onto that face."""
    return other.body.face(face) == part.body.face(face.opposite)


def _off(other: Part, at: Point, across: tuple[Axis, ...]) -> list[Axis]:
    """The axes along which a place is beside a part."""
    return [axis for axis in across if not other.body.span(axis).low <= at.along(axis) <= other.body.span(axis).high]
