"""What an author writes or shows is printed, or told: nothing vanishes without a word. And words stay words wherever they stand."""

from __future__ import annotations

import base64
import csv
import io
import re
from pathlib import Path

import pytest
from tests.conftest import TINY, drawn_source

from drawleaf.book.chapters import CHAPTERS
from drawleaf.book.output.booklet import make_html
from drawleaf.book.output.data import _csv
from drawleaf.book.output.html_edition import finish_for_screen
from drawleaf.book.output.unprinted import unprinted_notes
from drawleaf.compiler import Choice, check_plan
from drawleaf.model.chapters import NOTE_CHAPTERS
from drawleaf.model.diagnostic import LONGEST, Diagnostic
from drawleaf.resources import product_folder
from tiny_pictures import png

NAMES = (
    "it's.png", "a&b.png", "a & b.png", "my photo.png", "Küche.png", "a+b.png", "a,b.png", "./dot.png", "-x.png", "a.b.c.png", "(1).png",
    "photo (2).png", "100%.png", "a%41.png", "a=b;c.png", "a~b!c.png", "日本.png", "e\u0301.png", "deep/er/x y.png", "UPPER.PNG", "a_b*c.png",
    "a@b$.png", "{x}.png",
)  # fmt: skip


def tray(tmp_path: Path, notes: str, source: str = TINY) -> Path:
    folder = tmp_path / "tray"
    folder.mkdir(exist_ok=True)
    (folder / "plan.yaml").write_text(f"{source}\nnotes:\n{notes}", encoding="utf-8")
    return folder


def errors(folder: Path, choice: Choice | None = None) -> list[Diagnostic]:
    return [one for one in check_plan(folder, choice or Choice()).diagnostics if one.is_error]


def quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def test_pictures_of_every_name_are_shown(tmp_path: Path) -> None:
    """As a picture of a note's own, and in Markdown; each has bytes of its own by which it is known again."""
    notes, wanted = [], []
    for number, name in enumerate(NAMES):
        file = tmp_path / "tray" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(png(number + 1, 1))
        wanted.append(base64.b64encode(png(number + 1, 1)).decode())
        notes += [
            f"  - {{chapter: safety, picture: {quoted(name)}}}",
            f"  - {{chapter: tools, text: {quoted(f'Look: ![view]({name}) so.')}}}",
        ]
    folder = tray(tmp_path, "\n".join(notes))
    assert errors(folder) == []
    page = make_html(*drawn_source(folder), for_print=False, plan_folder=folder)
    for name, data in zip(NAMES, wanted, strict=True):
        assert page.count(f'base64,{data}"') == 2, name


@pytest.mark.parametrize(
    "name", ["no such.png", "a'b.png", "../up & away.png", "%2e%2e/x.png", "https://a.example/b c.png", "x.gif", "a b"]
)
@pytest.mark.parametrize("way", ["picture", "text"])
def test_what_cannot_be_shown_is_an_error_at_its_line(tmp_path: Path, name: str, way: str) -> None:
    (tmp_path / "x.png").write_bytes(png())
    value = name if way == "picture" else f"Look: ![view]({name})."
    folder = tray(tmp_path, f"  - {{chapter: safety, {way}: {quoted(value)}}}")
    (found,) = errors(folder)
    assert found.code in ("no-such-file", "outside-folder", "picture-elsewhere", "not-a-picture")
    assert name in found.message
    assert found.position is not None
    assert found.position.line == len(TINY.splitlines()) + 3


