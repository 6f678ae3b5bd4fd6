"""Joints in solid wood on a small rack, a frame, a box and a top: what grows, what is cut, and what the shop is told."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from functools import cache
from math import pi
from pathlib import Path

import pytest
from tests.conftest import MORE_KITS, checked_source
from tests.small_plans import plan_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.checks.proportions import verdict_of
from drawleaf.codes.samples import RACK
from drawleaf.compiler import Choice, Outcome, check_plan
from drawleaf.derive.cut_list import strips
from drawleaf.draw.template.subjects import templates_for
from drawleaf.joinery import family_called
from drawleaf.joinery.dovetail.bench import dovetail_slope
from drawleaf.joinery.proportion import Made, Proportioned
from drawleaf.model.checks import Verdict
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, Part, Plan
from drawleaf.model.shapes import OutlineCut
from drawleaf.setting_out.wood_joints import mortise_of, tenon_ends
from drawleaf.solids.bodies import fastener_solid
from drawleaf.solids.build import build_solids
from drawleaf.solids.proofs import prove
from drawleaf.solids.travel import free_directions
from drawleaf.units import Length

TENON = "{mortise_and_tenon: rail, in: post, with: [glue, pegs]}"
LOOSE = "{{mortise_and_tenon: rail, in: post, loose: {}, with: [glue]}}"
LAP = "{half_lap: cross, in: post, with: [glue]}"
BACK = "back: {stock: wood, thickness: y, grain: x, left: 0, right: 300, back: 200, bottom: 0, high: 100}"


def mm(value: float) -> Length:
    return Length.of_mm(Fraction(value).limit_denominator(1000))


def changed(*changes: tuple[str, str]) -> str:
    """The rack with some of its source replaced."""
    text = RACK
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def errors(found: Iterable[Diagnostic]) -> list[str]:
    return [one.message for one in found if one.severity is Severity.ERROR]


@cache
def rack(*changes: tuple[str, str]) -> Outcome:
    """The outcome of checking the rack, with its lists and steps."""
    outcome = checked_source(changed(*changes))
    assert errors(outcome.diagnostics) == []
    return outcome


@cache
def resolved(*changes: tuple[str, str]) -> Plan:
    """The rack placed and joined, proven sound: what its parts are, without the four fifths of the work that go into lists and steps."""
    plan = plan_from(changed(*changes))
    assert errors(prove(plan, build_solids(plan))) == []
    return plan


def cuts(part: Part, kind: str) -> list[BoxCut]:
    return [one for one in part.features if isinstance(one, BoxCut) and one.kind == kind]


def spans(cut: BoxCut) -> list[tuple[float, float]]:
    return [(cut.box.span(axis).low.mm, cut.box.span(axis).high.mm) for axis in Axis]


def test_a_short_line_is_enough_for_a_blind_tenon() -> None:
    """A rail 27 thick in a post 80 wide: a tenon 8 thick (the chisel nearest to a third), 53 long (two thirds), a mortise 2 deeper."""
    plan = resolved()
    assert plan.part("rack.rail").size[0] == mm(440 + 2 * 53)
    (mortise,) = cuts(plan.part("rack.post"), "mortise")
    assert spans(mortise) == [(80 - 55, 80), (9.5, 17.5), (406, 474)]
    left, right = tenon_ends(plan, plan.part("rack.rail"))
    assert (left.thick.extent, left.widths[0].extent, left.length) == (mm(8), mm(68), mm(53))
    assert left.settings == right.settings


def test_a_through_tenon_comes_out_as_far_as_it_is_told() -> None:
    plan = resolved((TENON, "{mortise_and_tenon: rail, in: post, through: yes, depth: 85, with: [glue]}"))
    (mortise,) = cuts(plan.part("rack.post"), "mortise")
    assert {Face.LEFT, Face.RIGHT} <= set(mortise.open)
    assert plan.part("rack.rail").size[0] == mm(440 + 2 * 85)
    assert mortise_of(plan.part("rack.post"), mortise).depth is None


def test_a_haunch_stands_where_the_rail_is_flush_with_the_end_of_its_post() -> None:
    """Flush at the top the tenon loses a third of the width, and a haunch of 10 stays of it, in a place of its own."""
    plan = resolved(
        (TENON, "{mortise_and_tenon: rail, in: post, haunch: 10, with: [glue]}"),
        ("bottom: 400, top: 480}", "bottom: 425, top: 500}"),
    )
    (end, _) = tenon_ends(plan, plan.part("rack.rail"))
    assert end.haunch == mm(10)
    assert (end.widths[0].low.mm, end.widths[0].high.mm) == (431, 475)
    (haunch,) = cuts(plan.part("rack.post"), "haunch")
    assert spans(haunch) == [(70, 80), (9.5, 17.5), (475, 500)]
    assert Face.TOP in haunch.open


def test_two_tenons_side_by_side_leave_wood_between_them() -> None:
    plan = resolved((TENON, "{mortise_and_tenon: rail, in: post, count: 2, shoulder: 4, with: [glue]}"))
    low, high = sorted(spans(one)[2] for one in cuts(plan.part("rack.post"), "mortise"))
    assert (low, high) == ((404, 428), (452, 476))


def test_a_loose_tenon_by_the_rule_sits_in_mortises_in_both_parts() -> None:
    """A third of 27 mm in steps of 2 mm, three times as wide, five times as long. It is made, so nothing is bought."""
    outcome = rack((TENON, "{mortise_and_tenon: rail, in: post, loose: yes, with: [glue]}"))
    assert outcome.derived is not None
    plan = outcome.derived.plan
    assert plan.part("rack.rail").size[0] == mm(440)
    assert len(cuts(plan.part("rack.rail"), "mortise")) == 2
    needed = {row.item.id: row.count for row in outcome.derived.hardware}
    assert needed["loose tenon 8 x 24 x 40 mm"] == 2
    assert not [row.name for row in outcome.derived.shopping.rows if "tenon" in row.name + row.detail]


def test_a_loose_tenon_of_free_sizes_is_flat_with_round_edges() -> None:
    """11 thick, 31 wide, 47 long: a flat middle 20 wide between two half rounds, in mortises 2 mm deeper at each end."""
    plan = resolved((TENON, LOOSE.format("{thickness: 11, width: 31, length: 47}")))
    tenon = next(pin for joint in plan.joints for pin in joint.fasteners if pin.item.kind == "loose tenon")
    body = fastener_solid(tenon)
    assert (body.bounds[1] - body.bounds[0]).tolist() == pytest.approx([47, 11, 31], abs=0.1)
    assert body.volume == pytest.approx((20 * 11 + pi * 5.5**2) * 47, rel=1e-3)
    depths = [one.box.extent(Axis.X) for part in ("rail", "post") for one in cuts(plan.part(f"rack.{part}"), "mortise")]
    assert sum((depths[0], depths[-1]), mm(0)) == mm(47 + 4)


def test_the_strip_for_loose_tenons_is_milled_from_what_is_left_of_its_stock() -> None:
    """Two tenons 47 long, two saw kerfs and 150 mm to hold. The step says the same figures as the cut list."""
    outcome = rack((TENON, LOOSE.format("{thickness: 11, width: 31, length: 47, stock: stout}")))
    derived = outcome.derived
    assert derived is not None
    (strip,) = derived.strips
    kerf = derived.plan.making.kerf
    assert (strip.count, strip.strips, strip.length) == (2, 1, mm(47) * 2 + kerf * 2 + mm(150))
    board = next(one for one in derived.layouts.boards if one.number == strip.board)
    assert board.stock.id == "stout"
    assert any(one.length >= strip.length and one.width > strip.width for one in board.offcuts)
    step = next(one for one in derived.steps if one.operations[0].kind == "mill-strip")
    said = " ".join(str(line) for line in step_text(step, derived, Formatter.of(derived.plan)).actions)
    assert f"offcut of board {strip.board}" in said
    assert "Saw 2 tenons off it, 47" in re.sub(r"<[^>]*>", "", said)


def test_many_loose_tenons_take_several_strips_none_too_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were 205 mm the longest, of which 150 is held, each tenon of 47 and its kerf would have a strip of its own."""
    monkeypatch.setattr(strips, "MOST", mm(205))
    derived = rack((TENON, LOOSE.format("{thickness: 11, width: 31, length: 47, stock: stout}"))).derived
    assert derived is not None
    (strip,) = strips.make_strips(derived.plan, derived.layouts)
    assert (strip.count, strip.strips) == (2, 2)
    assert strip.length == mm(47) + derived.plan.making.kerf + mm(150)


