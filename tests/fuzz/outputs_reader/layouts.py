"""What lies on a sheet or board lies within it, beside its neighbours, and is large enough for the part that it becomes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from fuzz.outputs_reader.outputs import Data, Outputs, exact

Rectangle = tuple[Fraction, Fraction, Fraction, Fraction]
"""x and y from, x and y to."""


def _rectangle(placed: Data) -> Rectangle:
    x, y = exact(placed["x"]), exact(placed["y"])
    return x, y, x + exact(placed["length"]), y + exact(placed["width"])


def _overlap(a: Rectangle, b: Rectangle) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def pieces_lie_on_their_sheet(outputs: Outputs) -> Iterator[str]:
    for layout in outputs.layouts:
        length, width = exact(layout["length"]), exact(layout["width"])
        for what in ("placed", "offcuts"):
            for piece in layout[what]:
                x0, y0, x1, y1 = _rectangle(piece)
                if x0 < 0 or y0 < 0 or x1 > length or y1 > width:
                    yield f"{_name(layout)}: {piece.get('part', 'an offcut')} sticks out"


def pieces_lie_beside_one_another(outputs: Outputs) -> Iterator[str]:
    for layout in outputs.layouts:
        pieces = [
            (piece.get("part", "an offcut"), _rectangle(piece))
            for what in ("placed", "offcuts")
            for piece in layout[what]
        ]
        for (one, a), (other, b) in combinations(pieces, 2):
            if _overlap(a, b):
                yield f"{_name(layout)}: {one} and {other} overlap"


def cuts_go_beside_the_pieces(outputs: Outputs) -> Iterator[str]:
    for layout in outputs.layouts:
        length, width = exact(layout["length"]), exact(layout["width"])
        if [cut["order"] for cut in layout["cuts"]] != list(range(1, len(layout["cuts"]) + 1)):
            yield f"{_name(layout)}: the cuts are not numbered in order"
        for cut in layout["cuts"]:
            (x0, y0), (x1, y1) = ([exact(value) for value in cut[end]] for end in ("start", "end"))
            where = f"{_name(layout)}: cut {cut['order']}"
            if min(x0, y0) < 0 or x1 > length or y1 > width or x1 < x0 or y1 < y0:
                yield f"{where} leaves the sheet"
            if (x0 != x1) == (y0 != y1):
                yield f"{where} is no line along the sheet or across it"
            if not 0 < exact(cut["setting"]) <= max(length, width):
                yield f"{where} is set to {cut['setting']['mm']}"
            for piece in layout["placed"]:
                a = _rectangle(piece)
                if a[0] < max(x1, x0) and min(x0, x1) < a[2] and a[1] < max(y0, y1) and min(y0, y1) < a[3]:
                    yield f"{where} goes through {piece['part']}"


def the_used_share_is_that_of_the_pieces(outputs: Outputs) -> Iterator[str]:
    for layout in outputs.layouts:
        area = exact(layout["length"]) * exact(layout["width"])
        used = sum(exact(piece["length"]) * exact(piece["width"]) for piece in layout["placed"]) / area
        told = Fraction(layout["used"]["exact"])
        if not 0 < told <= 1 or abs(used - told) > Fraction(1, 100):
            yield f"{_name(layout)}: {float(used):.3f} is used, {layout['used']['value']} told"


def every_part_lies_once_and_is_large_enough(outputs: Outputs) -> Iterator[str]:
    pieces: dict[str, list[Data]] = defaultdict(list)
    for layout in outputs.layouts:
        for piece in layout["placed"]:
            part = outputs.parts.get(piece["part"])
            if part is None:
                continue
            pieces[piece["part"]].append(piece)
            if part["item"] != piece["item"]:
                yield f"{_name(layout)}: {piece['part']} is called {piece['item']}"
    for name, part in outputs.parts.items():
        own = pieces[name]
        strips = sorted(piece["strip"] for piece in own if piece["strip"] is not None)
        if not strips and len(own) != 1:
            yield f"“{name}” is laid out {len(own)} times"
            continue
        if strips and strips != list(range(1, len(own) + 1)):
            yield f"“{name}” has the strips {strips}"
            continue
        long, wide = exact(part["length"]), exact(part["width"])
        lengths = [exact(piece["width" if piece["turned"] else "length"]) for piece in own]
        widths = [exact(piece["length" if piece["turned"] else "width"]) for piece in own]
        if min(lengths) < long or sum(widths) < wide:
            yield f"“{name}” is {float(long)} by {float(wide)}, and is cut {float(min(lengths))} by {float(sum(widths))}"


def _name(layout: Data) -> str:
    return f"{'sheet' if 'sheet' in layout else 'board'} {layout['number']}"


RULES = (
    pieces_lie_on_their_sheet,
    pieces_lie_beside_one_another,
    cuts_go_beside_the_pieces,
    the_used_share_is_that_of_the_pieces,
    every_part_lies_once_and_is_large_enough,
)
