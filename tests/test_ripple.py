"""One line of a source changed: what a buyer reads follows everywhere, and no stale number is left.

Finished sizes stand in tests/resolve/test_ripples.py; here the change is followed through lists, tools, steps, drawings and data.
"""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from tests.conftest import ROOT, checked_source, outcome_of

from drawleaf.book.output.data import cut_list_csv
from drawleaf.compiler import Outcome
from drawleaf.draw.piece.cover import draw_cover
from drawleaf.draw.piece.elevations import draw_elevations
from drawleaf.solids.build import build_solids

DADO = (
    "{dado: bottom, in: side, depth: dado, with: [glue, {screws: {heads: filled}}]}",
    "{butt: bottom, to: side, with: [glue, screws]}",
)
BOTH_DADOES = (
    DADO,
    (
        "{dado: divider, in: bottom, depth: dado, with: [glue, screws]}",
        "{butt: divider, to: bottom, with: [glue, screws]}",
    ),
)
FLUSH = (("{rabbet: back, in: side, depth: 3/8, with:", "{butt: back, to: side, with:"),)
METRIC_PLY = (("nominal: 3/4, actual: 23/32", "nominal: 18 mm, actual: 18 mm"),)
WIDER = (("  width: 42", "  width: 48"),)
SHORTER = (("  depth: 15-1/2", "  depth: 14-1/2"),)
CHANGES = {"butt": BOTH_DADOES, "flush": FLUSH, "18 mm": METRIC_PLY, "wider": WIDER, "shallower": SHORTER}


@pytest.fixture(scope="module")
def checked():
    """The outcome of checking the boot bench with some of its lines replaced, each variant once."""

    @cache
    def check(changes: tuple[tuple[str, str], ...] = ()) -> Outcome:
        text = (ROOT / "plans" / "boot-bench" / "plan.yaml").read_text(encoding="utf-8")
        for old, new in changes:
            assert old in text, f"{old!r} does not stand in the boot bench"
            text = text.replace(old, new)
        return checked_source(text, name="boot-bench")

    return check


def fasteners(outcome: Outcome) -> Counter[str]:
    assert outcome.derived is not None
    return Counter({row.item.id: row.count for row in outcome.derived.hardware})


def step_ids(outcome: Outcome) -> set[str]:
    assert outcome.derived is not None
    return {name for step in outcome.derived.steps for name in (step.id, *step.also)}


def tools(outcome: Outcome) -> set[str]:
    assert outcome.derived is not None
    return {row.tool.id for row in outcome.derived.tools}


@pytest.mark.parametrize("change", CHANGES.values(), ids=list(CHANGES))
def test_every_change_compiles_to_a_plan_whose_audit_agrees(checked, change) -> None:
    outcome = checked(change)
    assert not outcome.failed, outcome.diagnostics
    assert outcome.derived.audit.passed


def test_butts_need_no_dado_step_and_no_dado_guide(checked) -> None:
    """Without its two dadoes the bench has no dado to cut; the router stays for rabbets, grooves and round-overs."""
    before, after = checked(), checked(BOTH_DADOES)
    assert {"dado-side", "dado-bottom"} <= step_ids(before)
    assert not {step for step in step_ids(after) if step.startswith("dado-")}
    assert "router" in tools(after)
    for part in after.derived.plan.parts:
        assert not [feature for feature in part.features if getattr(feature, "kind", "") == "dado"]


def test_a_flush_back_needs_no_rabbet_in_the_sides(checked) -> None:
    assert "rabbet-side" in step_ids(checked())
    assert "rabbet-side" not in step_ids(checked(FLUSH))
    assert "rabbet-box-side" in step_ids(checked(FLUSH))  # the drawer keeps its own


def test_a_wider_bench_takes_more_brads_and_more_wood(checked) -> None:
    """The frame, the kick board and the back are 6 in longer: more brads at the same spacing, never fewer of anything."""
    before, after = fasteners(checked()), fasteners(checked(WIDER))
    brads = [item for item in before if item.startswith("brad")]
    assert sum(after[item] for item in brads) > sum(before[item] for item in brads)
    assert all(after[item] >= before[item] for item in before)

    def area(outcome: Outcome) -> float:
        return sum(item.length.mm * item.width.mm * item.quantity for item in outcome.derived.cut_list.items)

    assert area(checked(WIDER)) > area(checked())


def test_thinner_plywood_shows_in_every_list(checked) -> None:
    """23/32 in is 18.256 mm; at 18 mm no case part keeps the old thickness, and the dado is 18 mm wide."""
    plan = checked(METRIC_PLY).derived.plan
    case = [part for part in plan.parts if part.stock.id == "case"]
    assert case
    assert {part.size[2].mm for part in case} == {18.0}
    side = plan.part("case.side")
    dado = next(feature for feature in side.features if getattr(feature, "kind", "") == "dado")
    assert dado.box.z.extent.mm == 18.0
    assert {item.thickness.mm for item in checked(METRIC_PLY).derived.cut_list.items if item.stock.id == "case"} == {
        18.0
    }


def test_no_stale_number_in_what_is_printed(checked) -> None:
    """The wider bench: the old width stands nowhere in the lists, and every view of the whole is drawn anew."""
    before, after = checked(), checked(WIDER)
    assert "43-1/2" in cut_list_csv(before.derived)  # the seat: 42 + 2 x 3/4
    assert "43-1/2" not in cut_list_csv(after.derived)
    assert "49-1/2" in cut_list_csv(after.derived)
    views = [
        [draw_cover(one.derived, solids), *draw_elevations(one.derived, solids)]
        for one in (before, after)
        for solids in [build_solids(one.derived.plan)]
    ]
    for old, new in zip(*views, strict=True):
        assert old.id == new.id
        assert old.svg != new.svg, f"{old.id} did not follow"


def test_leaving_the_drawer_out_leaves_nothing_of_it() -> None:
    outcome = outcome_of("boot-bench", "open")
    assert not outcome.failed
    assert not [part for part in outcome.derived.plan.parts if part.id.startswith("drawer.")]
    assert not [row for row in outcome.derived.hardware if row.item.kind in ("slides", "pull")]
    steps = step_ids(outcome) - {"assemble-frame-rail-drawer"}  # the rail stays: it belongs to the frame
    assert not [step for step in steps if "drawer" in step or "slide" in step or "pull" in step]
