"""Sliding dovetails: what is cut, in which way they go together, what the steps and drawings say, how they let wide boards move."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from tests.book.test_wording import plain, texts
from tests.small_plans import derived_from, plan_from

from drawleaf.book.output.data import plan_json
from drawleaf.compiler import Choice, check_plan
from drawleaf.derive.agreement import agrees
from drawleaf.joinery import family_called
from drawleaf.joinery.proportion import Made
from drawleaf.joinery.sliding_dovetail.bench import SOCKET, TAIL, section_of
from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Plan
from drawleaf.model.shapes import OutlineCut
from drawleaf.solids.build import build_solids
from drawleaf.solids.proofs import prove
from drawleaf.solids.travel import free_directions
from drawleaf.units import Length

HEAD = "plan: {title: Rack, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}\n"
JOINT = "- {sliding_dovetail: shelf, in: side, depth: 8, with: [glue]}"
RACK = (
    HEAD
    + f"""
stock:
  board: {{material: beech board, size: 20x140}}
assemblies:
  rack:
    parts:
      side: {{stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 600, mirror: {{x: 300}}}}
      shelf: {{stock: board, thickness: z, full_width: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 200}}
    joints:
      {JOINT}
"""
)
STOPPED = RACK.replace("depth: 8", "depth: 8, stopped: {front: 15}")
# A batten across the underside of a panel, whose grain it crosses.
BATTEN = (
    HEAD
    + """
stock:
  board: {material: beech board, size: 20x140}
  strip: {material: beech board, size: 27x60}
assemblies:
  top:
    parts:
      panel: {stock: board, thickness: z, grain: x, left: 0, right: 700, front: 0, back: 380, top: 100, glue_up: {widest_strip: 130}}
      batten: {stock: strip, thickness: x, grain: y, left: 300, front: 0, back: 380, top: panel.bottom, high: 45}
    joints:
      - {sliding_dovetail: batten, in: panel, depth: 8, with: [glue]}
"""
)


def mm(value: float) -> Length:
    return Length.of_mm(Fraction(value).limit_denominator(1000))


def held_back(derived: Derived) -> float:
    """How many millimetres of the panel's movement its glue holds back."""
    (one,) = (one for one in derived.checks if one.check == "wood-movement" and one.parts == ("top.panel",))
    return next(figure.value for figure in one.figures if figure.name == "held back").length.mm  # type: ignore[union-attr]


def told(derived: Derived, kind: str) -> str:
    return "\n".join(
        plain(line)
        for step, text in texts(derived)
        if any(operation.kind == kind for operation in step.operations)
        for line in (*text.setup, *text.actions)
    )


@pytest.fixture(scope="module")
def rack() -> Derived:
    return derived_from(RACK)


@pytest.fixture(scope="module")
def stopped() -> Plan:
    return plan_from(STOPPED)


def test_the_shelf_grows_by_the_tails_and_the_socket_has_their_section(rack: Derived) -> None:
    shelf, side = rack.plan.part("rack.shelf"), rack.plan.part("rack.side")
    assert shelf.body.extent(Axis.X) == shelf.seen.extent(Axis.X) + mm(16)
    found = section_of(side, next(one for one in rack.plan.joints if one.receiver == side.id))
    # 20 thick, 1 off each face; over 8 mm a slope of 1/4 takes 2 mm on each side.
    assert found is not None
    assert (found.neck, found.wide, found.deep) == (mm(14), mm(18), mm(8))
    assert found.angle == 14
    assert found.lines == (mm(203), mm(217))
    assert [cut.kind for cut in shelf.features] == [TAIL] * 4


def test_what_is_cut_away_fits_the_tail_by_volume(rack: Derived) -> None:
    """The wood routed out of a side is the wood of the tail that goes in: (14 + 18) / 2 by 8 by 140 mm."""
    solids = build_solids(rack.plan)
    side = solids.solid("rack.side").manifold.volume()
    assert side == pytest.approx(20 * 140 * 600 - 16 * 8 * 140, abs=1)
    shelf = solids.solid("rack.shelf").manifold.volume()
    assert shelf == pytest.approx(20 * 140 * 560 + 2 * 16 * 8 * 140, abs=1)
    assert prove(rack.plan, solids) == ()


def test_its_settings_stand_in_the_data(rack: Derived) -> None:
    data = plan_json(derived_from(STOPPED))
    assert '"stop"' in data
    assert '"neck"' in plan_json(rack)


def test_it_slides_along_the_socket_and_no_other_way(rack: Derived, stopped: Plan) -> None:
    ways = free_directions(build_solids(rack.plan), ["rack.shelf"], ["rack.side"])
    assert {tuple(round(one) for one in way) for way in ways} == {(0, 1, 0), (0, -1, 0)}
    ways = free_directions(build_solids(stopped), ["rack.shelf"], ["rack.side"])
    assert {tuple(round(one) for one in way) for way in ways} == {(0, 1, 0)}


def test_a_stopped_socket_ends_short_and_its_tail_is_cut_back(stopped: Plan) -> None:
    side, shelf = stopped.part("rack.side"), stopped.part("rack.shelf")
    (socket,) = (cut for cut in side.features if isinstance(cut, OutlineCut) and cut.kind == SOCKET)
    assert (socket.span.low, socket.span.high, socket.open) == (mm(15), mm(140), (Face.BACK,))
    assert [cut.kind for cut in shelf.features].count("notch") == 2
    assert prove(stopped, build_solids(stopped)) == ()


