"""A plan's own profiles as corners: drawn point by point, or told by the router bit that runs them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from drawleaf.model.position import Position
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import ProfileEntry
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class ProfilePlace:
    """A corner of a profile: how far out from the back and up from the bottom edge, the radius of the arc that begins there (hollow where
    negative), and where it was written, if it was."""

    out: Length
    up: Length
    arc: Length | None
    position: Position | None = None


Run = Callable[[Length, Length, Length], list[ProfilePlace]]
"""What a bit leaves between the face and the top: from how far out the face is where the bit runs, how high the top is, and its size."""


def _arc(hollow: bool) -> Run:
    def run(out: Length, up: Length, size: Length) -> list[ProfilePlace]:
        return [ProfilePlace(out, up - size, -size if hollow else size), ProfilePlace(out - size, up, None)]

    return run


def _chamfer(out: Length, up: Length, size: Length) -> list[ProfilePlace]:
    return [ProfilePlace(out, up - size, None), ProfilePlace(out - size, up, None)]


def _ogee(out: Length, up: Length, size: Length) -> list[ProfilePlace]:
    half = size / 2
    return [
        ProfilePlace(out, up - size, -half),
        ProfilePlace(out - half, up - half, half),
        ProfilePlace(out - size, up, None),
    ]


BITS: Mapping[str, Run] = {
    "cove": _arc(hollow=True),
    "round_over": _arc(hollow=False),
    "chamfer": _chamfer,
    "ogee": _ogee,
}
"""The bits that a profile may be told by, with what each leaves."""


class ProfileReader:
    """Reads the plan's profiles."""

    def __init__(self, top: Scope, evaluator: Evaluator, sources: Sources, findings: Findings) -> None:
        self._top, self._evaluator, self._sources, self._findings = top, evaluator, sources, findings

    def corners(self, profile: ProfileEntry, thick: Length, wide: Length) -> list[ProfilePlace] | None:
        """The corners on wood so thick and wide; None, with the mistake recorded, where one cannot be worked out."""
        bits = [bit for bit in BITS if getattr(profile, bit) is not None]
        if len(bits) + bool(profile.points) != 1:
            self._findings.error(
                "profile-ways",
                "A profile is told by its points, or by one bit",
                self._sources.at(profile),
                mend="Write “{cove: 3/8, step: 1/8}”, or “points:” and the corners round it.",
            )
            return None
        return self._by_points(profile) if profile.points else self._by_bit(profile, bits[0], thick, wide)

    def _by_points(self, profile: ProfileEntry) -> list[ProfilePlace] | None:
        found: list[ProfilePlace] = []
        for point in profile.points:
            out = self._evaluator.length(point.out, self._top, point, "out")
            high = self._evaluator.length(point.up, self._top, point, "up")
            arc = self._evaluator.length(point.arc, self._top, point, "arc") if point.arc is not None else None
            if out is None or high is None or (arc is None and point.arc is not None):
                return None
            found.append(ProfilePlace(out, high, arc, self._sources.at(point)))
        return found

    def _by_bit(self, profile: ProfileEntry, bit: str, thick: Length, wide: Length) -> list[ProfilePlace] | None:
        """A rectangle whose corner between the face and the top has been run with the bit."""
        size = self._evaluator.length(getattr(profile, bit), self._top, profile, bit)
        step = self._evaluator.length(profile.step, self._top, profile, "step") if profile.step is not None else ZERO
        if size is None or step is None:
            return None
        if size.exact_mm <= 0 or step.exact_mm < 0 or step + size >= thick or size >= wide:
            self._findings.error(
                "profile-size",
                "The bit leaves nothing of the wood that it runs on",
                self._sources.at(profile, bit),
                "What it takes away, with its step, is less than the thickness and the width of the part.",
                "Take a smaller one.",
            )
            return None
        low, high = ProfilePlace(ZERO, ZERO, None), ProfilePlace(ZERO, wide, None)
        shoulder = [ProfilePlace(thick, wide - size, None)] if step > ZERO else []
        return [low, ProfilePlace(thick, ZERO, None), *shoulder, *BITS[bit](thick - step, wide, size), high]
