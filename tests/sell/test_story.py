"""The whole story on a small plan: compiled as revision A, sold, mended, compared; the old buyers get their sheet, the next their taste.

The hand-worked list: the box is an inch narrower (sides half an inch nearer the middle), and the screws a quarter inch longer.
- front: from 14-1/2 to 13-1/2 in, cut an inch off; shelf: from 15 to 14 in, the same; the sides stay as they are
- 4 screws 8 x 1-1/2 in are left over, 4 of 1-3/4 in are bought; where driven, their holes become a quarter inch deeper
"""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest
from tests.sell.booklets import compiled_folder
from tests.sell.boxes import BOX
from tests.small_plans import derived_from
from typer.testing import CliRunner

from drawleaf.book.output.data import plan_json
from drawleaf.cli import app

BUYERS = 200
EDITS = (("revision: A", "revision: B"), ("{x: 8}", "{x: 7-1/2}"), ("8 x 1-1/2", "8 x 1-3/4"))


@pytest.fixture(scope="module")
def sold(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Revision A as a compile left it, revision B as the source stands now."""
    place = tmp_path_factory.mktemp("sold")
    (compiled_folder(place / "a") / "plan.json").write_text(plan_json(derived_from(BOX)), encoding="utf-8")
    text = BOX
    for old, new in EDITS:
        text = text.replace(old, new)
    (place / "peg-box").mkdir()
    (place / "peg-box" / "plan.yaml").write_text(text, encoding="utf-8")
    return place


def run(*words: str | Path) -> str:
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_the_comparison_names_every_consequence(sold: Path) -> None:
    told = run("compare", sold / "peg-box", "--since", sold / "a")
    lines = [line.strip() for line in told.splitlines() if line.startswith("- ")]
    assert [line.split(", ")[0] for line in lines[:3]] == [
        "- Front",
        "- Shelf",
        "- Front to Left side; Front to Right side (2)",
    ]
    assert "- Front, changed: Length 13-1/2 in (it was 14-1/2 in)." in told
    assert "- Shelf, changed: Length 14 in (it was 15 in)." in told
    assert told.count("Trim 1 in off its right side.") == 2
    assert "deepen its pilot hole by 1/4 in and drive the longer one into it." in told
    assert "- #8 x 1-3/4 in flat-head wood screw, added: 4 now (0 before)." in told
    assert "Buy 4 more" in told
    assert "- #8 x 1-1/2 in flat-head wood screw, dropped: None now (4 before)." in told
    assert not [line for line in lines if line.startswith(("- Left side,", "- Right side,"))]


def test_two_hundred_buyers_get_their_copies_and_each_is_known_again(sold: Path) -> None:
    rows = "".join(f"Buyer {number},A-{number:03},2026-11-30\n" for number in range(BUYERS))
    (sold / "buyers.csv").write_text(f"name,order,date\n{rows}", encoding="utf-8")
    told = run("copies", sold / "a", "--buyers", sold / "buyers.csv", "--out", sold / "copies")
    assert told.startswith(f"{2 * BUYERS} files written")
    assert len(list((sold / "copies").glob("*.pdf"))) == BUYERS
    last = sold / "copies" / "peg-box-A-199.pdf"
    assert run("whose", last) == f"{last}: date: 2026-11-30; name: Buyer 199; order: A-199\n"
    assert run("copies", sold / "a", "--buyers", sold / "buyers.csv", "--out", sold / "copies").startswith(
        "0 files written"
    )


def test_the_sample_has_only_its_pages(sold: Path) -> None:
    run("sample", sold / "a", "--pages", "1,2", "--out", sold / "taste.pdf")
    with pikepdf.open(sold / "taste.pdf") as taste:
        assert len(taste.pages) == 2


def test_the_sheet_is_one_or_two_pages_and_tagged(sold: Path) -> None:
    run("errata", sold / "peg-box", "--since", sold / "a", "--out", sold / "letters")
    with pikepdf.open(sold / "letters" / "errata-A-to-B.pdf") as sheet:
        assert len(sheet.pages) <= 2
        assert "/StructTreeRoot" in sheet.Root
    assert "Peg box" in (sold / "letters" / "errata-A-to-B.html").read_text(encoding="utf-8")


def test_a_revision_is_taken_from_git(sold: Path, tmp_path: Path) -> None:
    import shutil
    import subprocess

    if shutil.which("git") is None:
        pytest.skip("git is not installed")
    folder = tmp_path / "peg-box"
    folder.mkdir()
    (folder / "plan.yaml").write_text(BOX, encoding="utf-8")
    git = ["git", "-C", str(tmp_path), "-c", "user.name=R", "-c", "user.email=r@example.invalid"]
    for words in (["init", "-q"], ["add", "."], ["commit", "-qm", "A"]):
        subprocess.run([*git, *words], check=True, capture_output=True)
    (folder / "plan.yaml").write_text((sold / "peg-box" / "plan.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    assert "revision A to revision B" in run("compare", folder, "--since", "HEAD")
    result = CliRunner().invoke(app, ["compare", str(folder), "--since", "no-such-mark"])
    assert result.exit_code == 1
    assert "git knows no such revision" in result.stderr


def test_what_is_no_revision_is_told(sold: Path) -> None:
    (sold / "note.json").write_text("{}", encoding="utf-8")
    result = CliRunner().invoke(app, ["compare", str(sold / "peg-box"), "--since", str(sold / "note.json")])
    assert result.exit_code == 1
    assert "older drawleaf" in result.stderr


def test_a_file_that_is_no_text_is_told_by_its_own_name(sold: Path) -> None:
    (sold / "torn.json").write_bytes(b"\xff\xfe\xfa")
    for plan, since in ((sold / "peg-box", sold / "torn.json"), (sold / "torn.json", sold / "a")):
        result = CliRunner().invoke(app, ["compare", str(plan), "--since", str(since)])
        assert result.exit_code == 1
        assert result.stderr.startswith(f"{(sold / 'torn.json').as_posix()}")
        assert "no plan.json of drawleaf" in result.stderr
