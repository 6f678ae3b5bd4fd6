"""The trade's words, American and British: each leads to a key or an item that there is, and what is told works when it is typed."""

from __future__ import annotations

import re
from functools import cache
from typing import get_args

import pytest
import yaml

from drawleaf.resources import product_folder
from drawleaf.source.expected import keys_of
from drawleaf.source.joint_models import Fastening, FasteningWord, JointEntry
from drawleaf.source.library import Library, load_library
from drawleaf.source.machining_models import MachiningEntry
from drawleaf.source.models import AssemblyEntry, PartEntry, PlanSource, SourceNode
from drawleaf.source.positions import Positions
from drawleaf.source.trade_words import TradeWord, spelt, trade_words
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
      rail: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 9, bottom: 2}
    joints:
      - {butt: rail, to: side}
    machining:
      - {in: rail, bore: {face: top, at: {x: 3, y: 2}, diameter: 1/2}}
"""
ALL = [(section, word, meant) for section, words in trade_words().items() for word, meant in words.items()]
MODELS: dict[str, type[SourceNode]] = {"joints": JointEntry, "machining": MachiningEntry, "parts": PartEntry}
ITEMS = ("materials", "finishes", "components", "hardware")


@cache
def library() -> Library:
    return load_library([product_folder("shared")])[0]


def known(section: str) -> set[str]:
    if section == "components":
        return set(library().components)
    return set(getattr(library().catalogue, section))


def mends(text: str) -> list[str]:
    tree, positions, found = read_yaml("plan.yaml", text)
    _, more = validate_model(PlanSource, tree, positions, "plan.yaml")
    return [one.mend for one in (*found, *more)]


def faults(model: type[SourceNode], line: str) -> list[str]:
    """What is wrong with a line's keys, but for those that its part has beside them."""
    tree = yaml.load(f"{{{line}}}", yaml.BaseLoader)
    _, found = validate_model(model, tree, Positions({"x": {}}), "x")
    return [one.message for one in found if one.code != "missing-key"]


def test_there_are_many_and_none_is_a_key_already() -> None:
    assert len({word for _, word, _ in ALL}) >= 120
    for section, model in {**MODELS, "plan": PlanSource, "fastenings": Fastening}.items():
        assert not set(trade_words()[section]) & set(keys_of(model)), section
    for section in ITEMS:
        assert not set(trade_words()[section]) & known(section), section


def test_no_word_is_written_twice() -> None:
    from drawleaf.source.trade_words import _FILE

    for section, entries in yaml.safe_load(_FILE.read_text(encoding="utf-8")).items():
        words = [spelt(word) for entry in entries for word in entry["words"]]
        assert sorted(set(words)) == sorted(words), section


@pytest.mark.parametrize(("section", "word", "meant"), ALL, ids=[f"{section} {word}" for section, word, _ in ALL])
def test_what_is_told_is_there_to_write(section: str, word: str, meant: TradeWord) -> None:
    assert meant.write or meant.none
    if not meant.write:
        return
    line = meant.line()
    if section in ITEMS:
        assert line in known(section)
    elif section == "fastenings":
        assert line in get_args(FasteningWord)
    elif section == "plan":
        assert line.removesuffix(":") in keys_of(PlanSource)
    else:
        assert faults(MODELS[section], line) == []


@pytest.mark.parametrize(
    ("line", "key"),
    [
        ("dowel: rail, to: side", "butt"),
        ("lap_joint: rail, in: side", "half_lap"),
        ("rebate: rail, in: side", "rabbet"),
        ("halving: rail, in: side", "half_lap"),
        ("finger_joint: rail, in: side", "box_joint"),
        ("mortise: rail, in: side", "mortise_and_tenon"),
        ("mortice: rail, in: side", "mortise_and_tenon"),
        ("pocket_hole: rail, to: side", "butt"),
        ("miter: rail, in: side", "mitre"),
        ("housing_joint: rail, in: side", "dado"),
        ("biscuit: rail, to: side", "butt"),
        ("floating_tenon: rail, in: side", "mortise_and_tenon"),
        ("dovetail_housing: rail, in: side", "sliding_dovetail"),
        ("tongue_and_groove: rail, in: side", "tongue"),
    ],
)
def test_a_joint_by_the_trades_word_is_told_its_line_with_the_parts_in_it(line: str, key: str) -> None:
    (mend,) = mends(PLAN.replace("butt: rail, to: side", line))
    cure = re.search(r"“([^”]*: rail[^”]*)”", mend)
    assert cure, mend
    assert cure[1].startswith(f"{key}: rail")
    assert "side" in cure[1]
    assert mends(PLAN.replace("butt: rail, to: side", cure[1])) == []


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("miter", "angle_cut"),
        ("curve", "shape"),
        ("bevel", "chamfer"),
        ("end_cut", "angle_cut"),
        ("mortise", "cutout"),
        ("counterbore", "recess"),
        ("arch", "shape"),
        ("drill", "bore"),
        ("roundover", "round_over"),
        ("gain", "recess"),
    ],
)
def test_work_on_a_part_by_the_trades_word_is_told_its_line(word: str, key: str) -> None:
    bore = "bore: {face: top, at: {x: 3, y: 2}, diameter: 1/2}"
    (mend,) = mends(PLAN.replace(bore, f"{word}: {{face: top}}"))
    cure = re.search(rf"“({key}: {{[^”]*)”", mend)
    assert cure, mend
    assert mends(PLAN.replace(bore, cure[1])) == []


