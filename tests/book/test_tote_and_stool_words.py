"""What a reader of the tote and the stool would stumble over: twins, leaning parts, fingers, cuts that no guide serves."""

from __future__ import annotations

import html
import re
from functools import cache

import pytest
from tests.conftest import outcome_of

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived


@cache
def derived_of(name: str) -> Derived:
    derived = outcome_of(name).derived
    assert derived is not None
    return derived


def words(name: str, step_id: str) -> str:
    """All that a step says, without tags and balloons."""
    derived = derived_of(name)
    step = next(step for step in derived.steps if step.id == step_id)
    text = step_text(step, derived, Formatter.of(derived.plan))
    lines = [*text.setup, *text.actions, text.check or "", text.if_not or "", text.why or ""]
    bare = re.sub(r'[ \u00a0]<span class="balloon">\d+</span>', "", "\n".join(map(str, lines)))
    return html.unescape(re.sub("<[^>]+>", "", bare)).replace("\u00a0", " ").replace("\u2009", " ")


def rows(name: str, step_id: str) -> list[str]:
    """The rows of a step's tables of holes to mark, ``place | measures``."""
    derived = derived_of(name)
    step = next(step for step in derived.steps if step.id == step_id)
    actions = "".join(step_text(step, derived, Formatter.of(derived.plan)).actions)
    bare = re.sub(r'[ \u00a0]<span class="balloon">\d+</span>', "", actions).replace("</th>", " | ")
    return [re.sub("<[^>]+>", "", row.partition("</tr>")[0]) for row in bare.split("<tr>")[1:]]


def ids(name: str) -> list[str]:
    return [step.id for step in derived_of(name).steps]


def test_the_overall_size_holds_legs_that_splay() -> None:
    """Feet of legs that lean 9 degrees stand 10-1/4 in x tan 9 = 1.62 in farther out than their tops, which are 1-1/2 in from the edge: 16-1/4 in."""
    width, depth, height = (side / 25.4 for side in derived_of("step-stool").overall)
    assert width == pytest.approx(16 + 2 * (10.25 * 0.15838 - 1.5) + 0.03, abs=0.05)
    assert depth == pytest.approx(11.29, abs=0.02)
    assert height == pytest.approx(11.0)


def test_grooves_of_facing_twins_are_on_their_inside_faces() -> None:
    """The front side's groove is in its back face, the back side's in its front face."""
    grooves = [one for one in ids("tool-tote") if one.startswith("groove")]
    text = "\n".join(words("tool-tote", one) for one in grooves)
    assert "the front and back sides. Draw two lines along the inside face" in text
    assert "the front and back till sides. Draw two lines along the inside face" in text
    assert "back face" not in text
    assert "6 mm short of the front and back edges of the ends" in text


def test_bevels_and_slants_of_twins_too() -> None:
    steps = [one for one in ids("step-stool") if "bevel" in one or "angle" in one]
    text = "\n".join(words("step-stool", one) for one in steps)
    assert "On the side aprons: the top edge; the inside face stays the wider." in text
    assert "On the side aprons: both ends, longest at its bottom inside corner." in text


def test_a_cut_that_only_tilts_is_turned_and_not_swung() -> None:
    steps = {one: words("step-stool", one) for one in ids("step-stool") if "angle" in one}
    lines = [line for text in steps.values() for line in text.splitlines() if line.startswith("The two ends of ")]
    (level,) = [line for line in lines if "front and back long braces" in line]
    assert "turn it end for end, the same face down. Cut at the same setting" in level
    assert "swing the miter" not in level
    swung = [line for line in lines if "swing the miter to the same angle on the other side" in line]
    assert all(any(f"{name} aprons" in line for line in swung) for name in ("front and back", "side"))


def test_fingers_have_a_depth_line_and_edges_are_no_ends() -> None:
    first, *_ = [one for one in ids("tool-tote") if one.startswith("fingers")]
    text = words("tool-tote", first)
    assert text.index("Draw the depth line: round every end and edge") < text.index("Hatch the waste")
    assert "12 mm in from it" in text
    assert "both ends of the front and back sides" in text
    assert "both edges of the ends" in text


def test_the_template_lies_where_its_drawing_shows_it() -> None:
    """Its circle lies over the blind hole for the handle, which is in the inside face."""
    assert "template on the inside face of the ends" in words("tool-tote", "shape-end")


def test_small_pieces_of_a_sheet_are_sawn_to_a_line() -> None:
    """Strips of 12 mm from a piece of 60 mm, and pieces under a foot: the step names just the cuts that the layouts call so."""
    derived = derived_of("tool-tote")
    lined = [[cut.order for cut in sheet.cuts if cut.guide == "line"] for sheet in derived.layouts.sheets]
    assert all(lined)
    step = next(step for step in derived.steps if step.title.startswith("Cut up"))
    (operation,) = [one for one in step.operations if one.kind == "saw-lines"]
    assert dict(operation.settings.named())["count"] == sum(map(len, lined))
    assert "jigsaw" in {tool.id for tool in step.tools}
    assert "jigsaw" in {caution.id for caution in step.cautions}
    strips = [one for sheet in derived.layouts.sheets for one in sheet.placed if one.width.mm == 12]
    assert {one.part for one in strips} <= set(operation.parts)
    assert "Measure each part, and both diagonals" in words("tool-tote", step.id)


def test_one_rod_is_one_rod() -> None:
    step = next(step for step in derived_of("tool-tote").steps if step.id == "cut-boards")
    assert step.title == "Cut the rod to length"
    text = words("tool-tote", "cut-boards")
    assert "Cut the handle from the 30 mm rod." in text
    assert "side by side" not in text


def test_nothing_is_fitted_but_last_parts() -> None:
    for name in ("tool-tote", "step-stool"):
        assert derived_of(name).steps[-1].stage == "Add the last parts"
    assert any(step.stage == "Fit the hardware" for step in derived_of("boot-bench").steps)


def test_slots_about_a_snug_screw_let_the_top_move() -> None:
    """The snug screw stands in the middle of the top, so no edge is held."""
    text = words("step-stool", ids("step-stool")[-1])
    assert "The snug screws hold the wood where they stand, and the slots let the rest come and go." in text
    assert "hold one edge" not in text


def test_no_putty_knife_where_nothing_is_filled() -> None:
    tools = {row.tool.id for row in derived_of("step-stool").tools}
    assert "putty knife" not in tools
    assert "putty knife" in {row.tool.id for row in derived_of("tool-tote").tools}


def test_holes_that_read_alike_are_marked_in_one_line() -> None:
    """Sixteen dowel holes in four legs, and those of the side aprons' ends: the twins of a frame in one row of the table."""
    marks = [row for one in ids("step-stool") for row in rows("step-stool", one)]
    legs = [row for row in marks if " legs | " in row]
    assert len(legs) == 4, "one for each frame and each side that is bored"
    assert all("the left and right front legs" in line or "back leg" in line for line in legs)
    assert any(row.startswith("Both ends of the side aprons | ") for row in marks)
