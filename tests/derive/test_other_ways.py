"""Another way of a line: worked out like the first, told by what differs, and taken by an edition."""

from __future__ import annotations

import re

import pytest

from drawleaf.book.chapters import other_ways
from drawleaf.book.chapters.context import Book
from drawleaf.compiler import Choice, Outcome
from drawleaf.draw.drawings import Desk
from drawleaf.model.derived import Derived, OtherWay
from drawleaf.model.drawings import Drawings
from drawleaf.solids.build import build_solids
from small_plans import derived_from, outcome_from

BOX = """\
plan: {title: Wall box, number: W-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 12, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      top: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, top: 12}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 6}
    joints:
      - {rabbet: [floor, top], in: side, depth: 1/4, with: [glue]}
      - name: shelf_joint
        dado: shelf
        in: side
        depth: 1/4
        with: [glue]
        another_way: {name: pocket_screwed, butt: shelf, to: side, with: [{pocket_screws: {count: 3, on: bottom}}]}
    machining:
      - {name: pull, in: top, finger_hole: {face: top, at: {x: 10, y: 2}, diameter: 1}, another_way: {name: notched, in: top, cutout: {face: top, at: {x: 10, y: 0}, wide: 3, deep: 2}}}
editions:
  screwed: {another_way: [pocket_screwed]}
"""


@pytest.fixture(scope="module")
def box() -> Derived:
    return derived_from(BOX)


def plain(text: object) -> str:
    return (
        re.sub(r"<[^>]+>", "", str(text))
        .replace("⁄", "/")
        .replace("\u2009", " ")
        .replace("\u00a0", " ")
        .replace("\u202f", " ")
    )


def way(derived: Derived, an_id: str) -> OtherWay:
    return next(one for one in derived.ways if one.id == an_id)


def kinds(one: OtherWay) -> list[str]:
    return [op.kind for step in one.steps for op in step.operations]


def test_a_joint_is_worked_out_in_the_other_way(box: Derived) -> None:
    """Its pockets and screws, its tools, the shorter shelf; in place of the dado and of the step that sets the shelf in it."""
    screwed = way(box, "pocket_screwed")
    assert screwed.name == "Pocket screwed"
    assert kinds(screwed) == ["pocket-holes", "join"]
    assert [(use.item.kind, use.count) for use in screwed.more] == [("pocket screw", 6)]
    assert screwed.fewer == ()
    assert {"pocket-hole jig"} <= {tool.id for tool in screwed.tools}
    replaced = [step for step in box.steps if step.number in screwed.in_place_of]
    assert next(step.id for step in replaced) == "dado-side"
    assert screwed.sized == ("box.shelf",)
    assert [one.plan.part("box.shelf").size[0].inches for one in (box, screwed.derived)] == [19, 18.5]


def test_machining_is_worked_out_in_the_other_way(box: Derived) -> None:
    notched = way(box, "notched")
    assert kinds(notched) == ["cutout"]
    assert notched.sized == ()
    replaced = [step for step in box.steps if step.number in notched.in_place_of]
    assert [op.kind for step in replaced for op in step.operations] == ["bore"]


def test_the_booklet_tells_it_with_the_balloons_of_the_first(box: Derived) -> None:
    """A shelf that is cut shorter is no longer alike to the floor and the top, and keeps their number all the same."""
    numbers = {part.id: item.number for item in box.cut_list.items for part in item.parts}
    for one in box.ways:
        for item in one.derived.cut_list.items:
            assert {numbers[part.id] for part in item.parts} == {item.number}
    book = Book.of(box, Drawings(None, (), (), {}, {}, {}, {}), for_print=False)  # type: ignore[arg-type]
    gathered = other_ways.gather(book)
    assert gathered is not None
    told = gathered["ways"][0]
    assert [(str(name), plain(was), plain(now)) for name, was, now in told["sizes"]] == [
        ("Shelf", "19 in × 10 in", "18 1/2 in × 10 in")
    ]
    assert [len(step["full"]) for step in told["steps"]] == [1, 0]  # a caution stands in full once


