"""Figures worked out by hand for the small modules of derive and setting_out: each line is one that a changed sign or guard would break."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import cast

import pytest

from drawleaf.derive.assembly.tilt import Tilts
from drawleaf.derive.layout.small_parts import _kept, small_parts_last
from drawleaf.derive.operations.drafts import Stage
from drawleaf.derive.schedule import Task, _in_order, _shared, waiting_hours
from drawleaf.derive.shop.clamps import clamps_along
from drawleaf.derive.shop.limits import SHORTEST_RIP, ShopLimits
from drawleaf.derive.shop.times import clamp_hours, load_hours, open_minutes
from drawleaf.model.catalogue import Catalogue
from drawleaf.model.lists import BoardLayout, Offcut, Placed
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut, Plan
from drawleaf.setting_out.channels import channel_of
from drawleaf.setting_out.hinging import way_home
from drawleaf.setting_out.reach import reach_test
from drawleaf.units import Length
from small_plans import derived_from, plan_from

HEAD = """\
plan: {title: Trial, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
  thin: {material: birch plywood, nominal: 6 mm, actual: 6 mm}
  strip: {material: pine board, size: 1x2}
assemblies:
"""


# The schedule: hours at the bench and hours that something dries.


def test_the_last_drying_counts() -> None:
    """One hour of glue-up, then a day until it may be touched: 24 hours of waiting, though no step follows."""
    assert waiting_hours((Task(1, 1.0, 24.0, ()),)) == pytest.approx(24.0)


def test_a_helper_begins_the_longest_chain() -> None:
    """Three jobs of an hour, the last with two hours behind it. Begun first, that chain ends after three hours; begun last, after four."""
    tasks = (Task(1, 1.0, 0.0, ()), Task(2, 1.0, 0.0, ()), Task(3, 1.0, 0.0, ()), Task(4, 2.0, 0.0, ((2, 0.0),)))
    assert max(spell.end for spell in _shared(tasks)[0]) == pytest.approx(3.0)
    assert max(spell.end for spell in _in_order(tasks)[0]) == pytest.approx(5.0)


# Clamps: 6 in apart, one at each end.


@pytest.mark.parametrize(("run", "count"), [(3, 2), (6, 2), (7, 3), (12, 3), (13, 4), (48, 9)])
def test_clamps_along_a_joint(run: int, count: int) -> None:
    assert clamps_along(Length.of_inches(run), Length.of_inches(6)) == count


# Small parts on a board: ripped as one long piece only where enough is left to hold.

SHORT = (
    HEAD
    + """\
  rack:
    parts:
      rail: {stock: strip, thickness: y, full_width: z, grain: x, left: 0, right: 600, front: 0, bottom: 0}
      block: {stock: strip, thickness: y, grain: x, left: 0, right: 60, bottom: rail.top, top: rail.top + 25, front: 0, repeat: {along: x, spacing: 100, count: COUNT}}
    joints:
      - {butt: block, to: rail, with: [glue]}
"""
)


def _boards_with_blocks(count: int) -> list[BoardLayout]:
    derived = derived_from(SHORT.replace("COUNT", str(count)))
    return [
        board for board in derived.layouts.boards if any(piece.part.startswith("rack.block") for piece in board.placed)
    ]


def test_a_long_rest_is_ripped_as_one_piece() -> None:
    """Blocks at the end of a long board: the rip runs through all that is left, more than 12 in."""
    rips = [cut for board in _boards_with_blocks(2) for cut in board.cuts if cut.kind == "rip"]
    assert rips
    assert all(cut.run >= SHORTEST_RIP for cut in rips)


def test_a_short_rest_is_sawn_as_one_along_a_line() -> None:
    """The same board cut off behind its first block: of 100 or 150 mm the layout stays, since 6 in (152.4) is what one can clamp and saw; 160
    and 290 mm are sawn as one, and along a line, being less than the 12 in that a guided saw takes."""
    (board, *_) = _boards_with_blocks(2)
    first = min((piece for piece in board.placed if piece.part.startswith("rack.block")), key=lambda piece: piece.x)
    shop = ShopLimits(table_saw=True)
    making = derived_from(SHORT.replace("COUNT", "2")).plan.making
    for beyond, kept in ((100, True), (150, True), (160, False), (290, False)):
        short = _cut_off(board, first.x + Length.of_mm(beyond))
        found = small_parts_last(short, making, shop)
        assert (found == short) is kept
        if not kept:
            (rip,) = [cut for cut in found.cuts if cut.kind == "rip" and cut.start[0] >= first.x]
            assert (rip.guide, rip.run) == ("line", Length.of_mm(beyond))


def _cut_off(board: BoardLayout, length: Length) -> BoardLayout:
    from dataclasses import replace

    placed = tuple(piece for piece in board.placed if piece.x + piece.length <= length)
    return replace(board, length=length, placed=placed)


@pytest.mark.parametrize(
    ("offcut", "kept"),
    [
        ((0, 40, 500, 20), (0, 40, 500, 20)),  # before the small parts: as it was
        ((500, 0, 700, 60), (500, 0, 700, 25)),  # behind them: as wide as the rip leaves it
        ((500, 0, 700, 20), (500, 0, 700, 20)),
        ((500, 28, 700, 32), (500, 28, 700, 32)),  # beyond the rip and its kerf of 3
        ((500, 27, 700, 33), None),  # the rip runs through it
    ],
)
def test_what_is_left_over_where_the_rip_runs_on(
    offcut: tuple[int, int, int, int], kept: tuple[int, int, int, int] | None
) -> None:
    """Small parts from 500 mm on, ripped 25 mm wide: x, y, length and width of an offcut before and after."""
    first = cast("Placed", SimpleNamespace(x=Length.of_mm(500)))
    before, after = (None if one is None else Offcut(*map(Length.of_mm, one)) for one in (offcut, kept))
    assert before is not None
    assert _kept(before, first, Length.of_mm(25), Length.of_mm(3)) == after


# Reach: what stands behind a screw's head hinders, what stands before its point does not.

SCREWED = (
    HEAD
    + """\
  box:
    parts:
      left: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 200, bottom: 0, top: 200}
      floor: {stock: ply, thickness: z, grain: x, left: left.right, right: 400, front: 0, back: 200, bottom: 0}
      outside: {stock: ply, thickness: x, grain: z, right: -40, front: 0, back: 200, bottom: 0, top: 200}
      inside: {stock: ply, thickness: x, grain: z, left: 402, front: 0, back: 200, bottom: 0, top: 200}
      tie: {stock: ply, thickness: z, grain: x, left: outside.left, right: inside.right, front: 0, back: 200, bottom: 200}
    joints:
      - {butt: floor, to: left, with: [glue, {screws: {count: 2, through: left}}]}
      - {butt: [left, outside], to: tie, with: [glue]}
      - {butt: inside, to: tie, with: [glue]}
