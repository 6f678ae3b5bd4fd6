"""No name of an older version stands in our own plans, shared data, starters, templates or pages."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drawleaf.source import library_models, models
from drawleaf.source.expected import keys_of
from drawleaf.source.library_models import MODELS, PriceBookEntry
from drawleaf.source.models import ComponentSource, PlanSource
from drawleaf.source.old_names import new_item, old_names, old_names_of_entries
from drawleaf.source.renames import FOLDERS, ITEMS, KEYS
from drawleaf.source.yaml_tree import read_yaml

ROOT = Path(__file__).parents[2]
PLANS = sorted(
    (*ROOT.glob("plans/*/plan.yaml"), *ROOT.glob("tests/plans/*/plan.yaml"), *ROOT.glob("docs/tutorial/*.yaml"))
)
STARTERS = sorted(ROOT.glob("templates/starters/*/plan.yaml"))
DATA = sorted(ROOT.glob("shared/**/*.yaml"))
PAGES = sorted((*ROOT.glob("docs/*.md"), *ROOT.glob("templates/**/*.j2"), ROOT / "README.md"))
OWN_NAMES = ("plan-json.md", "diagnostics.md")
"""Pages that name keys of the data, or show what a mistake with an old name looks like."""


def old_in(path: Path) -> tuple[str, ...]:
    """The new names of what is written under an old one."""
    text = re.sub(r"@[a-z_]+@|\{\{.*?\}\}", "1", path.read_text("utf-8"))
    tree, positions, found = read_yaml(path.name, text)
    assert not found
    kind = path.stem if path.parent.name == "shared" else path.parent.name
    if path in PLANS or path in STARTERS:
        changes = old_names(PlanSource, tree, positions, path.name)
    elif kind == "components":
        changes = old_names(ComponentSource, tree, positions, path.name)
    elif kind == "prices":
        changes = old_names(PriceBookEntry, tree, positions, path.name)
        assert not [name for section in ("hardware", "boards", "sheets") for name in tree[section] if is_old(name)]
    else:
        assert not [name for name in tree if is_old(name)]
        changes = old_names_of_entries(MODELS[kind], tree, positions, path.name, lambda _kind, _name: False)
    return tuple(change.new for change in changes)


def is_old(name: str) -> bool:
    return any(new_item(kind, name) for kind in ITEMS)


@pytest.mark.parametrize("path", [*PLANS, *STARTERS, *DATA], ids=lambda one: f"{one.parent.name}/{one.name}")
def test_no_old_name_in_our_own_sources(path: Path) -> None:
    assert old_in(path) == ()


def gone() -> set[str]:
    """Keys of older versions whose word is no key of anything any more."""
    nodes = [
        one for module in (models, library_models) for one in vars(module).values() if hasattr(one, "model_fields")
    ]
    known = {key for node in nodes for key in keys_of(node)}
    return {old for pairs in KEYS.values() for old in pairs} - known


def test_no_page_and_no_template_writes_an_old_name() -> None:
    keys = "|".join(sorted(gone()))
    items = "|".join(re.escape(old) for pairs in ITEMS.values() for old in pairs)
    folders = "|".join(f"shared/{old}" for old in FOLDERS)
    written = re.compile(rf"[{{,(`] ?(?:{keys}): |`(?:{keys})`|\b(?:{items})\b|--kit\b|\b(?:{folders})\b")
    found = {
        path.name: told
        for path in PAGES
        if path.name not in OWN_NAMES and (told := written.findall(path.read_text(encoding="utf-8")))
    }
    assert found == {}


def test_the_search_finds_an_old_name(tmp_path: Path) -> None:
    """It is not blind."""
    assert {"fit", "fittings", "making", "every", "widest", "meets", "defects"} <= gone()
    path = tmp_path / "components" / "tray.yaml"
    path.parent.mkdir()
    path.write_text("component: tray\nparts: {}\nfittings: []\n", encoding="utf-8")
    assert old_in(path) == ("hardware",)
