"""Profiles along edges that are sawn to an outline: they follow its lines and arcs, on the solids and in the steps."""

from __future__ import annotations

from dataclasses import replace
from math import asin, pi

import pytest

from drawleaf.solids.build import part_solid
from shape_trials import derived_of, outcome_of, words_of

BOARD = """\
assemblies:
  plate:
    parts:
      plate: {stock: board, thickness: z, grain: x, left: 0, right: 12, front: 0, back: 5, bottom: 0}
    machining:
      - {in: plate, shape: {face: top, outline: OUTLINE}}
      - {in: plate, PROFILE}
"""
SQUARE = "[{x: 0, y: 0}, {x: 12, y: 0}, {x: 12, y: 5}, {x: 0, y: 5}]"
STADIUM = "[{x: 2, y: 0}, {x: 10, y: 0, rise: 2}, {x: 10, y: 4}, {x: 2, y: 4, rise: 2}]"
ARCHED = "[{x: 0, y: 0}, {x: 12, y: 0}, {x: 12, y: 3}, {x: 0, y: 3}]".replace("y: 3}, {x: 0", "y: 3, rise: 2}, {x: 0")
INCH = 25.4


def plate(outline: str, profile: str):
    return derived_of(BOARD.replace("OUTLINE", outline).replace("PROFILE", profile)).plan.part("plate.plate")


def removed(outline: str, profile: str) -> float:
    """Cubic inches that the profile takes away."""
    part = plate(outline, profile)
    bare = [one for one in part.features if one.kind == "shape"]
    return (part_solid(replace(part, features=tuple(bare))).volume - part_solid(part).volume) / INCH**3


def test_a_rim_of_straight_lines_is_what_four_edges_are() -> None:
    whole = removed(SQUARE, "chamfer: {edges: [outline-top], size: 1/4}")
    four = removed(SQUARE, "chamfer: {edges: [front-top, back-top, left-top, right-top], size: 1/4}")
    assert whole == pytest.approx(four, rel=1e-9)
    # Prisms of half a square quarter inch, mitred at four corners.
    assert whole == pytest.approx((2 * 12 + 2 * 5) / 32 - 4 * 2 * (1 / 4) ** 3 / 6, rel=1e-9)


def test_a_chamfer_round_a_stadium_follows_pappus() -> None:
    """Half circles of radius 2 at both ends of 8 in: the triangle's centroid runs on a radius a third of the chamfer smaller."""
    size, radius = 1 / 4, 2.0
    expected = size**2 / 2 * (16 + 2 * pi * (radius - size / 3))
    assert removed(STADIUM, "chamfer: {edges: [outline-top], size: 1/4}") == pytest.approx(expected, rel=1e-3)


def test_a_round_over_round_a_stadium_follows_pappus() -> None:
    size, radius = 1 / 2, 2.0
    area = size**2 * (1 - pi / 4)
    # Of the corner that is left of a square less a quarter circle, from the outline inwards.
    centroid = size - (size * size**2 / 2 - size**3 / 3) / area
    expected = area * (16 + 2 * pi * (radius - centroid))
    # The facets' corners lie on the true round, so that they take a shade more: half a per cent of what is gone.
    assert removed(STADIUM, "round_over: {edges: [outline-top], size: 1/2}") == pytest.approx(expected, rel=8e-3)


@pytest.mark.parametrize("kind", ["cove", "ogee", "bead"])
def test_moulded_edges_follow_too(kind: str) -> None:
    """Along the straight lines of a square outline they take what they take along its edges."""
    whole = removed(SQUARE, f"{kind}: {{edges: [outline-top], size: 3/8}}")
    four = removed(SQUARE, f"{kind}: {{edges: [front-top, back-top, left-top, right-top], size: 3/8}}")
    assert whole == pytest.approx(four, rel=2e-3)
    assert part_solid(plate(STADIUM, f"{kind}: {{edges: [outline-top], size: 3/8}}")).pieces == 1


