"""From what the store sells to parts of finished size: sheets broken down, boards cut and ripped, panels glued up and trimmed."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.drafts import Stage, Workshop, key_of, slug
from drawleaf.derive.times import WAIT_PANEL
from drawleaf.model.catalogue import Stock
from drawleaf.model.lists import BoardLayout, Placed, SheetLayout
from drawleaf.model.plan import Part
from drawleaf.model.steps import Operation, Scene
from drawleaf.units import Length

MOST_STOPS = 5
"""So many stop settings to a step; more go into a step of their own."""
NARROW = Length.of_inches(3)
"""A board narrower than this gives a circular saw nothing to ride on."""


def cut_parts(shop: Workshop) -> None:
    """All steps that make blanks."""
    for stock in shop.plan.stocks:
        sheets = [layout for layout in shop.layouts.sheets if layout.stock.id == stock.id]
        for count, sheet in enumerate(sheets, start=1):
            _break_down(shop, sheet, count, len(sheets))
    for stock in shop.plan.stocks:
        boards = [layout for layout in shop.layouts.boards if layout.stock.id == stock.id]
        if boards:
            _cut_boards(shop, stock, boards)
    for part in _one_of_each_kind(shop):
        if part.glue_up is not None:
            _glue_up(shop, part)


def _break_down(shop: Workshop, sheet: SheetLayout, count: int, total: int) -> None:
    parts = tuple(dict.fromkeys(placed.part for placed in sheet.placed))
    name = f"break-down-{slug(sheet.stock.id)}" + (f"-{count}" if count > 1 else "")
    title = f"Cut up the {sheet.stock.name} sheet" + (f", sheet {count} of {total}" if total > 1 else "")
    operation = shop.operation(
        name,
        "break-down",
        parts,
        pieces=max(len(sheet.cuts), len(parts)),
        settings=(
            ("layout", f"sheet {sheet.number}"),
            ("cuts", str(len(sheet.cuts))),
            ("thickness", sheet.stock.thickness),
        ),
    )
    scene = Scene((), parts, (), (), (), layout=f"sheet {sheet.number}")
    shop.add(name, Stage.CUT, title, (operation,), scene)


def _cut_boards(shop: Workshop, stock: Stock, boards: Sequence[BoardLayout]) -> None:
    """Crosscut all that shares a stop in one go, longest first; then rip what is narrower than the board."""
    lengths: dict[Length, list[Placed]] = {}
    blanks: dict[Length, set[tuple[int, Length]]] = {}
    for board in boards:
        for placed in board.placed:
            lengths.setdefault(placed.length, []).append(placed)
            # Pieces side by side on the board come off in one cut and are parted by the rip.
            blanks.setdefault(placed.length, set()).add((board.number, placed.x))
    stops = sorted(lengths, reverse=True)
    layouts = " and ".join(f"board {board.number}" for board in boards)
    name = f"cut-{slug(stock.id)}"
    for start in range(0, len(stops), MOST_STOPS):
        some = stops[start : start + MOST_STOPS]
        operations = [_crosscut(shop, name, stop, lengths[stop], len(blanks[stop]), layouts) for stop in some]
        parts = _parts_of([placed for stop in some for placed in lengths[stop]])
        number = start // MOST_STOPS + 1
        shop.add(
            name if number == 1 else f"{name}-{number}",
            Stage.CUT,
            f"Cut the {stock.name} to length",
            operations,
            Scene((), parts, (), (), (), layout=f"board {boards[0].number}"),
        )
    _rip(shop, stock, boards)


def _crosscut(
    shop: Workshop, name: str, stop: Length, placed: Sequence[Placed], blanks: int, layouts: str
) -> Operation:
    return shop.operation(
        name,
        "crosscut",
        _parts_of(placed),
        pieces=blanks,
        settings=(
            ("stop", stop),
            ("count", str(blanks)),
            ("layout", layouts),
            ("rough", _roughness(placed)),
        ),
    )


def _roughness(placed: Sequence[Placed]) -> str:
    """Whether the pieces are strips of a panel, which is trimmed later."""
    return "strips" if placed[0].strip is not None else "parts"


def _rip(shop: Workshop, stock: Stock, boards: Sequence[BoardLayout]) -> None:
    widths: dict[Length, list[Placed]] = {}
    full: Length | None = None
    for board in boards:
        full = board.board.width
        for placed in board.placed:
            if placed.width < board.board.width:
                widths.setdefault(placed.width, []).append(placed)
    if not widths or full is None:
        return
    kind = "rip-narrow" if full < NARROW else "rip"
    name = f"rip-{slug(stock.id)}"
    operations = [
        shop.operation(
            name,
            "rip",
            _parts_of(widths[width]),
            way=kind,
            time=kind,
            pieces=len(widths[width]),
            settings=(("fence", width), ("count", str(len(widths[width]))), ("from", full)),
        )
        for width in sorted(widths, reverse=True)
    ]
    parts = _parts_of([placed for width in sorted(widths, reverse=True) for placed in widths[width]])
    scene = Scene((), parts, (), (), (), layout=f"board {boards[0].number}")
    shop.add(name, Stage.CUT, f"Rip the {stock.name} to width", operations, scene)


def _parts_of(placed: Sequence[Placed]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.part for one in placed))


def _one_of_each_kind(shop: Workshop) -> list[Part]:
    return list({part.kind: part for part in reversed(shop.plan.parts)}.values())[::-1]


def _glue_up(shop: Workshop, part: Part) -> None:
    """Strips edge to edge into a panel a little too big; a day later the panel is trimmed."""
    assert part.glue_up is not None
    glue_up = part.glue_up
    key = key_of(shop.plan, part)
    parts = tuple(other.id for other in shop.plan.parts if other.kind == part.kind)
    extra, (length, width, thickness) = glue_up.extra, part.size
    rough = glue_up.strip_width * glue_up.strips
    glue = shop.operation(
        f"glue-up-{key}",
        "glue-up",
        parts,
        pieces=glue_up.strips * len(parts),
        settings=(
            ("strips", str(glue_up.strips)),
            ("strip width", glue_up.strip_width),
            ("strip length", length + extra * 2),
            ("rough length", length + extra * 2),
            ("rough width", rough),
            ("thickness", thickness),
        ),
        wait_hours=WAIT_PANEL,
    )
    shop.add(f"glue-up-{key}", Stage.PANELS, f"Glue up the {part.name.lower()}", (glue,), Scene((), parts, (), (), ()))
    trim = shop.operation(
        f"trim-{key}",
        "trim-panel",
        parts,
        settings=(("length", length), ("width", width), ("extra", extra), ("rough width", rough)),
    )
    shop.add(
        f"trim-{key}", Stage.PANELS, f"Trim the {part.name.lower()} to size", (trim,), Scene((), parts, (), (), ())
    )
