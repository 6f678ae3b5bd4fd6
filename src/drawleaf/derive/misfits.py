"""Parts that cannot be cut from their stock: the error, with the nearest change that would do."""

from __future__ import annotations

from drawleaf.derive.laying import Margins, Wanted
from drawleaf.model.catalogue import BoardSize, Stock
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.units import Length, LengthFormat


def sheet_misfit(piece: Wanted, stock: Stock, margins: Margins, lengths: LengthFormat) -> Diagnostic | None:
    """An error where no sheet on offer holds the piece the way its grain must run; None where one does."""
    usable = [margins.usable(sheet.length, sheet.width) for sheet in stock.sheets]
    if any(_fits(piece, length, width) for length, width in usable):
        return None
    size = f"{lengths.text(piece.length)} x {lengths.text(piece.width)}"
    room = max(usable, key=lambda one: one[0].exact_mm * one[1].exact_mm)
    if any(piece.width <= length and piece.length <= width for length, width in usable):
        mend = "Let its grain run the other way, or either way (`grain: any`)."
    elif piece.width <= room[1]:
        mend = f"Make it at most {lengths.text(room[0])} long, or make it of two parts with a joint between."
    elif piece.length <= room[0]:
        mend = f"Make it at most {lengths.text(room[1])} wide, or make it of two parts with a joint between."
    else:
        mend = f"Make it at most {lengths.text(room[0])} x {lengths.text(room[1])}, or divide it."
    return Diagnostic(
        "larger-than-sheet",
        f"{piece.label} is {size}: no sheet of {stock.name} gives a piece of that size",
        piece.part.position,
        f"The largest usable sheet is {lengths.text(room[0])} along the grain and {lengths.text(room[1])} across, edges trimmed.",
        mend,
    )


def _fits(piece: Wanted, length: Length, width: Length) -> bool:
    straight = piece.length <= length and piece.width <= width
    turned = piece.turns and piece.width <= length and piece.length <= width
    return straight or turned


def board_misfit(
    piece: Wanted, stock: Stock, boards: tuple[BoardSize, ...], margins: Margins, lengths: LengthFormat
) -> Diagnostic | None:
    """An error where a piece is longer than any board or wider than the stock; None where a board holds it."""
    what = f"A strip of {piece.label}" if piece.strip is not None else piece.label
    widest = max(board.width for board in boards)
    longest = max(margins.usable(length, widest)[0] for board in boards for length in board.lengths)
    if piece.width > widest:
        if piece.strip is not None:
            mend = f"Ask for narrower strips: `glue_up: {{widest: {lengths.text(widest, unit=False)}}}`."
        else:
            mend = f"Make it at most {lengths.text(widest)} wide, take wider stock, or glue it up (`glue_up:`)."
        return Diagnostic(
            "wider-than-board",
            f"{what} is {lengths.text(piece.width)} wide: {stock.name} is {lengths.text(widest)}",
            piece.part.position,
            "A board gives no piece wider than itself.",
            mend,
        )
    if piece.length > longest:
        return Diagnostic(
            "longer-than-board",
            f"{what} is {lengths.text(piece.length)} long: the longest {stock.name} on sale gives {lengths.text(longest)}",
            piece.part.position,
            f"Each end of a board loses {lengths.text(margins.end)} to a square, sound cut.",
            f"Make it at most {lengths.text(longest)} long, or make it of two parts with a joint between.",
        )
    return None
