"""Heads that are hidden: how deep they lie, what covers them, how long their screws are, and what is told where that cannot be."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from tests.small_plans import derived_from, plan_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Choice, read_and_resolve
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Plan
from drawleaf.units import Length

# A shelf on a bracket: the screw goes down through 3/4 in of the shelf into the end of the bracket.
SHELF = """
plan: {title: Shelf, number: T-1, date: 2026-11-20, author: A. Maker, lengths: LENGTHS}
stock: {board: {material: pine board, size: 1x4}}
assemblies:
  ledge:
    parts:
      shelf: {stock: board, thickness: z, full_width: y, grain: x, left: 0 in, right: 24 in, front: 0 in, top: 4 in}
      bracket: {stock: board, thickness: x, full_width: y, grain: z, left: 4 in, front: 0 in, bottom: 0 in, top: shelf.bottom}
    joints:
      - {butt: bracket, to: shelf, with: [glue, {screws: {count: 2, through: shelf, OPTIONS}}]}
"""


def shelf(options: str, lengths: str = "in") -> Plan:
    return plan_from(SHELF.replace("OPTIONS", options).replace("LENGTHS", lengths))


def inches(value: str) -> Length:
    return Length.of_inches(Fraction(value))


def test_a_flush_head_lies_in_the_face() -> None:
    (screw, _) = shelf("heads: flush").joints[0].fasteners
    assert (screw.at.z, screw.mouth.z, screw.sunk, screw.plug) == (inches("4"), inches("4"), Length.of_mm(0), None)


@pytest.mark.parametrize(
    ("options", "lengths", "sunk", "plug"),
    [
        ("heads: plugged", "in", inches("1/4"), "plug 3/8 in"),
        ("heads: plugged, counterbore: 5/16", "in", inches("5/16"), "plug 3/8 in"),
        ("heads: plugged, plug: plug 1/2 in", "in", inches("1/4"), "plug 1/2 in"),
        ("heads: filled", "in", inches("1/16"), None),
        ("heads: plugged", "mm", Length.of_mm(6), "plug 10 mm"),
        ("heads: filled", "mm", Length.of_mm(Fraction(3, 2)), None),
    ],
)
def test_a_hidden_head_lies_on_the_floor_of_its_hole(
    options: str, lengths: str, sunk: Length, plug: str | None
) -> None:
    """What is left out follows from the screw (number 8) and from the units that the booklet prints."""
    for screw in shelf(options, lengths).joints[0].fasteners:
        assert screw.sunk == sunk
        assert (screw.plug.id if screw.plug else None) == plug
        assert screw.mouth.z == inches("4")
        assert screw.at.z == inches("4") - sunk


FLAT = SHELF.replace(
    "bracket: {stock: board, thickness: x, full_width: y, grain: z, left: 4 in, front: 0 in, bottom: 0 in, top: shelf.bottom}",
    "bracket: {stock: board, thickness: z, full_width: y, grain: x, left: 0 in, right: 24 in, front: 0 in, top: shelf.bottom}",
).replace("LENGTHS", "in")
"""The same with a rail that lies flat under the shelf: a screw must end in its 3/4 in, 1/8 in before the far face."""


@pytest.mark.parametrize(("options", "item"), [("heads: flush", "1-1/4"), ("heads: plugged", "1")])
def test_the_screw_is_as_long_as_its_wood_is_from_the_floor_of_the_counterbore(options: str, item: str) -> None:
    """3/4 and 3/4 less 1/8 in are 1-3/8 in; a head that lies 1/4 in deep leaves 1-1/8 in."""
    screws = plan_from(FLAT.replace("OPTIONS", options)).joints[0].fasteners
    assert {screw.item.id for screw in screws} == {f"wood screw 8 x {item}"}


@pytest.mark.parametrize(
    ("options", "code"),
    [
        ("heads: plugged, counterbore: 3/4", "sunk-through"),
        ("heads: plugged, counterbore: 1", "counterbore-depth"),
        ("heads: plugged, slots: yes", "heads-kind"),
        ("heads: filled, item: pan-head screw 8 x 1-1/4", "heads-kind"),
        ("heads: filled, plug: plug 3/8 in", "heads-kind"),
        ("plug: plug 3/8 in", "heads-flush"),
        ("heads: plugged, plug: wood screw 8 x 2", "unknown-hardware"),
        ("heads: plugged, plug: plug 3/8 in, item: wood screw 10 x 2", "no-plug-fits"),
        ("heads: plugged, counterbore: 3/8", "no-plug-fits"),
    ],
)
def test_what_cannot_be_is_told(tmp_path: Path, options: str, code: str) -> None:
    (tmp_path / "plan.yaml").write_text(SHELF.replace("OPTIONS", options).replace("LENGTHS", "in"), encoding="utf-8")
    outcome, _ = read_and_resolve(tmp_path, Choice())
    assert [one.code for one in outcome.diagnostics] == [code]


def found(options: str, plan: str = FLAT) -> CheckResult:
    """What the workshop check says of the screws."""
    (result,) = (one for one in derived_from(plan.replace("OPTIONS", options)).checks if one.check == "screws")
    return result


def test_enough_wood_under_the_head_is_sound() -> None:
    assert found("heads: plugged").verdict is Verdict.PASS


def test_little_wood_under_the_head_is_told() -> None:
    """9/16 in deep in 3/4 in leaves 3/16 in, 4.8 mm."""
    result = found("heads: filled, counterbore: 9/16")
    assert result.verdict is Verdict.ADVICE
    assert "under it" in result.words.template


def test_hardly_any_wood_under_the_head_stops_the_compile() -> None:
    """11/16 in deep leaves 1/16 in: the head pulls through."""
    assert found("heads: filled, counterbore: 11/16", SHELF.replace("LENGTHS", "in")).verdict is Verdict.STOP


def test_a_plug_that_may_fall_out_is_told() -> None:
    result = found("heads: plugged, counterbore: 1/8")
    assert result.verdict is Verdict.ADVICE
    assert "fall out" in result.words.template


FINISHED = (
    SHELF.replace("LENGTHS", "in") + "finish:\n  - {sand: [120, 180], to: all}\n  - {apply: danish oil, to: all}\n"
)


def said(derived: Derived) -> dict[str, str]:
    """The actions of each step, by its id."""
    formatter = Formatter.of(derived.plan)
    return {step.id: " ".join(map(str, step_text(step, derived, formatter).actions)) for step in derived.steps}


@pytest.fixture(scope="module")
def derived() -> Derived:
    return derived_from(FINISHED.replace("OPTIONS", "heads: plugged"))


class TestPlugs:
    """From the shopping list to the last sanding."""

    def test_are_bought_and_used(self, derived: Derived) -> None:
        (row,) = (row for row in derived.hardware if row.item.kind == "wood plug")
        assert row.count == 2
        (step,) = (step for step in derived.steps if step.id == "plug-heads")
        assert [(use.item.id, use.count) for use in step.hardware] == [("plug 3/8 in", 2)]
        assert all(line.agrees for line in derived.audit.lines)

    def test_have_their_bit_on_the_tool_list(self, derived: Derived) -> None:
        (row,) = (row for row in derived.tools if row.tool.id == "forstner bits")
        assert "3/8 in" in row.why

    def test_are_bored_for_on_the_bench_glued_in_after_the_screws_and_trimmed_when_the_glue_has_set(
        self, derived: Derived
    ) -> None:
        ids = [step.id for step in derived.steps]
        drilled, driven = ids.index("sunk-screw-holes-ledge"), ids.index("assemble-ledge-bracket")
        assert drilled < driven < ids.index("plug-heads") < ids.index("fill-and-sand")
        assert derived.steps[ids.index("plug-heads")].wait_hours >= 1
        words = said(derived)
        assert "depth stop" in words["sunk-screw-holes-ledge"]
        assert "bed in their counterbores" in words["assemble-ledge-bracket"]
        assert "grain of each plug along that of the part" in words["plug-heads"]

    def test_leave_no_head_bare(self, derived: Derived) -> None:
        assert "bare" not in said(derived)["fill-and-sand"]


def test_filled_heads_are_covered_with_filler_that_is_on_the_list() -> None:
    derived = derived_from(FINISHED.replace("OPTIONS", "heads: filled"))
    assert "over the sunk screw heads" in said(derived)["fill-and-sand"]
    assert "wood filler" in {row.item.id for row in derived.consumables}


def test_flush_heads_in_sight_are_left_bare() -> None:
    assert "bare and flush" in said(derived_from(FINISHED.replace("OPTIONS", "heads: flush")))["fill-and-sand"]


THICK = """
plan: {title: Bench, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock: {rail: {material: construction lumber, size: 4x4}, slat: {material: construction lumber, size: 2x6}}
assemblies:
  bench:
    parts:
      rail: {stock: rail, thickness: y, full_width: z, left: 0, right: 20, front: 0, bottom: 0, mirror: {y: 6}}
      slat: {stock: slat, thickness: z, full_width: x, left: 0, front: 0, back: 12, bottom: rail.top, repeat: {along: x, at: [0, 14]}}
    joints: [{butt: slat, to: rail, with: [{screws: {count: 2, through: rail, counterbore: 2}}]}]
"""


def test_an_open_counterbore_lets_a_screw_through_thick_wood() -> None:
    """3-1/2 in of rail, 2 in deep: the head lies 1-1/2 in below the slat, in a hole of 3/8 in that nothing covers."""
    screws = [one for joint in plan_from(THICK).joints for one in joint.fasteners]
    assert {(one.sunk, one.counterbore, one.plug, one.under_filler) for one in screws} == {
        (inches("2"), inches("3/8"), None, False)
    }
    assert {one.at.z for one in screws} == {inches("2")}
    assert {one.mouth.z for one in screws} == {inches("0")}


def test_an_open_counterbore_is_bored_and_neither_plugged_nor_filled() -> None:
    derived = derived_from(THICK)
    assert derived.audit.passed
    words = " ".join(said(derived).values())
    assert "Counterbore the holes first" in words
    assert "plug" not in words.lower()
    assert "filler" not in words.lower()
    kinds = {operation.kind for step in derived.steps for operation in step.operations}
    assert not {"plug-heads", "trim-plugs"} & kinds
    (setting,) = {
        operation.settings for step in derived.steps for operation in step.operations if operation.kind == "screw-holes"
    }
    assert (setting.sunk, setting.counterbore) == (inches("2"), inches("3/8"))


def test_no_wood_is_left_under_a_head_in_a_counterbore_that_is_too_deep() -> None:
    """3-7/16 in of 3-1/2 in."""
    told = [one for one in derived_from(THICK.replace("counterbore: 2}", "counterbore: 3-7/16}")).checks if one.open]
    assert any("under it" in one.words.template for one in told if one.check == "screws")
