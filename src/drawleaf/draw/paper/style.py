"""The one look of all drawings: line widths, greys, the accent, sizes of lettering.

Widths follow ISO 128-2: within a drawing a wide line is twice a narrow one. Orthographic drawings use the 0.5 / 0.25 mm group,
pictorial ones 0.35 / 0.18 mm (from the same width series). Dash lengths are multiples of the line width as that
standard gives them (dash 12 d, gap 3 d, long dash 24 d; from memory, see docs/drawings.md), shortened where a whole dash
would not fit a 20 mm part.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from drawleaf.model.colors import rgb

FONT = "'Source Sans 3', sans-serif"

INK = "#1a1a1a"
SOFT_INK = "#55585c"
GREY = "#9a9da1"
PALE = "#d3d5d8"
WHITE = "#ffffff"

ACCENT = "#b3541e"
"""Fired clay. It means one thing in the whole booklet: what is new here. New lines are also twice as wide as old ones."""
ACCENT_TINT = "#f6dcc8"
STANDING_FILL = "#f1f2f3"
HELP_FILL = "#fdfdfb"
CLAMP_FILL = "#c6c9cd"
"""Pale, and darker than what stands and what is new, in grey too."""
SHADOWS = ("#f9f9f8", "#f3f3f2", "#ececeb", "#e5e5e4", "#dededd", "#d8d8d7")
HATCH_INK = "#85888c"

LETTER = 3.8
"""Font size in mm of all ordinary lettering. Capitals of the face are 0.66 em, so they stand 2.5 mm high (ISO 3098-1 series)."""
TITLE = 4.6
CAP = 0.66
ROW_FIRST = 10.0
ARROW_LENGTH = 2.5
ARROW_HALF = 0.42
BALLOON_RADIUS = 3.6


@dataclass(frozen=True, slots=True)
class LineStyle:
    """A kind of line. ``order`` is its place in painting: low first."""

    name: str
    width: float
    color: str
    order: int
    dash: tuple[float, ...] = ()
    cap: str = "round"


HATCH = LineStyle("hatch", 0.18, HATCH_INK, 10)
EXPLOSION = LineStyle("explosion", 0.18, SOFT_INK, 15, (3.0, 0.6, 0.4, 0.6), "butt")
STANDING = LineStyle("standing", 0.18, GREY, 20)
HIDDEN = LineStyle("hidden", 0.25, SOFT_INK, 25, (2.0, 0.9), "butt")
HELP = LineStyle("help", 0.25, SOFT_INK, 24, (1.2, 0.7), "butt")
CLAMP_EDGE = LineStyle("clamp-edge", 0.18, SOFT_INK, 26)
CENTER = LineStyle("center", 0.18, SOFT_INK, 30, (4.5, 0.8, 0.6, 0.8), "butt")
NARROW = LineStyle("narrow", 0.25, INK, 35)
PICTURE_EDGE = LineStyle("edge", 0.18, INK, 38)
PICTURE_OUTLINE = LineStyle("outline", 0.35, INK, 40)
VISIBLE = LineStyle("visible", 0.5, INK, 45)
NEW_EDGE = LineStyle("new-edge", 0.25, INK, 50)
NEW_OUTLINE = LineStyle("new-outline", 0.5, ACCENT, 55)
CUT_LINE = LineStyle("cut", 0.5, INK, 58)
MOTION = LineStyle("motion", 0.7, ACCENT, 60, (), "butt")
MEASURE = LineStyle("measure", 0.5, ACCENT, 63)
INSET = LineStyle("inset", 0.35, INK, 66)
FASTENER = LineStyle("fastener", 0.35, INK, 62)
DIMENSION = LineStyle("dimension", 0.25, INK, 70)
LEADER = LineStyle("leader", 0.18, INK, 72)
BALLOON = LineStyle("balloon", 0.25, INK, 74)
NEW_BALLOON = LineStyle("new-balloon", 0.5, ACCENT, 76)
FRACTION_BAR = LineStyle("fraction-bar", 0.25, INK, 80)
REGISTER = LineStyle("register", 0.25, INK, 64)
RULER = LineStyle("ruler", 0.25, INK, 65, (), "butt")
THREAD = LineStyle("thread", 0.18, INK, 36)
BREAK = LineStyle("break", 0.25, INK, 37)
CUTTING_PLANE = LineStyle("cutting-plane", 0.25, INK, 43, (6.0, 0.8, 0.6, 0.8), "butt")
CUTTING_END = LineStyle("cutting-plane-end", 0.5, INK, 44)
LIGHT_BAR = replace(FRACTION_BAR, name="fraction-bar-light", color=SOFT_INK, order=81)

_TINTS = {
    "birch plywood": "#ecdcbd",
    "red oak board": "#d9b48a",
    "pine board": "#efdbb0",
}
_PLAIN_TINT = "#e6d7bd"


def wood_tint(material_id: str, tint: str) -> str:
    """The soft fill of a material: the catalogue's own ``#rrggbb`` where it gives one, else one of ours."""
    if len(tint) == 7 and tint.startswith("#"):
        return tint
    return _TINTS.get(material_id, _PLAIN_TINT)


@lru_cache(maxsize=4096)
def shade(color: str, light: float) -> str:
    """A ``#rrggbb`` colour under so much light: 1 leaves it, less darkens it, more goes towards white."""
    lit = (channel * light if light <= 1 else channel + (255 - channel) * (light - 1) for channel in rgb(color))
    return "#" + "".join(f"{max(0, min(255, round(channel))):02x}" for channel in lit)
