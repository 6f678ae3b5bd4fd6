"""Mouldings with a section of their own, bought or run; rods; profiles along edges."""

from __future__ import annotations

from math import pi

import pytest

from drawleaf.book.words.phrases.shapes import has_slopes
from drawleaf.draw.template.section_subjects import section_subjects
from drawleaf.draw.template.subjects import templates_for
from drawleaf.model.place import Axis, Face
from drawleaf.model.shapes import show_face
from drawleaf.resolve.parts.outlines import Written, closed_outline, flattened, reach_of
from drawleaf.resources import product_folder
from drawleaf.setting_out.mitres import mitre_waste
from drawleaf.solids.build import build_solids
from drawleaf.source.library import load_library
from drawleaf.units import Length
from shape_trials import CASE, HEAD, derived_of, outcome_of, words_of

BOUGHT, RUN = CASE.replace("STOCK", "crown"), CASE.replace("STOCK", "own")


def centroid(points: list[tuple[float, float]]) -> tuple[float, float]:
    """Area of a polygon and how far its centroid lies along the first coordinate."""
    area = moment = 0.0
    for (x0, y0), (x1, y1) in zip(points, (*points[1:], points[0]), strict=True):
        cross = x0 * y1 - x1 * y0
        area += cross / 2
        moment += (x0 + x1) * cross / 6
    return abs(area), moment / area


def test_a_mitred_moulding_has_the_volume_of_its_section_over_its_mean_length() -> None:
    """Sawn at 45 degrees, each fibre is as long as it lies far out: the mean is the length at the centroid of the section."""
    plan = derived_of(BOUGHT).plan
    front, end = plan.part("case.front_crown"), plan.part("case.end_crown")
    solids = build_solids(plan)
    area, y = centroid(flattened(front.section.outline, 0.5))
    out = -y
    assert solids.solid(front.id).volume == pytest.approx(area * (24 * 25.4 + 2 * out), rel=1e-3)
    area, x = centroid(flattened(end.section.outline, 0.5))
    assert solids.solid(end.id).volume == pytest.approx(area * (12 * 25.4 - x), rel=1e-3)


def test_twins_of_a_moulding_show_their_profile_outwards() -> None:
    plan = derived_of(BOUGHT).plan
    faces = {part.id: show_face(part.section, part.thickness) for part in plan.parts if part.section}
    assert faces == {
        "case.front_crown": Face.FRONT,
        "case.end_crown": Face.LEFT,
        "case.end_crown.mirrored": Face.RIGHT,
    }


def test_what_is_bought_with_its_profile_needs_no_step_what_is_not_gets_one() -> None:
    steps = {op.kind for step in derived_of(BOUGHT).steps for op in step.operations}
    assert "run-moulding" not in steps
    said = words_of(RUN, "profile-front-crown")
    assert "a hollow of 1/2 in radius and straight steps" in " ".join(" ".join(said).replace("⁄", "/").split())
    ways = next(op for step in derived_of(RUN).steps for op in step.operations if op.kind == "run-moulding")
    assert any("bought by the length" in way.name for way in ways.others)


def test_the_running_length_has_room_for_the_mitres() -> None:
    derived = derived_of(BOUGHT)
    crown = derived.plan.part("case.front_crown")
    assert crown.rough[0] - crown.size[0] == Length.of_inches(1) * 3 / 2
    placed = sum(one.length.inches for board in derived.layouts.boards for one in board.placed)
    # 25-1/2 from long point to long point, twice 12-3/4 to the long point, and 1-1/2 more for each.
    assert placed == 25.5 + 2 * 12.75 + 3 * 1.5


def test_a_section_is_printed_once_for_all_that_have_it() -> None:
    derived = derived_of(BOUGHT)
    keys = {key for item in derived.cut_list.items for key, _ in section_subjects(derived.plan.lengths, item)}
    assert len(keys) == 1


def test_a_returned_end_is_mitred_on_its_stick() -> None:
    text = BOUGHT.replace("left: -3/4, right: 24-3/4", "left: 4, right: 20").replace(
        "end_crown: {stock: crown, thickness: x, full_width: z, grain: y, right: 0, front: front_crown.front, back: 12,",
        "end_crown: {stock: crown, thickness: x, full_width: z, grain: y, left: 4, front: front_crown.front, back: 0,",
    )
    text = text.replace("{butt: front_crown, to: side", "{butt: front_crown, to: deck").replace(
        "      - {butt: end_crown, to: side, with: [{brads: {spacing: 5}}]}\n", ""
    )
    derived = derived_of(text)
    end = derived.plan.part("case.end_crown")
    assert mitre_waste(end) + end.size[0] == Length.of_inches(8)
    assert any("Leave each short piece on its stick" in line for line in words_of(text, "mitre-front-crown"))
    assert build_solids(derived.plan).solid(end.id).volume > 0


def test_every_profile_of_the_shared_folder_fits_its_size() -> None:
    library, found = load_library((product_folder("shared"),))
    assert found == ()
    seen = 0
    for material in library.catalogue.materials.values():
        sizes = {board.name: board for board in material.boards}
        for name, corners in material.profiles:
            outline = closed_outline(Axis.X, [Written(one.out, one.up, radius=one.arc) for one in corners])
            (left, right), (low, high) = reach_of(outline)
            assert (left, low) == pytest.approx((0, 0), abs=1e-3), name
            assert (right, high) == pytest.approx((sizes[name].thickness.mm, sizes[name].width.mm), abs=1e-3), name
            seen += 1
    assert seen >= 8


