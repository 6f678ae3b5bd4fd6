"""Short forms say the same as what they stand for: the resolved plan is equal, and mistakes are told where the short form stands."""

from __future__ import annotations

import pytest
from tests.small_plans import outcome_from, plan_from

from drawleaf.model.plan import Bore
from drawleaf.source.likeness import written_out
from drawleaf.source.yaml_tree import read_yaml

CASE = """
plan: {title: Case, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  rim: {material: maple board, size: 1x3, profile: rim}
profiles:
  rim: PROFILE
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 20, mirror: {x: 8}}
      deck: {stock: ply, thickness: z, grain: x, BETWEEN, front: 0, back: 10, bottom: 0}
      lid: {like: deck, bottom: 12}
      rim: {stock: rim, thickness: y, full_width: z, grain: x, left: 0, right: 16, back: 0, top: 20}
    joints:
      - {butt: [deck, lid], to: side, with: [glue, {screws: COUNT}]}
      - {butt: rim, to: side, with: [glue, {brads: SPACING}]}
    machining:
      - {in: deck, bore: {face: top, at: {MIDDLE}, diameter: 1}}
"""
SHORT = {
    "PROFILE": "{cove: 3/8, step: 1/8}",
    "BETWEEN": "between: side",
    "COUNT": "2",
    "SPACING": "every 6",
    "MIDDLE": "middle_of: deck",
}
LONG = {
    "PROFILE": "{points: [{out: 0, up: 0}, {out: 3/4, up: 0}, {out: 3/4, up: 2-1/8}, {out: 5/8, up: 2-1/8, arc: -3/8}, {out: 1/4, up: 2-1/2}, {out: 0, up: 2-1/2}]}",
    "BETWEEN": "left: side.right, right: side.mirrored.left",
    "COUNT": "{count: 2}",
    "SPACING": "{spacing: 6}",
    "MIDDLE": "x: (side.right + side.mirrored.left) / 2, y: 5",
}


def case(**changed: str) -> str:
    text = CASE
    for word, form in {**LONG, **changed}.items():
        text = text.replace(word, form)
    return text


@pytest.mark.parametrize("word", list(SHORT))
def test_a_short_form_is_what_it_stands_for(word: str) -> None:
    """Parts with their sections and holes, and joints with their fasteners, are the same."""
    long, short = plan_from(case()), plan_from(case(**{word: SHORT[word]}))
    assert [(one.id, one.seen, one.section) for one in short.parts] == [
        (one.id, one.seen, one.section) for one in long.parts
    ]
    assert [[getattr(two, "start", None) for two in one.features] for one in short.parts] == [
        [getattr(two, "start", None) for two in one.features] for one in long.parts
    ]
    assert [[two.at for two in one.fasteners] for one in short.joints] == [
        [two.at for two in one.fasteners] for one in long.joints
    ]


@pytest.mark.parametrize(
    ("form", "corners"),
    [("{round_over: 1/4}", 5), ("{chamfer: 1/4, step: 1/8}", 6), ("{ogee: 1/2, step: 1/16}", 7), ("{ogee: 1/2}", 6)],
)
def test_each_bit_leaves_its_section(form: str, corners: int) -> None:
    """A board run with one bit: the corners that it leaves, with those of the board that stay."""
    rim = next(one for one in plan_from(case(PROFILE=form)).parts if one.id == "case.rim")
    assert rim.section is not None
    assert len(rim.section.outline.corners) == corners


def test_a_bit_that_leaves_no_wood_is_refused() -> None:
    """A cove of 3/4 in on wood of 3/4 in."""
    codes = [one.code for one in outcome_from(case(PROFILE="{cove: 3/4}")).diagnostics if one.is_error]
    assert codes == ["profile-size"]


