"""What a reader of the trade found in the order and the words of putting things together, rule by rule, each on two small plans."""

from __future__ import annotations

from tests.shape_trials import words_in
from tests.small_plans import FRAMES, derived_from, outcome_from
from tests.trade.rule import HEAD

from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis
from drawleaf.model.settings import SquareSettings

RACK = """
stock:
  board: {material: cherry board, size: 1x6}
assemblies:
  rack:
    name: %s
    parts:
      side: {stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 500, mirror: {x: 200}}
      deck: {stock: board, thickness: z, grain: x, between: side, front: 0, back: side.back, bottom: 40}
      shelf: {like: deck, bottom: 240}
      top: {like: deck, top: 460}
    joints:
      - {dado: [deck, shelf, top], in: side, depth: 6, stopped: {front: 12}, with: [glue]}
checks: {waive: [{check: tip-over, reason: It stands in a case.}]}
"""
TABLE = """
stock:
  leg: {material: construction lumber, size: 2x2}
  rail: {material: cherry board, size: 1x3}
assemblies:
  base:
    parts:
      leg: {stock: leg, thickness: x, grain: z, left: 0, front: 0, deep: 38.1, bottom: 0, high: 400, mirror: {x: 250}}
      back_leg: {like: leg, front: 265, deep: 38.1, mirror: {x: 250}}
      end: {stock: rail, thickness: x, full_width: z, grain: y, left: 8, front: leg.back, back: back_leg.front, top: leg.top, mirror: {x: 250}}
      back: {stock: rail, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, back: 292, top: leg.top}
    joints:
      - {mortise_and_tenon: end, in: leg, depth: 15, with: [glue]}
      - {mortise_and_tenon: end, in: back_leg, depth: 15, with: [glue]}
      - {mortise_and_tenon: back, in: back_leg, depth: 15, with: [glue]}
checks: {waive: [{check: tip-over, reason: It is low.}]}
"""


def steps_of(derived: Derived, kind: str) -> list[tuple[str, str]]:
    """Id and title of every step with work of that kind."""
    return [(step.id, step.title) for step in derived.steps if any(op.kind == kind for op in step.operations)]


def test_equal_notches_are_one_step() -> None:
    """Three boards with the same notches at the same corners are marked and sawn in one go; one that is notched deeper is not."""
    alike = derived_from(HEAD + RACK % "Rack")
    assert [title for _, title in steps_of(alike, "notch")] == ["Notch the deck, shelf and top"]
    deeper = "{dado: top, in: side, depth: 9, stopped: {front: 12}, with: [glue]}"
    unlike = RACK.replace("[deck, shelf, top], in: side,", "[deck, shelf], in: side,")
    unlike = unlike.replace("    joints:\n", f"    joints:\n      - {deeper}\n")
    titles = [title for _, title in steps_of(derived_from(HEAD + unlike % "Rack"), "notch")]
    assert sorted(titles) == ["Notch the deck and shelf", "Notch the top"]


def test_a_case_without_a_back_and_legs_with_rails_are_squared() -> None:
    """Nothing holds their corners but the glue. The case is seen from the front, the legs from above, when the last corner is closed."""
    case, legs = derived_from(HEAD + RACK % "Rack"), derived_from(HEAD + TABLE)
    for derived, plane in ((case, Axis.Y), (legs, Axis.Z)):
        ((step, settings),) = [
            (one, op.settings) for one in derived.steps for op in one.operations if op.kind == "square"
        ]
        assert isinstance(settings, SquareSettings)
        assert settings.plane is plane
        later = [one for one in derived.steps if one.number > step.number for op in one.operations if op.kind == "join"]
        assert not later


def test_strips_glued_face_to_face_are_no_frame() -> None:
    """A thick top of five strips has no corners to pull; a frame of four parts has."""
    strips = """
stock: {board: {material: cherry board, size: 1x3}}
assemblies:
  top:
    parts:
      lam: {stock: board, thickness: y, full_width: z, grain: x, left: 0, wide: 500, front: 0, bottom: 0, repeat: {along: y, at: [0, 19.05, 38.1, 57.15, 76.2]}}
    joints: [{butt: lam, to: lam, with: [glue]}]
"""
    assert not steps_of(derived_from(HEAD + strips), "square")
    assert steps_of(derived_from(FRAMES), "square")


def test_a_title_says_nothing_of_one_or_of_many() -> None:
    """An assembly may be called by one word or by many: the title stays right."""
    for name in ("Rack", "Racks"):
        titles = [title for _, title in steps_of(derived_from(HEAD + RACK % name), "square")]
        assert titles
        assert all("it" not in title.split() for title in titles)


