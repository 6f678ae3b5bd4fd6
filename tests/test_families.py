"""A joint family lives in its folder: the other rooms ask it typed questions and never name it."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path

import pytest

from drawleaf.joinery import BROUGHT, FAMILIES
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.hardware_family import HARDWARE_FAMILIES
from drawleaf.model.joint_family import CutKind

SOURCE = Path(__file__).resolve().parent.parent / "src" / "drawleaf"
FILES = sorted(SOURCE.rglob("*.py"))
KEYS = {family.facts.key for family in (*FAMILIES, *BROUGHT)}
# Words that say something else there: nouns with plurals of their own, the butt end of a drawn line, a slot for a digit, a corner of a box, the codes of expressions.
OTHER_MEANINGS = {
    "english.py": {"dado"},
    "draw/paper/style.py": {"butt"},
    "draw/picture/picture.py": {"mitre"},
    "book/words/format.py": {"slot"},
    "resolve/fittings/families/table_tops.py": {"slot"},
    "solids/hardware_bodies.py": {"slot"},
    "model/settings/joints.py": {"slot"},
    "draw/at_step/bored.py": {"slot"},
    "draw/part/marks/joints.py": {"slot"},
    "draw/part/marks/screws.py": {"slot"},
    "setting_out/slants.py": {"mitre"},
    "book/words/phrases/angles.py": {"mitre"},
}
CATALOGUE = {"model/joint_family.py", "model/catalogue.py"}
"""Where kinds of cuts and of fasteners are listed once."""
AUTHORS_WORDS = {"source/slips.py", "source/renames.py"}
"""Where an author's slips, and keys that had another name, are told with the source's own words."""


@cache
def nodes(file: Path) -> tuple[ast.AST, ...]:
    """The file's syntax tree, flat; empty where its text holds none of the words that are looked for, which is soon seen."""
    text = file.read_text(encoding="utf-8")
    if not any(word in text for word in (*KEYS, *FastenerKind, *CutKind)):
        return ()
    return tuple(ast.walk(ast.parse(text)))


@cache
def strings(file: Path) -> frozenset[str]:
    """Every string of a file that is no docstring."""
    told = {id(node.value) for node in nodes(file) if isinstance(node, ast.Expr)}
    return frozenset(
        node.value
        for node in nodes(file)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told
    )


def every_string(file: Path) -> frozenset[str]:
    """The same of any file, whether or not it holds a word of a joint."""
    text = file.read_text(encoding="utf-8")
    if not any(word in text for word in HARDWARE):
        return frozenset()
    tree = ast.parse(text)
    told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    return frozenset(
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told
    )


def named_in(file: Path, words: set[str]) -> set[str]:
    """Which of these words a file holds as a string of its own."""
    name = str(file.relative_to(SOURCE))
    if name in CATALOGUE | AUTHORS_WORDS:
        return set()
    return (words & strings(file)) - OTHER_MEANINGS.get(name, set())


@pytest.mark.parametrize("room", sorted({file.relative_to(SOURCE).parts[0] for file in FILES} - {"joinery"}))
def test_no_other_room_names_a_joint_family(room: str) -> None:
    """``joint.family.crossing``, not ``joint.family == "dovetail"``; kinds of cuts are a ``CutKind``."""
    files = [file for file in FILES if file.relative_to(SOURCE).parts[0] == room]
    found = {str(file.relative_to(SOURCE)): named_in(file, KEYS) for file in files}
    assert {file: words for file, words in found.items() if words} == {}


def test_no_family_names_another() -> None:
    """Within joinery a family's word stands in its own answers alone; those of another may call a channel by the same noun."""
    for file in FILES:
        name = str(file.relative_to(SOURCE))
        found = named_in(file, KEYS)
        assert not found or name in {f"joinery/{key}/__init__.py" for key in KEYS}, f"{name}: {found}"
    assert all(key in strings(SOURCE / "joinery" / key / "__init__.py") for key in KEYS)


def test_no_room_compares_a_cut_s_or_a_fastener_s_kind_as_a_string() -> None:
    """``cut.kind == CutKind.TAIL``: a kind that is misspelt is then an error, and who uses it is found."""
    kinds = {kind.value for kind in (*FastenerKind, *CutKind)}
    compared: dict[str, list[int]] = {}
    for file in FILES:
        for node in nodes(file):
            if isinstance(node, ast.Compare):
                operands = [one for side in (node.left, *node.comparators) for one in ast.walk(side)]
                if any(isinstance(one, ast.Constant) and one.value in kinds for one in operands):
                    compared.setdefault(str(file.relative_to(SOURCE)), []).append(node.lineno)
    assert compared == {}


HARDWARE = {family.key for family in HARDWARE_FAMILIES}
ANSWERS = "model/hardware_family.py"
"""Where the answers of each family of hardware stand, once."""
# Words that say something else there: rows of holes for pins, a hole for a hook, names that an author may still write.
OTHER_HARDWARE = {
    "checks/pin_rows.py": {"shelf pin"},
    "derive/operations/machining.py": {"shelf pin"},
    "draw/part/marks/all_marks.py": {"shelf pin"},
    "draw/template/hole_subjects.py": {"shelf pin"},
    "resolve/fittings/fitting.py": {"shelf pin"},
    "resolve/machining/machining.py": {"shelf pin"},
    "resolve/fittings/families/under_mount.py": {"hook"},
    "source/renames.py": {"concealed hinge", "undermount slides", "inset magnet"},
}


def test_no_room_names_a_family_of_hardware() -> None:
    """``fitting.item.family.hangs``, not ``fitting.item.kind in ("hanger", "wall screw")``."""
    found = {}
    for file in FILES:
        name = str(file.relative_to(SOURCE))
        named = (HARDWARE & every_string(file)) - OTHER_HARDWARE.get(name, set())
        if named and name != ANSWERS and not name.startswith("codes/"):
            found[name] = named
    assert found == {}
    assert every_string(SOURCE / ANSWERS) >= HARDWARE


def test_no_template_names_a_family_of_hardware() -> None:
    """``op.fittings[0].item.family.all_along``: a template asks too."""
    compared = re.compile(r"""(?:==|!=|\bin) ?\(?['"]([^'"]+)['"]""")
    files = sorted((SOURCE.parent.parent / "templates").rglob("*.j2"))
    assert files
    named = {file.name: HARDWARE & set(compared.findall(file.read_text(encoding="utf-8"))) for file in files}
    assert {name: words for name, words in named.items() if words} == {}


PLAIN = ("mortise_and_tenon", "breadboard", "half_lap", "bridle", "box_joint", "dovetail", "sliding_dovetail")
"""Families whose word is no kind of cut and no common word besides."""


@pytest.mark.parametrize("key", PLAIN)
def test_a_family_lives_in_at_most_four_files(key: str) -> None:
    """Its folder, and the one list that names it; no other file of the source imports it or says its word."""
    sought = (f'"{key}"', f"drawleaf.joinery.{key}.", f"drawleaf.joinery.{key} ")
    home = {file for file in FILES if file.parent == SOURCE / "joinery" / key}
    named = {file for file in FILES if any(one in file.read_text(encoding="utf-8") for one in sought)}
    assert named <= home | {SOURCE / "joinery" / "__init__.py"}
    assert len(home | named) <= 4


def test_a_family_is_a_folder_of_its_name_with_its_answers() -> None:
    folders = {one.parent.name for one in (SOURCE / "joinery").glob("*/__init__.py")}
    assert folders == KEYS
    assert all(family.facts.noun and family.facts.plural and family.facts.sits for family in FAMILIES)