def test_the_steps_set_it_out_and_cut_the_socket_first(rack: Derived) -> None:
    kinds = [operation.kind for step in rack.steps for operation in step.operations]
    assert kinds.index("sliding-socket") < kinds.index("sliding-tail") < kinds.index("join")
    socket = told(rack, "sliding-socket")
    assert "Socket 14 mm wide at the face, 18 mm at its floor, 8 mm deep" in socket
    assert "on the inside face: lines 203 mm and 217 mm from the bottom end" in socket
    assert "Tail 8 mm long, 18 mm wide at its end, 14 mm at the shoulder" in told(rack, "sliding-tail")
    assert "Slide the shelf [2] into the socket in the left side [1]" in told(rack, "join")
    assert [line.name for line in rack.audit.lines if not line.agrees] == []


@pytest.mark.parametrize(
    ("kit", "words"),
    [
        ("full shop", "Stand the part upright against the fence"),
        ("a router and its bits", "Clamp the part upright between two straight scraps"),
        ("common power tools", "Saw the shoulders, down to the neck"),
    ],
)
def test_each_kit_has_its_way(tmp_path: Path, kit: str, words: str) -> None:
    kits = tmp_path / "shared" / "tool_sets"
    kits.mkdir(parents=True)
    (kits / "own.yaml").write_text(
        "a router and its bits: {name: a router and its bits, summary: What one has., like: common power tools, tools: [dovetail bit]}",
        encoding="utf-8",
    )
    source = RACK.replace("assemblies:", f"shop: {{tools: {kit}}}\nassemblies:", 1)
    (tmp_path / "plan.yaml").write_text(source, encoding="utf-8")
    derived = check_plan(tmp_path, Choice()).derived
    assert derived is not None
    assert words in told(derived, "sliding-tail")


def test_who_owns_a_router_plane_levels_the_floor_with_it() -> None:
    hand = derived_from(RACK.replace("assemblies:", "shop: {tools: hand tools}\nassemblies:", 1))
    step = next(step for step in hand.steps if step.operations[0].kind == "sliding-socket")
    assert "router plane" in {tool.id for tool in step.tools}
    words = told(hand, "sliding-socket")
    assert "Level the floor with the router plane, its iron set to 8 mm." in words
    assert "check:" not in words


def test_without_one_the_chisel_does(rack: Derived) -> None:
    step = next(step for step in rack.steps if step.operations[0].kind == "sliding-socket")
    assert "router plane" not in {tool.id for tool in step.tools}
    assert "Level the floor" not in told(rack, "sliding-socket")
    assert "check:" not in told(rack, "sliding-socket")


@pytest.mark.parametrize("kind", ["sliding-socket", "sliding-tail"])
@pytest.mark.parametrize("field", ["neck", "wide", "depth", "offset"])
def test_the_audit_finds_a_figure_that_is_off(rack: Derived, kind: str, field: str) -> None:
    operation = next(one for step in rack.steps for one in step.operations if one.kind == kind)
    if not hasattr(operation.settings, field):
        assert (kind, field) == ("sliding-tail", "offset")
        return
    wrong = replace(operation.settings, **{field: getattr(operation.settings, field) + mm(1)})  # type: ignore[arg-type]
    for settings, sound in ((operation.settings, True), (wrong, False)):
        held = [agrees(settings, rack.plan.part(part), cut) for part, cut in operation.features]
        assert held
        assert all(held) is sound


def test_a_long_one_across_the_grain_is_glued_at_one_end_alone() -> None:
    """All along, the batten would hold 380 mm of panel; glued over 50 mm it holds no more than that."""
    derived = derived_from(BATTEN)
    plan = derived.plan
    (joint,) = plan.joints
    family = family_called("sliding_dovetail")
    face, span = family.glued_span(plan, joint)  # type: ignore[attr-defined]
    assert (face, span.low, span.high) == (Face.FRONT, mm(0), mm(50))
    held = held_back(derived)
    dado = held_back(derived_from(BATTEN.replace("sliding_dovetail", "dado")))
    assert held == pytest.approx(dado * 50 / 380, rel=0.01)
    assert "50 mm at the front edge, in the socket" in told(derived, "join")


def test_its_proportions_pass_at_a_third_and_advise_beyond(rack: Derived) -> None:
    plan = rack.plan
    joint = plan.joints[0]
    rules = family_called("sliding_dovetail").proportions(  # type: ignore[attr-defined]
        Made(joint, plan.part(joint.insert), plan.part(joint.receiver))
    )
    assert {rule.name: rule.sound for rule in rules} == {"depth of the socket": True, "neck of the tail": True}
    shallow = plan_from(RACK.replace("depth: 8", "depth: 3"))
    deep = plan_from(RACK.replace("depth: 8", "depth: 12, slope: 1/8"))
    for plan, sound in ((shallow, "too_low"), (deep, "too_high")):
        joint = plan.joints[0]
        rule = family_called("sliding_dovetail").proportions(  # type: ignore[attr-defined]
            Made(joint, plan.part(joint.insert), plan.part(joint.receiver))
        )[0]
        assert getattr(rule, sound)
        assert not rule.beyond
