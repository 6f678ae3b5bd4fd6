"""``between:``: a part that reaches from one twin to the other, as a shelf does between two sides: its two faces are written out."""

from __future__ import annotations

from typing import Any

from drawleaf.english import listed
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.source.positions import Path, Positions, Spot

Entry = dict[str, Any]
AXES = {"x": ("left", "right", "wide"), "y": ("front", "back", "deep"), "z": ("bottom", "top", "high")}
"""The low face, the high face and the size along each axis."""


def axis_between(entry: Entry, held: Entry) -> tuple[str, str, str] | None:
    """The keys of the axis on which a part stands between twins; None where it does not, or nothing says how they are mirrored."""
    name = entry.get("between")
    if not isinstance(name, str):
        return None
    twin: Any = held.get(name.split(".")[0])
    for _ in held:  # a twin may be like another
        if not isinstance(twin, dict) or "mirror" in twin:
            break
        twin = held.get(str(twin.get("like")))
    mirror = twin.get("mirror") if isinstance(twin, dict) else None
    axes = [axis for axis in AXES if axis in mirror] if isinstance(mirror, dict) else []
    return AXES[axes[0]] if len(axes) == 1 else None


def with_faces_between(entry: Entry, at: Path, held: Entry, spots: dict[Path, Spot], file: str) -> Diagnostic | None:
    """Writes the faces into the entry, each where ``between`` stands; or what is wrong with it. A face that is given as well goes before."""
    if "between" not in entry:
        return None
    axis = axis_between(entry, held)
    name = str(entry["between"])
    if axis is None:
        twins = [one for one in held if axis_between({"between": one}, held)]
        mend = f"It may be {listed([f'“{one}”' for one in twins], 'or')}." if twins else "Give two faces instead."
        where = Positions({file: spots}).of(file, (*at, "between"))
        message = f"there is no part “{name}” with a twin in this assembly"
        return Diagnostic(
            "not-between", message, where, "A part stands between a part and its twin, as “mirror” makes one.", mend
        )
    low, high, _ = axis
    inner = {
        low: f"min({name}.original.{high}, {name}.mirrored.{high})",
        high: f"max({name}.original.{low}, {name}.mirrored.{low})",
    }
    wanted = 2 - sum(key in entry for key in axis)
    for key in [key for key in (low, high) if key not in entry][: max(0, wanted)]:
        entry[key] = inner[key]
        spots[*at, key] = spots.get((*at, "between"), spots[at])
    return None