EDGED = """\
assemblies:
  it:
    parts:
      shelf: {stock: wide, thickness: z, grain: x, left: 0, right: 20, front: 0, deep: 3, bottom: 4}
    machining:
      - {in: shelf, KIND: {edges: [front-top], size: 1/2}}
"""


@pytest.mark.parametrize(
    ("kind", "taken"),
    [
        ("cove", pi / 4 * 0.25),
        # A quarter of the square is left of the round, a quarter circle of the hollow is taken: half of the whole.
        ("ogee", 0.125),
        # A step of a fifth on either side, and what a round of four fifths leaves in its corner.
        ("bead", 0.25 - pi / 4 * 0.4**2),
        ("round_over", 0.25 - pi / 4 * 0.25),
    ],
)
def test_profiles_take_what_their_arcs_say(kind: str, taken: float) -> None:
    plan = derived_of(EDGED.replace("KIND", kind)).plan
    left = build_solids(plan).solid("it.shelf").volume / 25.4**3
    assert 20 * 3 * 0.75 - left == pytest.approx(taken * 20, rel=1e-2)
    said = words_of(EDGED.replace("KIND", kind), f"{kind.replace('_', '-')}-it")
    assert said


RUNG = """\
assemblies:
  it:
    parts:
      side: {stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 10, mirror: {x: 8}}
      rung: {stock: rod, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 2, bottom: 6, high: 1}
    joints:
      - {round_tenon: rung, in: side, DEPTH, with: [glue]}
"""


@pytest.mark.parametrize(("how", "length"), [("depth: 1/2", 15.5), ("through: yes", 16.0)])
def test_a_rod_grows_into_its_sockets(how: str, length: float) -> None:
    """14-1/2 in between the sides; the holes are as wide as the rod, and the two share no wood."""
    derived = derived_of(RUNG.replace("DEPTH", how))
    assert derived.plan.part("it.rung").size[0] == Length.of_inches(1) * int(length * 2) / 2
    solids = build_solids(derived.plan)
    assert solids.solid("it.rung").volume == pytest.approx(pi * 12.7**2 * length * 25.4, rel=1e-6)
    hole = 0.75 if how.startswith("through") else 0.5
    board = solids.solid("it.side").volume
    assert 5.5 * 0.75 * 10 * 25.4**3 - board == pytest.approx(pi * 12.7**2 * hole * 25.4, rel=1e-6)


@pytest.mark.parametrize(
    ("points", "code"),
    [
        ("[{out: 0, up: 0}, {out: 1, up: 0}, {out: 0, up: 2}]", "profile-size"),
        ("[{out: 0, up: 0}, {out: 3/4, up: 0, arc: 2}, {out: 3/4, up: 2}, {out: 0, up: 2}]", "profile-size"),
        ("[{out: 0, up: 0}, {out: 3/4, up: 2}, {out: 3/4, up: 0}, {out: 0, up: 1}]", "profile-outline"),
    ],
)
def test_a_profile_that_cannot_be_is_told(points: str, code: str) -> None:
    old = HEAD[HEAD.index("points: ") + 8 : HEAD.index("}]}") + 2]
    from pathlib import Path
    from tempfile import TemporaryDirectory

    from drawleaf.compiler import Choice, check_plan

    with TemporaryDirectory() as folder:
        (Path(folder) / "plan.yaml").write_text(HEAD.replace(old, points) + RUN, encoding="utf-8")
        assert code in {one.code for one in check_plan(Path(folder), Choice()).diagnostics}
    assert not outcome_of(RUN).failed


def test_a_run_profile_names_its_template_its_slopes_and_the_tape_that_holds_it() -> None:
    derived = derived_of(RUN)
    step = next(step for step in derived.steps if "profile-front-crown" in (step.id, *step.also))
    assert step.number in templates_for(derived)
    assert "double-sided tape" in [supply.id for supply in step.supplies]
    said = " ".join(words_of(RUN, "profile-front-crown"))
    assert "the router stands on both" in said
    assert "slope" not in said


def test_a_slope_in_a_profile_is_told() -> None:
    def outline(*corners: tuple[int, int]):
        return closed_outline(Axis.X, [Written(Length.of_mm(u), Length.of_mm(v)) for u, v in corners])

    assert has_slopes(outline((0, 0), (20, 0), (20, 40), (0, 60)))
    assert not has_slopes(outline((0, 0), (20, 0), (20, 60), (0, 60)))


def test_a_moulding_lies_upside_down_where_its_assembly_says_so() -> None:
    """The round of this profile is at its upper edge; turned over, the section is the mirror image about half its height."""
    upright = derived_of(RUN).plan.part("case.front_crown")
    turned = derived_of(RUN.replace("  case:\n", "  case:\n    upside_down: yes\n", 1)).plan.part("case.front_crown")
    assert upright.section is not None
    assert turned.section is not None
    middle = upright.body.span(Axis.Z).middle
    mirrored = upright.section.outline.mirrored(Axis.Z, middle)
    assert set(turned.section.outline.corners) == set(mirrored.corners)
    assert set(turned.section.outline.corners) != set(upright.section.outline.corners)
