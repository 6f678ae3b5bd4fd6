"""Boards brought to thickness before anything is cut from them: planed, and resawn first where much must come off.

A board goes through the planer whole: a short piece is thrown back, and what the rollers dip at its ends falls to the end trim.
"""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.layout.boards import bought_boards
from drawleaf.derive.layout.resawing import FOR_PLANING, is_resawn
from drawleaf.derive.operations.cutting import stock_words
from drawleaf.derive.operations.drafts import Stage, Work, Workshop, slug
from drawleaf.derive.shop.limits import shop_limits
from drawleaf.derive.shop.part_words import planed
from drawleaf.english import listed
from drawleaf.model.catalogue import Stock
from drawleaf.model.lists import BoardLayout
from drawleaf.model.settings import PlaningSettings, ResawSettings
from drawleaf.model.steps import Operation, Scene


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
    title = shop.words.tell("Plane the {} to thickness", listed([stock_words(stock) for stock in stocks]))
    scene = Scene((), parts, (), (), (), layout=f"board {first.number}")
    shop.add("plane-boards", Stage.CUT, title, operations, scene, also=names)


def _operations(shop: Workshop, name: str, stock: Stock, boards: Sequence[BoardLayout]) -> list[Operation]:
    parts = tuple(dict.fromkeys(placed.part for board in boards for placed in board.placed))
    sold = boards[0].board.thickness
    settings = PlaningSettings(
        stock.thickness, sold, len(boards), stock_words(stock), rough=bool(boards[0].board.planing)
    )
    operations = []
    if is_resawn(stock, tuple(dict.fromkeys(board.board for board in boards)), shop_limits(shop.plan)):
        bought = bought_boards(boards)
        resawn = ResawSettings(
            settings.thickness,
            settings.sold,
            settings.count,
            settings.stock,
            settings.rough,
            fence=stock.thickness + FOR_PLANING,
            leaves=max(board.leaves for board in boards),
            from_one="; ".join(_numbers(board) for board in bought if board.leaves > 1),
            rest=min((board.rest for board in bought if board.rest is not None), default=None),
        )
        operations.append(
            shop.operation(f"resaw-{slug(stock.id)}", "resaw", parts, pieces=len(bought), settings=resawn)
        )
    operations.append(shop.operation(name, "plane-to-thickness", parts, pieces=len(boards), settings=settings))
    return operations


def _numbers(first: BoardLayout) -> str:
    """``boards 1 and 2``: those that are sawn from one."""
    return f"boards {listed([str(first.number + place) for place in range(first.leaves)])}"


THICKNESSING = Work(bring_to_thickness, ("plane-to-thickness", "resaw"))
