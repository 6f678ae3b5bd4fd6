"""Mirror images of assemblies: each part, cut, hole and hinge on the other side, whatever the first was counted from."""

from __future__ import annotations

import pytest
from tests.small_plans import outcome_from, plan_from

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, Part, Plan
from drawleaf.source.syntax import Refusal, parse
from drawleaf.source.weights import weight_of_faces
from drawleaf.units import Length

PAIR = """
plan: {title: Pair, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
dimensions: {width: 30}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  board: {material: maple board, size: 1x3}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 3/4, back: 12, bottom: 0, top: 24, mirror: {x: width / 2}}
      deck: {stock: ply, thickness: z, grain: x, between: side, front: 3/4, back: 12, bottom: 0}
    joints:
      - {butt: deck, to: side, with: [glue, {screws: 3}]}
  first:
    AT
    dimensions: {wide: 14}
    parts:
      post: {stock: board, thickness: y, full_width: x, grain: z, left: ZERO, front: 0, bottom: 1, high: 20, mirror: {x: ZERO + wide / 2}}
      rail: {stock: board, thickness: y, grain: x, between: post, front: 0, bottom: 1, high: 2}
      upper: {like: rail, bottom: 18}
      leg: {stock: board, thickness: y, grain: z, left: ZERO + 6, wide: 2, front: 3, bottom: 0, high: 10, lean: {left: 5 deg}, pivot: top, level_ends: {bottom: 0}}
    joints:
      - {mortise_and_tenon: [rail, upper], in: post, depth: 1, offset: {front: 1/4}, with: [glue]}
    machining:
      - {in: rail, bore: {face: front, at: {x: ZERO + 5, z: 2}, diameter: 1/2, repeat: {along: x, count: 2, spacing: 1}}}
      - {in: upper, bore: {face: front, at: {x: upper.left + 1, z: 19}, diameter: 1/2}}
      - {in: post.original, chamfer: {edges: [front-left], size: 1/8}}
      - {in: post.mirrored, notch: {corner: [right, top], wide: 1/2, high: 1}}
  second: {like: first, mirrored: {x: width / 2}}
"""
COUNTED = {"from the piece": ("loose: yes", "1/4"), "from its own zero": ("at: {x: case.side.left + 1/4}", "0")}


def pair(counted: str) -> Plan:
    at, zero = COUNTED[counted]
    return plan_from(PAIR.replace("AT", at).replace("ZERO", zero))


def of(plan: Plan, assembly: str) -> list[Part]:
    return [one for one in plan.parts if one.assembly == assembly]


def across(length: Length) -> Length:
    return Length.of_inches(30) - length


@pytest.mark.parametrize("counted", list(COUNTED))
def test_every_part_stands_on_the_other_side(counted: str) -> None:
    """Seen and as sawn, with what joints hide."""
    plan = pair(counted)
    for first, second in zip(of(plan, "first"), of(plan, "second"), strict=True):
        for one, two in ((first.seen, second.seen), (first.body, second.body)):
            assert (two.x.low, two.x.high) == (across(one.x.high), across(one.x.low)), first.id
            assert (two.y, two.z) == (one.y, one.z)


@pytest.mark.parametrize("counted", list(COUNTED))
def test_every_hole_is_on_the_other_side(counted: str) -> None:
    """Holes at a figure, in a row, and from a face of the part; the chamfer and the notch at the other edge."""
    plan = pair(counted)
    for first, second in zip(of(plan, "first"), of(plan, "second"), strict=True):
        holes = [[one for one in part.features if isinstance(one, Bore)] for part in (first, second)]
        assert [one.start.x for one in holes[1]] == [across(one.start.x) for one in holes[0]], first.id
        kinds = [[type(one).__name__ for one in part.features] for part in (first, second)]
        assert kinds[0] == kinds[1]
    edges = [getattr(one, "edge", None) for one in of(plan, "second")[0].features]
    assert (Face.FRONT, Face.RIGHT) in edges


def test_a_leg_leans_to_the_other_side() -> None:
    """To the right where the first leans to the left, its end cut level on the floor."""
    leg = next(one for one in pair("from the piece").parts if one.id == "second.leg")
    assert leg.tilt is not None
    assert leg.tilt.lean[0][0] is Face.RIGHT


