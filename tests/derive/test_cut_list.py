"""The cut list: what merges, what stays apart, the order and the words."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.derive.cut_list.shape_key import shape_keys
from drawleaf.derive.shop.part_words import merged_name
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, GlueUp
from drawleaf.model.tool_sets import Kit

X, Y, Z = Axis.X, Axis.Y, Axis.Z


@pytest.fixture
def s(shop) -> SimpleNamespace:
    return SimpleNamespace(**shop)


def dado(s, part, low, high, axis=X, into=Face.TOP, depth="1/4"):
    """A channel across a part that lies flat, from ``low`` to ``high`` inches along ``axis``."""
    box = part.body.with_span(
        axis, Span(part.body.span(axis).low + s.inches(low), part.body.span(axis).low + s.inches(high))
    )
    span = box.span(into.axis)
    low_end, high_end = (
        (span.high - s.inches(depth), span.high) if into.side > 0 else (span.low, span.low + s.inches(depth))
    )
    return BoxCut("dado", box.with_span(into.axis, Span(low_end, high_end)), into, (into,), None, s.HERE)


def corner(s, part, along, across):
    """A notch through the thickness at one corner of a flat part: ``(from, to)`` inches each way."""
    box = Box(
        Span(part.body.x.low + s.inches(along[0]), part.body.x.low + s.inches(along[1])),
        Span(part.body.y.low + s.inches(across[0]), part.body.y.low + s.inches(across[1])),
        part.body.z,
    )
    return BoxCut("notch", box, Face.LEFT, (Face.LEFT, Face.FRONT), None, s.HERE)


def rows_of(s, *parts):
    return make_cut_list(s.plan_of(*parts)).items


def test_copies_share_a_row_wherever_they_stand(s) -> None:
    flat = s.part("a", (20, 10))
    upright = s.part("b", (20, 10), axes=(Z, Y, X), at=(3, 4, 5))
    (row,) = rows_of(s, flat, upright)
    assert row.quantity == 2
    assert (row.length, row.width, row.number) == (s.inches(20), s.inches(10), 1)


@pytest.mark.parametrize(
    ("name", "second"),
    [
        ("longer", {"size": (21, 10)}),
        ("wider", {"size": (20, 11)}),
        ("grain across", {"size": (10, 20)}),
        ("grain free", {"grain": False}),
        ("other stock", {"stock": "ONE_BY_FOUR"}),
    ],
)
def test_what_keeps_rows_apart(s, name: str, second: dict) -> None:
    size = second.pop("size", (20, 10))
    if "stock" in second:
        second["stock"] = getattr(s, second["stock"])
    assert len(rows_of(s, s.part("a", (20, 10)), s.part("b", size, **second))) == 2


def test_one_dado_or_two_that_touch_are_one_shape(s) -> None:
    one, two = s.part("a", (20, 10)), s.part("b", (20, 10))
    one = replace(one, features=(dado(s, one, 5, 7),))
    two = replace(two, features=(dado(s, two, 6, 7), dado(s, two, 5, 6)))
    assert shape_keys(one) == shape_keys(two)
    three = replace(two, features=(dado(s, two, 5, "25/4"), dado(s, two, "13/2", 7)))
    assert shape_keys(one) != shape_keys(three)


def test_a_dado_seen_from_the_other_end_is_the_same_part(s) -> None:
    one, two = s.part("a", (20, 10)), s.part("b", (20, 10))
    one = replace(one, features=(dado(s, one, 5, 6),))
    two = replace(two, features=(dado(s, two, 14, 15),))
    assert len(rows_of(s, one, two)) == 1


def test_left_and_right_sides_are_told_apart_and_refer_to_each_other(s) -> None:
    """A dado near one end and a notch in one corner: turning cannot make the left side a right one."""
    left = s.part("case.side", (20, 10), label="Side")
    left = replace(left, features=(dado(s, left, 3, 4), corner(s, left, (0, 3), (0, 2))))
    right = s.part("case.side.mirrored", (20, 10), kind="case.side", label="Side", mirrored=True, at=(0, 40, 0))
    right = replace(right, features=(dado(s, right, 3, 4), corner(s, right, (0, 3), (8, 10))))
    first, second = rows_of(s, right, left)
    assert (first.part.id, second.part.id) == ("case.side", "case.side.mirrored")
    assert (first.key, second.key) == ("case.side", "case.side.mirrored")
    assert (first.mirror_of, second.mirror_of) == (None, 1)
    assert (first.name, second.name) == ("Side, front", "Side, back")


def test_a_through_notch_alone_is_its_own_mirror_image(s) -> None:
    """Turn the board over and the notch is at the other edge: one row, two pieces."""
    left, right = s.part("a", (20, 10)), s.part("b", (20, 10))
    left = replace(left, features=(corner(s, left, (0, 3), (0, 2)),))
    right = replace(right, features=(corner(s, right, (0, 3), (8, 10)),))
    assert len(rows_of(s, left, right)) == 1


def test_through_holes_match_from_either_face_and_blind_ones_do_not_mirror(s) -> None:
    def bored(name, face, depth, y):
        one = s.part(name, (20, 10))
        z = one.body.z.high if face is Face.TOP else one.body.z.low
        at = Point(s.inches(4), s.inches(y), z)
        return replace(
            one, features=(Bore("hole", face, at, tuple(-v for v in face.normal), s.inches(1), depth, None, s.HERE),)
        )

    through = [bored("a", Face.TOP, None, 3), bored("b", Face.BOTTOM, None, 3)]
    assert len(rows_of(s, *through)) == 1
    blind = [bored("a", Face.TOP, s.inches("1/4"), 3), bored("b", Face.TOP, s.inches("1/4"), 7)]
    rows = rows_of(s, *blind)
    assert len(rows) == 2
    assert [row.mirror_of for row in rows] == [None, 1]


def shared_rows(s, *tools: str):
    parts = s.part("long", (30, 8)), s.part("middle", (25, 5)), s.part("short", (20, 8)), s.part("also", (20, 7))
    plan = s.plan_of(*parts)
    kit = Kit("own", "own", "", frozenset(tools))
    plan = replace(plan, catalogue=replace(plan.catalogue, kits={"own": kit}), making=replace(plan.making, kit="own"))
    return make_cut_list(plan).items


def test_rows_that_share_a_fence_stand_together(s) -> None:
    rows = shared_rows(s, "table saw")
    assert [row.name for row in rows] == ["Long", "Short", "Also", "Middle"]
    assert [row.setup for row in rows] == ["fence A", "fence A, stop B", "stop B", None]


def test_sheets_cut_along_a_straightedge_have_no_letters(s) -> None:
    """Nothing stays set: the layout's order holds."""
    assert [row.setup for row in shared_rows(s, "circular saw", "mitre saw")] == [None] * 4


