"""``between:`` what stands between other parts, as a shelf does between two sides and a door in its opening: its faces are written out.

``between: side`` reaches from a part to its twin, ``between: {x: [post, side], z: [floor, lid], gap: 1/16}`` from one part to another on
each axis, with a gap at both. A component takes its size and its place so.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drawleaf.english import listed
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.source.positions import Path, Positions, Spot

Entry = dict[str, Any]
Keys = tuple[str, str, str]
AXES: dict[str, Keys] = {"x": ("left", "right", "wide"), "y": ("front", "back", "deep"), "z": ("bottom", "top", "high")}
"""The low face, the high face and the size along each axis."""


def axes_between(entry: Entry, held: Entry) -> tuple[Keys, ...]:
    """The keys of the axes on which a part stands between others; none where it does not, or nothing says how twins are mirrored."""
    between = entry.get("between")
    if isinstance(between, dict):
        return tuple(keys for axis, keys in AXES.items() if axis in between)
    axis = _axis_of_twins(between, held) if isinstance(between, str) else None
    return () if axis is None else (AXES[axis],)


def _axis_of_twins(name: str, held: Entry) -> str | None:
    """The axis on which a part of this assembly has its twin."""
    twin: Any = held.get(name.split(".")[0])
    for _ in held:  # a twin may be like another
        if not isinstance(twin, dict) or "mirror" in twin:
            break
        twin = held.get(str(twin.get("like")))
    mirror = twin.get("mirror") if isinstance(twin, dict) else None
    axes = [axis for axis in AXES if axis in mirror] if isinstance(mirror, dict) else []
    return axes[0] if len(axes) == 1 else None


def between_taken(own: Entry, model: Entry) -> Entry | None:
    """The ``between`` of a part that is like another which stands between others on several axes: by axis, but for those on which it has
    a size of its own. None where the one or the other says it otherwise."""
    theirs, ours = model.get("between"), own.get("between", {})
    if not isinstance(theirs, dict) or not isinstance(ours, dict):
        return None
    left = {axis: value for axis, value in theirs.items() if axis not in AXES or AXES[axis][2] not in own}
    return {**left, **ours}


def with_faces_between(entry: Entry, at: Path, held: Entry, spots: dict[Path, Spot], file: str) -> Diagnostic | None:
    """Writes the faces into the entry, each where ``between`` stands; or what is wrong with it. A face that is given as well goes before."""
    between = entry.get("between")
    for axis, (ends, path) in _asked(between, (*at, "between"), held).items():
        low, high, _ = AXES[axis]
        gap = _gap(between)
        inner = _ends(ends, low, high)
        if inner is None:
            return _no_twin(ends, held, path, spots, file) if isinstance(ends, str) else None
        if isinstance(ends, str) and "." not in ends and _axis_of_twins(ends, held) != axis:
            return _no_twin(ends, held, path, spots, file)
        faces = {low: f"{inner[0]}{gap and f' + {gap}'}", high: f"{inner[1]}{gap and f' - {gap}'}"}
        wanted = 2 - sum(key in entry for key in AXES[axis])
        for key in [key for key in (low, high) if key not in entry][: max(0, wanted)]:
            entry[key] = faces[key]
            stands(spots, (*at, key), path, at)
    if isinstance(between, str) and not axes_between(entry, held):
        return _no_twin(between, held, (*at, "between"), spots, file)
    return None


def with_room_between(entry: Entry, at: Path, spots: dict[Path, Spot], file: str) -> Diagnostic | None:
    """Writes the place and the size of a component that stands between parts into its ``at`` and ``with``; or what is wrong with it."""
    between = entry.get("between")
    if not isinstance(between, dict):
        return None
    if "component" not in entry:
        where = Positions({file: spots}).of(file, (*at, "between"))
        message = "only a component takes its size from what it stands between"
        mend = "Say where it stands with “at:”, and give its parts their faces; a part may stand “between” others."
        return Diagnostic("not-between", message, where, "", mend)
    gap = _gap(between)
    for axis, (ends, path) in _asked(between, (*at, "between"), {}).items():
        low, high, size = AXES[axis]
        inner = _ends(ends, low, high)
        if inner is None:
            continue
        room = f"{inner[1]} - {inner[0]}{gap and f' - 2 * {gap}'}"
        for holder, key, text in (("at", axis, f"{inner[0]}{gap and f' + {gap}'}"), ("with", size, room)):
            given = entry.setdefault(holder, {})
            if isinstance(given, dict) and key not in given:
                given[key] = text
                if (*at, holder) not in spots:
                    stands(spots, (*at, holder), path, at)
                stands(spots, (*at, holder, key), path, at)
    return None


def stands(spots: dict[Path, Spot], new: Path, *origins: Path) -> None:
    """What is written out is told where the first of these stands that was written."""
    spot = next((spots[one] for one in origins if one in spots), None)
    if spot is not None:
        spots[new] = spot


def _asked(between: Any, path: Path, held: Mapping[str, Any]) -> dict[str, tuple[Any, Path]]:
    """What it stands between by axis, and where that is written."""
    if isinstance(between, dict):
        return {axis: (between[axis], (*path, axis)) for axis in AXES if axis in between}
    axis = _axis_of_twins(between, dict(held)) if isinstance(between, str) else None
    return {} if axis is None else {axis: (between, path)}


def _gap(between: Any) -> str:
    """The gap at both ends, to be added; empty where there is none."""
    gap = between.get("gap") if isinstance(between, dict) else None
    return f"({gap})" if isinstance(gap, str) else ""


def _ends(ends: Any, low: str, high: str) -> tuple[str, str] | None:
    """The two faces that look at one another; None for what names neither a part with its twin nor two parts."""
    if isinstance(ends, str):
        return (
            f"min({ends}.original.{high}, {ends}.mirrored.{high})",
            f"max({ends}.original.{low}, {ends}.mirrored.{low})",
        )
    if isinstance(ends, list) and len(ends) == 2 and all(isinstance(one, str) for one in ends):
        return f"{ends[0]}.{high}", f"{ends[1]}.{low}"
    return None


def _no_twin(name: str, held: Entry, path: Path, spots: dict[Path, Spot], file: str) -> Diagnostic:
    twins = [one for one in held if axes_between({"between": one}, held)]
    mend = f"It may be {listed([f'“{one}”' for one in twins], 'or')}; or" if twins else "Give two faces instead, or"
    return Diagnostic(
        "not-between",
        f"there is no part “{name}” with a twin in this assembly",
        Positions({file: spots}).of(file, path),
        "A part stands between a part and its twin, as “mirror” makes one, or between two parts.",
        f"{mend} name two parts on an axis: “between: {{x: [{name}, other]}}”.",
    )