def test_names_and_lines_are_those_of_any_assembly() -> None:
    """Its joints are its own, between its own parts."""
    plan = pair("from its own zero")
    joints = [(one.insert, one.receiver) for one in plan.joints if one.insert.startswith("second")]
    assert joints == [
        (one.insert.replace("first", "second"), one.receiver.replace("first", "second"))
        for one in plan.joints
        if one.insert.startswith("first")
    ]


DOOR = """
  left_door:
    component: frame and panel door
    with: {wide: wide, high: 22, frame: board, panel: thin}
    dimensions: {wide: 14-1/2}
    at: {x: 3/32, z: 1/2}
    hardware:
      - {item: concealed hinge full overlay, on: case.side.original, carries: left_door}
      - {item: knob, on: stile.mirrored, face: front, at: {middle_of: stile.mirrored, z: 4}}
  right_door: {name: Right door, like: left_door, mirrored: {x: width / 2}}
"""


def test_a_door_hangs_on_the_other_side() -> None:
    """From a component: its hinges on the other side's twin, its knob at the other edge, at the same height."""
    head = PAIR[: PAIR.index("  first:")].replace("board:", "thin: {material: birch plywood, nominal: 1/4}\n  board:")
    plan = plan_from(head + DOOR.replace("wide: wide", "wide: 14-1/2").replace("    dimensions: {wide: 14-1/2}\n", ""))
    left, right = ([one for one in plan.fittings if one.id.startswith(name)] for name in ("left_door", "right_door"))
    assert len(left) == len(right) == 3
    for one, two in zip(left, right, strict=True):
        assert two.at.x == across(one.at.x)
        assert (two.at.y, two.at.z) == (one.at.y, one.at.z)
    hung = {part for one in right for part in one.parts}
    assert "case.side.mirrored" in hung
    assert "case.side" not in hung
    assert {one.moving for one in right} == {"right_door", None}


@pytest.mark.parametrize(
    ("own", "mend"),
    [
        ("{like: first, mirrored: {x: 1, y: 2}}", "“mirrored: {x: width / 2}”"),
        ("{mirrored: {x: 1}}", "“like:”"),
    ],
)
def test_half_an_image_is_refused(own: str, mend: str) -> None:
    """A plane across two axes, or an image of nothing."""
    text = PAIR.replace("AT", "loose: yes").replace("ZERO", "0").replace("{like: first, mirrored: {x: width / 2}}", own)
    told = [one for one in outcome_from(text).diagnostics if one.is_error]
    assert [one.code for one in told] == ["mirrored-what"]
    assert mend in told[0].mend


@pytest.mark.parametrize(
    ("text", "weight"),
    [
        ("3", 0),
        ("a.left + 3", 1),
        ("(a.left + a.right) / 2", 1),
        ("a.right - a.left", 0),
        ("max(a.left, 2)", 1),
        ("-(a.wide)", 0),
    ],
)
def test_how_often_a_face_counts(text: str, weight: int) -> None:
    """What a sum grows by where all faces move by one."""
    term = parse(text)
    assert not isinstance(term, Refusal)
    assert weight_of_faces(term, {Axis.X.low.value, Axis.X.high.value}) == weight


@pytest.mark.parametrize(
    "wrong",
    [
        "{parts: }",
        "{parts: [post]}",
        "{parts: {post: }}",
        "{parts: {post: wood}}",
        "{parts: {post: {mirror: }}}",
        "{parts: {post: {level_ends: 3}}}",
        "{parts: {post: {stock: ply, between: [post]}}}",
        "{parts: {post: {between: rail}, rail: {like: [post]}}}",
        "{joints: }",
        "{joints: [{name: [a]}]}",
    ],
)
def test_a_model_with_a_mistake_has_its_mistake_told_once_and_no_image(wrong: str) -> None:
    """What is half written while the preview looks on is told where it stands; it neither raises nor is told of the image too."""
    text = PAIR[: PAIR.index("  first:")] + f"  first: {wrong}\n"
    alone, seen = (
        [(one.code, one.position.line, one.position.column) for one in outcome_from(text + image).diagnostics]
        for image in ("", "  second: {like: first, mirrored: {x: 15}, joints: [{name: a}]}\n")
    )
    assert alone
    assert seen == alone