"""
)


@pytest.mark.parametrize(("standing", "free"), [("box.outside", False), ("box.inside", True)])
def test_what_stands_behind_the_head_hinders(standing: str, free: bool) -> None:
    """The screws are driven from the left. A board 40 mm to the left of their heads is in the way; one to the right is not."""
    plan = plan_from(SCREWED)
    assert reach_test(plan)(("box.left",), ("box.floor", standing)) is free


# Doors: a door before its case arrives from the front.

DOOR = (
    HEAD
    + """\
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 700, mirror: {x: 200}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 0}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, top: 700}
    joints:
      - {butt: [floor, deck], to: side, with: [glue, {screws: {count: 2}}]}
  door:
    parts:
      leaf: {stock: ply, thickness: y, grain: z, left: 2, right: 398, back: 0, bottom: 2, top: 698}
    hardware:
      - {item: concealed hinge full overlay, on: case.side.original, carries: door, overlay: full}
"""
)


def test_a_cup_hinged_door_arrives_from_the_front() -> None:
    """The front looks towards smaller y, so the door travels towards greater y."""
    assert way_home(plan_from(DOOR), "door") == (0.0, 1.0, 0.0)


# Loose shelves: the way is free where nothing stands, front first.

SHELF = (
    HEAD
    + """\
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 700, mirror: {x: 200}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 0}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, top: 700}
      panel: {stock: thin, thickness: y, grain: z, left: 0, right: 400, AT, bottom: 0, top: 700}
    joints:
      - {butt: [floor, deck], to: side, with: [glue, {screws: {count: 2}}]}
      - {butt: panel, to: [side, floor, deck], with: [glue, {brads: {spacing: 100}}]}
    machining:
      - {in: side, shelf_pins: {face: right, pin: shelf pin 5 mm, rows: [40, 250], bottom: 300, spacing: 32, count: 5}}
  shelf:
    loose: yes
    parts:
      board: {stock: ply, thickness: z, grain: x, left: case.side.right + 1, right: case.side.mirrored.left - 1, front: 20, back: 280, bottom: 348}
