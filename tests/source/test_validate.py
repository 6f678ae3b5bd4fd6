"""What does not fit the models is told in an author's words, at its place, all of it in one run."""

from __future__ import annotations

import pytest

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.source.expected import expressions_in
from drawleaf.source.models import PlanSource
from drawleaf.source.validate import validate_model
from drawleaf.source.yaml_tree import read_yaml

FILE = "plan.yaml"

GOOD = """\
plan: {title: Bench, number: B-1, date: 2026-11-20, author: A}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, mirror: {x: 20}}
    joints:
      - {dado: side, in: [a, b], with: [glue, {screws: {count: 2}}]}
"""


def check(text: str) -> tuple[PlanSource | None, tuple[Diagnostic, ...]]:
    tree, positions, found = read_yaml(FILE, text)
    node, misfits = validate_model(PlanSource, tree, positions, FILE)
    return node, found + misfits


def test_a_good_plan_knows_where_its_nodes_stand() -> None:
    plan, found = check(GOOD)
    assert not found
    assert plan is not None
    side = plan.assemblies["case"].parts["side"]
    assert side.path == ("assemblies", "case", "parts", "side")
    assert side.mirror is not None
    assert side.mirror.path == ("assemblies", "case", "parts", "side", "mirror")
    fastening = plan.assemblies["case"].joints[0].with_[1]
    assert fastening.path == ("assemblies", "case", "joints", 0, "with", 1)  # type: ignore[union-attr]
    assert fastening.screws.path[-1] == "screws"  # type: ignore[union-attr]
    assert {plan.source_file, side.source_file, plan.plan.source_file} == {FILE}
    assert plan.shop.path == ("shop",)


def test_defaults_are_not_shared_between_plans() -> None:
    first, _ = check(GOOD)
    tree, positions, _ = read_yaml("other.yaml", GOOD)
    second, _ = validate_model(PlanSource, tree, positions, "other.yaml")
    assert first is not None
    assert second is not None
    assert (first.shop.source_file, second.shop.source_file) == (FILE, "other.yaml")


@pytest.mark.parametrize(
    ("old", "new", "code", "line", "column", "words"),
    [
        ("title:", "titel:", "unknown-key", 1, 8, "Did you mean “title”?"),
        (", author: A", "", "missing-key", 1, 1, "“plan” needs “author”"),
        ("title: Bench", "title: [x]", "wrong-shape", 1, 8, "should be a name or text, not a list"),
        ("title: Bench", "title: true", "wrong-shape", 1, 15, "quotes"),
        ("author: A", "author: A, skill: beginer", "wrong-word", 1, 71, "Did you mean “beginner”?"),
        ("  ply:", "  My-Ply:", "odd-name", 3, 3, "Write “my_ply”."),
        ("  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}", "  ply: plywood", "wrong-shape", 3, 8, "key: value"),
        ("material:", "colour:", "unknown-key", 3, 9, "It may hold material, nominal,"),
        ("left: 0", "lefft: 0", "unknown-key", 7, 50, "Did you mean “left”?"),
        ("left: 0", "left: {a: 1}", "wrong-shape", 7, 50, "a length, number or expression"),
        ("left: 0", "left: [1]", "wrong-shape", 7, 50, "a length, number or expression"),
        ("thickness: x", "thickness: q", "wrong-word", 7, 37, "Write x, y or z."),
        ("grain: z", "grain: anny", "wrong-word", 7, 47, "Did you mean “any”?"),
        ("mirror: {x: 20}", "mirror: 20", "wrong-shape", 7, 67, "Write “mirror: {x: width / 2}”."),
        ("in: [a, b]", "in_: [a, b]", "unknown-key", 9, 22, "Did you mean “in”?"),
        ("dado: side", "dado: {a: 1}", "wrong-shape", 9, 10, "a name or a list of names"),
        ("in: [a, b]", "in: [a, [b]]", "wrong-shape", 9, 30, "Entry 2 of “in” should be a name or text"),
        ("[glue,", "[glu,", "wrong-word", 9, 41, "Did you mean “glue”?"),
        ("{screws: {count: 2}}", "{screw: {count: 2}}", "unknown-key", 9, 48, "Write “screws”."),
        ("{count: 2}", "{cout: 2}", "unknown-key", 9, 57, "Did you mean “count”?"),
        ("{screws: {count: 2}}", "[a]", "wrong-shape", 9, 47, "Entry 2 of “with” should be glue, screws"),
        ("  case:", "  case:\n    loose: maybe", "not-yes-no", 6, 12, "Write yes or no."),
        ("[a, b]", "a, stopped: {frnt: 1}", "unknown-key", 9, 39, "Did you mean “front”?"),
        ("    joints:", "    machining:\n      - {in: a, notch: {corner: [front]}}\n    joints:", "wrong-count", 9, 25, "exactly 2"),
        ("stock:\n", "finish: [{sand: [12a, 80]}]\nstock:\n", "not-whole", 2, 18, "“12a” is no whole number"),
        ("stock:\n", "editions: []\nstock:\n", "wrong-shape", 2, 1, "key: value"),
        ("stock:\n", "counts: null\nstock:\n", "wrong-shape", 2, 9, "not empty"),
    ],
)  # fmt: skip
def test_misfits(old: str, new: str, code: str, line: int, column: int, words: str) -> None:
    assert old in GOOD
    node, found = check(GOOD.replace(old, new, 1))
    assert node is None
    wanted = [one for one in found if one.code == code]
    assert len(wanted) == 1, found
    assert wanted[0].position is not None
    assert (wanted[0].position.line, wanted[0].position.column) == (line, column), found
    assert words in f"{wanted[0].message} {wanted[0].cause} {wanted[0].mend}"
    assert len(found) == 1 or (new == "colour:" and len(found) == 2), found


def test_many_mistakes_in_one_run() -> None:
    text = GOOD.replace("title:", "titel:").replace("thickness: x", "thickness: q").replace("dado:", "dadoo:")
    text = text.replace("[glue,", "[glu,").replace("  ply:", "  Ply:")
    _, found = check(text)
    assert [one.code for one in found] == [
        "unknown-key",
        "odd-name",
        "wrong-word",
        "unknown-key",
        "wrong-word",
    ]
    assert found == tuple(sorted(found, key=lambda one: one.position))  # type: ignore[arg-type, return-value]


@pytest.mark.parametrize("text", ["[]", "x", "[1, 2]"])
def test_a_file_that_is_no_mapping(text: str) -> None:
    _, found = check(text)
    assert [one.code for one in found] == ["wrong-shape"]
    assert found[0].message.startswith("The file should be a mapping")


def test_an_empty_value_is_told_once() -> None:
    _, found = check(GOOD.replace("dado: side", "dado: "))
    assert [one.code for one in found] == ["empty-value"]
    _, found = check(GOOD.replace("number: B-1", "number: "))
    assert [one.code for one in found] == ["empty-value"]


def test_the_expressions_of_a_tree_are_found_even_where_it_is_unsound() -> None:
    tree, _, _ = read_yaml(FILE, GOOD.replace("title:", "titel:").replace("thickness: x", "thickness: q"))
    found = list(expressions_in(PlanSource, tree))
    assert found == [
        (("stock", "ply", "actual"), "23/32"),
        (("assemblies", "case", "parts", "side", "left"), "0"),
        (("assemblies", "case", "parts", "side", "mirror", "x"), "20"),
        (("assemblies", "case", "joints", 0, "with", 1, "screws", "count"), "2"),
    ]