def test_each_of_its_steps_is_drawn(box: Derived) -> None:
    """The drawing that the step has in a booklet of that way: the shelf as long as that way cuts it, no dado."""
    drawn = {way.id: Desk(box, build_solids(box.plan)).way(way) for way in box.ways}
    for one in box.ways:
        assert [drawing.number for drawing in drawn[one.id]] == [step.number for step in one.steps]
    joined = drawn["pocket_screwed"][-1]
    assert joined.id == f"way-pocket_screwed-step-{joined.number:02d}"
    assert "6 fasteners go in: " in joined.alt
    assert "pocket screws" in joined.alt
    drawings = Drawings(None, (), (), {}, {}, {}, {}, ways=drawn)  # type: ignore[arg-type]
    gathered = other_ways.gather(Book.of(box, drawings, for_print=False))
    assert gathered is not None
    assert [step["drawing"].kind for way in gathered["ways"] for step in way["steps"]] == ["step"] * 3


def test_the_checks_are_run_on_it(box: Derived) -> None:
    """What is held otherwise is judged anew; what passes in both is not told again, though the box weighs less. A dado that leaves
    too little of the side is found in the other way, at its line."""
    screwed = way(box, "pocket_screwed")
    assert {one.check for one in screwed.derived.checks} >= {"screws", "shelf-sag", "heavy-lift"}
    assert [one.check for one in screwed.checks] == ["screws"]
    drawings = Drawings(None, (), (), {}, {}, {}, {})  # type: ignore[arg-type]
    gathered = other_ways.gather(Book.of(box, drawings, for_print=False))
    assert gathered is not None
    assert plain(gathered["ways"][0]["checks"][0]).startswith("Screws and brads. Pocket screws, 6 in all")
    deep = BOX.replace("another_way: {name: pocket_screwed, butt: shelf, to: side, with: [{pocket_screws: {count: 3, on: bottom}}]}",
                       "another_way: {name: pocket_screwed, dado: shelf, in: side, depth: 5/8, with: [glue]}")  # fmt: skip
    found = [one for one in outcome_from(deep).diagnostics if one.code == "joint-proportions"]
    assert found
    assert all(one.message.startswith("In the other way “pocket_screwed”: ") for one in found)
    assert {one.position.line for one in found if one.position} == {deep[: deep.index("another_way")].count("\n") + 1}


def test_a_waiver_that_only_another_way_needs_is_not_idle() -> None:
    waive = "checks: {waive: [{check: joint-proportions, on: box.side, reason: It carries little.}, {check: stability, reason: None.}]}\n"
    deep = "another_way: {name: pocket_screwed, dado: shelf, in: side, depth: 5/8, with: [glue]}\n"
    source = re.sub(r"another_way: \{name: pocket_screwed.*\n", deep, BOX).replace("editions:", waive + "editions:")
    found = outcome_from(source).diagnostics
    assert "joint-proportions" not in {one.code for one in found}
    assert [one.code for one in found if one.code in ("idle-waiver", "unknown-check")] == ["unknown-check"]


def test_an_edition_takes_it_and_the_booklet_then_tells_no_other(box: Derived) -> None:
    taken = derived_from(BOX, Choice("screwed"))
    assert "pocket-holes-box" in {step.id for step in taken.steps}
    assert "dado-side" not in {step.id for step in taken.steps}
    assert [one.id for one in taken.ways] == ["notched"]
    assert {one.id for one in box.ways} == {"pocket_screwed", "notched"}


def test_what_is_wrong_with_another_way_is_told_at_its_line() -> None:
    wrong: Outcome = outcome_from(BOX.replace("count: 3, on: bottom", "count: 3, on: left"))
    assert wrong.failed
    assert all(
        one.message.startswith("In the other way “pocket_screwed”: ") for one in wrong.diagnostics if one.is_error
    )
    assert {one.position.line for one in wrong.diagnostics if one.is_error and one.position} == {
        BOX[: BOX.index("another_way")].count("\n") + 1
    }


def test_advice_on_the_plan_itself_is_not_given_again_for_each_way() -> None:
    """A loose block has nothing to do with how the shelf is held."""
    block = "      block: {stock: ply, thickness: z, grain: x, left: 3, right: 6, front: 3, back: 6, bottom: 2}\n    joints:\n"
    found = outcome_from(BOX.replace("    joints:\n", block, 1)).diagnostics
    assert [one.message for one in found if one.code == "not-joined"] == [
        "“box.block”: no joint ties it to the rest of the piece"
    ]
