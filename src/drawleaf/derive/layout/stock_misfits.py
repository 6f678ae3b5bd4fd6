"""Parts that cannot be cut from their stock: the error, with the nearest change that would do."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.layout.laying import Margins, Wanted, goes_round
from drawleaf.derive.shop.limits import ShopLimits
from drawleaf.derive.shop.part_words import SAME_THICKNESS, planed
from drawleaf.english import listed
from drawleaf.model.catalogue import BoardSize, SheetSize, Stock
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Part
from drawleaf.units import Length, LengthFormat


def sheet_misfit(
    piece: Wanted, stock: Stock, margins: Margins, lengths: LengthFormat, uncommon: Sequence[SheetSize] = ()
) -> Diagnostic | None:
    """An error where no sheet on offer holds the piece the way its grain must run; None where one does. ``uncommon`` are sheets not on offer."""
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
    larger = [sheet for sheet in uncommon if _fits(piece, *margins.usable(sheet.length, sheet.width))]
    if larger:
        mend = (
            f"{mend} Or allow a {larger[0].name} sheet, which few stores keep: write `special_order: yes` at the stock."
        )
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
            mend = f"Ask for narrower strips: `glue_up: {{widest_strip: {lengths.text(widest, unit=False)}}}`."
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
        glue_up = piece.part.glue_up
        knots = f", and {round(margins.defects * 100)}% of it is counted off for knots" if margins.defects else ""
        most = longest if glue_up is None else longest - glue_up.extra * 2
        spare = (
            ""
            if glue_up is None
            else f" A strip is {lengths.text(glue_up.extra)} longer than its panel at each end (`extra`)."
        )
        return Diagnostic(
            "longer-than-board",
            f"{what} is {lengths.text(piece.length)} long: the longest {stock.name} on sale gives {lengths.text(longest)}",
            piece.part.position,
            f"Each end of a board loses {lengths.text(margins.end)} to a square, sound cut{knots}.{spare}",
            f"Make {'the panel' if glue_up else 'it'} at most {lengths.text(most)} long, or make it of two parts with a joint between.",
        )
    return None


def thinner_than_board(
    stock: Stock, boards: Sequence[BoardSize], first: Part, shop: ShopLimits, lengths: LengthFormat
) -> Diagnostic | None:
    """An error where the plan wants a board planed and the kit has nothing to plane it with, or wants it thicker than it is sold."""
    if stock.as_bought:
        return None
    thickness = max(board.thickness for board in boards)
    thickest = max(board.thickest for board in boards)
    if thickest < thickness and stock.thickness > thickest:
        return Diagnostic(
            "thicker-than-board",
            f"{first.name} is {lengths.text(stock.thickness)} thick: rough {stock.name} of {lengths.text(thickness)} gives {lengths.text(thickest)} once planed",
            first.position,
            f"Both faces of rough lumber are planed until they are flat: {lengths.text(thickness - thickest)} goes.",
            f"Write `actual: {lengths.text(thickest)}` or less at the stock, or name a thicker size.",
        )
    if stock.thickness > thickness + SAME_THICKNESS:
        return Diagnostic(
            "thicker-than-board",
            f"{first.name} is {lengths.text(stock.thickness)} thick: {stock.name} is sold {lengths.text(thickness)} thick",
            first.position,
            "A board can be planed thinner, not thicker.",
            "Name a thicker size at the stock, or glue parts up from two layers. Boards that are sold so thick where you live: write `planed: as bought`.",
        )
    if not planed(stock, boards) or shop.planer or stock.at_yard:
        return None
    return Diagnostic(
        "needs-planing",
        f"{first.name} is {lengths.text(stock.thickness)} thick: {stock.name} is sold {lengths.text(thickness)} thick, and the tool set has no planer",
        first.position,
        "Taking so much off needs a thickness planer; a hand plane only trues a surface.",
        ("" if thickest < thickness else f"Make it {lengths.text(thickness)} thick, or name stock of that thickness. ")
        + "Have the yard plane it: write `planed: at the yard` at the stock. Or name a tool set with a thickness planer. "
        "Boards that are sold so thin where you live need none of it: write `planed: as bought`.",
    )


def set_misfit(
    along: bool, members: Sequence[Wanted], usable: Sequence[tuple[Length, Length]], kerf: Length, lengths: LengthFormat
) -> Diagnostic | None:
    """An error where matched parts do not lie beside each other on any one sheet or board; None where they do."""
    sides = [piece.length if along else piece.width for piece in members]
    total = sum(sides[1:], sides[0]) + kerf * (len(sides) - 1)
    other = max(piece.width if along else piece.length for piece in members)
    long, wide = (total, other) if along else (other, total)
    if any(long <= length and wide <= width for length, width in usable):
        return None
    first = members[0].part
    names = listed(list(dict.fromkeys(piece.label for piece in members)))
    room = max((length if along else width) for length, width in usable)
    return Diagnostic(
        "matched-too-large",
        f"{names} together are {lengths.text(total)} {'long' if along else 'wide'}: no {first.stock.name} holds them in one strip",
        first.position,
        f"Parts with `grain_match: {first.match}` are cut beside each other. The largest piece on sale gives {lengths.text(room)} that way.",
        "Match fewer of them, or make them smaller.",
    )


def match_problems(parts: Sequence[Part]) -> list[Diagnostic]:
    """What is wrong with `match`: a part with nothing to match, parts of different stock, of no grain, or glued up."""
    sets: dict[str, list[Part]] = {}
    for part in parts:
        if part.match:
            sets.setdefault(part.match, []).append(part)
    return [problem for members in sets.values() if (problem := _mismatch(members)) is not None]


def _mismatch(members: list[Part]) -> Diagnostic | None:
    first, *others = members
    word = f"`grain_match: {first.match}`"
    if not others:
        return Diagnostic(
            "match-alone", f"{first.name} has nothing to match: {word} stands at no other part", first.position, "",
            "Give the same word to the parts that it should match, or leave `match` out.",
        )  # fmt: skip
    for part in members:
        if part.glue_up is not None or part.grain is None:
            what = "is glued up of strips" if part.glue_up is not None else "has no direction of grain"
            return Diagnostic(
                "match-without-grain", f"{part.name} {what}: its grain cannot run on into another part", part.position, "",
                "Leave `match` out, or give it a `grain:` and cut it in one piece.",
            )  # fmt: skip
    for part in others:
        across = part.grain is not first.grain and not goes_round(first, part)
        if part.stock.id != first.stock.id or across:
            what = f"is cut from {part.stock.name}" if part.stock.id != first.stock.id else "has its grain another way"
            return Diagnostic(
                "match-differs", f"{part.name} {what}: {first.name}, with the same {word}, differs", part.position,
                "Parts whose grain runs on come from one strip.", "Give them the same stock and grain, or different words.",
            )  # fmt: skip
    return None
