"""The trestle table with one line changed: sizes, cuts, lists, steps and drawings follow.

Worked by hand from the source: the stretcher stands 1700 - 2 x 300 - 2 x 45 = 1010 between the shoulders, the top is 800 wide.
"""

from __future__ import annotations

import re
from functools import cache

import pytest
from tests.conftest import ROOT, checked_source

from drawleaf.book.output.data import cut_list_csv
from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived
from drawleaf.model.plan import BoxCut
from drawleaf.setting_out.wood_joints import tenon_ends
from drawleaf.units import Length


@pytest.fixture(scope="module")
def table():
    source = (ROOT / "plans" / "trestle-table" / "plan.yaml").read_text(encoding="utf-8")

    @cache
    def check(*changes: tuple[str, str]) -> Derived:
        text = source
        for old, new in changes:
            assert text.count(old) == 1, old
            text = text.replace(old, new)
        outcome = checked_source(text, name="trestle-table")
        assert outcome.derived is not None, [one.message for one in outcome.diagnostics]
        return outcome.derived

    return check


def mortise(derived: Derived, part: str, joint_of: str) -> BoxCut:
    return next(
        one
        for one in derived.plan.part(part).features
        if isinstance(one, BoxCut) and one.kind == "mortise" and joint_of in (one.joint or "")
    )


def words(derived: Derived, start: str) -> str:
    step = next(step for step in derived.steps if any(name.startswith(start) for name in (step.id, *step.also)))
    text = step_text(step, derived, Formatter.of(derived.plan))
    plain = re.sub(r"<[^>]+>", "", " ".join(str(line) for line in (*text.setup, *text.actions)))
    return plain.replace("\N{NO-BREAK SPACE}", " ")


def test_a_thicker_tenon_widens_its_mortise_and_the_wedge_slot(table) -> None:
    """20 to 24: the mortise in the rail is 24 wide, the slot 36 - 6 + 12 x 12 / 140 + 3 = 34.03 long, and the step says 24."""
    plain, thick = table(), table(("stretcher_tenon: 20", "stretcher_tenon: 24"))
    for derived, figure in ((plain, 20), (thick, 24)):
        (end, _) = tenon_ends(derived.plan, derived.plan.part("stretcher.stretcher"))
        assert end.thick.extent == Length.of_mm(figure)
        assert mortise(derived, "trestles.rail.1", "stretcher").box.y.extent == Length.of_mm(figure)
        assert f"Tenon {figure}" in words(derived, "tenon-stretcher")
        slot = next(one for one in derived.plan.part("stretcher.stretcher").features if one.kind == "cutout")
        u, _ = slot.outline.bounds  # type: ignore[union-attr]
        assert u.extent.mm == pytest.approx(36 - 6 + 12 * figure / 2 / 140 + 3)
    assert "Tenon 20" not in words(thick, "tenon-stretcher")


def test_the_stretcher_is_as_long_as_its_tenons_make_it(table) -> None:
    """1010 between the shoulders, and 45 + 70 beyond each; 50 in place of 70 takes 40 off, in the list as well."""
    plain, short = table(), table(("stands_out: 70", "stands_out: 50"))
    for derived, length in ((plain, 1240), (short, 1200)):
        assert derived.plan.part("stretcher.stretcher").size[0] == Length.of_mm(length)
        row = next(line for line in cut_list_csv(derived).splitlines() if "Stretcher" in line)
        assert f"{length}" in row


def test_a_wider_top_moves_tenons_room_and_fasteners(table) -> None:
    """900 for 800: one strip more at most 118 wide, ends as long as the top is wide, outer tenons with more room to move, trestles wider too."""
    plain, wide = table(), table(("width: 800", "width: 900"))
    for derived, width, strips in ((plain, 800, 7), (wide, 900, 8)):
        plan = derived.plan
        panel = plan.part("top.panel")
        assert plan.part("top.end").size[0] == Length.of_mm(width)
        assert panel.glue_up is not None
        assert panel.glue_up.strips == strips
        assert plan.part("trestles.foot.1").size[0] == Length.of_mm(width - 120)
        middle = mortise(derived, "top.end", "breadboard").box.y
        (end, _) = tenon_ends(plan, panel)
        assert len(end.widths) == 3
        assert end.widths[1].middle == Length.of_mm(width) / 2
        assert middle.extent > end.widths[0].extent, "the outer mortise has room"
    (before, _), (after, _) = (tenon_ends(one.plan, one.plan.part("top.panel")) for one in (plain, wide))
    assert after.widths[0].extent > before.widths[0].extent
    assert "800" in words(plain, "cut-boards")
    assert "900" in words(wide, "cut-boards")


def test_a_blind_rail_tenon_told_to_go_through_is_through_everywhere(table) -> None:
    """The rail in the post, two thirds of 95 to begin with: 63 of it, and 95 when it goes through."""
    line = "{mortise_and_tenon: rail, in: post, with: [glue]}"
    plain, through = table(), table((line, line.replace("in: post,", "in: post, through: yes,")))
    assert plain.plan.part("trestles.rail.1").size[0] == Length.of_mm(250 + 2 * 63)
    assert through.plan.part("trestles.rail.1").size[0] == Length.of_mm(250 + 2 * 95)
    assert mortise(plain, "trestles.post.1", "rail").box.y.extent == Length.of_mm(65)
    assert mortise(through, "trestles.post.1", "rail").box.y.extent == Length.of_mm(95)
    assert "right through" in words(through, "mortise-post")


def test_rails_on_dowels_take_those_that_a_metric_bit_bores_for(table) -> None:
    """No size is named: in a plan in millimetres it is a dowel sold in millimetres, told as a dowel and not as a screw."""
    old = "{mortise_and_tenon: rail, in: post, with: [glue]}"
    derived = table((old, "{butt: rail, to: post, with: [glue, {dowels: {count: 2}}]}"))
    rows = {row.item.id: row.count for row in derived.hardware}
    assert rows["dowel 12 x 60 mm"] == 8
    assert rows.keys() == {row.item.id for row in table().hardware} | {"dowel 12 x 60 mm"}
    (rail,) = [item for item in derived.cut_list.items if item.name == "Rail"]
    assert rail.length == Length.of_mm(250)
    said = words(derived, "assemble-trestles-rail")
    assert "Tap the 12 x 60 mm fluted dowels into the ends" in said
    assert "Glue on their front end, 4 dowels" in said
    assert "screw" not in said
