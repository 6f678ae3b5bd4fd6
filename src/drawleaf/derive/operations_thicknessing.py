"""Boards brought to thickness before anything is cut from them: planed, and resawn first where much must come off.

A board goes through the planer whole: a short piece is thrown back, and what the rollers dip at its ends falls to the end trim.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from drawleaf.derive.drafts import Stage, Work, Workshop, slug
from drawleaf.derive.operations_cutting import stock_words
from drawleaf.derive.part_words import listed, planed
from drawleaf.derive.shop_limits import HIGHEST_RESAW, shop_limits
from drawleaf.model.catalogue import Stock
from drawleaf.model.lists import BoardLayout
from drawleaf.model.steps import Operation, Scene
from drawleaf.units import Length

FOR_PLANING = Length.of_inches(Fraction(1, 8))
"""What a resawn board is left thicker, to be planed off both faces. Common practice, no source."""
WORTH_RESAWING = Length.of_inches(Fraction(3, 8))
"""Where more than this comes off, and what is left for planing, the saw takes it off as a board and not as chips. Common practice, no source."""


def bring_to_thickness(shop: Workshop) -> None:
    """One step for all stock that the plan wants thinner than it is sold, unless the yard planes it."""
    operations: list[Operation] = []
    names: list[str] = []
    stocks: list[Stock] = []
    for stock in shop.plan.stocks:
        boards = [board for board in shop.layouts.boards if board.stock.id == stock.id]
        if boards and planed(stock, stock.boards) and not stock.at_yard:
            names.append(f"plane-{slug(stock.id)}")
            operations += _operations(shop, names[-1], stock, boards)
            stocks.append(stock)
    if not operations:
        return
    parts = tuple(dict.fromkeys(part for operation in operations for part in operation.parts))
    first = next(board for board in shop.layouts.boards if board.stock.id == stocks[0].id)
    title = f"Plane the {listed([stock_words(stock) for stock in stocks])} to thickness"
    scene = Scene((), parts, (), (), (), layout=f"board {first.number}")
    shop.add("plane-boards", Stage.CUT, title, operations, scene, also=names)


def _operations(shop: Workshop, name: str, stock: Stock, boards: Sequence[BoardLayout]) -> list[Operation]:
    parts = tuple(dict.fromkeys(placed.part for board in boards for placed in board.placed))
    sold = boards[0].board.thickness
    settings = (
        ("thickness", stock.thickness),
        ("sold", sold),
        ("count", str(len(boards))),
        ("stock", stock_words(stock)),
        ("rough", "yes" if boards[0].board.planing else "no"),
    )
    operations = []
    limits = shop_limits(shop.plan)
    narrow = all(board.board.width <= HIGHEST_RESAW for board in boards)
    if limits.bandsaw and narrow and sold - stock.thickness >= WORTH_RESAWING + FOR_PLANING:
        resawn = (("fence", stock.thickness + FOR_PLANING), *settings)
        operations.append(
            shop.operation(f"resaw-{slug(stock.id)}", "resaw", parts, pieces=len(boards), settings=resawn)
        )
    operations.append(shop.operation(name, "plane-to-thickness", parts, pieces=len(boards), settings=settings))
    return operations


THICKNESSING = Work(bring_to_thickness, ("plane-to-thickness", "resaw"))
