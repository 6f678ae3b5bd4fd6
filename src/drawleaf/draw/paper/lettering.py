"""Lettering by the face's own metrics: how wide a text is, and how a length is set with a true fraction.

Renderers do not agree on font features inside SVG, so a fraction is set here by hand. A value that stands alone on a drawing is
stacked: whole number, figure above the bar, figure below it, all of the full letter height. Within words it is set on the
slant with the face's raised and lowered figures, as in the booklet's text, so that all lines are of one height.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from drawleaf.draw.paper.style import CAP, FRACTION_BAR, INK, LETTER, LIGHT_BAR, SOFT_INK, LineStyle
from drawleaf.draw.paper.svg import Poly, Pt, Sketch, TextRun, turned
from drawleaf.units import Length, LengthFormat, Mixed, Units
from drawleaf.units.in_names import sizes_in

Piece = str | Mixed
"""Plain words, or an inch figure that may hold a fraction."""

Rich = tuple[Piece, ...]

_EM = 1000.0
"""Units of the face to an em."""
_FRACTION_GAP = 0.09
_BAR_ROOM = 0.15
_LINE = 1.22
_RAISED, _LOWERED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹"), str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_SLANTED, _SLANT_GAP, _LOWERS = 1.2, 0.04, 0.16
"""How much larger a fraction within words is set, so that its small figures can be read; the gap before it; how far it reaches below."""


@cache
def _widths(weight: int) -> tuple[dict[int, float], float]:
    """Advance widths in em by code point at a weight of the variable face, and that of a missing character."""
    from fontTools.ttLib import TTFont

    from drawleaf.resources import font_files

    with TTFont(font_files()[0], lazy=True) as font:
        names = font.getBestCmap() or {}
        glyphs = font.getGlyphSet(location={"wght": weight})
        wanted = {code: name for code, name in names.items() if code < 0x250 or 0x2000 <= code < 0x2300}
        return {code: glyphs[name].width / _EM for code, name in wanted.items()}, 0.6


@lru_cache(maxsize=1 << 14)
def text_width(text: str, size: float = LETTER, weight: int = 400) -> float:
    """Width of a text in mm at a font size in mm."""
    widths, missing = _widths(weight)
    return size * sum(widths.get(ord(character), missing) for character in text)


def cap_height(size: float = LETTER) -> float:
    """Height of capitals and figures in mm."""
    return CAP * size


@dataclass(frozen=True, slots=True)
class _Run:
    """A run within a label, from the label's left end and first baseline."""

    text: str
    x: float
    y: float
    size: float
    weight: int
    color: str


@dataclass(frozen=True, slots=True)
class Label:
    """A set text: ``width``, and how far it reaches above and below its first baseline (mm)."""

    runs: tuple[_Run, ...]
    bars: tuple[tuple[float, float, float, str], ...]
    width: float
    above: float
    below: float

    @property
    def height(self) -> float:
        """Millimetres on paper."""
        return self.above + self.below


def length_pieces(form: LengthFormat, length: Length) -> Rich:
    """A length without its unit, as the booklet prints it first: a figure with its fraction, or millimetres."""
    return (form.millimetres(length),) if form.units is Units.MM else (form.mixed(length),)


def second_pieces(form: LengthFormat, length: Length) -> Rich | None:
    """The second unit of a dual-unit booklet: ``(419 mm)``; None in the others."""
    return (f"({form.millimetres(length)} mm)",) if form.units is Units.BOTH else None


def inline_pieces(form: LengthFormat, length: Length) -> Rich:
    """A length within a line of words: both units after one another where both are printed."""
    second = second_pieces(form, length)
    return (*length_pieces(form, length), *((" ", *second) if second else ()))


def unit_name(form: LengthFormat) -> str:
    """The unit that figures without a unit are in."""
    return "millimetres" if form.units is Units.MM else "inches"


def with_sizes(line: Rich) -> Rich:
    """A line in which the sizes that stand in names (``#8 x 1-1/4 in``) are figures as all others are."""
    return tuple(one for piece in line for one in (sizes_in(piece) if isinstance(piece, str) else (piece,)))


def label(
    lines: str | Rich | Sequence[Rich],
    *,
    size: float = LETTER,
    weight: int = 400,
    light_after: int = 99,
    anchor: str = "start",
    stacked: bool = False,
) -> Label:
    """Sets one line or several. Lines from ``light_after`` on are set lighter. ``anchor`` aligns lines within the label. Fractions
    are ``stacked`` in values of dimensions; in words they are on the slant."""
    rows = _as_rows(lines)
    measured = [
        _row(tuple(row), size, weight if i < light_after else 400, INK if i < light_after else SOFT_INK, stacked)
        for i, row in enumerate(rows)
    ]
    width = max(row[2] for row in measured)
    runs: list[_Run] = []
    bars: list[tuple[float, float, float, str]] = []
    baseline = 0.0
    for i, (row_runs, row_bars, row_width, above, _) in enumerate(measured):
        if i:
            gap = max(measured[i - 1][4] + above + 0.28 * size, _LINE * size * 0.92)
            baseline += gap
        shift = {"start": 0.0, "middle": (width - row_width) / 2, "end": width - row_width}[anchor]
        runs += [replace(r, x=r.x + shift, y=r.y + baseline) for r in row_runs]
        bars += [(x0 + shift, x1 + shift, y + baseline, color) for x0, x1, y, color in row_bars]
    return Label(tuple(runs), tuple(bars), width, measured[0][3], baseline + measured[-1][4])