def _damaged() -> dict[str, bytes]:
    from PIL import Image

    whole = {}
    for kind in ("png", "jpeg", "webp"):
        out = io.BytesIO()
        Image.effect_noise((64, 64), 90).convert("RGB").save(out, kind)
        whole[kind] = out.getvalue()
    cut = {f"cut.{kind}": data[: len(data) // 2] for kind, data in whole.items()}
    head = {f"head.{kind}": data[:40] for kind, data in whole.items()}
    return {**cut, **head, "changed.png": whole["png"][:60] + bytes(200) + whole["png"][260:]}


@pytest.mark.parametrize("lenient", [False, True], ids=["", "after a booklet"])
@pytest.mark.parametrize(("name", "data"), _damaged().items())
def test_damaged_pictures_are_told(
    tmp_path: Path, name: str, data: bytes, lenient: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also in a process that has laid out a booklet: WeasyPrint has Pillow read what is damaged."""
    monkeypatch.setattr("PIL.ImageFile.LOAD_TRUNCATED_IMAGES", lenient)
    folder = tray(tmp_path, f"  - {{chapter: safety, picture: {name}}}")
    (folder / name).write_bytes(data)
    (found,) = errors(folder)
    assert found.code == "not-a-picture"
    assert found.position is not None


def test_notes_hang_on_chapters_that_print_them() -> None:
    """The chapters that take notes are those whose template prints them, and all but the cover and the contents."""
    templates = product_folder("templates") / "chapters"
    printing = {
        chapter.id for chapter in CHAPTERS if "words(notes)" in (templates / f"{chapter.id}.html.j2").read_text()
    }
    assert printing == set(NOTE_CHAPTERS) == {chapter.id for chapter in CHAPTERS} - {"cover", "contents"}


@pytest.mark.parametrize("chapter", ["cover", "contents", "saftey", "nonsense", ""])
def test_a_note_that_no_chapter_prints_is_refused(tmp_path: Path, chapter: str) -> None:
    (found,) = errors(tray(tmp_path, f"  - {{chapter: {quoted(chapter)}, text: Mind it.}}"))
    assert found.code == "note-chapter"
    assert "safety, tools, shopping" in found.cause
    assert found.position is not None
    if chapter == "saftey":
        assert "safety" in found.mend


def test_a_note_on_a_chapter_that_this_plan_goes_without_is_told(tmp_path: Path) -> None:
    """The tray has no finish, so its booklet has no chapter on finishing; each such note is told at its line, code note-unprinted."""
    folder = tray(tmp_path, "  - {chapter: finishing, text: Two thin coats.}\n  - {chapter: safety, text: Mind it.}")
    assert errors(folder) == []
    (found,) = unprinted_notes(*drawn_source(folder))
    assert (found.code, found.is_error) == ("note-unprinted", False)
    assert found.position is not None
    assert found.position.line == len(TINY.splitlines()) + 3
    finished = TINY + "\nfinish:\n  - {apply: danish oil, coats: 1, to: all}\n"
    assert unprinted_notes(*drawn_source(tray(tmp_path, "  - {chapter: finishing, text: Thin coats.}", finished))) == ()


@pytest.mark.parametrize("key", ["title", "number", "author"])
@pytest.mark.parametrize("value", ['""', '"  "', '"\\t"'])
def test_what_the_cover_prints_is_not_empty(tmp_path: Path, key: str, value: str) -> None:
    source = re.sub(rf"^  {key}: .*$", lambda _: f"  {key}: {value}", TINY, flags=re.MULTILINE)
    assert source != TINY
    (found,) = errors(tray(tmp_path, "  - {chapter: safety, text: x}", source))
    assert found.code == "empty-value"
    assert found.position is not None
    assert key in source.splitlines()[found.position.line - 1]


@pytest.mark.parametrize("mark", [chr(n) for n in (*range(0x202A, 0x202F), *range(0x2066, 0x206A))])
@pytest.mark.parametrize("written", ["as it is", "as an escape"])
def test_marks_that_turn_the_direction_are_refused(tmp_path: Path, mark: str, written: str) -> None:
    text = mark if written == "as it is" else f"\\u{ord(mark):04x}"
    found = errors(tray(tmp_path, f'  - {{chapter: safety, text: "a{text}b"}}'))
    assert [one.code for one in found] == ["bad-character"]
    assert f"U+{ord(mark):04X}" in found[0].message


def test_marks_of_the_page_in_a_title_stay_words() -> None:
    page = (product_folder("templates") / "screen.html.j2").read_text()
    assert page.count("/*FONTS*/") == page.count("%POLICY%") == 1
    html = '<meta content="%POLICY%"><title>/*FONTS*/ %POLICY% content=&#34;%POLICY%&#34;</title><style>\n/*FONTS*/\nx</style>'
    done = finish_for_screen(html)
    assert "<title>/*FONTS*/ %POLICY% content=&#34;%POLICY%&#34;</title>" in done
    assert "@font-face" in done.split("<style>")[1]
    assert done.startswith('<meta content="default-src')


@pytest.mark.parametrize(
    ("words", "written"),
    [
        *((f"{sign}1+1", f"'{sign}1+1") for sign in "=+-@＝＋－＠"),
        (" =1", " '=1"),
        ("\n=1", "'\n'=1"),
        ("\t=1", "'\t'=1"),
        ("\rx", "'\rx"),
        ("x;=1+1", "x;'=1+1"),
        ("x, @sum(a)", "x, '@sum(a)"),
        ("x\t+1", "x\t'+1"),
        ("x\n－1", "x\n'－1"),
        ("x|=1", "x|'=1"),
        ("3-1/2 x 5", "3-1/2 x 5"),
        ("a, b and c", "a, b and c"),
        ("e-mail a@b.c", "e-mail a@b.c"),
    ],
)
def test_no_cell_of_a_list_is_a_formula(words: str, written: str) -> None:
    (row,) = list(csv.reader(io.StringIO(_csv(["head"], [[words]]), newline="")))[1:]
    assert row == [written]


def test_a_message_is_never_a_page_long() -> None:
    long = Diagnostic("x", "a" * 20_000, None, "b" * 20_000)
    assert len(long.message) == len(long.cause) == LONGEST
    assert "…" in long.message


def test_a_file_keeps_its_name_in_messages(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "other.yaml").write_text(TINY)
    (tmp_path / "kl").mkdir()
    (tmp_path / "kl" / "plan.yaml").symlink_to(tmp_path / "other.yaml")
    monkeypatch.chdir(tmp_path)
    assert [one.message for one in errors(Path("kl"))] == ["“kl/plan.yaml” is a link to a file outside its folder"]


def test_mistakes_with_a_kit_of_the_command_line_have_a_place(tmp_path: Path) -> None:
    folder = tray(tmp_path, "  - {chapter: safety, text: x}")
    kit = tmp_path / "mine.yaml"
    kit.write_text("name: Mine\ntools: [pencil]\n")
    for choice in (Choice(kit="no such kit"), Choice(kit_file=kit)):
        found = errors(folder, choice)
        assert found
        assert all(one.position is not None for one in found), found