def test_a_face_of_its_own_goes_before_the_twin() -> None:
    """A part between twins may end elsewhere on one side; one that is like it keeps the other side."""
    text = "parts: {side: {left: 0, mirror: {x: 8}}, a: {between: side}, b: {like: a, right: 5}, c: {like: a, left: 1, wide: 2}, d: {like: c, between: side}}"
    tree, positions, _ = read_yaml("plan.yaml", text)
    parts = written_out(tree, positions, "plan.yaml")[0]["parts"]
    left, right = "min(side.original.right, side.mirrored.right)", "max(side.original.left, side.mirrored.left)"
    axis = {name: [parts[name].get(key) for key in ("left", "right", "wide")] for name in "abcd"}
    assert axis == {"a": [left, right, None], "b": [left, "5", None], "c": ["1", None, "2"], "d": [left, right, None]}


def test_nothing_stands_between_one_part() -> None:
    """A part without a twin: the parts that have one are offered, and typed in it is good."""
    told = [one for one in outcome_from(case(BETWEEN="between: rim")).diagnostics if one.code == "not-between"]
    assert len(told) == 1
    assert "“side”" in told[0].mend


def test_a_place_in_the_middle_of_nothing_is_told() -> None:
    """At the word that was written."""
    text = case(MIDDLE="middle_of: dek")
    found = [one for one in outcome_from(text).diagnostics if one.is_error]
    assert {(one.code, text.splitlines()[one.position.line - 1].strip()[:12]) for one in found if one.position} == {
        ("unknown-name", "- {in: deck,")
    }


WORDED = """
plan: {title: Rack, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
stock: {board: {material: pine board, size: 1x4}, ply: {material: birch plywood, nominal: 3/4, actual: 3/4}}
dimensions: {gap: 1/16}
assemblies:
  rack:
    parts:
      side: {stock: ply, SIDE grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 30, mirror: {x: 12}}
      post: {stock: ply, thickness: x, grain: z, left: 11, front: 0, back: 10, bottom: 3/4, top: 20}
      deck: {stock: ply, thickness: z, grain: x, between: side, front: 0, back: 10, bottom: 0}
      lid: {like: deck, bottom: 20}
      rail: {stock: board, RAIL full_width: z, between: side, back: 10, top: 30}
      foot: {like: rail, full_width: no, top: 25, high: 2}
      flap: {stock: ply, thickness: y, grain: x, front: 0, FLAP}
      small: {like: flap, SMALL}
    joints:
      - {butt: [deck, lid, foot], to: side, with: [glue, SCREWS]}
      - {butt: post, to: deck, with: [glue, BRADS]}
      - {butt: rail, to: side, with: [POCKETS]}
    machining:
      - {in: post, shelf_pins: {face: right, rows: {front: 2, back: 2}, start: 4, spacing: 1-1/4, count: 5}}
      - {in: side.mirrored, shelf_pins: {face: left, rows: {front: 2, back: 2}, start: 4, spacing: 1-1/4, count: 5}}
  box:
    component: drawer box
    loose: yes
    with: {WIDE deep: 8, high: 3, box: ply, floor: ply}
    at: {AT y: 1, z: 4}
    BOX
"""
WORDED_SHORT = {
    "SIDE": "",
    "RAIL": "",
    "FLAP": "between: {x: [rack.side, rack.post], z: [rack.deck, rack.lid], gap: gap}",
    "SMALL": "between: {z: [deck, lid], gap: 1/8}",
    "SCREWS": "2 screws",
    "BRADS": "brads every 4",
    "POCKETS": "2 pocket screws on back",
    "WIDE": "",
    "AT": "",
    "BOX": "between: {x: [rack.side, rack.post], gap: 1/2}",
}
WORDED_LONG = {
    "SIDE": "thickness: x,",
    "RAIL": "thickness: y, grain: x,",
    "FLAP": "left: side.right + gap, right: post.left - gap, bottom: deck.top + gap, top: lid.bottom - gap",
    "SMALL": "bottom: deck.top + 1/8, top: lid.bottom - 1/8",
    "SCREWS": "{screws: {count: 2}}",
    "BRADS": "{brads: {spacing: 4}}",
    "POCKETS": "{pocket_screws: {count: 2, on: back}}",
    "WIDE": "wide: rack.post.left - rack.side.right - 1,",
    "AT": "x: rack.side.right + 1/2,",
    "BOX": "",
}


