"""Parts and assemblies that are like others: what they take, what they change, and where their mistakes stand."""

from __future__ import annotations

from tests.small_plans import outcome_from, plan_from

from drawleaf.source.likeness import written_out
from drawleaf.source.yaml_tree import read_yaml
from drawleaf.units import Length

CRATE = """
plan: {title: Crate, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  board: {material: pine board, size: 1x6}
assemblies:
  crate:
    parts:
      end: {stock: board, thickness: x, grain: z, left: 0, front: 0, back: 5, bottom: 0, top: 12, mirror: {x: 8}}
      low: {stock: board, thickness: z, grain: x, left: end.right, right: end.mirrored.left, front: 0, deep: 5, bottom: 0}
MORE
    joints:
      - {butt: [low, high], to: end, with: [glue, {screws: {count: 2}}]}
OTHERS
"""


def crate(more: str, others: str = "") -> str:
    return CRATE.replace("MORE", f"      {more}").replace("OTHERS", others)


def tree_of(text: str) -> dict:
    tree, positions, _ = read_yaml("plan.yaml", text)
    whole, _, found = written_out(tree, positions, "plan.yaml")
    assert found == ()
    return whole


def test_a_part_takes_what_another_says() -> None:
    """Its stock, faces and twins, but not its name; what it says itself stands in their place."""
    parts = plan_from(crate("high: {name: Upper board, like: low, bottom: 8}")).parts
    low, high = (next(one for one in parts if one.id == f"crate.{key}") for key in ("low", "high"))
    assert high.name == "Upper board"
    assert low.name == "Low"
    assert (high.seen.x, high.seen.y) == (low.seen.x, low.seen.y)
    assert high.seen.z.low == Length.of_inches(8)


def test_a_face_takes_the_place_of_the_same_or_of_all_on_its_axis() -> None:
    """`left` alone changes `left`; `wide`, which the other does not give, drops its `left` and `right`."""
    base = "a: {like: b}, b: {left: 1, right: 5, front: 0, deep: 2}"
    tree = tree_of(f"parts: {{{base}, c: {{like: b, left: 2}}, d: {{like: b, left: 2, wide: 3, top: 4}}}}")["parts"]
    assert {**tree["a"], "like": ""} == {"like": "", "left": "1", "right": "5", "front": "0", "deep": "2"}
    assert tree["c"] == {"like": "b", "left": "2", "right": "5", "front": "0", "deep": "2"}
    assert tree["d"] == {"like": "b", "left": "2", "wide": "3", "front": "0", "deep": "2", "top": "4", "thickness": "z"}


def test_no_takes_a_twin_away() -> None:
    """A part like a mirrored one has a twin, unless it says `mirror: no`."""
    ids = [
        one.id
        for one in plan_from(crate("high: {like: low, bottom: 8}\n      rest: {like: end, left: 7, mirror: no}")).parts
    ]
    assert "crate.rest" in ids
    assert "crate.rest.mirrored" not in ids


def test_an_assembly_takes_all_of_another() -> None:
    """Its parts and joints, where its own `at` puts it; the name of the other, where it means itself, becomes its own."""
    text = crate(
        "high: {like: low, bottom: 8}",
        "  second: {like: crate, at: {x: 20}, parts: {low: {bottom: 1}, third: {like: low, bottom: 4}}, joints: [{butt: third, to: second.end, with: [glue]}]}",
    )
    plan = plan_from(text)
    ids = [one.id for one in plan.parts]
    taken = [one.replace("crate", "second") for one in ids if one.startswith("crate")]
    assert [one for one in ids if one.startswith("second")] == [*taken, "second.third"]
    low = next(one for one in plan.parts if one.id == "second.low")
    assert (low.seen.x.low - plan.parts[0].seen.x.high, low.seen.z.low) == (Length.of_inches(20), Length.of_inches(1))
    assert {one.line.split(".")[0] for one in plan.joints} == {"crate", "second"}


def test_what_names_itself_names_the_copy() -> None:
    """In keys that name parts, and before a part's name in a sum; not in a stock of the same name, nor in words."""
    text = "assemblies: {a: {parts: {p: {stock: a, note: a, left: a.p.right}}, hardware: [{on: a, carries: b}]}, c: {like: a}}"
    copy = tree_of(text)["assemblies"]["c"]
    assert copy["parts"]["p"] == {"stock": "a", "note": "a", "left": "c.p.right"}
    assert copy["hardware"] == [{"on": "c", "carries": "b"}]


def test_a_side_is_no_name() -> None:
    """An assembly called `front` may be copied: `on: front` stays the side."""
    text = "assemblies: {front: {joints: [{half_lap: p, in: q, on: front}]}, back: {like: front}}"
    assert tree_of(text)["assemblies"]["back"]["joints"][0]["on"] == "front"


def test_a_named_line_is_changed_and_others_are_added() -> None:
    """A line with the name of one that is taken stands in its place; a line without a name comes behind."""
    text = "assemblies: {a: {joints: [{name: n, depth: 1}, {depth: 2}]}, c: {like: a, joints: [{depth: 3}, {name: n, depth: 4}]}}"
    lines = tree_of(text)["assemblies"]["c"]["joints"]
    assert [one["depth"] for one in lines] == ["4", "2", "3"]


def test_a_mistake_is_told_where_it_is_written() -> None:
    """A key that was taken has its mistake once, in the line that wrote it; an own key in its own line."""
    text = crate("high: {like: low, bottom: 8, deep: 3 - }").replace("front: 0, deep: 5", "front: 0, dep: 5")
    found = outcome_from(text).diagnostics
    lines = text.splitlines()
    told = sorted((one.code, "low: {" in lines[one.position.line - 1]) for one in found if one.position)
    assert told == [("unknown-key", True), ("value-missing", False)]


def test_the_place_of_what_was_taken_is_kept() -> None:
    """A size that cannot be worked out is pointed at in the line of the part that wrote it."""
    text = crate("high: {like: low, bottom: 8}").replace("end.mirrored.left, front: 0", "end.mirored.left, front: 0")
    lines = {one.position.line for one in outcome_from(text).diagnostics if one.position}
    assert len(lines) == 1
    assert "low: {" in text.splitlines()[lines.pop() - 1]


def test_likenesses_in_a_ring_are_refused() -> None:
    """Two parts that are like each other are nothing."""
    found = outcome_from(crate("high: {like: other}\n      other: {like: high}")).diagnostics
    assert [one.code for one in found if one.code == "like-ring"] == ["like-ring"]


def test_likeness_to_nothing_is_refused() -> None:
    """The nearest name is offered, and typed in it is good."""
    text = crate("high: {like: lo, bottom: 8}")
    told = next(one for one in outcome_from(text).diagnostics if one.code == "unknown-like")
    assert "“low”" in told.mend
    assert not [one for one in outcome_from(text.replace("like: lo,", "like: low,")).diagnostics if one.is_error]


def test_likenesses_cannot_grow_without_end() -> None:
    """Assemblies in assemblies, each twice: refused before the computer's memory is full."""
    text, inner = "", "p: {parts: {q: {stock: board}}}"
    for _ in range(25):
        inner = f"a: {{assemblies: {{{inner}}}}}, b: {{like: a}}"
    text = f"assemblies: {{{inner}}}"
    tree, positions, _ = read_yaml("plan.yaml", text)
    whole, _, found = written_out(tree, positions, "plan.yaml")
    assert whole is None
    assert found[-1].code == "file-too-large"