def test_a_shelf_does_not_set_in_one_side_alone() -> None:
    """Boards between two sides are glued in one go: no glue is left to set before the second side comes, with dowels in one of them or not."""
    rail = "{stock: board, thickness: y, full_width: z, grain: x, between: side, back: side.back, top: top.bottom}"
    dowelled = RACK.replace("    joints:\n", f"      rail: {rail}\n    joints:\n")
    dowelled = dowelled.replace(
        "with: [glue]}\n", "with: [glue]}\n      - {butt: rail, to: side, with: [glue, {dowels: {count: 2}}]}\n"
    )
    for source in (RACK, dowelled):
        derived = derived_from(HEAD + source % "Rack")
        joining = [step for step in derived.steps if any(op.kind == "join" for op in step.operations)]
        closing = next(step for step in joining if step.scene and "rack.side.mirrored" in step.scene.new)
        before = [step for step in joining if step.number < closing.number]
        assert not [step.title for step in before if any(op.wait_hours for op in step.operations)]


PANELS = """
stock: {{board: {{material: cherry board, size: 1x4}}}}
assemblies:
  {name}:
    parts:
      panel: {{stock: board, thickness: y, grain: z, front: 0, left: 0, wide: 230, bottom: 0, high: 300, glue_up: {{strips: 3}}, mirror: {{x: 300}}}}
"""


def test_two_panels_of_a_kind_are_told_as_two() -> None:
    """Each is glued up of its own strips, and the titles name both; one alone keeps its words."""
    both = derived_from(HEAD + PANELS.format(name="pair"))
    one = derived_from(HEAD + PANELS.format(name="pair").replace(", mirror: {x: 300}", ""))
    glue = {len(derived.plan.parts): steps_of(derived, "glue-up")[0] for derived in (both, one)}
    assert glue[2][1].endswith("panels")
    assert glue[1][1].endswith("panel")
    assert "one after the other" in " ".join(words_in(both, glue[2][0]))
    assert "strips of" in " ".join(words_in(one, glue[1][0]))


FRAME = """
stock: {post: {material: construction lumber, size: 2x4}, board: {material: construction lumber, size: 2x6}}
assemblies:
  frame:
    parts:
      post: {stock: post, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 300, mirror: {x: 200}}
      rail: {stock: post, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: 20, bottom: 100}
    joints: [{butt: rail, to: post, with: [glue, {screws: {count: 2, through: post}}]}]
  top:
    parts:
      board: {stock: board, thickness: z, full_width: y, grain: x, left: 0, right: frame.post.mirrored.right, front: 0, bottom: frame.post.top}
    joints: [{butt: board, to: frame.post, with: [WITH]}]
"""


def test_dry_dowels_are_no_screws() -> None:
    """A top that stands on dry dowels is fitted; one that is held by screws is screwed."""
    titles = {}
    for held in ("{dowels: {count: 1}}", "{screws: {count: 1, through: board}}"):
        steps = derived_from(HEAD + FRAME.replace("WITH", held)).steps
        titles[held] = [step.title for step in steps if any(op.kind == "join-body" for op in step.operations)]
    assert titles == {
        "{dowels: {count: 1}}": ["Fit the board to the frame"],
        "{screws: {count: 1, through: board}}": ["Screw the board to the frame"],
    }


LID = """
stock: {board: {material: cherry board, size: 1x6}}
assemblies:
  lid:
    parts:
      end: {stock: board, thickness: z, full_width: x, grain: y, left: 0, front: 0, deep: 300, bottom: 0, mirror: {x: 250}}
      board: {stock: board, thickness: z, full_width: y, grain: x, left: end.right, right: end.mirrored.left, front: 0, bottom: 0}
    joints: [{butt: board, to: end, with: [glue, {dowels: {count: 2}}]}]
    machining: [{in: EDGED, round_over: {edges: [front-top, left-top], size: 3}}]
"""


def test_a_mirrored_edge_is_told_as_both_twins_have_it() -> None:
    """The left edge of the left end is the right edge of the right one: both are the outer one. One alone keeps its left."""
    both, one = (
        " ".join(words_in(derived_from(HEAD + LID.replace("EDGED", part)), "round-over-end"))
        for part in ("end", "end.original")
    )
    assert "the front and outer top edges" in both
    assert "left" not in both.split("squiggle")[0].replace("left and right", "")
    assert "the front and left top edges" in one


DOVETAILED = """
stock: {board: {material: poplar board, size: 1x6}}
assemblies:
  tray:
    parts:
      side: {stock: board, thickness: x, full_width: z, grain: y, left: 0, front: 0, back: 200, bottom: 0, mirror: {x: 150}}
      end: {stock: board, thickness: y, full_width: z, grain: x, left: 0, right: 300, front: 0, bottom: 0, mirror: {y: 100}}
    joints: [{dovetail: side, in: end, with: [glue]}]
"""


def test_a_plan_that_says_its_skill_is_not_advised_on_it() -> None:
    """Dovetails by hand in a plan for no experience are told; in one for some experience they are expected."""
    advised = {}
    for skill in ("beginner", "some experience"):
        head = HEAD.replace("author:", f"skill: {skill}, author:")
        assert f"skill: {skill}" in head
        advised[skill] = "skill-level" in {one.code for one in outcome_from(head + DOVETAILED).diagnostics}
    assert advised == {"beginner": True, "some experience": False}
