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

    def behind(self, entry: FittingEntry, scope: Scope) -> tuple[Part, ...] | None:
        """The part behind the one it sits on that ``backing`` names; none where it names none, None where it has a mistake."""
        if entry.backing is None:
            return ()
        position = self._sources.at(entry, "backing")
        target = self._targets.find(entry.backing, scope, position)
        parts = target.parts(dict(self._shop)) if target is not None else ()
        if target is not None and len(parts) != 1:
            self._findings.error(
                "several-parts",
                f"“{entry.backing}” is {len(parts)} parts; screws go into one",
                position,
                mend="Name one of them.",
            )
        return tuple(parts) if len(parts) == 1 else None

    def holds(
        self,
        part: Part,
        behind: tuple[Part, ...],
        face: Face,
        at: Point,
        item: HardwareItem,
        entry: FittingEntry,
    ) -> bool:
        """Whether what must not come loose has wood enough: a strap on a thin panel pulls straight out of it."""
        back = part.body.face(face.opposite)
        for other in behind:
            touches = other.body.face(face) == back
            over = all(other.body.span(a).low <= at.along(a) <= other.body.span(a).high for a in face.axis.others())
            if not (touches and over):
                self._findings.error(
                    "not-behind",
                    f"“{other.id}” does not lie behind “{part.id}” where the {item.name.lower()} sits",
                    self._sources.at(entry, "backing"),
                    mend="Move the hardware with “at”, or name the part that does.",
                )
                return False
        if item.family.wall is Wall.STRAP and not behind and part.body.extent(face.axis) < LEAST_WOOD:
            self._findings.error(
                "thin-hold",
                f"{item.name}: “{part.id}” is too thin to hold its screw",
                self._sources.at(entry, "on"),
                "The strap must hold when somebody climbs the piece, and the screw pulls straight out of a thin panel.",
                self._what_holds(part, face, at),
            )
            return False
        return True

    def _what_holds(self, part: Part, face: Face, at: Point) -> str:
        """How to reach through a thin panel into what holds: by the part behind it, the highest where several do."""
        across = face.axis.others()
        behind = [
            other
            for other in self._shop.values()
            if other.body.face(face) == part.body.face(face.opposite)
            and other.body.extent(face.axis) >= LEAST_WOOD
            and all(other.body.span(axis).overlap(part.body.span(axis)) is not None for axis in across)
        ]
        if not behind:
            return "Give the panel a rail to lie on, and let the screw go through into that: “backing: back_rail”."
        words = "Let the screw go through it into what lies behind"

        def off(other: Part) -> list[Axis]:
            return [a for a in across if not other.body.span(a).low <= at.along(a) <= other.body.span(a).high]

        best = min(behind, key=lambda one: (len(off(one)), off(one) == [Axis.X], -one.body.z.high.exact_mm))
        if not off(best):
            return f"{words}: “backing: {best.id}”."
        places = " and ".join(
            f"“{axis.value}: ({best.id}.{axis.low.value} + {best.id}.{axis.high.value}) / 2”" for axis in off(best)
        )
        return f"{words}: “backing: {best.id}”, with {places} in “at”."
