"""Fitted parts: cut over their size first, laid out so, and marked from the piece as it stands."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from types import SimpleNamespace

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Choice, check_plan
from drawleaf.derive.operations import fitted
from drawleaf.draw.step.drawing import draw_step
from drawleaf.model.derived import Derived
from drawleaf.model.fitted import FittedAs
from drawleaf.model.place import Face
from drawleaf.model.settings import TrimPanelSettings
from drawleaf.model.steps import Operation
from drawleaf.resources import product_folder
from drawleaf.setting_out.mouldings import bit_cuts, down_edge, swings_right
from drawleaf.solids.build import build_solids
from drawleaf.units import Length
from shape_trials import CASE, HEAD
from small_plans import derived_from, outcome_from

CABINET = """\
plan: {title: Wall box, number: W-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  thin: {material: birch plywood, nominal: 1/4, actual: 5.2 mm}
  strip: {material: maple board, size: 1x2}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 8, bottom: 0, top: 20, mirror: {x: 9}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, bottom: 0, mirror: {z: 10}}
      back: {stock: thin, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 8, bottom: 0, top: 20 FITTED}
      filler: {stock: strip, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 1-1/2, bottom: floor.top}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 3/4, back: 6, bottom: 9}
      lip: {stock: strip, thickness: y, grain: x, left: shelf.left, right: shelf.right, back: 3/4, bottom: shelf.bottom, top: shelf.top}
    joints:
      - {rabbet: floor, in: side, depth: 1/4, with: [glue]}
      - {rabbet: back, in: side, depth: 3/8, with: [glue, {brads: {spacing: 5}}]}
      - {butt: back, to: floor, with: [glue, {brads: {spacing: 6}}]}
      - {butt: filler, to: floor.original, with: [glue]}
      - {dado: shelf, in: side, depth: 1/4, with: [glue]}
      - {butt: lip, to: shelf, with: [glue]}