def test_a_part_that_says_it_has_no_twin_has_none_in_the_image() -> None:
    """`mirror: no`, of a part that is like one with a twin."""
    lone = "      lone: {like: post, mirror: no, front: 3}\n"
    at, zero = COUNTED["from its own zero"]
    text = PAIR.replace("    joints:\n      - {mortise", f"{lone}    joints:\n      - {{mortise", 1)
    plan = plan_from(text.replace("AT", at).replace("ZERO", zero))
    (own,) = (one for one in plan.parts if one.id == "first.lone")
    (image,) = (one for one in plan.parts if one.id == "second.lone")
    assert (image.seen.x.low, image.seen.x.high) == (across(own.seen.x.high), across(own.seen.x.low))


SIDED = """
  first:
    loose: yes
    parts:
      left: {stock: ply, thickness: x, grain: z, left: 5, front: 20, deep: 10, bottom: 0, high: 20}
      right: {like: left, left: 13}
      shelf: {stock: ply, thickness: z, grain: x, left: left.right, right: right.left, front: 20, deep: 10, bottom: 8}
    joints:
      - {dado: shelf, in: left, depth: 1/4, with: [glue]}
      - {butt: shelf, to: right, with: [glue]}
    hardware:
      - {item: knob, on: left, face: left, at: {y: 25, z: 3}}
  second: {like: first, mirrored: {x: width / 2}}
"""


def test_a_part_that_is_called_as_a_side_is_keeps_its_name() -> None:
    """The dado is in the image of the part that it is in, and the knob on it; both are on the other side."""
    plan = plan_from(PAIR[: PAIR.index("  first:")] + SIDED)
    made = {one.insert: one for one in plan.joints if one.receiver.endswith(".left")}
    assert made["second.shelf"].receiver == "second.left"
    assert (made["first.shelf"].face, made["second.shelf"].face) == (Face.LEFT, Face.RIGHT)
    assert [(one.parts, one.face) for one in plan.fittings] == [
        (("first.left",), Face.LEFT),
        (("second.left",), Face.RIGHT),
    ]


def test_scraps_that_help_lie_on_the_parts_of_the_image() -> None:
    helped = "with: [glue], helps: [{batten: [post.original, post.mirrored], on: front}]}"
    text = PAIR.replace("with: [glue]}", helped, 1).replace("AT", "loose: yes").replace("ZERO", "1/4")
    homes = [{one.split(".")[0] for one in help_.parts} for help_ in plan_from(text).helps]
    assert homes == [{"first"}, {"second"}]


def test_the_image_above_leans_with_its_top_to_the_other_side() -> None:
    """In a level plane the foot of the one lies over the foot of the other; what it is turned by stays as it is."""
    leg = "leg: {stock: board, thickness: y, grain: z, left: 6, wide: 2, front: 3, bottom: 0, high: 10, lean: {left: 5 deg}, turn: 10 deg}"
    more = f"  first:\n    loose: yes\n    parts:\n      {leg}\n  second: {{like: first, mirrored: {{z: 20}}}}\n"
    plan = plan_from(PAIR[: PAIR.index("  first:")] + more)
    tilts = {one.id: one.tilt for one in plan.parts if one.tilt is not None}
    assert tilts["second.leg"].lean == ((Face.RIGHT, 5),)
    assert tilts["second.leg"].turn == tilts["first.leg"].turn == 10


def test_parts_around_an_upright_have_no_image() -> None:
    """Their copies would be left out, or numbered the other way round, without a word."""
    text = (
        PAIR.replace("AT", "loose: yes")
        .replace("ZERO", "1/4")
        .replace("lean: {left: 5 deg}", "around: {x: 7, y: 6, count: 3}")
    )
    text = text.replace(", pivot: top, level_ends: {bottom: 0}", "")
    told = [one for one in outcome_from(text).diagnostics if one.is_error]
    assert [one.code for one in told] == ["mirrored-what"]
    assert "“leg” stands around an upright" in told[0].message
