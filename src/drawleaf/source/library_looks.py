"""Entries on looks as catalogue values."""

from __future__ import annotations

from drawleaf.model.colors import rgb
from drawleaf.model.looks import Build, FinishLook, Pores, Rays, WoodLook
from drawleaf.source.library_lengths import DataProblem, length_at
from drawleaf.source.library_prices import Prices
from drawleaf.source.look_models import FinishLookEntry, LookEntry
from drawleaf.units import ZERO


def look(name: str, entry: LookEntry, _prices: Prices) -> WoodLook:
    """How a wood looks. Raises DataProblem."""
    rays, pores = entry.rays, entry.pores
    build = Build(entry.build)
    plies = _size(entry.plies, "plies") if entry.plies else 0.0
    if build in (Build.ROTARY, Build.SLICED) and not plies:
        raise DataProblem(
            ("build",), "plywood has plies, and their thickness is missing", "Write plies: 1.4 mm below it."
        )
    return WoodLook(
        id=name,
        light=rgb(entry.light),
        dark=rgb(entry.dark),
        rings=_size(entry.rings, "rings"),
        late=entry.late,
        sharp=entry.sharp,
        streaks=entry.streaks,
        clouds=entry.clouds,
        rays=rays and Rays(rays.dark, _size(rays.long, "rays", "long"), _size(rays.wide, "rays", "wide"), rays.share),
        pores=pores
        and Pores(
            pores.dark, _size(pores.long, "pores", "long"), _size(pores.wide, "pores", "wide"), pores.where == "early"
        ),
        knots=entry.knots,
        trunk=_size(entry.trunk, "trunk"),
        strips=_size(entry.strips, "strips") if entry.strips else 0.0,
        plies=plies,
        build=build,
        source=entry.source,
    )


def finish_look(entry: FinishLookEntry | None) -> FinishLook | None:
    """What a finish does to the look of wood; None where its entry does not say."""
    if entry is None:
        return None
    color = None if entry.color is None else rgb(entry.color)
    return FinishLook(color, entry.hides, entry.deepens, entry.gloss)


def _size(text: str, *path: str | int) -> float:
    """A length above nothing, in millimetres. Raises DataProblem."""
    length = length_at(text, *path)
    if length <= ZERO:
        raise DataProblem(path, f"“{text}” is no size", "Write a length above 0, such as 2.5 mm.")
    return length.mm
