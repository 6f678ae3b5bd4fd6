"""Wrong words and values without their keys: what a beginner writes is told with what to type instead, and that is itself right."""

from __future__ import annotations

import pytest
import yaml

from drawleaf.source import library_models, models
from drawleaf.source.expected import keys_of
from drawleaf.source.models import PlanSource, SourceNode
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Positions
from drawleaf.source.slips import EXAMPLES, MEANT
from drawleaf.source.validate import validate_model
from drawleaf.source.yaml_tree import read_yaml

PLAN = """\
plan: {title: Bench, number: B-1, date: 2026-11-20, author: A}
stock:
  ply: {material: birch plywood, nominal: 3/4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 9, bottom: 0, high: 20, mirror: {x: 20}}
    joints:
      - {dado: shelf, in: side, with: [glue, {screws: {count: 2}}]}
    machining:
      - {in: side, bore: {face: left, at: {y: 2, z: 3}, diameter: 1/2}}
    hardware:
      - {item: knob, on: side, face: left, at: {y: 2, z: 3}}
finish:
  - {sand: [120, 180]}
"""


def mends(text: str) -> list[str]:
    tree, positions, found = read_yaml("plan.yaml", text)
    _, more = validate_model(PlanSource, tree, positions, "plan.yaml")
    return [one.mend for one in (*found, *more)]


@pytest.mark.parametrize(
    ("old", "new", "mend"),
    [
        ("high: 20", "height: 20", "“high” along z"),
        ("deep: 9", "depth: 9", "“deep” along y"),
        ("nominal: 3/4", "thickness: 3/4", "as the label says it is “nominal”"),
        ("{count: 2}", "{length: 2}", "“item: wood screw 8 x 1-1/4”"),
        ("diameter: 1/2", "size: 1/2", "is written after “diameter”"),
        ("mirror: {x: 20}", "mirror: x", "Write “mirror: {x: width / 2}”."),
        ("[glue, {screws: {count: 2}}]", "glue", "Write “with: [glue]”."),
        ("[glue, {screws: {count: 2}}]", "[glue, nails]", "Write “brads”."),
        ("sand: [120, 180]", "sand: 120, 180", "Write “sand: [120, 180]”"),
        ("deep: 9", "deep: 9,5", "Write “deep: 9.5” for a decimal, with a point."),
        ("author: A}", "author: A, lengths: inch}", "Write “in”."),
        (", grain: z", "", "Add “grain:”. The axis along which its grain runs, or any."),
        ("title: Bench", "title: #4 bench", "Put a text with “#” in it in quotes"),
        ("finish:\n", "checks:\n  climate: #1\nfinish:\n", 'in quotes: climate: "#1".'),
        ("face: left, at", "face: Left, at", "Did you mean “left”?"),
    ],
)
def test_what_to_type_is_told(old: str, new: str, mend: str) -> None:
    assert any(mend in told for told in mends(PLAN.replace(old, new, 1))), mends(PLAN.replace(old, new, 1))


@pytest.mark.parametrize(
    ("line", "instead", "mend"),
    [
        ("  ply: {material", "  ply {material", "Write “ply: {”."),
        ("thickness: x, grain", "thickness:x, grain", "Write “thickness: x”."),
        ("mirror: {x: 20}}", "mirror: {x: 20}", "Close it at the end of line 7"),
        ("plan: {title: Bench,", "plan:\n  title: Bench: a low one\n#", 'title: "Bench: a low one".'),
        ("finish:", "  width:26\nfinish:", "Write “width: 26”."),
    ],
)
def test_broken_lines_are_told_with_the_line_as_it_should_be(line: str, instead: str, mend: str) -> None:
    assert any(mend in told for told in mends(PLAN.replace(line, instead, 1))), mends(PLAN.replace(line, instead, 1))


def test_only_keys_that_are_not_there_have_another_meaning() -> None:
    for name, meant in MEANT.items():
        model = getattr(models, name, None) or getattr(library_models, name)
        assert issubclass(model, SourceNode)
        assert not set(meant) & set(keys_of(model)), name


def test_every_example_is_one_that_its_key_takes() -> None:
    """The example stands in some model's key of that name and fits it."""
    every = [model for model in vars(models).values() if isinstance(model, type) and issubclass(model, SourceNode)]
    for key, example in EXAMPLES.items():
        value = yaml.load(example, yaml.BaseLoader)
        fits = 0
        for model in every:
            if key in keys_of(model):
                _, found = validate_model(model, {key: value}, Positions({"x": {}}), "x")
                fits += not [one for one in found if one.code != "missing-key"]
        assert fits, key


@pytest.mark.parametrize(
    ("name", "known", "told"),
    [
        ("sied", ["side", "back"], "Did you mean “side”?"),
        ("dowel", ["pine board", "hardwood dowel rod"], "Did you mean “hardwood dowel rod”?"),
        ("oak", ["red oak board", "white oak board", "pine"], "Did you mean “red oak board” or “white oak board”?"),
        ("slides 12", ["side slides 12 in", "under slides 12 in", "side slides 14 in"], "“side slides 12 in” or “under slides 12 in”"),
        ("screw 8 x 9", ["screw 8 x 3", "screw 8 x 1-1/2", "screw 10 x 2"], "After “screw 8 x” stands 1-1/2 or 3."),
        ("hinge", ["hinge 2 in", "hinge 1-1/2 in"], "After “hinge” stands 1-1/2 in or 2 in."),
        ("walnut", ["pine board", "birch plywood"], "Write “birch plywood” or “pine board”."),
            ("walnut", [f"wood {letter}" for letter in "abcdefghijklm"], ""),
    ],
)  # fmt: skip
def test_names_half_remembered(name: str, known: list[str], told: str) -> None:
    assert told in did_you_mean(name, known)
    assert bool(told) == bool(did_you_mean(name, known))
