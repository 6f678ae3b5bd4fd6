"""Stain on panels that float in their grooves: it goes on before they go in, whatever else the line stains.

In dry weeks a panel shrinks and shows what its grooves hid. So a line that stains such a panel is done in two: the panels while they are loose,
the rest when the piece stands. What evens the wood for the stain goes with it. An author who says when a line is done is taken at his word.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from drawleaf.english import listed
from drawleaf.model.plan import Filling, FinishCoat, Joint, Part


def panels_stained_first(
    coats: Sequence[FinishCoat], filling: Sequence[Filling], parts: Sequence[Part], joints: Iterable[Joint]
) -> tuple[list[FinishCoat], list[Filling]]:
    """The schedule with such lines in two, and the fillings with their places among its lines."""
    kinds = {part.id: part.kind for part in parts}
    solid = {part.id for part in parts if part.stock.material.solid}
    floating = {joint.insert for joint in joints if joint.family.panel and not joint.glued} & solid
    found: list[FinishCoat] = []
    starts: list[int] = []
    for index, coat in enumerate(coats):
        starts.append(len(found))
        early = _early(coat, coats[index:], floating)
        if not early:
            found.append(coat)
            continue
        names = listed(dict.fromkeys(kinds[part] for part in early))
        found.append(replace(coat, parts=early, scope=names, before_assembly=True))
        late = tuple(part for part in coat.parts if part not in early)
        if late:
            found.append(replace(coat, parts=late, scope=f"{coat.scope} but {names}"))
    starts.append(len(found))
    return found, [replace(one, place=starts[one.place]) for one in filling]


def _early(coat: FinishCoat, onward: Sequence[FinishCoat], floating: set[str]) -> tuple[str, ...]:
    """The floating panels that the line puts something on which lies under a stain, or is one; none where its time is told."""
    if coat.product is None or coat.before_assembly or coat.timed:
        return ()
    stained = {
        part
        for one in onward
        if one.product is not None and one.product.stains and not one.timed and not one.before_assembly
        for part in one.parts
    }
    return tuple(part for part in coat.parts if part in floating & stained)