"""


@cache
def box(fitted: str = "") -> Derived:
    return derived_from(CABINET.replace(" FITTED", fitted))


@cache
def crowned(stock: str) -> Derived:
    return derived_from(HEAD + CASE.replace("STOCK", stock))


def operations(derived: Derived, kind: str) -> list[tuple[int, Operation]]:
    return [(step.number, op) for step in derived.steps for op in step.operations if op.kind == kind]


def said(derived: Derived, kind: str) -> str:
    step = next(step for step in derived.steps if any(op.kind == kind for op in step.operations))
    text = step_text(step, derived, Formatter.of(derived.plan))
    return " ".join([*text.setup, *text.actions, text.check or ""]).replace("⁄", "/").replace("\u2009", "-")


def plain(text: str) -> str:
    import re

    return re.sub(r"<[^>]+>", "", text).replace("\u00a0", " ")


def test_a_back_is_cut_over_and_sawn_to_the_measured_rabbets_when_the_case_stands() -> None:
    derived = box()
    back = derived.plan.part("box.back")
    assert back.fitted is not None
    assert back.fitted.sort is FittedAs.PANEL
    quarter = Length.of_inches(Fraction(1, 4))
    assert back.rough == (back.size[0] + quarter, back.size[1] + quarter)
    laid = next(one for sheet in derived.layouts.sheets for one in sheet.placed if one.part == "box.back")
    assert {laid.length, laid.width} == set(back.rough)
    item = derived.cut_list.item_of("box.back")
    assert item.cut == back.rough
    assert "1/4 in too long and 1/4 in too wide" in item.note
    assert "Reckoned" in item.note
    ((fit, operation),) = operations(derived, "fit-panel")
    joined = {
        step.number: op for step in derived.steps for op in step.operations if "box.back" in op.parts and op.joints
    }
    sides = [n for n, op in operations(derived, "join") if "box.side.mirrored" in op.parts or "box.floor" in op.parts]
    assert operation.parts == ("box.back",)
    assert max(sides) < fit == min(joined), "what is fitted is glued on in the same step"
    kinds = [op.kind for step in derived.steps if step.number == fit for op in step.operations]
    assert kinds.index("fit-panel") < kinds.index("join")
    assert derived.audit.passed


def test_an_edging_is_glued_on_proud_and_a_filler_marked_between_the_sides() -> None:
    derived = box()
    lip, filler = derived.plan.part("box.lip"), derived.plan.part("box.filler")
    assert lip.fitted is not None
    assert lip.fitted.sort is FittedAs.EDGING
    assert lip.rough[1] - lip.size[1] == Length.of_inches(Fraction(1, 16))
    ((trimmed, _),) = operations(derived, "trim-edging")
    glued = min(
        step.number for step in derived.steps for op in step.operations if op.kind == "join" and "box.lip" in op.parts
    )
    assert glued == trimmed
    assert filler.fitted is not None
    assert filler.fitted.sort is FittedAs.BETWEEN
    assert set(filler.fitted.marked_from) == {"box.side", "box.side.mirrored"}
    assert "Mark the other end there" in plain(said(derived, "fit-strip"))


@pytest.mark.parametrize(
    ("written", "rough"),
    [
        (", fitted: no", None),
        (", fitted: {length: 1/2}", Fraction(1, 2)),
        (", fitted: {length: 1/8, from: floor}", Fraction(1, 8)),
    ],
)
def test_the_author_has_the_last_word(written: str, rough: Fraction | None) -> None:
    back = box(written).plan.part("box.back")
    if rough is None:
        assert back.fitted is None
        assert not operations(box(written), "fit-panel")
        return
    assert back.rough == (back.size[0] + Length.of_inches(rough), back.size[1])
    assert back.fitted is not None
    if "from" in written:
        assert back.fitted.marked_from == ("box.floor", "box.floor.mirrored")


@pytest.mark.parametrize("written", [", fitted: {from: floor}", ", fitted: {length: 1/8}, oversize: 1/4"])
def test_a_fit_that_says_nothing_or_too_much_is_told(written: str) -> None:
    codes = {one.code for one in outcome_from(CABINET.replace(" FITTED", written)).diagnostics}
    assert codes & {"fitted-nothing", "fitted-twice"}


@pytest.mark.parametrize("stock", ["crown", "own"])
def test_a_moulding_is_mitred_to_the_case_front_first(stock: str) -> None:
    """Front, then returns: each mitred just before it goes on, tails trimmed last; none in the shop before the case stands."""
    derived = crowned(stock)
    fits = operations(derived, "fit-moulding")
    assert [op.parts for _, op in fits] == [("case.front_crown",), ("case.end_crown", "case.end_crown.mirrored")]
    assert not operations(derived, "mitre-ends")
    case = max(
        n for n, op in operations(derived, "join") if "case.side.mirrored" in op.parts or "case.deck" in op.parts
    )
    assert case < fits[0][0] < fits[1][0]
    ((tail, trimmed),) = operations(derived, "trim-tail")
    assert tail > fits[1][0]
    assert trimmed.parts == fits[1][1].parts
    assert derived.audit.passed


def test_which_edge_is_down_and_to_which_hand() -> None:
    """The foot stands on its broad bottom edge: its left end is mitred with the handle to the left. The right return's front end lies at
    the left as one looks at its outside; upside down, all hands change."""
    plan = crowned("own").plan
    front, left = plan.part("case.front_crown"), plan.part("case.end_crown")
    right = plan.part("case.end_crown.mirrored")
    assert down_edge(front) is Face.BOTTOM
    assert (swings_right(front, Face.LEFT), swings_right(front, Face.RIGHT)) == (False, True)
    assert (swings_right(left, Face.FRONT), swings_right(right, Face.FRONT)) == (True, False)


COVE = """\
plan: {title: Shelf rim, number: R-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 1/2, actual: 1/2}
  rim: {material: maple board, size: 1x3, profile: hollow}
profiles:
  hollow: {points: [{out: 0, up: 0}, {out: 3/4, up: 0}, {out: 3/4, up: 2-1/8}, {out: 5/8, up: 2-1/8, arc: -3/8}, {out: 1/4, up: 2-1/2}, {out: 0, up: 2-1/2}]}
assemblies:
  tray:
    parts:
      floor: {stock: ply, thickness: z, grain: x, left: 0, right: 20, front: 0, back: 10, bottom: 0}
      rim: {stock: rim, thickness: y, full_width: z, grain: x, left: 0, right: 20, back: 0, bottom: 0}
    joints: [{butt: rim, to: floor, with: [glue]}]