def length_label(form: LengthFormat, length: Length, *, prefix: str = "", suffix: str = "", weight: int = 400) -> Label:
    """A dimension's value: the figure, and in a dual-unit booklet the second unit on a lighter line below."""
    first: Rich = (*((prefix,) if prefix else ()), *length_pieces(form, length), *((suffix,) if suffix else ()))
    second = second_pieces(form, length)
    return label([first, second] if second else [first], weight=weight, light_after=1, anchor="middle", stacked=True)


def _as_rows(lines: str | Rich | Sequence[Rich]) -> list[Rich]:
    if isinstance(lines, str):
        return [(lines,)]
    if isinstance(lines, tuple) and all(isinstance(piece, str | Mixed) for piece in lines):
        return [lines]  # type: ignore[list-item]
    return list(lines)  # type: ignore[arg-type]


@lru_cache(maxsize=4096)
def _row(
    pieces: Rich, size: float, weight: int, color: str, stacked: bool
) -> tuple[tuple[_Run, ...], tuple[tuple[float, float, float, str], ...], float, float, float]:
    """One line: its runs, fraction bars, width, reach above and below the baseline. Kept while a drawing is fitted."""
    runs: list[_Run] = []
    bars: list[tuple[float, float, float, str]] = []
    x, above, below = 0.0, cap_height(size), 0.0
    for piece in with_sizes(pieces):
        if isinstance(piece, str):
            # Renderers drop spaces at the ends of a run, so they are set as distance.
            lead = text_width(piece[: len(piece) - len(piece.lstrip(" "))], size, weight)
            if words := piece.strip(" "):
                runs.append(_Run(words, x + lead, 0.0, size, weight, color))
            x += text_width(piece, size, weight)
            below = max(below, 0.2 * size if any(c in "gjpqy(),;" for c in piece) else 0.0)
            continue
        whole = ("−" if piece.negative else "") + (str(piece.whole) if piece.whole or not piece.numerator else "")
        if whole:
            runs.append(_Run(whole, x, 0.0, size, weight, color))
            x += text_width(whole, size, weight)
        if piece.numerator and stacked:
            x += _FRACTION_GAP * size if whole else 0.0
            x, up, down = _stack(piece, x, size, weight, color, runs, bars)
            above, below = max(above, up), max(below, down)
        elif piece.numerator:
            x += _SLANT_GAP * size if whole else 0.0
            large = _SLANTED * size
            runs.append(_Run(slanted := _slanted(piece), x, 0.0, large, weight, color))
            x += text_width(slanted, large, weight)
            above, below = max(above, cap_height(large)), max(below, _LOWERS * large)
    return tuple(runs), tuple(bars), x, above, below


def _slanted(figure: Mixed) -> str:
    """Its fraction with the face's raised and lowered figures: ``³⁄₄``."""
    return f"{str(figure.numerator).translate(_RAISED)}\u2044{str(figure.denominator).translate(_LOWERED)}"


def _stack(
    piece: Mixed,
    x: float,
    size: float,
    weight: int,
    color: str,
    runs: list[_Run],
    bars: list[tuple[float, float, float, str]],
) -> tuple[float, float, float]:
    """A stacked fraction from x on; gives its right end and its reach above and below the baseline."""
    middle = -cap_height(size) / 2
    top, bottom = str(piece.numerator), str(piece.denominator)
    widths = text_width(top, size, weight), text_width(bottom, size, weight)
    wide = max(widths)
    room = _BAR_ROOM * size
    runs.append(_Run(top, x + (wide - widths[0]) / 2, middle - room, size, weight, color))
    runs.append(_Run(bottom, x + (wide - widths[1]) / 2, middle + room + cap_height(size), size, weight, color))
    bars.append((x, x + wide, middle, color))
    return x + wide, cap_height(size) * 1.5 + room, cap_height(size) / 2 + room


def place(
    sketch: Sketch, text: Label, at: Pt, *, anchor: str = "start", turn: float = 0.0, color: str | None = None
) -> None:
    """Puts a label with its first baseline at ``at`` (its start, middle or end), turned anticlockwise about that point."""
    shift = {"start": 0.0, "middle": text.width / 2, "end": text.width}[anchor]
    group = sketch.new_label()
    for run in text.runs:
        where = turned((at[0] + run.x - shift, at[1] + run.y), at, turn)
        sketch.texts.append(TextRun(run.text, where, run.size, run.weight, color or run.color, "start", turn, group))
    for x0, x1, y, ink in text.bars:
        ends = tuple(turned((at[0] + x - shift, at[1] + y), at, turn) for x in (x0, x1))
        style: LineStyle = LIGHT_BAR if ink == SOFT_INK else FRACTION_BAR
        sketch.shape(style, Poly(ends))


def place_centered(sketch: Sketch, text: Label, center: Pt, *, turn: float = 0.0, color: str | None = None) -> None:
    """Puts a label with the middle of its box at ``center``."""
    drop = (text.above - text.below) / 2
    baseline = turned((center[0], center[1] + drop), center, turn)
    place(sketch, text, baseline, anchor="middle", turn=turn, color=color)


def run_box(run: TextRun) -> tuple[float, float, float, float]:
    """The upright box around a placed run: left, top, right, bottom."""
    width, cap = text_width(run.text, run.size, run.weight), cap_height(run.size)
    drop = 0.2 * run.size if any(c in "gjpqy(),;" for c in run.text) else 0.0
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[run.anchor]
    corners = [(run.at[0] + x, run.at[1] + y) for x in (start, start + width) for y in (-cap, drop)]
    turned_corners = [turned(corner, run.at, run.turn) for corner in corners]
    xs, ys = [x for x, _ in turned_corners], [y for _, y in turned_corners]
    return (min(xs), min(ys), max(xs), max(ys))
