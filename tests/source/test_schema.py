"""The JSON Schemas: up to date, with words on every key, taking what the compiler takes and refusing what it refuses."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from drawleaf.source import models
from drawleaf.source.key_words import KEY_WORDS
from drawleaf.source.models import ComponentSource, PlanSource, SourceNode
from drawleaf.source.schema import FILES, schema_of, schemas, words_of
from drawleaf.source.yaml_tree import read_yaml

ROOT = Path(__file__).resolve().parents[2]
PLAN = schema_of(PlanSource, "Plan")
COMPONENT = schema_of(ComponentSource, "Component")
SOURCES = sorted((ROOT / "plans").glob("*/plan.yaml"))


def as_an_editor_reads(tree: Any) -> Any:
    """The tree with figures as numbers, as YAML editors hand it to their checker."""
    if isinstance(tree, dict):
        return {key: as_an_editor_reads(value) for key, value in tree.items()}
    if isinstance(tree, list):
        return [as_an_editor_reads(value) for value in tree]
    if isinstance(tree, str) and re.fullmatch(r"-?\d+(\.\d+)?", tree):
        return float(tree) if "." in tree else int(tree)
    return tree


def tree_of(file: Path) -> Any:
    tree, _, found = read_yaml(file.name, file.read_text(encoding="utf-8"))
    assert found == ()
    return tree


def mistakes(schema: dict[str, Any], tree: Any) -> list[str]:
    checker = jsonschema.Draft202012Validator(schema)
    return [f"{list(one.absolute_path)}: {one.message}" for one in checker.iter_errors(tree)]


@pytest.mark.parametrize("name", FILES)
def test_the_files_are_up_to_date(name: str) -> None:
    written = (ROOT / "docs" / "schema" / name).read_text(encoding="utf-8")
    assert written == schemas()[name], f"docs/schema/{name} is stale: run `make docs`"
    jsonschema.Draft202012Validator.check_schema(json.loads(written))


@pytest.mark.parametrize("file", SOURCES, ids=lambda file: file.parent.name)
def test_the_example_plans_fit(file: Path) -> None:
    assert mistakes(PLAN, as_an_editor_reads(tree_of(file))) == []


@pytest.mark.parametrize("file", sorted((ROOT / "shared" / "components").glob("*.yaml")), ids=lambda file: file.stem)
def test_the_components_fit(file: Path) -> None:
    assert mistakes(COMPONENT, as_an_editor_reads(tree_of(file))) == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("plan", "titel"), "Bench"),
        (("plan", "lengths"), "inch"),
        (("plan", "title"), ["Bench"]),
        (("dimensions", "Top-Width"), 3),
        (("stock",), "pine"),
        (("assemblies", "ledge", "parts", "lip", "thickness"), "w"),
        (("assemblies", "ledge", "joints"), {"butt": "shelf"}),
    ],
)
def test_it_refuses_what_the_compiler_refuses(path: tuple[str, ...], value: Any) -> None:
    tree = as_an_editor_reads(tree_of(ROOT / "plans" / "key-ledge" / "plan.yaml"))
    assert mistakes(PLAN, tree) == []
    place = tree
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    assert mistakes(PLAN, tree) != []


@pytest.mark.parametrize("schema", [PLAN, COMPONENT], ids=["plan", "component"])
def test_every_key_has_words(schema: dict[str, Any]) -> None:
    bare = [
        f"{name}: {key}"
        for name, part in [("top", schema), *schema["$defs"].items()]
        for key, value in part.get("properties", {}).items()
        if not value.get("description")
    ]
    assert bare == [], "say it in the field of the model, or in key_words.py"


def test_no_words_for_a_key_that_is_gone() -> None:
    keys = {
        (node.__name__, info.alias or name)
        for node in vars(models).values()
        if isinstance(node, type) and issubclass(node, SourceNode)
        for name, info in node.model_fields.items()
    }
    plain = {key for _, key in keys}
    assert [key for key in KEY_WORDS if (key not in keys if key[0] else key[1] not in plain)] == []


def test_no_words_stand_in_the_shadow_of_the_models_own() -> None:
    """A field's own words win: others for the same key would be read by nobody."""
    owners = {
        node.__name__: node for node in vars(models).values() if isinstance(node, type) and issubclass(node, SourceNode)
    }
    assert [key for key in KEY_WORDS if key[0] and words_of(owners[key[0]], key[1]) != KEY_WORDS[key]] == []