def test_no_strip_is_longer_than_can_be_planed_however_the_tenons_share_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Six tenons on strips that hold one and a half: shared out by their length together they would be two on each."""
    monkeypatch.setattr(strips, "MOST", mm(230))
    derived = rack((TENON, LOOSE.format("{thickness: 11, width: 31, length: 47, stock: stout}"))).derived
    assert derived is not None
    (strip,) = strips.make_strips(replace(derived.plan, joints=derived.plan.joints * 3), derived.layouts)
    assert (strip.count, strip.strips) == (6, 6)
    assert strip.length <= strips.MOST


def test_a_stock_with_a_mistake_is_no_board_to_name_for_loose_tenons(tmp_path: Path) -> None:
    bad = "  bad: {material: beech board, size: 20x120, actual: stout.oops}\n  stout: {"
    text = RACK.replace("  stout: {", bad).replace(TENON, LOOSE.format("{thickness: 30}"))
    (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
    (found,) = [one for one in check_plan(tmp_path, Choice()).diagnostics if one.code == "tenon-stock"]
    assert "bad" not in found.mend


def test_a_strip_that_no_offcut_gives_is_bought() -> None:
    """Nothing else is cut from the stock, so no board of it lies there to have an offcut."""
    outcome = rack(
        ("  stout: {", "  other: {material: beech board, size: 20x120}\n  stout: {"),
        (TENON, LOOSE.format("{stock: other}")),
    )
    assert outcome.derived is not None
    (row,) = [row for row in outcome.derived.shopping.rows if "tenon" in row.detail]
    assert row.quantity == 1
    assert outcome.derived.strips[0].board is None


def test_dowel_holes_face_one_another_and_are_deeper_than_the_dowel() -> None:
    plan = resolved()
    joint = next(
        one for one in plan.joints if one.receiver == "rack.post" and one.fasteners and one.family.key == "butt"
    )
    holes = [
        [one for one in plan.part(part).features if isinstance(one, Bore) and one.row == f"{joint.id}-dowels"]
        for part in ("rack.low", "rack.post")
    ]
    assert [hole.start for hole in holes[0]] == [hole.start for hole in holes[1]]
    for one, other in zip(*holes, strict=True):
        assert one.depth is not None
        assert other.depth is not None
        assert one.depth + other.depth == mm(40 + 4)
        assert one.direction == tuple(-way for way in other.direction)


def test_a_part_on_dowels_leaves_along_them_alone() -> None:
    """Without them it could also be lifted out forwards."""
    for line, ways in (
        ("{butt: low, to: post, with: [glue, {dowels: {item: dowel 8 x 40 mm, count: 2}}]}", [(-1.0, 0.0, 0.0)]),
        ("{butt: low, to: post, with: [glue]}", [(-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 1.0, 0.0)]),
    ):
        original = "{butt: low, to: post, with: [glue, {dowels: {item: dowel 8 x 40 mm, count: 2}}]}"
        plan = resolved((original, line)) if line != original else resolved()
        found = free_directions(build_solids(plan), ("rack.low",), ("rack.post.mirrored",))
        assert [way for way in found if way[2] == 0.0] == ways


def test_a_drawbored_peg_pulls_towards_the_shoulder() -> None:
    """The hole in the tenon stands 1 mm nearer to the shoulder than the hole in the post."""
    plan = resolved(("with: [glue, pegs]}", "with: [glue, {pegs: {count: 1, drawbore: 1}}]}"))
    joint = next(one for one in plan.joints if one.family.key == "mortise_and_tenon")

    def at(part: str) -> float:
        (hole,) = [one for one in plan.part(part).features if isinstance(one, Bore) and one.row == f"{joint.id}-pegs"]
        return hole.start.x.mm

    shoulder = 80.0
    assert abs(at(joint.insert) - shoulder) == abs(at(joint.receiver) - shoulder) - 1.0


@pytest.mark.parametrize(("on", "kept"), [("front", (0, 13.5)), ("back", (13.5, 27))])
def test_a_half_lap_lies_on_the_side_it_is_told(on: str, kept: tuple[float, float]) -> None:
    plan = resolved((LAP, f"{{half_lap: cross, in: post, on: {on}, with: [glue]}}"))
    gone = [spans(one)[1] for one in cuts(plan.part("rack.cross"), "lap")]
    assert all(kept[0] >= high or kept[1] <= low for low, high in gone)
    assert [spans(one)[1] for one in cuts(plan.part("rack.post"), "lap")] == [kept]


def test_fork_and_tenon_of_a_bridle_fill_each_other() -> None:
    plan = resolved()
    (fork,) = cuts(plan.part("frame.stile"), "fork")
    cheeks = cuts(plan.part("frame.rail"), "tenon")
    volume = sum(one.box.x.extent.mm * one.box.y.extent.mm * one.box.z.extent.mm for one in (fork, *cheeks))
    assert volume == pytest.approx(60 * 60 * 20)


def test_fingers_alternate_and_leave_nothing_out() -> None:
    plan = resolved()
    gaps = [
        sorted(spans(one)[2] for one in cuts(plan.part(part), "finger") if spans(one)[0][0] == 0)
        for part in ("box.side", "box.front")
    ]
    assert sorted((*gaps[0], *gaps[1])) == [(0, 20), (20, 40), (40, 60), (60, 80), (80, 100)]
    assert gaps[0] == [(20, 40), (60, 80)]


def test_dovetails_slope_as_told_and_half_blind_ones_stop_inside() -> None:
    """Beech is hard: 1 in 8. Drawn 14 into a back 20 thick the tails stop there, and the sockets with them."""
    plan = resolved()
    joint = next(one for one in plan.joints if one.family.key == "dovetail")
    assert dovetail_slope(plan, joint) == Fraction(1, 8)
    blind = resolved(
        (BACK, BACK.replace("back: 200", "back: 206")),
        ("{dovetail: side, in: back, count: 2,", "{dovetail: side, in: back, count: 2, slope: 1/6,"),
    )
    assert dovetail_slope(blind, next(one for one in blind.joints if one.family.key == "dovetail")) == Fraction(1, 6)
    sockets = [one for one in blind.part("box.back").features if isinstance(one, OutlineCut)]
    assert {one.outline.axis for one in sockets} == {Axis.X}
    reach = {max(corner.u.mm for corner in one.outline.corners) for one in sockets}
    assert reach == {700.0}, "the outside of the back stands at 706"
    solid = build_solids(blind).solid("box.back")
    assert solid.pieces == 1


def test_tails_come_apart_one_way_alone() -> None:
    solids = build_solids(resolved())
    assert free_directions(solids, ("box.side",), ("box.back",)) == ((-1.0, 0.0, 0.0),)


def test_only_the_outer_tenons_of_a_breadboard_have_room() -> None:
    plan = resolved()
    mortises = sorted(spans(one)[1] for one in cuts(plan.part("top.end"), "mortise"))
    (tenons,) = {end.widths for end in tenon_ends(plan, plan.part("top.panel"))}
    room = [(tenon.low.mm - low, high - tenon.high.mm) for tenon, (low, high) in zip(tenons, mortises, strict=True)]
    assert room[1] == (0, 0)
    assert room[0] == room[2] == (4, 4)
    assert len(cuts(plan.part("top.panel"), "peg slot")) == 4, "two outer pegs at each end"


def test_the_panel_of_a_breadboard_is_made_longer_by_its_tenons() -> None:
    assert resolved().part("top.panel").size[0] == mm(520 + 2 * 32)


def test_a_thick_tenon_is_advised_against() -> None:
    plan = resolved((TENON, "{mortise_and_tenon: rail, in: post, thickness: 18, with: [glue]}"))
    joint = next(one for one in plan.joints if one.family.key == "mortise_and_tenon")
    family = family_called("mortise_and_tenon")
    assert isinstance(family, Proportioned)
    rules = {
        one.name: one for one in family.proportions(Made(joint, plan.part(joint.insert), plan.part(joint.receiver)))
    }
    assert rules["thickness of the tenon"].too_high
    assert rules["length of the tenon"].sound


def test_every_cut_is_made_in_a_step_and_every_step_can_be_read() -> None:
    """Steps for mortises, tenons, laps, fork, fingers, tails, sockets, dowels and pegs stand there, mortises before their tenons."""
    outcome = rack()
    assert outcome.derived is not None
    assert all(line.agrees for line in outcome.derived.audit.lines)
    kinds = [operation.kind for step in outcome.derived.steps for operation in step.operations]
    wanted = (
        "mortise",
        "tenon",
        "breadboard-tongue",
        "lap",
        "fork",
        "fingers",
        "tails",
        "sockets",
        "dowel-holes",
        "peg-holes",
    )
    assert [kind for kind in wanted if kind not in kinds] == []
    assert kinds.index("mortise") < kinds.index("tenon")
    assert kinds.index("tails") < kinds.index("sockets")


@pytest.mark.parametrize("kit", MORE_KITS)
def test_each_kit_has_words_for_each_joint(kit: str, tmp_path: Path) -> None:
    """Whatever tools it is done with, each step of the rack tells what to do, and no name of a family or template shows."""
    (tmp_path / "plan.yaml").write_text(RACK, encoding="utf-8")
    outcome = check_plan(tmp_path, Choice(kit=kit))
    assert outcome.derived is not None
    for step in outcome.derived.steps:
        text = step_text(step, outcome.derived, Formatter.of(outcome.derived.plan))
        said = " ".join(map(str, (*text.setup, *text.actions, text.check or "", text.if_not or "")))
        assert text.actions, step.id
        assert not re.search(
            r"mortise_and_tenon|half_lap|box_joint|  | \.|Put into|None", re.sub(r"<[^>]+>", "", said)
        ), (step.id, said)


@pytest.mark.parametrize(
    ("line", "change", "verdict"),
    [
        (TENON, "thickness: 8", Verdict.PASS),
        (TENON, "thickness: 4", Verdict.ADVICE),
        (TENON, "thickness: 22", Verdict.STOP),
        ("{bridle: rail, in: stile, with: [glue]}", "thickness: 12", Verdict.ADVICE),
        ("{bridle: rail, in: stile, with: [glue]}", "thickness: 17", Verdict.STOP),
        (LAP, "depth: 20", Verdict.ADVICE),
        (LAP, "depth: 24", Verdict.STOP),
        ("{box_joint: side, in: front, finger_width: 20, with: [glue]}", "finger_width: 5", Verdict.ADVICE),
        ("{dovetail: side, in: back, count: 2, with: [glue]}", "slope: 1/3", Verdict.ADVICE),
        ("{breadboard: panel, in: end, with: [pegs]}", "thickness: 18", Verdict.ADVICE),
        ("{breadboard: panel, in: end, with: [pegs]}", "depth: 64", Verdict.ADVICE),
    ],
)
def test_each_family_holds_its_own_rules(line: str, change: str, verdict: Verdict) -> None:
    """A joint out of proportion is advised against, one far out of it stops the compile."""
    key = change.split(":")[0]
    bare = re.sub(rf" {key}: [^,}}]+,", "", line)
    text = RACK.replace(line, bare.replace(", with", f", {change}, with"))
    plan = plan_from(text)
    family = family_called(line[1:].split(":")[0])
    assert isinstance(family, Proportioned)
    told = [
        verdict_of(rule)
        for joint in plan.joints
        if joint.family is family.facts
        for rule in family.proportions(Made(joint, plan.part(joint.insert), plan.part(joint.receiver)))
    ]
    worst = max(told, key=[Verdict.PASS, Verdict.ADVICE, Verdict.STOP].index)
    assert worst is verdict


def test_tenons_that_meet_in_a_leg_are_told_how_long_they_may_be(tmp_path: Path) -> None:
    """Two aprons in a leg 45 square, each 8 from its outside and 20 thick. Their tenons, 6 thick, stand 15 to 21 from the outside; 30 long they
    end 15 from it, in one another. 24 long they end at 21 and are clear."""
    parts = (
        "      leg: {stock: wood, thickness: x, grain: z, left: 0, wide: 40, front: 0, deep: 45, bottom: 0, top: 400}\n"
        "      long: {stock: wood, thickness: y, grain: x, left: leg.right, wide: 300, front: 8, bottom: 300, high: 80}\n"
        "      short: {stock: wood, thickness: x, grain: y, left: 8, front: leg.back, deep: 300, bottom: 300, high: 80}\n"
    )
    text = (
        "plan: {title: Leg, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}\n"
        "stock:\n  wood: {material: beech board, size: 20x90}\n  post: {material: beech board, size: 45x70}\n"
        "assemblies:\n  leg:\n    parts:\n"
        + parts.replace(
            "leg: {stock: wood, thickness: x, grain: z, left: 0, wide: 40",
            "leg: {stock: post, thickness: x, grain: z, left: 0",
        )
    )
    joints = "    joints:\n      - {mortise_and_tenon: [long, short], in: leg, %swith: [glue]}\n"

    def told(more: str) -> list[str]:
        (tmp_path / "plan.yaml").write_text(text + joints % more, encoding="utf-8")
        return [f"{one.code} {one.mend}" for one in check_plan(tmp_path, Choice()).diagnostics if one.is_error]

    (said,) = told("")
    assert said.startswith("shared-wood Their tenons meet inside “leg.leg”. Write “depth: 24 mm”")
    assert told("depth: 24, ") == []


def test_dovetails_come_with_a_full_size_template() -> None:
    """It serves the step that cuts the tails, and no tenon or lap has one: they are marked by figures."""
    derived = rack().derived
    served = set(templates_for(derived))
    (tails,) = [step.number for step in derived.steps if any(op.kind == "tails" for op in step.operations)]
    others = [
        step.number for step in derived.steps if any(op.kind in ("tenon", "lap", "fork") for op in step.operations)
    ]
    assert tails in served
    assert served.isdisjoint(others)
