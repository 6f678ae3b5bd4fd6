"""The commands as a user runs them: exit status, messages, what is left on disk."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def drawleaf(*arguments: str | Path, cwd: Path = ROOT, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "drawleaf.cli", *map(str, arguments)],
        cwd=cwd,
        capture_output=True,
        text=True,
        env={**os.environ, **environment},
        check=False,
    )


def test_help_loads_nothing_heavy() -> None:
    """`--help` starts fast because no heavy library is imported for it."""
    program = (
        "import sys; from drawleaf.cli import app\n"
        "try: app(['--help'])\n"
        "except SystemExit: pass\n"
        "heavy = {'numpy', 'manifold3d', 'weasyprint', 'shapely', 'pydantic', 'lark', 'networkx', 'jinja2'}\n"
        "print('loaded', sorted(heavy & set(sys.modules)))"
    )
    result = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert "loaded []" in result.stdout


def test_wrong_usage_is_2() -> None:
    assert drawleaf("compile", "no/such/folder").returncode == 2
    assert drawleaf("no-such-command").returncode == 2
    assert drawleaf("compile", "plans/key-ledge", "--paper", "a5").returncode == 2


@pytest.mark.parametrize("name", ["key-ledge", "boot-bench"])
def test_the_example_plans_are_good(name: str) -> None:
    result = drawleaf("check", f"plans/{name}")
    assert result.returncode == 0, result.stderr
    assert f"{name}: good" in result.stdout


def test_a_mistake_is_1_with_its_place_and_no_traceback(edited_plan) -> None:
    folder = edited_plan("key-ledge", ("left: 3/4, deep:", "left: 3/4, depe:"))
    result = drawleaf("check", folder)
    assert result.returncode == 1
    assert "Traceback" not in result.stderr
    line = 1 + (folder / "plan.yaml").read_text().split("depe:")[0].count("\n")
    assert f"plan.yaml:{line}:" in result.stderr
    assert "deep" in result.stderr  # did you mean


def test_a_failed_compile_leaves_the_last_good_booklet(edited_plan, tmp_path: Path) -> None:
    folder = edited_plan("key-ledge")
    assert drawleaf("compile", folder, "--out", tmp_path / "out").returncode == 0
    booklet = tmp_path / "out" / "key-ledge"
    before = {file: file.read_bytes() for file in booklet.rglob("*") if file.is_file()}
    assert {"key-ledge.pdf", "key-ledge.html", "plan.json", "cut-list.csv", "shopping-list.csv"} <= {
        file.name for file in before
    }
    (folder / "plan.yaml").write_text("plan: {title: Broken\n")
    result = drawleaf("compile", folder, "--out", tmp_path / "out")
    assert result.returncode == 1
    assert "Traceback" not in result.stderr
    assert {file: file.read_bytes() for file in booklet.rglob("*") if file.is_file()} == before


def test_the_same_source_gives_the_same_bytes(tmp_path: Path) -> None:
    """Two processes with different hash seeds write identical outputs, the PDF included."""
    sets = []
    for seed in ("1", "2"):
        out = tmp_path / seed
        result = drawleaf(
            "compile", "plans/key-ledge", "--out", out, PYTHONHASHSEED=seed, SOURCE_DATE_EPOCH="1764547200"
        )
        assert result.returncode == 0, result.stderr
        sets.append({file.relative_to(out): file.read_bytes() for file in sorted(out.rglob("*")) if file.is_file()})
    assert sets[0].keys() == sets[1].keys()
    assert [name for name in sets[0] if sets[0][name] != sets[1][name]] == []


def test_a_folder_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file where the folder should be")
    result = drawleaf("compile", "plans/key-ledge", "--out", tmp_path / "out")
    assert result.returncode == 1
    assert "cannot be written" in result.stderr
    assert "Traceback" not in result.stderr


def test_json_for_editors(edited_plan) -> None:
    """One object on standard output, nothing on standard error, the same exit status."""
    broken = edited_plan("key-ledge", ("left: 3/4, deep:", "left: 3/4, depe:"))
    result = drawleaf("check", broken, "plans/key-ledge", "--format", "json")
    assert result.returncode == 1
    assert result.stderr == ""
    report = json.loads(result.stdout)
    assert (report["format"], report["version"], report["command"]) == ("drawleaf-report", 1, "check")
    bad, good = report["plans"]
    assert (bad["good"], good["good"]) == (False, True)
    found = next(one for one in bad["diagnostics"] if one["code"] == "unknown-key")
    line = (broken / "plan.yaml").read_text().splitlines()[found["line"] - 1]
    assert line[found["column"] - 1 :][: found["length"]] == "depe"
    assert {"severity", "message", "cause", "mend", "related", "file"} <= set(found)
    assert report["errors"] == sum(one["severity"] == "error" for one in bad["diagnostics"])


def test_json_names_the_booklet(tmp_path: Path) -> None:
    result = drawleaf("compile", "plans/key-ledge", "--out", tmp_path / "out", "--format", "json")
    (plan,) = json.loads(result.stdout)["plans"]
    assert plan["good"]
    assert (Path(plan["booklet"]) / "plan.json").is_file()


def test_no_colour_in_pipes(edited_plan) -> None:
    result = drawleaf("check", edited_plan("key-ledge", ("left: 3/4, deep:", "left: 3/4, depe:")))
    assert "\x1b" not in result.stderr + result.stdout


def test_explain() -> None:
    assert "Why:" in drawleaf("explain", "unknown-name").stdout
    wrong = drawleaf("explain", "unknwon-name")
    assert wrong.returncode == 1
    assert "“unknown-name”" in wrong.stderr
    assert "parts-do-not-touch" in drawleaf("explain").stdout