def worded(**changed: str) -> str:
    text = WORDED
    for word, form in {**WORDED_LONG, **changed}.items():
        text = text.replace(word, form)
    return text


def said(text: str) -> tuple[list[object], list[object]]:
    plan = plan_from(text)
    parts = [(one.id, one.seen, one.thickness, one.grain) for one in plan.parts]
    return parts, [[(two.item.id, two.at) for two in one.fasteners] for one in plan.joints]


@pytest.mark.parametrize("words", [*([one] for one in list(WORDED_SHORT)[:-3]), ["WIDE", "AT", "BOX"], ["BOX"]])
def test_what_follows_need_not_be_written(words: list[str]) -> None:
    """Thickness and grain, faces and sizes between two parts, fasteners in words: the same parts and screws as when all is written."""
    assert said(worded(**{word: WORDED_SHORT[word] for word in words})) == said(worded())


PINS = (
    "      - {in: post, shelf_pins: {face: right, rows: {front: 2, back: 2}, start: 4, spacing: 1-1/4, count: 5}}\n"
    "      - {in: side.mirrored, shelf_pins: {face: left, rows: {front: 2, back: 2}, start: 4, spacing: 1-1/4, count: 5}}\n"
)


@pytest.mark.parametrize("pair", ["[post, side.mirrored]", "[side.mirrored, post]"])
def test_pins_between_two_parts_stand_opposite(pair: str) -> None:
    """Holes in the two faces that look at one another, in one line."""
    line = f"      - {{in: {pair}, shelf_pins: {{rows: {{front: 2, back: 2}}, start: 4, spacing: 1-1/4, count: 5}}}}\n"
    assert worded() != worded().replace(PINS, line)
    one, two = (plan_from(text) for text in (worded().replace(PINS, line), worded()))
    holes = [
        [
            {(one.face, one.start) for one in part.features if isinstance(one, Bore) and one.kind == "shelf pin"}
            for part in plan.parts
        ]
        for plan in (one, two)
    ]
    assert holes[0] == holes[1]
    assert sum(len(part) for part in holes[0]) == 20


def test_pins_without_a_face_need_two_parts_that_face() -> None:
    """One part alone has no other to look at: the message says what to write, and typed it is good."""
    line = "      - {in: post, shelf_pins: {rows: {front: 2, back: 2}, start: 4, spacing: 1-1/4, count: 5}}\n"
    text = worded().replace(PINS, line)
    (found,) = [one for one in outcome_from(text).diagnostics if one.code == "pins-face"]
    assert "“face: left”" in found.mend
    assert not [
        one for one in outcome_from(text.replace("{rows:", "{face: left, rows:")).diagnostics if one.code == "pins-face"
    ]


def test_only_a_component_takes_its_size_from_what_it_stands_between() -> None:
    text = (
        worded()
        .replace("    component: drawer box\n", "    parts: {}\n")
        .replace("    with: {wide: rack.post.left - rack.side.right - 1, deep: 8, high: 3, box: ply, floor: ply}\n", "")
    )
    codes = [
        one.code
        for one in outcome_from(
            text.replace(
                "    at: {x: rack.side.right + 1/2, y: 1, z: 4}\n    ", "    between: {x: [rack.side, rack.post]}"
            )
        ).diagnostics
        if one.is_error
    ]
    assert codes == ["not-between"]


def test_a_part_whose_thickness_does_not_follow_needs_it() -> None:
    """Two axes with one face each: nothing says on which it is as thick as its stock."""
    text = worded(SIDE="").replace("back: 10, bottom: 0, top: 30", "bottom: 0, top: 30")
    assert "missing-key" in {one.code for one in outcome_from(text).diagnostics}
