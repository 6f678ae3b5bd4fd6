"""The pages on the source language and the shared folder: examples are sound, tables true, and no key is left out."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.resolve.resolver import resolve
from drawleaf.resources import product_folder, shared_folders
from drawleaf.source import library_models, models
from drawleaf.source.expected import expressions_in
from drawleaf.source.expressions import parse_expression
from drawleaf.source.library import load_library
from drawleaf.source.library_models import MODELS, PriceBookEntry
from drawleaf.source.likeness import written_out
from drawleaf.source.models import AssemblyEntry, ComponentSource, PlanSource, SourceNode
from drawleaf.source.reader import read_plan
from drawleaf.source.validate import validate_model
from drawleaf.source.yaml_tree import read_yaml
from drawleaf.units import Length

DOCS = Path(__file__).parents[2] / "docs"
TEXT = (DOCS / "source-language.md").read_text(encoding="utf-8")
SHARED_TEXT = (DOCS / "shared-folder.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"^```yaml ?(?P<kind>[a-z_ ]*)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)
BLOCKS = [(match["kind"], match["text"]) for match in BLOCK.finditer(TEXT + SHARED_TEXT)]
WHOLE = next(text for kind, text in BLOCKS if kind == "plan")
NAMES = {"width": Length.of_inches(42), "hooks": 5}


def tree_of(text: str) -> dict[str, Any]:
    tree, _, found = read_yaml("page", text)
    assert found == ()
    assert isinstance(tree, dict)
    return tree


def sound(model: type[SourceNode], tree: Any) -> None:
    """The tree fits the model and all its expressions can be read."""
    _, positions, _ = read_yaml("page", "{}")
    tree, positions, unlike = written_out(tree, positions, "page")
    assert unlike == ()
    node, found = validate_model(model, tree, positions, "page")
    assert found == ()
    assert node is not None
    for path, text in expressions_in(model, tree):
        read = parse_expression(text, Position("page", 1, 1, len(text)))
        assert not isinstance(read, Diagnostic), (path, text, read)


def test_every_block_says_what_it_is() -> None:
    shared = {f"shared {kind}" for kind in (*MODELS, "prices")}
    assert {kind for kind, _ in BLOCKS} == {"plan", "top", "assembly", "component"} | shared


@pytest.mark.parametrize(("kind", "text"), BLOCKS, ids=[f"{kind}-{at}" for at, (kind, _) in enumerate(BLOCKS)])
def test_examples_fit_the_language(kind: str, text: str) -> None:
    tree = tree_of(text)
    match kind.split():
        case ["plan"]:
            sound(PlanSource, tree)
        case ["top"]:
            sound(PlanSource, {**tree_of(WHOLE), **tree})
        case ["assembly"]:
            sound(AssemblyEntry, tree)
        case ["component"]:
            sound(ComponentSource, tree)
        case ["shared", "prices"]:
            sound(PriceBookEntry, tree)
        case ["shared", kind]:
            for entry in tree.values():
                sound(MODELS[kind], entry)


def test_shared_examples_lie_over_our_own(tmp_path: Path) -> None:
    for kind, text in BLOCKS:
        if kind.startswith("shared"):
            (tmp_path / f"{kind.split()[1]}.yaml").write_text(text, encoding="utf-8")
    library, found = load_library([product_folder("shared"), tmp_path])
    assert found == ()
    assert library.catalogue.hardware["brass hook"].price == Fraction(24, 5)
    assert library.catalogue.hardware["coat hook"].price == Fraction(29, 10)
    assert library.catalogue.materials["elm board"].boards[0].name == "1x4"


def all_keys(module: ModuleType) -> list[tuple[str, str]]:
    """Every key of every model that a module has of its own or from a file beside it, with the model's name."""
    others = () if module is models else tuple(vars(models).values())
    nodes = [one for one in vars(module).values() if isinstance(one, type) and one not in others]
    return [
        (node.__name__, info.alias or name)
        for node in nodes
        if issubclass(node, SourceNode)
        for name, info in node.model_fields.items()
    ]


@pytest.mark.parametrize(("module", "page"), [(models, TEXT), (library_models, SHARED_TEXT)], ids=["plan", "shared"])
def test_every_key_is_told(module: ModuleType, page: str) -> None:
    blocks = "".join(match["text"] for match in BLOCK.finditer(page))
    told = set(re.findall(r"`([a-z_]+)`", page)) | set(re.findall(r"([a-z_]+):(?:\s|$)", blocks))
    keys = all_keys(module)
    assert len(keys) > 60
    assert [f"{model}: {key}" for model, key in keys if key not in told] == []


def rows_under(heading: str, columns: int) -> list[list[str]]:
    """The rows of the first table under a heading, without its head."""
    section = TEXT.split(f"\n{heading}\n", 1)[1].split("\n#", 1)[0]
    table = [line for line in section.splitlines() if line.startswith("|")][2:]
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in table]
    assert all(len(row) == columns for row in rows)
    return rows


def worth(text: str) -> Length:
    """``16-1/2 in`` or ``18 mm`` as the second column writes it."""
    figure, unit = text.rsplit(" ", 1)
    whole, _, fraction = figure.rpartition("-")
    value = int(whole or 0) + Fraction(fraction)
    return Length.of_inches(value) if unit == "in" else Length.of_mm(value)


@pytest.mark.parametrize("row", rows_under("## Lengths", 2) + rows_under("### Sums", 2), ids=lambda row: row[0])
def test_lengths_read_as_the_tables_say(row: list[str]) -> None:
    written = row[0].strip("`")
    expression = parse_expression(written, Position("page", 1, 1, len(written)), "in")
    assert not isinstance(expression, Diagnostic)
    assert expression.length(NAMES) == worth(row[1])


@pytest.mark.parametrize("row", rows_under("### What is refused", 3), ids=lambda row: row[0])
def test_refused_forms_are_refused_and_their_mending_is_not(row: list[str]) -> None:
    written = row[0].strip("`")
    assert isinstance(parse_expression(written, Position("page", 1, 1, len(written)), "in"), Diagnostic)
    mendings = re.findall(r"`([^`]+)`", row[2])
    assert mendings
    for mended in mendings:
        expression = parse_expression(mended, Position("page", 1, 1, len(mended)), "in")
        assert not isinstance(expression, Diagnostic), mended
        assert isinstance(expression.length(NAMES), Length), mended


def test_the_whole_plan_on_the_page_can_be_built(tmp_path: Path) -> None:
    """It resolves without a word of complaint, to the parts that its lines say."""
    folder = tmp_path / "spice-shelf"
    folder.mkdir()
    (folder / "plan.yaml").write_text(WHOLE, encoding="utf-8")
    library, _ = load_library(shared_folders(folder))
    plan, found = resolve(read_plan(folder, library))
    assert found == ()
    assert plan is not None
    assert [part.id for part in plan.parts] == ["shelf.side", "shelf.side.mirrored", "shelf.bottom", "shelf.middle"]
    # 16 in wide less two sides of 3/4 in
    assert plan.part("shelf.bottom").size[0] == Length.of_inches(Fraction(29, 2))