"""


def test_a_profile_is_run_on_the_full_board_with_a_bit_that_is_named() -> None:
    """A hollow of 3/8 in behind a step of 1/8 in: a cove bit, 1/2 in deep in four passes of 1/8 in, its bearing on what is left of 3/4 in."""
    derived = derived_from(COVE)
    (cut,) = bit_cuts(derived.plan.part("tray.rim")) or ()
    assert (cut.radius.inches, cut.depth.inches, cut.passes, cut.rim.inches) == (
        Fraction(3, 8), Fraction(1, 2), 4, Fraction(1, 4),
    )  # fmt: skip
    assert cut.edge is Face.TOP
    ((run, _),) = operations(derived, "run-moulding")
    assert run < min(step.number for step in derived.steps for op in step.operations if op.kind == "crosscut")
    words = plain(said(derived, "run-moulding"))
    assert "Cove bit of 3/8 in radius with a bearing" in words
    assert "in four passes of 1/8 in or less" in words


def test_a_hollow_that_reaches_no_edge_is_told_by_its_curves() -> None:
    """The foot has a fillet beyond its hollow: no bearing can follow it, so the words name the curve alone."""
    assert bit_cuts(crowned("own").plan.part("case.front_crown")) is None
    assert "a hollow of 1/2 in radius" in plain(said(crowned("own"), "run-moulding"))


def test_the_saw_is_drawn_with_fence_table_and_the_way_its_handle_goes() -> None:
    derived = crowned("own")
    step = next(step for step in derived.steps if any(op.kind == "fit-moulding" for op in step.operations))
    (drawing,) = draw_step(derived, build_solids(derived.plan), step)
    assert all(words in drawing.svg for words in ("fence", "table, this edge down", "left end: handle to the left"))


STAND = """\
plan: {title: Night stand, number: N-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  half: {material: birch plywood, nominal: 1/2, actual: 15/32}
  thin: {material: birch plywood, nominal: 1/4, actual: 5.2 mm}
  board: {material: maple board, size: 1x6}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 15, bottom: 0, top: 18, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, bottom: 2, repeat: {along: z, at: [0, 15]}}
      back: {stock: thin, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 15, bottom: 0, top: 18}
    joints:
      - {dado: floor, in: side, depth: 1/4, with: [glue]}
      - {rabbet: back, in: side, depth: 3/8, with: [glue, {brads: {spacing: 5}}]}
    machining:
      - {in: back, bore: {face: back, at: {x: 10, z: 9}, diameter: 1-1/2}}
  lid:
    parts:
      lid: {stock: board, thickness: z, grain: x, left: -1, right: 21, front: -1, back: 15, bottom: 18, glue_up: {strips: 4}}
    joints: [{butt: lid, to: case.side, with: [glue]}]
    machining: [{in: lid, round_over: {edges: [front-top], size: 1/4}}]
  drawer:
    loose: yes
    component: drawer box
    with: {wide: case.side.mirrored.left - case.side.right - 1, deep: 14, high: 4, box: half, floor: thin}
    at: {x: case.side.right + 1/2, y: 0, z: 5}
    hardware: [{item: side-mount slides 14 in, on: case.side, carries: drawer, at: {y: 1/8, z: 2}}]
