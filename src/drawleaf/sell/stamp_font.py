"""The booklet's own letters for the line in the foot: cut down once, so that any name in Latin, Greek or Cyrillic can be set in every copy."""

from __future__ import annotations

import io
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

from drawleaf.resources import font_files

SIGNS = (*range(0x20, 0x7F), *range(0xA0, 0x250), *range(0x370, 0x400), *range(0x400, 0x530), *range(0x1E00, 0x1F00),
         *range(0x2010, 0x2040), 0x20AC, 0x2116, 0x2122)  # fmt: skip
UNKNOWN = "?"


@dataclass(frozen=True, slots=True)
class StampFont:
    """The font file, the glyph of each sign, and each glyph's width in thousandths of the size."""

    data: bytes
    glyphs: dict[int, int]
    widths: dict[int, int]
    box: tuple[int, int, int, int]
    ascent: int
    descent: int

    def shown(self, text: str) -> str:
        """The text with a question mark for each sign that the font has not."""
        return "".join(sign if ord(sign) in self.glyphs else UNKNOWN for sign in text)

    def hexed(self, text: str) -> str:
        """Its glyphs as a hexadecimal string of a PDF."""
        return "".join(f"{self.glyphs[ord(sign)]:04X}" for sign in self.shown(text))

    def width(self, text: str) -> float:
        """How wide it is, in shares of the letters' size."""
        return sum(self.widths[self.glyphs[ord(sign)]] for sign in self.shown(text)) / 1000.0


@lru_cache(maxsize=1)
def stamp_font() -> StampFont:
    """The text family, upright and regular."""
    font = TTFont(font_files()[0], recalcTimestamp=False, lazy=False)
    options = subset.Options(
        layout_features=[], name_IDs=[1, 2], notdef_outline=True, recalc_timestamp=False, hinting=False
    )
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=SIGNS)
    cutter.subset(font)
    if "fvar" in font:
        font = instancer.instantiateVariableFont(font, {"wght": 400}, inplace=True)
    # Read again from its bytes: glyphs then have the numbers that the file gives them.
    kept = io.BytesIO()
    font.save(kept)
    font = TTFont(io.BytesIO(kept.getvalue()))
    numbers = font.getReverseGlyphMap()
    glyphs = {sign: numbers[name] for sign, name in (font.getBestCmap() or {}).items()}
    head: Any = font["head"]
    line: Any = font["hhea"]
    metrics: Any = font["hmtx"]
    scale = 1000 / head.unitsPerEm
    widths = {number: round(metrics[name][0] * scale) for name, number in numbers.items()}
    box = (round(head.xMin * scale), round(head.yMin * scale), round(head.xMax * scale), round(head.yMax * scale))
    return StampFont(kept.getvalue(), glyphs, widths, box, round(line.ascent * scale), round(line.descent * scale))


def to_unicode(glyphs: Iterable[tuple[int, int]]) -> bytes:
    """The map from glyphs back to signs, by which a line can be searched and copied: pairs of (sign, glyph)."""
    # Of several signs with one glyph the first is told: a hyphen, not one that does not break.
    by_glyph = dict(sorted(((glyph, sign) for sign, glyph in glyphs), key=lambda pair: (pair[0], -pair[1])))
    pairs = [f"<{glyph:04X}> <{sign:04X}>" for glyph, sign in by_glyph.items()]
    blocks = [pairs[at : at + 100] for at in range(0, len(pairs), 100)]
    body = "\n".join(f"{len(block)} beginbfchar\n" + "\n".join(block) + "\nendbfchar" for block in blocks)
    return (
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"
        f"{body}\nendcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
    ).encode()