"""
)


@pytest.mark.parametrize(("panel", "way"), [("back: 0", (0.0, 1.0, 0.0)), ("front: 300", (0.0, -1.0, 0.0))])
def test_a_shelf_leaves_by_the_open_side(panel: str, way: tuple[float, float, float]) -> None:
    """A panel over the whole front leaves only the back, one over the back only the front."""
    text = SHELF.replace("AT", panel)
    text = text.replace("    machining:\n" + text.split("    machining:\n")[1].split("  shelf:")[0], "")
    plan = plan_from(text)
    standing = tuple(part.id for part in plan.parts if part.assembly == "case")
    assert Tilts(plan).way_out(("shelf.board",), standing) == way


# Twins: turned end for end, an edge profile at the front is one at the back.

TWINS = (
    HEAD
    + """\
  tray:
    parts:
      floor: {stock: ply, thickness: z, grain: x, left: 0, right: 400, front: 0, back: 200, bottom: 0}
      near: {stock: ply, thickness: y, grain: x, left: 0, right: 400, back: 0, bottom: 0, top: 80}
      far: {stock: ply, thickness: y, grain: x, left: 0, right: 400, front: 200, bottom: 0, top: 80}
    joints:
      - {butt: floor, to: [near, far], with: [glue, {screws: {count: 3}}]}
    machining:
      - {in: near, round_over: {edges: [front-top], size: 6}}
      - {in: far, round_over: {edges: [EDGE], size: 6}}
"""
)


@pytest.mark.parametrize(("edge", "rows"), [("back-top", 1), ("back-bottom", 1), ("front-top", 1)])
def test_a_turned_twin_with_a_profile_is_the_same_piece(edge: str, rows: int) -> None:
    """Without other work, a board that is rounded along one long edge is the same piece whichever of the four it is."""
    text = TWINS.replace("EDGE", edge).replace("with: [glue, {screws: {count: 3}}]", "with: [glue]")
    items = derived_from(text).cut_list.items
    assert len([item for item in items if {part.id for part in item.parts} & {"tray.near", "tray.far"}]) == rows


# Channels: a groove that runs into another cut is not stopped.

GROOVED = (
    HEAD
    + """\
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 400}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: 300, front: 0, back: panel.front, bottom: 200}
      panel: {stock: thin, thickness: y, grain: z, left: side.right, right: 300, bottom: 0, top: 400, back: 300}
    joints:
      - {dado: deck, in: side, depth: 6, stopped: {back: STOP}, with: [glue]}
      - {rabbet: panel, in: side, depth: 6, with: [glue]}
"""
)


@pytest.mark.parametrize(("stop", "stopped"), [(6, False), (7, False), (26, True)])
def test_a_groove_that_ends_in_a_rabbet_runs_through(stop: int, stopped: bool) -> None:
    """The channel ends at the rabbet, 1 mm before it, or 20 mm before it: a router need not stop for the first two."""
    plan: Plan = plan_from(GROOVED.replace("STOP", str(stop)))
    side = plan.part("case.side")
    (dado,) = (one for one in side.features if isinstance(one, BoxCut) and one.kind == "dado")
    channel = channel_of(side, dado)
    assert bool(channel.stops) is stopped
    if stopped:
        assert [(face, room) for face, room in channel.stops] == [(Face.BACK, Length.of_mm(26))]
    assert channel.run is Axis.Y
    assert channel.offset == Length.of_mm(Fraction(400 - 218))


# The order of headings, and how long glue takes where the catalogue does not say.


def test_each_heading_has_a_place_of_its_own() -> None:
    """Two stages of one number would be one stage, and the steps of both come under the first heading."""
    assert len(Stage) == len(Stage.__members__) == len({stage.heading for stage in Stage})


def test_a_glue_that_says_nothing_of_its_times_is_an_ordinary_one() -> None:
    """An hour in clamps, a night until it may be loaded, five minutes open."""
    catalogue = cast("Catalogue", SimpleNamespace(consumables={}))
    assert (clamp_hours(catalogue), load_hours(catalogue), open_minutes(catalogue)) == (1.0, 12.0, 5.0)
