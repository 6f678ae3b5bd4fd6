"""What people stand or sit on: end grain on the way to the floor, persons on the edge and on an end, and the load that is printed."""

from __future__ import annotations

import pytest
from tests.checks.conftest import figure, found
from tests.conftest import outcome_of

from drawleaf.checks.people import STEADY
from drawleaf.model.checks import Verdict

STOOL = """
stock:
  pine: {{material: pine board, size: 1x4}}
  leg: {{material: construction lumber, size: 2x2}}
  wide: {{material: pine board, size: 1x12}}
assemblies:
  base:
    parts:
      leg: {{stock: leg, thickness: x, full_width: y, grain: z, left: {inset} mm, front: 20 mm, bottom: 0, top: 400 mm, mirror: {{x: 200 mm}}}}
      rear: {{stock: leg, thickness: x, full_width: y, grain: z, left: {inset} mm, back: 260 mm, bottom: 0, top: 400 mm, mirror: {{x: 200 mm}}}}
      rail: {{stock: pine, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, front: 30 mm, top: 400 mm}}
      rail_back: {{stock: pine, thickness: y, full_width: z, grain: x, left: rear.right, right: rear.mirrored.left, back: 250 mm, top: 400 mm}}
      side: {{stock: pine, thickness: x, full_width: z, grain: y, left: leg.left + 10 mm, front: leg.back, back: rear.front, top: 250 mm, mirror: {{x: 200 mm}}}}
    joints:
      - {{{rails}: rail, {prep}: leg, with: [{held}]}}
      - {{{rails}: rail_back, {prep}: rear, with: [{held}]}}
      - {{mortise_and_tenon: side, in: [leg, rear], with: [glue]}}
  seat:
    parts:
      top: {{stock: wide, thickness: z, full_width: y, grain: x, left: 0, right: 400 mm, front: 0, bottom: 400 mm}}
    joints:
      - {{butt: top, to: base.leg, with: [glue]}}
checks: {{loads: [{{on: seat.top, load: {load}}}]}}
"""


SCREWS = "{screws: {item: wood screw 8 x 2-1/2, count: 2}}"
SCREWED = f"glue, {SCREWS}"


def results(checked, *, load: str = "standing", held: str = SCREWED, rails: str = "butt", inset: int = 20):
    prep = "to" if rails == "butt" else "in"
    outcome = checked(STOOL.format(load=load, held=held, rails=rails, prep=prep, inset=inset))
    assert outcome.derived is not None, outcome.diagnostics
    return [one for one in outcome.derived.checks if one.check == "people-load"]


@pytest.mark.parametrize(
    ("load", "held", "verdict"),
    [
        ("standing", SCREWED, Verdict.STOP),
        ("sitting", SCREWS, Verdict.STOP),
        ("25 kg", SCREWED, Verdict.ADVICE),
        ("standing", "glue, {dowels: {count: 2}}", Verdict.PASS),
    ],
)
def test_end_grain_under_a_load(checked, load: str, held: str, verdict: Verdict) -> None:
    """Rails butted to upright legs: screws in their ends stop under a person and advise under a box of 25 kg; dowels are let in."""
    told = results(checked, load=load, held=held)
    grave = [one for one in told if one.verdict is not Verdict.PASS]
    assert {one.verdict for one in grave} == ({verdict} if verdict is not Verdict.PASS else set())
    assert len(grave) == (2 if grave else 0), "one for each line of the source on the way; the low sides carry nothing"


def test_tenons_carry_and_the_load_is_printed(checked) -> None:
    (one,) = results(checked, rails="mortise_and_tenon", held="glue")
    assert one.verdict is Verdict.PASS
    assert figure(one, "maximum load") == pytest.approx(150)


def test_no_load_is_printed_where_a_joint_is_stopped(checked) -> None:
    assert all("maximum load" not in [f.name for f in one.figures] for one in results(checked))


@pytest.mark.parametrize(("inset", "verdict"), [(20, Verdict.PASS), (60, Verdict.STOP)])
def test_a_person_on_one_end(checked, inset: int, verdict: Verdict) -> None:
    """A person of 150 kg stands 50 mm from the end. Legs 20 mm in stand outside of that. Legs 60 mm in stand 10 mm inside it: 150 x 10 =
    1500 kg mm tip; the stool of some 4.6 kg, its middle 140 mm from the feet, holds with 650."""
    told = results(checked, rails="mortise_and_tenon", held="glue", inset=inset)
    assert [one.verdict for one in told] == [verdict]


def test_the_stool_and_the_bench() -> None:
    """The splayed stool's aprons are dowelled into its legs, and the bench is sound: the greatest load of both is printed."""
    for name, part, most in (("step-stool", "seat.top", 150), ("boot-bench", "seat.top", 110)):
        one = found(outcome_of(name), "people-load", part)
        assert one.verdict is Verdict.PASS
        assert figure(one, "maximum load") == pytest.approx(most)
    assert STEADY > 1
    assert not outcome_of("step-stool").derived.plan.checks.waivers


SPLAYED = """
stock:
  pine: {{material: pine board, size: 1x6}}
  leg: {{material: construction lumber, size: 2x2}}
  wide: {{material: pine board, size: 1x12}}
assemblies:
  frame:
    parts:
      leg: {{stock: leg, thickness: x, full_width: y, grain: z, left: 40 mm, front: 40 mm, bottom: 0, top: {high} mm, lean: {{right: {splay} deg}}, pivot: top, level_ends: {{bottom: 0, top: {high} mm}}, mirror: {{x: 200 mm}}, repeat: {{along: y, at: [0, 162]}}}}
      rail: {{stock: pine, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, front: 50 mm, top: {high} mm, repeat: {{along: y, at: [0, 162]}}}}
    joints:
      - {{butt: rail, to: leg, with: [glue, {held}]}}
  seat:
    parts:
      top: {{stock: wide, thickness: z, full_width: y, grain: x, left: 0, right: 400 mm, front: 0, bottom: {high} mm}}
    joints:
      - {{butt: top, to: frame.rail, with: [glue]}}
checks: {{loads: [{{on: seat.top, load: standing}}]}}
"""


def splayed(checked, *, high: int = 300, splay: int = 8, held: str = "{dowels: {count: 3}}"):
    outcome = checked(SPLAYED.format(high=high, splay=splay, held=held))
    assert outcome.derived is not None, outcome.diagnostics
    return [one for one in outcome.derived.checks if one.check == "people-load"]


def test_dowels_in_a_splayed_leg_carry(checked) -> None:
    """Screws in the sawn ends stop; dowels square to the splayed face pass, and the load is printed."""
    assert Verdict.STOP in {one.verdict for one in splayed(checked, held="{screws: {count: 2}}")}
    told = splayed(checked)
    assert {one.verdict for one in told} == {Verdict.PASS}
    assert any(figure(one, "maximum load") == pytest.approx(150) for one in told if "tip" in one.words.template)


def test_the_pull_on_the_lowest_dowel_by_hand(checked) -> None:
    """150 kg on two legs at 8°: 736 N push each foot out with 103 N; about the rail's top, 300 mm up, the lowest dowel pulls with
    103 x 300 / its distance from there. A high stool with steep legs is stopped."""
    (one,) = [each for each in splayed(checked) if "lowest dowel" in each.words.template]
    assert 103.4 * 300 / 139.7 < figure(one, "pull") < 103.4 * 300 / 70
    assert splayed(checked, high=900, splay=20)
    grave = [each for each in splayed(checked, high=900, splay=20) if "lowest dowel" in each.words.template]
    assert [each.verdict for each in grave] == [Verdict.STOP]