"""


@cache
def stand() -> Derived:
    return derived_from(STAND)


def number_of(derived: Derived, kind: str, part: str) -> int:
    return next(number for number, op in operations(derived, kind) if part in op.parts)


def test_a_drawer_is_cut_to_the_opening_that_stands_and_the_sum_is_printed() -> None:
    """Sides 18-9/16 in apart, less 1 in for slides: the box is 17-9/16 wide, its front between rabbets 2 x (15/32 - 1/4) less."""
    derived = stand()
    front = derived.plan.part("drawer.box_front")
    assert front.fitted is not None
    assert front.rough[0] - front.size[0] == Length.of_inches(Fraction(1, 2))
    fit = number_of(derived, "fit-opening", "drawer.box_front")
    cased = max(
        n for n, op in operations(derived, "join") if "case.side.mirrored" in op.parts or "case.floor.2" in op.parts
    )
    worked = [n for kind in ("channel", "join") for n, op in operations(derived, kind) if "drawer.box_side" in op.parts]
    assert cased < fit < min(worked)
    words = plain(said(derived, "fit-opening"))
    assert "18-9/16 in between" in words
    assert "Take off 1 in for the slides and 7/16 in for the parts at its ends. As drawn, 17-1/8 in is left" in words
    assert derived.audit.passed


def test_a_top_is_trimmed_over_the_case_that_stands_and_its_edge_run_afterwards() -> None:
    derived = stand()
    trim, edge = number_of(derived, "trim-panel", "lid.lid"), number_of(derived, "round-over", "lid.lid")
    back = max(
        n for n, op in operations(derived, "join") if "case.side.mirrored" in op.parts or "case.back" in op.parts
    )
    on = number_of(derived, "join-body", "lid.lid")
    assert back < trim < edge < on
    assert "20 in and 1 in at the left and 1 in at the right make 22 in" in plain(said(derived, "trim-panel"))


def test_a_hole_in_a_fitted_back_is_bored_when_the_back_has_its_size_and_before_it_goes_on() -> None:
    derived = stand()
    fit, bore = number_of(derived, "fit-panel", "case.back"), number_of(derived, "bore", "case.back")
    assert fit < bore < number_of(derived, "join", "case.back")


GLUED = """\
plan: {title: Box, number: B-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  board: {material: maple board, size: 1x4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 20, mirror: {x: 12}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      shelf: {stock: board, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 9, glue_up: {strips: 4}, fitted: {length: 1/2}}
    joints:
      - {butt: floor, to: side, with: [glue, {screws: {heads: filled}}]}
      - {butt: shelf, to: side, with: [glue]}
    machining:
      - {in: shelf, bore: {face: top, diameter: 1, at: {x: 6, y: 5}}}
"""


def test_a_glued_up_panel_is_trimmed_over_its_length_before_it_is_marked_from_the_piece() -> None:
    """Half an inch too long when it is trimmed; bored only when it has its last length, though it was trimmed long before."""
    derived = derived_from(GLUED)
    shelf = derived.plan.part("box.shelf")
    ((trimmed, trim),) = operations(derived, "trim-panel")
    assert isinstance(trim.settings, TrimPanelSettings)
    assert trim.settings.length == shelf.size[0] + Length.of_inches(Fraction(1, 2))
    fit, bored = number_of(derived, "fit-strip", "box.shelf"), number_of(derived, "bore", "box.shelf")
    assert trimmed < fit < bored
    assert derived.audit.passed


BOTTOMED = """\
plan: {title: Box, number: B-2, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  half: {material: birch plywood, nominal: 1/2, actual: 15/32}
  board: {material: maple board, size: 1x4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 15, bottom: 0, top: 18, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 15, bottom: 2, repeat: {along: z, at: [0, 15]}}
    joints:
      - {dado: floor, in: side, depth: 1/4, with: [glue]}
  drawer:
    loose: yes
    parts:
      side: {stock: half, thickness: x, grain: y, left: case.side.right + 1/2, front: 0, back: 14, bottom: 5, top: 9, mirror: {x: 10}}
      front: {stock: half, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 5, top: 9, mirror: {y: 7}}
      bottom: {stock: board, thickness: z, grain: y, left: side.right + 1, right: side.mirrored.left - 1, front: front.back + 1/8, back: front.mirrored.front - 1/8, bottom: 5, glue_up: {strips: 6}}
      cleat: {stock: half, thickness: z, grain: y, left: side.right, right: bottom.left, front: front.back, back: front.mirrored.front, bottom: 5, mirror: {x: 10}}
    joints:
      - {butt: front, to: side, with: [glue]}
      - {butt: cleat, to: side, with: [glue]}
      - {butt: bottom, to: cleat, with: [glue]}
    hardware: [{item: side-mount slides 14 in, on: case.side, carries: drawer, at: {y: 1/8, z: 7}}]
"""


def test_a_glued_up_bottom_of_a_drawer_that_is_made_to_its_opening_is_trimmed_too() -> None:
    """Its grain runs to the back and rooms are left beside it, so the opening gives it no size; its front gets one."""
    derived = derived_from(BOTTOMED)
    assert derived.plan.part("drawer.bottom").fitted is None
    assert number_of(derived, "fit-opening", "drawer.front")
    assert number_of(derived, "trim-panel", "drawer.bottom") < number_of(derived, "join", "drawer.bottom")
    assert derived.audit.passed


def test_the_bench_has_its_drawer_and_seat_made_when_the_case_stands() -> None:
    outcome = check_plan(product_folder("plans") / "boot-bench", Choice())
    assert outcome.derived is not None
    derived = outcome.derived
    framed = number_of(derived, "join-body", "frame.stile")
    assert framed < number_of(derived, "fit-opening", "drawer.box_front")
    assert framed < number_of(derived, "trim-panel", "seat.top")
    assert derived.audit.passed


@pytest.mark.parametrize(
    ("ends", "fronts"), [((2, 1, 1), [0]), ((2, 2), [0, 1]), ((1, 1), []), ((0,), [])], ids=lambda value: str(value)
)
def test_what_is_mitred_at_both_ends_goes_on_before_what_returns_from_it(
    monkeypatch: pytest.MonkeyPatch, ends: tuple[int, ...], fronts: list[int]
) -> None:
    """A front with a mitre at each end, then its returns; pieces with one mitre or none have no front among them."""
    parts = [SimpleNamespace(id=str(place), mitred=range(count)) for place, count in enumerate(ends)]
    asked: list[tuple[list[str], bool, bool]] = []
    monkeypatch.setattr(fitted, "mitres", lambda part: part.mitred)
    monkeypatch.setattr(fitted, "_ring_mates", lambda plan, parts: [])
    monkeypatch.setattr(
        fitted,
        "_moulding_operations",
        lambda shop, some, standing, *, front, dry: asked.append(([one.id for one in some], front, dry)) or [],
    )
    fitted._fit_mouldings(SimpleNamespace(plan=None, fitted=set()), parts, ())  # type: ignore[arg-type]
    first = [str(place) for place in fronts]
    rest = [str(place) for place in range(len(ends)) if place not in fronts]
    assert asked == [([], True, True), (first, True, False), (rest, False, False)]
