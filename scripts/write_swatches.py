"""Writes ``docs/pictures/woods.jpg``: every wood of ``shared/looks`` from above, its edge and its end, and under common finishes. Look at it after a change."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from drawleaf.looks.boards import Board, board_color
from drawleaf.looks.coats import coated
from drawleaf.looks.wood import to_srgb
from drawleaf.model.looks import FinishLook, WoodLook
from drawleaf.resources import product_folder
from drawleaf.source.library import load_library

SHEET = Path(__file__).resolve().parent.parent / "docs" / "pictures" / "woods.jpg"
LONG, WIDE, THICK = 300.0, 120.0, 20.0
COATS = ("danish oil", "gel stain walnut", "cabinet paint")
"""What each wood is shown under besides; the first board is as it is under a clear finish."""


def board_picture(look: WoodLook, seed: int, coats: tuple[FinishLook, ...], long: float) -> np.ndarray:
    """A board from above with its end to the right and its edge below, a millimetre to a pixel."""
    board = Board(look, (LONG, WIDE, THICK), seed)

    def line(size: float) -> np.ndarray:
        return (np.arange(int(size)) + 0.5 - size / 2.0).astype(np.float32)

    def fixed(value: float) -> np.ndarray:
        return np.full((1, 1), value, np.float32)

    face = board_color(
        board, (line(LONG)[None, : int(long)], line(WIDE)[:, None], fixed(THICK / 2)), (0.0, 0.0, 1.0), 1.0
    )
    edge = board_color(
        board, (line(LONG)[None, : int(long)], fixed(WIDE / 2), line(THICK)[:, None]), (0.0, 1.0, 0.0), 1.0
    )
    end = board_color(board, (fixed(LONG / 2), line(WIDE)[:, None], line(THICK)[None, :]), (1.0, 0.0, 0.0), 1.0)
    high, wide = int(WIDE + THICK + 2), int(long + THICK + 2)
    found = np.ones((high, wide, 3), np.float32)
    found[: int(WIDE), : int(long)] = coated(face, look, coats)
    found[-int(THICK) :, : int(long)] = coated(edge, look, coats)
    found[: int(WIDE), -int(THICK) :] = coated(end, look, coats)
    return np.round(to_srgb(found) * 255.0).astype(np.uint8)


def main() -> None:
    library, _ = load_library((product_folder("shared"),))
    coats = [library.catalogue.finishes[name].look for name in COATS]
    rows = []
    for look in library.catalogue.looks.values():
        shown = [board_picture(look, 41, (), LONG), board_picture(look, 90, (), LONG)]
        shown += [board_picture(look, 41, (coat,), 110.0) for coat in coats if coat is not None]
        gap = np.full((shown[0].shape[0], 10, 3), 255, np.uint8)
        row = np.concatenate([one for picture in shown for one in (gap, picture)], axis=1)
        rows += [np.full((30, row.shape[1], 3), 255, np.uint8), row]
    sheet = Image.fromarray(np.concatenate(rows, axis=0))
    pen, font = ImageDraw.Draw(sheet), ImageFont.load_default(18)
    for number, look in enumerate(library.catalogue.looks.values()):
        top = number * int(30 + WIDE + THICK + 2)
        pen.text((10, top + 6), look.id, fill=(20, 20, 20), font=font)
        if number == 0:
            for place, name in enumerate(COATS):
                pen.text((10 + 2 * 332 + place * 142, top + 6), name, fill=(20, 20, 20), font=font)
    sheet.save(SHEET, quality=88)


if __name__ == "__main__":
    main()
