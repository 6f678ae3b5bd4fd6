"""Square recesses for hardware as marks on a part's face view: those of a size and on one line under one note, set out by their middles."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.shop.bits import bit_format
from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.part.marks.kinds import Mark, Spans, middle, placed
from drawleaf.draw.picture.lay import Lay, face_name
from drawleaf.english import counted
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut, Part
from drawleaf.setting_out.origins import distance, nearest
from drawleaf.units import ZERO, LengthFormat

RECESS = "recess"


def recess_marks(form: LengthFormat, lay: Lay) -> list[Mark]:
    """A mark for each line of like recesses."""
    groups: dict[tuple, list[BoxCut]] = {}
    for feature in lay.part.features:
        if isinstance(feature, BoxCut) and feature.kind == RECESS:
            run, across = _ways(lay.part, feature)
            like = (
                feature.into,
                feature.box.extent(run),
                feature.box.span(across),
                feature.box.extent(feature.into.axis),
            )
            groups.setdefault(like, []).append(feature)
    return [_mark(form, lay, cuts) for cuts in groups.values()]


def _ways(part: Part, cut: BoxCut) -> tuple[Axis, Axis]:
    """The axis along which a recess runs, and the one across it in its face."""
    a, b = cut.into.axis.others()
    longer = cut.box if cut.box.extent(a) != cut.box.extent(b) else part.body
    return (a, b) if longer.extent(a) >= longer.extent(b) else (b, a)


def _mark(form: LengthFormat, lay: Lay, cuts: Sequence[BoxCut]) -> Mark:
    part, first = lay.part, cuts[0]
    run, across = _ways(part, first)
    origins: dict[Axis, Face] = {run: run.low if len(cuts) > 1 else nearest(part, run, first.box.span(run).middle)}
    origins[across] = nearest(part, across, first.box.span(across).middle)
    places = sorted({distance(part, origins[run], cut.box.span(run).middle) for cut in cuts})
    whole = first.box.extent(run) * 10 >= part.body.extent(run) * 9
    spans: dict[Axis, Spans] = {run: () if whole else tuple((ZERO, place) for place in places[:6])}
    at_edge = any(first.box.face(face) == part.body.face(face) for face in (across.low, across.high))
    if not at_edge:
        spans[across] = ((ZERO, distance(part, origins[across], first.box.span(across).middle)),)
    anchor = tuple(middle(lay, toward, first.box.span(toward.axis)) for toward in (lay.right, lay.up))
    shown = {toward.axis for toward in (lay.right, lay.up)}
    note = _note(form, lay, cuts, at_edge, across)
    return placed(
        lay,
        {axis: face for axis, face in origins.items() if axis in shown},
        {axis: some for axis, some in spans.items() if axis in shown},
        (anchor[0], anchor[1]),
        note,
    )


def _note(form: LengthFormat, lay: Lay, cuts: Sequence[BoxCut], at_edge: bool, across: Axis) -> Rich:
    """``2 recesses, 2-1/2 × 19/32, 3/64 deep, in the left edge, open to the front face; distances to their middles``."""
    first = cuts[0]
    run, _ = _ways(lay.part, first)
    words: list = [
        f"{counted(len(cuts), 'recess')}, " if len(cuts) > 1 else "Recess, ",
        *inline_pieces(form, first.box.extent(run)),
        " × ",
        *inline_pieces(form, first.box.extent(across)),
        ", ",
        *inline_pieces(bit_format(form), first.box.extent(first.into.axis)),
        " deep",
    ]
    if first.into is not lay.face:
        words.append(f", in the {face_name(lay.part, first.into)}")
    if at_edge:
        low = first.box.face(across.low) == lay.part.body.face(across.low)
        words.append(f", open to the {face_name(lay.part, across.low if low else across.high)}")
    words.append("; distances are to their middles" if len(cuts) > 1 else "")
    return tuple(word for word in words if word)