def test_boards_at_full_width_share_no_fence(s) -> None:
    rows = rows_of(s, s.part("a", (30, "7/2"), stock=s.ONE_BY_FOUR), s.part("b", (20, "7/2"), stock=s.ONE_BY_FOUR))
    assert [row.setup for row in rows] == [None, None]


def test_notes_tell_edges_glue_up_and_ripping(s) -> None:
    edges = tuple(
        EdgeProfile("round-over", pair, s.inches("1/4"), s.HERE)
        for pair in ((Face.FRONT, Face.TOP), (Face.LEFT, Face.TOP))
    )
    top = s.part(
        "top", (40, 16), stock=s.ONE_BY_FOUR, features=edges, glue_up=GlueUp(6, s.inches(3), Y, s.inches("1/2"))
    )
    strip = s.part("strip", (30, 2), stock=s.ONE_BY_FOUR)
    panel, ripped = rows_of(s, top, strip)
    assert panel.note == (
        "Glue up from 6 strips, each 3 in wide. Leave 1/2 in extra all round and trim to size when the glue is dry. "
        "Round over 1/4 in: front top and left top edges."
    )
    assert ripped.note == "Rip to width from 1x4."


@pytest.mark.parametrize(
    ("names", "merged"),
    [
        (["Shelf", "Shelf"], "Shelf"),
        (["Left stile", "Right stile"], "Stile"),
        (["Top rail", "Bottom rail"], "Top and bottom rail"),
        (["Front top rail", "Back top rail"], "Front and back top rail"),
        (["Drawer box front", "Drawer box back"], "Drawer box front and back"),
        (["Kick board", "Spacer"], "Kick board and spacer"),
        (["A rail", "B rail", "C rail"], "A, B and C rail"),
    ],
)
def test_merged_names(names: list[str], merged: str) -> None:
    assert merged_name(names) == merged


def test_every_part_is_on_one_row(s) -> None:
    parts = [s.part(f"p{at}", (20 + at % 3, 10 + at % 2), at=(at, 0, 0)) for at in range(12)]
    cut_list = make_cut_list(s.plan_of(*parts))
    assert sorted(part.id for row in cut_list.items for part in row.parts) == sorted(part.id for part in parts)
    assert [row.number for row in cut_list.items] == list(range(1, len(cut_list.items) + 1))
    assert all(cut_list.item_of(part.id).number for part in parts)
