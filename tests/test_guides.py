"""The tutorial, the how-to and the page on checked results: every example compiles as the page says, and every file named is there."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from drawleaf.compiler import Choice, check_plan
from tiny_pictures import png

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"
STAGES = sorted((DOCS / "tutorial").glob("stage-*.yaml"))
BLOCK = re.compile(r"^```yaml ?(?P<kind>[^\n]*)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)
TUTORIAL = (DOCS / "tutorial.md").read_text(encoding="utf-8")
HOW_TO = (DOCS / "how-to.md").read_text(encoding="utf-8")
RECIPES = [(match["kind"], match["text"]) for match in BLOCK.finditer(HOW_TO) if match["kind"]]


def checked(folder: Path, text: str, edition: str | None = None):
    folder.mkdir(exist_ok=True)
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    return check_plan(folder, Choice(edition))


@pytest.mark.parametrize("stage", STAGES, ids=lambda file: file.stem)
def test_each_stage_compiles(stage: Path, tmp_path: Path) -> None:
    outcome = checked(tmp_path / "tray", stage.read_text(encoding="utf-8"))
    told = [one.code for one in outcome.diagnostics]
    assert sorted(set(told)) == {"stage-2": ["not-joined"], "stage-3": ["screw-heads", "screws"]}.get(stage.stem, [])
    assert outcome.derived is not None


def test_the_tutorial_shows_what_stands_in_the_stages() -> None:
    blocks = [(match["kind"], match["text"]) for match in BLOCK.finditer(TUTORIAL)]
    assert [kind for kind, _ in blocks] == ["1", "2", "3", "4", "5"]
    for kind, text in blocks:
        lines = (DOCS / "tutorial" / f"stage-{kind}.yaml").read_text(encoding="utf-8").splitlines()
        assert [line for line in text.splitlines() if line and line not in lines] == []
    assert (DOCS / "tutorial" / "stage-1.yaml").read_text(encoding="utf-8") == blocks[0][1]


def test_the_tutorial_quotes_the_advice_as_it_is_printed(tmp_path: Path) -> None:
    outcome = checked(tmp_path / "tray", (DOCS / "tutorial" / "stage-3.yaml").read_text(encoding="utf-8"))
    assert len(outcome.diagnostics) == TUTORIAL.count("advice[") == 2
    for advice in outcome.diagnostics:
        assert f"advice[{advice.code}]: {advice.message}\n    Mend:  {advice.mend}\n" in TUTORIAL


@pytest.mark.parametrize("edition", ["metric", "long"])
def test_the_tutorials_editions_compile(edition: str, tmp_path: Path) -> None:
    outcome = checked(tmp_path / "tray", STAGES[-1].read_text(encoding="utf-8"), edition)
    assert outcome.diagnostics == ()


def laid_over(base: Any, change: Any) -> Any:
    """The base with what the change names in its place."""
    if isinstance(base, dict) and isinstance(change, dict):
        return {**base, **{key: laid_over(base.get(key), value) for key, value in change.items()}}
    return change


@pytest.mark.parametrize(("kind", "text"), RECIPES, ids=[f"{kind}-{at}" for at, (kind, _) in enumerate(RECIPES)])
def test_each_recipe_compiles(kind: str, text: str, tmp_path: Path) -> None:
    for path, brought in RECIPES:
        if path.startswith("shared/"):
            file = tmp_path / path
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(brought, encoding="utf-8")
    if "rags.jpg" in text:
        text = text.replace("rags.jpg", "rags.png")
        (tmp_path / "tray").mkdir()
        (tmp_path / "tray" / "rags.png").write_bytes(png(40, 30))
    if kind == "plan":
        outcome = checked(tmp_path / "tray", text)
        assert [(one.code, one.message) for one in outcome.diagnostics] == []
        return
    stage = "stage-3" if kind == "stage-3" else "stage-5"
    plan = yaml.load((DOCS / "tutorial" / f"{stage}.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    change = {} if kind.startswith("shared/") else yaml.load(text, yaml.BaseLoader)
    if kind == "assembly":
        change = {"assemblies": {"tray": change}}
    elif "my cellar" in text:
        change = {"shop": {"tools": "my cellar"}}
    source = yaml.dump(laid_over(plan, change), allow_unicode=True, sort_keys=False)
    for edition in (None, *change.get("editions", ())):
        outcome = checked(tmp_path / "tray", source, edition)
        assert not outcome.failed, [(one.code, one.message) for one in outcome.diagnostics]
        assert [one.code for one in outcome.diagnostics if one.code not in ("shelf-sag", "people-load")] == []
        assert outcome.derived is not None
        if "brass handle" in text and kind == "assembly":
            assert [fitting.item.id for fitting in outcome.derived.plan.fittings] == ["brass handle"]


@pytest.mark.parametrize("page", ["tutorial.md", "how-to.md", "results-checked.md"])
def test_what_the_pages_name_is_there(page: str) -> None:
    text = (DOCS / page).read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", text):
        assert (DOCS / target).exists(), target
    for path in re.findall(r"`((?:tests|src)/[\w./-]+)`", text):
        assert (ROOT / path).exists(), path


def test_each_command_has_its_line_in_the_readme_and_each_line_is_a_command() -> None:
    """``drawleaf whose FILE`` stands in the line of ``copies``, whose work it reads back."""
    from typer.main import get_command

    from drawleaf.cli import app

    commands = set(get_command(app).commands)  # type: ignore[attr-defined]
    section = (
        (ROOT / "README.md")
        .read_text(encoding="utf-8")
        .partition("## Commands")[2]
        .partition("```sh")[2]
        .partition("```")[0]
    )
    assert set(re.findall(r"^drawleaf ([a-z]+)", section, re.MULTILINE)) <= commands
    assert set(re.findall(r"\bdrawleaf ([a-z]+)", section)) >= commands