def test_an_edge_named_by_its_faces_follows_the_arc_that_stands_for_it() -> None:
    """The back is an arch that rises 2 in over 12: it is chamfered from corner to corner, and nothing else."""
    part = plate(ARCHED, "chamfer: {edges: [back-top], size: 1/4}")
    (profile,) = [one for one in part.features if one.kind == "chamfer"]
    (course,) = profile.courses
    assert not course.closed
    radius = (6**2 + 2**2) / (2 * 2)
    arc = 2 * asin(6 / radius) * (radius - 1 / 12)
    assert removed(ARCHED, "chamfer: {edges: [back-top], size: 1/4}") == pytest.approx(arc / 32, rel=0.02)


def test_a_straight_side_of_an_outline_stays_a_straight_edge() -> None:
    part = plate(ARCHED, "chamfer: {edges: [front-top], size: 1/4}")
    assert [one.courses for one in part.features if one.kind == "chamfer"] == [()]


def test_the_rim_of_an_opening_is_eased_on_its_own_side() -> None:
    """A round hole of radius 1: the triangle's centroid runs on a radius a third of the chamfer larger."""
    text = BOARD.replace(
        "shape: {face: top, outline: OUTLINE}", "cutout: {face: top, at: {x: 6, y: 2-1/2}, wide: 2, deep: 2, round: 1}"
    )
    text = text.replace("PROFILE", "chamfer: {edges: [opening-top], size: 1/8}")
    part = derived_of(text).plan.part("plate.plate")
    bare = replace(part, features=tuple(one for one in part.features if one.kind != "chamfer"))
    gone = (part_solid(bare).volume - part_solid(part).volume) / INCH**3
    assert gone == pytest.approx(1 / 128 * 2 * pi * (1 + 1 / 24), rel=2e-3)


def test_both_faces_may_be_eased() -> None:
    one = removed(STADIUM, "chamfer: {edges: [outline-top], size: 1/4}")
    both = removed(STADIUM, "chamfer: {edges: [outline-top, outline-bottom], size: 1/4}")
    assert both == pytest.approx(2 * one, rel=1e-6)


@pytest.mark.parametrize(
    ("outline", "profile", "code"),
    [
        (STADIUM.replace("rise: 2", "rise: 1/4"), "opening", "no-such-edge"),
        ("[{x: 0, y: 0}, {x: 12, y: 0}, {x: 12, y: 5, round: 1/8}, {x: 0, y: 5}]", "outline", "edge-size"),
    ],
)
def test_what_cannot_follow_is_told(outline: str, profile: str, code: str) -> None:
    text = BOARD.replace("OUTLINE", outline).replace("PROFILE", f"round_over: {{edges: [{profile}-top], size: 1/2}}")
    assert [one.code for one in outcome_of(text).diagnostics if one.is_error] == [code]


def test_the_step_tells_of_the_bearing() -> None:
    text = BOARD.replace("OUTLINE", STADIUM).replace("PROFILE", "round_over: {edges: [outline-top], size: 1/4}")
    said = " ".join(words_of(text, "round-over-plate"))
    assert "the top edge of its outline" in said
    assert "a bit with a bearing" in said
    note = derived_of(text).cut_list.item_of("plate.plate").note
    assert "Round over 1/4 in: top outline edge." in note


def test_facets_of_the_profile_are_those_of_the_outline() -> None:
    """No sliver stays between the sawn edge and the profile: only the arcs' ends and the edges along the rim are drawn."""
    solid = part_solid(plate(STADIUM, "round_over: {edges: [outline-top], size: 1/4}"))
    assert solid.pieces == 1
    assert len(solid.edges.ends) < 600


HOLLOW = ARCHED.replace("rise: 2", "rise: -2")


def test_a_rim_with_sharp_corners_beside_its_bends_is_followed_piece_by_piece() -> None:
    """The hollow back meets its ends at less than a right angle, closer than a mitre of the arc's chords could reach."""
    (profile,) = [
        one for one in plate(HOLLOW, "chamfer: {edges: [outline-top], size: 1/4}").features if one.kind == "chamfer"
    ]
    assert [course.closed for course in profile.courses] == [False] * 4
    whole = removed(HOLLOW, "chamfer: {edges: [outline-top], size: 1/4}")
    sides = [
        removed(HOLLOW, f"chamfer: {{edges: [{side}-top], size: 1/4}}") for side in ("front", "left", "right", "back")
    ]
    assert max(sides) < whole < sum(sides)
