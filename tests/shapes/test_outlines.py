"""Parts sawn to an outline, openings, pockets, openings cut in the standing piece: from their lines in the source to their steps."""

from __future__ import annotations

import pytest

from drawleaf.draw.at_step.later_cuts import solids_at
from drawleaf.draw.part.marks.outlines import measured, outline_marks
from drawleaf.draw.picture.lay import lay_out
from drawleaf.draw.template.subjects import template_subjects
from drawleaf.model.shapes import OutlineCut
from drawleaf.setting_out.outlines import arcs_of, rectangle_of
from drawleaf.solids.build import build_solids
from drawleaf.units import Length
from shape_trials import TRAY, derived_of, outcome_of, words_of


def cuts_of(derived, part: str) -> list[OutlineCut]:
    return [cut for cut in derived.plan.part(part).features if isinstance(cut, OutlineCut)]


def inches(*values: float) -> list[float]:
    return [value * 25.4 for value in values]


def test_what_is_left_has_the_area_that_its_corners_enclose() -> None:
    """8 x 5 below, a trapezium 4 high from 8 to 4 above, less what two roundings take, less a slot of 3-1/2 x 1-1/4 with round ends."""
    solids = build_solids(derived_of(TRAY).plan)
    slot = (3.5 - 1.25) * 1.25 + 3.14159265 * 0.625**2
    # At the top the edges meet at 116.57 degrees: a fillet of radius r takes r^2 (1/tan(half) - (180 - angle)/2 in radians).
    half = 1.0172219
    fillet = 0.5**2 * (1.0 / 1.6180340 - (3.14159265 / 2 - half))
    area = 40 + 24 - 2 * fillet - slot
    assert solids.solid("tray.side").volume / 25.4**3 == pytest.approx(area * 0.5, rel=2e-4)


def test_an_opening_through_two_parts_is_one_cut_in_the_standing_piece() -> None:
    derived = derived_of(TRAY)
    step = next(step for step in derived.steps if step.id.startswith("cut-opening"))
    assert [part for operation in step.operations for part in operation.parts] == ["tray.front.mirrored", "tray.inner"]
    joined = [other.number for other in derived.steps if any(op.kind in ("join", "fasten") for op in other.operations)]
    assert step.number > max(joined)
    assert {"blind cut", "jigsaw"} <= {caution.id for caution in step.cautions}


def test_before_it_is_cut_drawings_show_the_part_whole() -> None:
    derived = derived_of(TRAY)
    solids = build_solids(derived.plan)
    cut = next(step for step in derived.steps if step.id.startswith("cut-opening"))
    before, after = (solids_at(derived, solids, derived.steps[number - 1]) for number in (cut.number - 1, cut.number))
    whole, opened = (some.solid("tray.inner").volume / 25.4**3 for some in (before, after))
    assert whole == pytest.approx(15 * 5 * 0.5, rel=1e-9)
    assert whole - opened == pytest.approx((3 - 0.25**2 * (4 - 3.14159265)) * 0.5, rel=1e-3)
    assert after is solids


def test_steps_say_how_large_and_where() -> None:
    said = " ".join(words_of(TRAY, "cutout-side")).replace("⁄", "/")
    assert "Mark an opening 3 1/2 in by 1 1/4 in with corners of 5/8 in radius" in " ".join(said.split()).replace(
        "\u2009", " "
    )
    assert "Bore one hole on it at each end, right through" in said
    assert "each corner" not in said
    late = " ".join(words_of(TRAY, "cut-opening-front"))
    assert "through all the parts" in late
    assert "from the left side" in late


@pytest.mark.parametrize(("radius", "told"), [("5/8", "one hole on it at each end"), ("1/2", "each corner right")])
def test_a_bit_as_wide_as_the_opening_rounds_each_end_with_one_hole(radius: str, told: str) -> None:
    """With a narrower bit all four corners are bored."""
    said = " ".join(words_of(TRAY.replace("round: 5/8}", f"round: {radius}}}"), "cutout-side"))
    assert f"Bore {told}" in said


