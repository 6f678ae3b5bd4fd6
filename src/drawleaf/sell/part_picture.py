"""A part of both revisions in one drawing: the old in grey, the new in the accent, what is as before in black."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from svgwrite import Drawing

from drawleaf.sell.piece import SIDES, Cut, Hole, Piece, Triple
from drawleaf.sell.remaking import Verdict

WIDE, HIGH = 72.0, 16.0
"""The picture's largest size in millimeters on paper."""
MARGIN = 2.0
ORIGIN: Triple = (Fraction(0), Fraction(0), Fraction(0))
"""The low corner of the new part, from which all places are measured."""
GREY, ACCENT, INK = "#8a8d91", "#b3541e", "#1a1a1a"


def picture(old: Piece | None, new: Piece | None, found: Verdict | None) -> str:
    """The SVG of a part's broad face, without letters: sizes stand beside it. At least one of the two is given."""
    shown = new or old
    assert shown is not None
    across, up = _axes(shown)
    shift = _shift(found)
    boxes = [(at, part.size) for at, part in ((ORIGIN, new), (shift, old)) if part is not None]
    left = min(at[across] for at, _ in boxes)
    right = max(at[across] + size[across] for at, size in boxes)
    low = min(at[up] for at, _ in boxes)
    high = max(at[up] + size[up] for at, size in boxes)
    scale = min(WIDE / max(float(right - left), 1.0), HIGH / max(float(high - low), 1.0))
    wide, tall = float(right - left) * scale + 2 * MARGIN, float(high - low) * scale + 2 * MARGIN
    svg = Drawing(size=(f"{wide:.2f}mm", f"{tall:.2f}mm"), viewBox=f"0 0 {wide:.2f} {tall:.2f}", debug=False)

    def put(at: Triple, size: Triple, **style: object) -> None:
        x = MARGIN + float(at[across] - left) * scale
        y = MARGIN + float(high - at[up] - size[up]) * scale
        svg.add(
            svg.rect((round(x, 2), round(y, 2)), (round(float(size[across]) * scale, 2), round(float(size[up]) * scale, 2)), **style)
        )  # fmt: skip

    def bore(hole: Hole, at: Triple, **style: object) -> None:
        x = MARGIN + float(at[across] - left) * scale
        y = MARGIN + float(high - at[up]) * scale
        svg.add(svg.circle((round(x, 2), round(y, 2)), round(max(float(hole.diameter) * scale / 2, 0.45), 2), **style))

    before = _looks(old, shift) if old is not None else set()
    after = _looks(new, ORIGIN) if new is not None else set()
    grey = {"fill": "none", "stroke": GREY, "stroke_width": 0.5, "stroke_dasharray": "1.6 0.9"}
    accent = {"fill": ACCENT, "fill_opacity": 0.14, "stroke": ACCENT, "stroke_width": 0.6}
    ink = {"fill": "none", "stroke": INK, "stroke_width": 0.3}
    whole = old is not None and new is not None and old.size == new.size
    if new is not None:
        put(ORIGIN, new.size, **(ink if whole else accent))
    if old is not None and not whole:
        put(shift, old.size, **grey)
    for style, features in ((grey, before - after), (ink, before & after), (accent, after - before)):
        for one in sorted(features, key=repr):
            if isinstance(one, Hole):
                if SIDES[one.face][0] not in (across, up):
                    bore(one, one.at, **style)
            else:
                put(one.low, _extent(one), **style)
    return svg.tostring()


def _axes(part: Piece) -> tuple[int, int]:
    """The axis that lies across the picture, the longest, and the one that stands up in it."""
    by_length = sorted(range(3), key=lambda axis: (-part.size[axis], axis))
    return by_length[0], by_length[1]


def _shift(found: Verdict | None) -> Triple:
    """How far beyond the new part's low corner the old one begins."""
    off = {axis: Fraction(0) for axis in range(3)}
    for trim in found.trims if found is not None else ():
        axis, side = SIDES[trim.face]
        if side < 0:
            off[axis] = trim.off
    return (-off[0], -off[1], -off[2])


def _looks(part: Piece, shift: Triple) -> set[Hole | Cut]:
    """Its holes and cuts where they lie from the new part's low corner."""
    holes = (replace(hole, at=_moved(hole.at, shift)) for hole in part.holes)
    return {*holes, *(replace(cut, low=_moved(cut.low, shift), high=_moved(cut.high, shift)) for cut in part.cuts)}


def _moved(at: Triple, by: Triple) -> Triple:
    x, y, z = (one + other for one, other in zip(at, by, strict=True))
    return (x, y, z)


def _extent(cut: Cut) -> Triple:
    x, y, z = (high - low for low, high in zip(cut.low, cut.high, strict=True))
    return (x, y, z)
