"""A plan's folder as read: the plan, its notes and pictures, and all its mistakes in one run."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf.source.library import load_library
from drawleaf.source.reader import Reading, read_plan
from tiny_pictures import png

ROOT = Path(__file__).resolve().parents[2]
LIBRARY, _ = load_library([])

PLAN = """\
plan: {title: Bench, number: B-1, date: 2026-11-20, author: A}
dimensions: {width: 42}
stock:
  ply: {material: birch plywood, nominal: 3/4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: width - 3}
"""


def read(folder: Path, text: str | bytes = PLAN) -> Reading:
    folder.joinpath("plan.yaml").write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_plan(folder, LIBRARY)


def told(reading: Reading) -> list[tuple[str, int, int]]:
    return [(one.code, one.position.line, one.position.column) for one in reading.diagnostics if one.position]


@pytest.mark.parametrize("name", ["key-ledge", "boot-bench"])
def test_the_example_plans_read_without_a_word(name: str) -> None:
    reading = read_plan(ROOT / "plans" / name, LIBRARY)
    assert reading.diagnostics == ()
    assert reading.plan is not None
    assert reading.name == name
    assert reading.texts[reading.file].startswith("# ")


def test_a_node_and_a_key_find_their_position(tmp_path: Path) -> None:
    reading = read(tmp_path)
    assert reading.plan is not None
    side = reading.plan.assemblies["case"].parts["side"]
    where = reading.positions.of(side.source_file, (*side.path, "left"))
    assert (where.line, where.column, where.length) == (8, 56, 9)
    assert reading.texts[where.file].split("\n")[where.line - 1][where.column - 1 :].startswith("width - 3")


def test_independent_mistakes_come_in_one_run(tmp_path: Path) -> None:
    text = PLAN.replace("title:", "titel:").replace("42", "16 -1/2").replace("width - 3", "3-1")
    text = text.replace("thickness: x", "thickness: q").replace("nominal: 3/4", "nominal: 3/4, actual: 1e3, nominal: 1")
    reading = read(tmp_path, text)
    assert reading.plan is None
    assert sorted(told(reading)) == [
        ("ambiguous", 2, 21),
        ("ambiguous", 8, 56),
        ("duplicate-key", 4, 61),
        ("exponent", 4, 56),
        ("unknown-key", 1, 8),
        ("wrong-word", 8, 37),
    ]


def test_a_wrong_expression_leaves_the_plan_to_be_resolved(tmp_path: Path) -> None:
    reading = read(tmp_path, PLAN.replace("width - 3", "width -3"))
    assert reading.plan is not None
    assert told(reading) == [("ambiguous", 8, 56)]


@pytest.mark.parametrize(
    ("text", "code"),
    [("", "wrong-shape"), ("a: [", "yaml"), (b"a: \xff", "wrong-encoding"), ("a: \x00", "bad-character"), ("- 1", "wrong-shape")],
)  # fmt: skip
def test_what_is_no_plan_at_all(tmp_path: Path, text: str | bytes, code: str) -> None:
    reading = read(tmp_path, text)
    assert reading.plan is None
    assert [one.code for one in reading.diagnostics] == [code]


def test_a_folder_without_a_plan(tmp_path: Path) -> None:
    reading = read_plan(tmp_path, LIBRARY)
    assert reading.plan is None
    assert [one.code for one in reading.diagnostics] == ["file-unreadable"]


def with_notes(notes: str) -> str:
    return f"{PLAN}notes:\n{notes}"


def test_note_files_give_their_words(tmp_path: Path) -> None:
    (tmp_path / "words").mkdir()
    (tmp_path / "words" / "side.md").write_text("Mark the *front*.\n\n![Jig](../jig.png)\n")
    (tmp_path / "jig.png").write_bytes(png())
    text = with_notes("  - {part: side, file: words/side.md}\n  - {part: side, text: 'As is.', picture: jig.png}\n")
    reading = read(tmp_path, text)
    assert reading.plan is not None
    assert [note.text for note in reading.plan.notes] == ["Mark the *front*.\n\n![Jig](../jig.png)\n", "As is."]
    assert reading.plan.notes[0].path == ("notes", 0)
    # Pictures are named from the plan's folder, so the one that climbs is told where it stands in the Markdown.
    assert [one.code for one in reading.diagnostics] == ["outside-folder"]
    where = reading.diagnostics[0].position
    assert where is not None
    assert where.file.endswith("words/side.md")
    assert (where.line, where.column, where.length) == (3, 8, 10)
    assert where.file in reading.texts


@pytest.mark.parametrize(
    ("note", "code", "column"),
    [
        ("{file: ../outside.md}", "outside-folder", 12),
        ("{file: /etc/hosts}", "outside-folder", 12),
        ("{file: link.md}", "outside-folder", 12),
        ("{file: 'a\\b.md'}", "odd-path", 13),
        ("{file: sid.md}", "no-such-file", 12),
        ("{file: words}", "no-such-file", 12),
        ("{file: jig.png}", "not-markdown", 12),
        ("{picture: side.md}", "not-a-picture", 15),
        ("{picture: https://example.org/a.png}", "picture-elsewhere", 15),
        ("{picture: ../a.png}", "outside-folder", 15),
        ("{text: '![x](nothing.png)'}", "no-such-file", 13),
        ("{text: a, file: side.md}", "note-twice", 21),
        ("{part: side}", "empty-note", 5),
    ],
)
def test_notes_stay_in_the_folder(tmp_path: Path, note: str, code: str, column: int) -> None:
    outside = tmp_path / "outside.md"
    outside.write_text("hush-hush")
    folder = tmp_path / "plan"
    (folder / "words").mkdir(parents=True)
    (folder / "side.md").write_text("Words.")
    (folder / "jig.png").write_bytes(b"picture")
    (folder / "link.md").symlink_to(outside)
    reading = read(folder, with_notes(f"  - {note}\n"))
    assert told(reading) == [(code, 10, column)]
    assert "hush-hush" not in "".join(reading.texts.values())
    assert reading.diagnostics[0].mend
    assert reading.plan is not None
    if "picture" not in note:  # told here, so that nobody after tells it again
        assert reading.plan.notes[0].text is not None


def test_a_misspelt_file_is_offered(tmp_path: Path) -> None:
    (tmp_path / "side.md").write_text("Words.")
    reading = read(tmp_path, with_notes("  - {file: sid.md}\n"))
    assert "“side.md”" in reading.diagnostics[0].mend