def test_kinds_of_work_by_what_the_outline_is() -> None:
    """A rounded corner that a bit can bore gets that bit; a shape gets a template."""
    derived = derived_of(TRAY)
    ways = {op.kind: [tool.id for tool in op.method.tools] for step in derived.steps for op in step.operations}
    assert "forstner bits" in ways["cutout"]
    assert "paper template" in ways["shape"]


def test_a_drawing_measures_corners_where_their_lines_meet() -> None:
    """The rounded top corners are dimensioned as if they were sharp, 2 in and 6 in from the front, with their radius."""
    shape = next(cut for cut in cuts_of(derived_of(TRAY), "tray.side") if cut.keep)
    seen = measured(shape.outline)
    assert sorted(round(float(u.inches), 3) for u, _ in seen.corners) == [0, 0, 2, 6, 8, 8]
    assert {round(float(arc.radius.inches), 4) for arc in seen.fillets} == {0.5}
    assert seen.arcs == ()


def test_part_drawing_notes_radii_and_sizes() -> None:
    derived = derived_of(TRAY)
    part = derived.plan.part("tray.side")
    lay = lay_out(part, (200.0, 100.0, 100.0))
    notes = [
        "".join(str(piece) for piece in mark.note)
        for cut in cuts_of(derived, "tray.side")
        for mark in outline_marks(derived.plan, lay, cut)
    ]
    assert notes[0] == "Shape: sawn to this outline"
    assert notes[1].startswith("R ")
    assert notes[1].endswith("2 rounded corners")
    assert notes[2].startswith("Opening ")


def test_half_a_symmetrical_shape_is_template_enough() -> None:
    subjects = template_subjects(derived_of(TRAY))
    assert [subject.title for subject in subjects] == ["shape, left side"]
    lines = " ".join("".join(str(piece) for piece in line) for line in subjects[0].lines)
    assert "Turn it over for the other side" in lines


def test_rectangles_are_known_whatever_rounds_them() -> None:
    derived = derived_of(TRAY)
    slot = next(cut for cut in cuts_of(derived, "tray.side") if not cut.keep)
    rectangle = rectangle_of(slot.outline)
    assert rectangle is not None
    assert (rectangle.u.extent, rectangle.v.extent, rectangle.radius) == tuple(
        Length.of_inches(1) * number / 8 for number in (28, 10, 5)
    )
    shape = next(cut for cut in cuts_of(derived, "tray.side") if cut.keep)
    assert rectangle_of(shape.outline) is None
    assert [round(arc.radius.mm, 2) for arc in arcs_of(shape.outline)] == [12.7, 12.7]


def test_a_shape_takes_what_a_joint_hides_with_it() -> None:
    """A tongue in a dado is wood beyond the drawn end: the outline runs out with it, and nothing is sawn off."""
    text = """\
assemblies:
  it:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 8, bottom: 0, top: 9, mirror: {x: 8}}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 8, bottom: 4}
    joints:
      - {dado: shelf, in: side, depth: 1/4, with: [glue, {screws: {count: 2}}]}
    machining:
      - {in: shelf, shape: {face: top, outline: [{x: 1/2, y: 0, rise: -1}, {x: 15-1/2, y: 0}, {x: 15-1/2, y: 8}, {x: 1/2, y: 8}]}}
"""
    solid = build_solids(derived_of(text).plan).solid("it.shelf")
    assert solid.bounds[:, 0].tolist() == pytest.approx(inches(0.25, 15.75))


@pytest.mark.parametrize("edge", ["{x: 8, z: 5}", "{x: 8, z: 0}"])
def test_an_opening_may_run_over_an_edge(edge: str) -> None:
    """5 x 2 with its middle on the edge takes 5 x 1, and the figures say so."""
    text = TRAY.replace("at: {x: 4, z: 2-1/2}, wide: 2, high: 1-1/2", f"at: {edge}, wide: 5, high: 2")
    words = " ".join(words_of(text, "cut-opening-front"))
    assert "5 in by 1 in" in " ".join(words.split())
    assert not outcome_of(text).failed
