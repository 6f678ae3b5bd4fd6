"""The commands as a user runs them: exit status, messages, what is left on disk."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from contextlib import chdir
from pathlib import Path

import pytest
from tests.conftest import ROOT, TINY, made_once
from typer.testing import CliRunner, Result

from drawleaf.cli import app
from drawleaf.outputs import write_set


def here(*arguments: str | Path, cwd: Path = ROOT) -> Result:
    """The command in this process, where its own start and end are not what is tried: a start takes two seconds of the processor."""
    with chdir(cwd):
        result = CliRunner().invoke(app, [*map(str, arguments)], input="")
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


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
        "heavy = {'numpy', 'manifold3d', 'weasyprint', 'shapely', 'pydantic', 'networkx', 'jinja2', 'svgwrite', 'PIL'}\n"
        "print('loaded', sorted(heavy & set(sys.modules)))"
    )
    result = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert "loaded []" in result.stdout


def test_a_check_loads_no_more_than_it_needs() -> None:
    """A check must answer within a second: what draws, sets pages or serves them stays out, and what reads pictures where a plan has none."""
    program = (
        "import sys; from drawleaf.cli import app\n"
        "try: app(['check', 'tests/plans/splayed-table'])\n"
        "except SystemExit: pass\n"
        "heavy = {'weasyprint', 'networkx', 'jinja2', 'svgwrite', 'PIL', 'uvicorn', 'starlette', 'drawleaf.draw', 'drawleaf.book'}\n"
        "print('loaded', sorted(heavy & set(sys.modules)))"
    )
    result = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT)
    assert "loaded []" in result.stdout


def test_wrong_usage_is_2() -> None:
    assert drawleaf("no-such-command").returncode == 2
    assert here("compile", "no/such/folder").exit_code == 2
    assert here("compile", "plans/key-ledge", "--paper", "a5").exit_code == 2


@pytest.mark.parametrize(
    ("path", "told"),
    [
        ("key-lege", "There is no folder “key-lege”. Did you mean “key-ledge”?"),
        (".", "There is no plan.yaml in “.”."),
        ("key-ledge/../nowhere-at-all", "There is no folder “key-ledge/../nowhere-at-all”."),
        ("../README.md", "“../README.md” is no plan. Name the folder that has its plan.yaml."),
    ],
)
def test_a_path_that_is_no_plan_is_told_with_what_may_be_meant(path: str, told: str) -> None:
    result = here("check", path, cwd=ROOT / "plans")
    assert result.exit_code == 2
    assert told in " ".join(result.stderr.split())


@pytest.mark.parametrize("name", ["key-ledge", "boot-bench"])
def test_the_example_plans_are_good(name: str, request: pytest.FixtureRequest) -> None:
    """With all their editions, which ``test_example_plans`` goes through one by one."""
    if name == "boot-bench" and not request.config.getoption("--long"):
        pytest.skip("a larger one with --long")
    result = here("check", f"plans/{name}")
    assert result.exit_code == 0, result.stderr
    assert f"{name}: good" in result.stdout


def test_a_mistake_is_1_with_its_place_and_no_traceback(edited_plan) -> None:
    folder = edited_plan("key-ledge", ("left: 3/4, deep:", "left: 3/4, depe:"))
    result = drawleaf("check", folder)
    assert result.returncode == 1
    assert "Traceback" not in result.stderr
    assert "\x1b" not in result.stderr + result.stdout, "colour in a pipe"
    line = 1 + (folder / "plan.yaml").read_text().split("depe:")[0].count("\n")
    assert f"plan.yaml, line {line}, to mend: " in result.stderr
    assert "deep" in result.stderr  # did you mean


def files_in(folder: Path) -> dict[str, bytes]:
    return {str(file.relative_to(folder)): file.read_bytes() for file in sorted(folder.rglob("*")) if file.is_file()}


@pytest.fixture
def tiny(tmp_path: Path) -> Path:
    """The folder of a tiny plan."""
    folder = tmp_path / "tray"
    folder.mkdir()
    (folder / "plan.yaml").write_text(TINY, encoding="utf-8")
    return folder


@pytest.fixture
def compiled(tiny: Path, tmp_path: Path):
    """What ``compile --format json`` says of the tiny plan and writes: (report, files)."""

    def compiled() -> tuple[dict, dict[str, bytes]]:
        def make() -> tuple[dict, dict[str, bytes]]:
            out = tmp_path / "out-json"
            result = here("compile", tiny, "--out", out, "--format", "json")
            assert result.exit_code == 0, result.stdout + result.stderr
            report = json.loads(result.stdout)
            assert report["plans"][0]["booklet"] == str(out / "tray")
            return report, files_in(out / "tray")

        return made_once("tiny plan compiled", make)

    return compiled


def test_a_compile_writes_a_whole_booklet(compiled) -> None:
    report, files = compiled()
    assert report["plans"][0]["good"]
    assert {"tray.pdf", "tray.html", "plan.json", "cut-list.csv", "shopping-list.csv"} <= files.keys()
    assert [name for name in files if name.startswith("drawings/")]
    assert files["tray.pdf"].startswith(b"%PDF-")


def test_a_failed_compile_leaves_the_last_good_booklet(compiled, tiny: Path, tmp_path: Path) -> None:
    booklet = tmp_path / "out" / "tray"
    _, before = compiled()
    write_set(booklet, before)
    (tiny / "plan.yaml").write_text("plan: {title: Broken\n")
    result = here("compile", tiny, "--out", tmp_path / "out")
    assert result.exit_code == 1
    assert "Traceback" not in result.stderr
    assert files_in(booklet) == before


def test_make_booklets_gives_the_same_bytes_as_compile(compiled, tiny: Path, tmp_path: Path) -> None:
    """The Makefile's own target, in another process elsewhere, for another user in another time zone with another locale, umask and hash
    seed: every file of the folder is the same to the byte, the PDF included."""
    place, programs = tmp_path / "another checkout", tmp_path / "programs"
    shutil.copytree(tiny, place / "plans" / "tray")
    (place / "Makefile").write_bytes((ROOT / "Makefile").read_bytes())
    programs.mkdir()
    program = programs / "drawleaf"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m drawleaf.cli "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    home = tmp_path / "another home"
    home.mkdir()
    other = {"HOME": str(home), "TZ": "Pacific/Kiritimati", "LC_ALL": "C", "LANG": "de_DE.UTF-8", "PYTHONHASHSEED": "2"}
    made = subprocess.run(
        ["make", "--old-file", ".venv/.ready", "booklets", f"BIN={programs}"],
        cwd=place,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), **other},
        umask=0o077,
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 0, made.stdout + made.stderr
    (_, one), other_files = compiled(), files_in(place / "build" / "tray")
    assert one.keys() == other_files.keys()
    assert [name for name in one if one[name] != other_files[name]] == []


def test_a_folder_that_cannot_be_written_is_said(tiny: Path, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file where the folder should be")
    result = here("compile", tiny, "--out", tmp_path / "out")
    assert result.exit_code == 1
    assert "cannot be written" in result.stderr
    assert "Traceback" not in result.stderr


def test_json_for_editors(edited_plan) -> None:
    """One object on standard output, nothing on standard error, the same exit status."""
    broken = edited_plan("key-ledge", ("left: 3/4, deep:", "left: 3/4, depe:"))
    result = here("check", broken, "plans/key-ledge", "--format", "json")
    assert result.exit_code == 1
    assert result.stderr == ""
    report = json.loads(result.stdout)
    assert (report["format"], report["version"], report["command"]) == ("drawleaf-report", 1, "check")
    bad, good, *editions = report["plans"]
    assert (bad["good"], good["good"]) == (False, True)
    assert {one["edition"]: one["good"] for one in editions} == {"metric": True, "both": True, "long": True}
    found = next(one for one in bad["diagnostics"] if one["code"] == "unknown-key")
    line = (broken / "plan.yaml").read_text().splitlines()[found["line"] - 1]
    assert line[found["column"] - 1 :][: found["length"]] == "depe"
    assert {"severity", "message", "cause", "mend", "related", "file"} <= set(found)
    assert report["errors"] == sum(one["severity"] == "error" for one in bad["diagnostics"])


def test_why() -> None:
    assert "Why:" in here("why", "unknown-name").stdout
    wrong = here("why", "unknwon-name")
    assert wrong.exit_code == 1
    assert "“unknown-name”" in wrong.stderr
    assert "parts-do-not-touch" in here("why").stdout