def test_what_there_is_not_is_said_plainly() -> None:
    (mend,) = mends(PLAN.replace("butt: rail, to: side", "biscuit: rail, to: side"))
    assert mend.startswith("There are no biscuits")
    assert "Nearest is “butt: rail, to: side, with: [glue, dowels]”." in mend
    (mend,) = mends(PLAN.replace("butt: rail", "scarf: rail"))
    assert mend == "There is no joint that makes a board longer; buy the board longer."


def test_a_word_in_the_wrong_list_is_sent_to_its_own() -> None:
    (mend,) = mends(PLAN.replace("bore: {face: top, at: {x: 3, y: 2}, diameter: 1/2}", "rebate: rail"))
    assert "under “joints:”" in mend
    assert "rabbet: " in mend
    (mend,) = mends(PLAN.replace("to: side}", "to: side, with: [dowel]}"))
    assert mend == "Write “dowels”."


def test_every_section_is_asked_for_by_some_model() -> None:
    from drawleaf.source.misfits import _SECTIONS

    assert {*_SECTIONS.values(), *ITEMS} >= set(trade_words())
    assert AssemblyEntry.__name__ in _SECTIONS


@pytest.mark.parametrize(
    "line",
    [
        "dowel: rail, to: side",
        "trenching: rail, in: side",
        "housing: rail, in: side, depth: 1/4",
        "stopped_housing: rail, in: side",
        "pocket_hole: rail, to: side",
        "tongue_and_groove: rail, in: side",
        "biscuit: rail, to: side",
    ],
)
def test_the_cure_of_a_joint_makes_a_joint(line: str) -> None:
    """The whole plan is resolved with what is told to write."""
    from small_plans import plan_from

    text = PLAN.replace("butt: rail, to: side", line)
    for mend in mends(text):
        cure = re.search(r"“([^”]*: rail[^”]*)”", mend)
        assert cure, mend
        text = PLAN.replace("butt: rail, to: side", cure[1])
    assert plan_from(text).joints


def test_a_housing_for_a_part_that_stands_straight_is_a_dado() -> None:
    from small_plans import plan_from

    plan = plan_from(PLAN.replace("butt: rail, to: side", "housing: rail, in: side, depth: 1/4"))
    assert {joint.family.key for joint in plan.joints} == {"dado"}
    same = plan_from(PLAN.replace("butt: rail, to: side", "dado: rail, in: side, depth: 1/4"))
    assert plan.part("case.rail").size == same.part("case.rail").size


@pytest.mark.parametrize("word", ["yes", "true", "no", "false", "True", '"yes"'])
def test_yes_and_true_are_both_taken_everywhere(word: str) -> None:
    """In a joint, a fastening, a stock, an assembly, a finish, a section and an opening."""
    text = PLAN.replace("nominal: 3/4}", f"nominal: 3/4, special_order: {word}}}")
    text = text.replace("  case:\n", f"  case:\n    loose: {word}\n    upside_down: {word}\n")
    text = text.replace("butt: rail, to: side}", f"butt: rail, to: side, through: {word}, with: [{{glue: {word}}}]}}")
    text += f"finish:\n  - {{sand: [120], before_assembly: {word}}}\n"
    assert mends(text) == []
    tree, positions, _ = read_yaml("plan.yaml", text)
    plan, _ = validate_model(PlanSource, tree, positions, "plan.yaml")
    assert plan is not None
    meant = word.strip('"').lower() in ("yes", "true")
    assert plan.assemblies["case"].loose is plan.finish[0].before_assembly is meant
    assert bool(plan.stock["ply"].special_order) is bool(plan.assemblies["case"].joints[0].through) is meant


def test_what_is_neither_is_told_to_be_one_of_both() -> None:
    assert mends(PLAN.replace("  case:\n", "  case:\n    loose: sometimes\n")) == ["Write yes or no."]
    (mend,) = mends(PLAN.replace("to: side}", "to: side, through: sometimes}"))
    assert "yes" in mend
