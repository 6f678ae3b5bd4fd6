"""The PDF: tags, alternative text, same bytes, no network."""

from __future__ import annotations

import io
import itertools
import os
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject
from tests.conftest import ROOT, TINY
from tests.laid_pages import printed

from drawleaf.book.output.booklet import make_html
from drawleaf.book.output.pdf import _fetcher, make_pdf
from drawleaf.compiler import Choice, compile_plan
from drawleaf.resources import font_files


@pytest.fixture
def html(derived, drawings, plain_words) -> str:
    return make_html(derived, drawings, for_print=True)


@pytest.fixture
def reader(html: str) -> PdfReader:
    return PdfReader(io.BytesIO(printed(html).pdf))


def tags(node: Any) -> Iterator[DictionaryObject]:
    """Every element of the structure tree."""
    node = node.get_object()
    if isinstance(node, DictionaryObject):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from tags(node["/K"])
    elif isinstance(node, list):
        for child in node:
            yield from tags(child)


def test_every_drawing_is_a_figure_with_its_words(reader: PdfReader, drawings):
    figures = [tag for tag in tags(reader.root_object["/StructTreeRoot"]) if tag["/S"] == "/Figure"]
    words = [str(tag.get("/Alt", "")) for tag in figures]
    assert all(words)
    for drawing in drawings.all():
        assert words.count(drawing.alt) == 1


def test_the_tree_has_headings_tables_lists_and_links(reader: PdfReader):
    kinds = Counter(tag["/S"] for tag in tags(reader.root_object["/StructTreeRoot"]))
    assert {"/H1", "/H2", "/H3", "/H4", "/Table", "/TR", "/TH", "/TD", "/L", "/LI", "/Link", "/Figure"} <= set(kinds)
    assert kinds["/H1"] == 1


def test_every_table_has_a_head(reader: PdfReader):
    """A column's or a row's: without one a reader by ear hears cells that nothing names."""
    tables = [tag for tag in tags(reader.root_object["/StructTreeRoot"]) if tag["/S"] == "/Table"]
    assert len(tables) > 5
    for table in tables:
        assert any(tag["/S"] == "/TH" for tag in tags(table))


def test_headings_never_skip_a_level(reader: PdfReader):
    levels = [int(tag["/S"][2]) for tag in tags(reader.root_object["/StructTreeRoot"]) if tag["/S"][:2] == "/H" and tag["/S"][2:].isdigit()]  # fmt: skip
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


def test_it_claims_pdf_ua_and_states_language_and_title(reader: PdfReader):
    root = reader.root_object
    assert root["/Lang"] == "en-US"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Test stool (T-01, revision B)"
    assert b"pdfuaid:part" in root["/Metadata"].get_object().get_data()


def test_pages_have_the_papers_size(reader: PdfReader):
    """Letter: 8-1/2 by 11 in, at 72 points an inch."""
    assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in reader.pages} == {(612, 792)}


def test_all_fonts_are_the_text_family_and_embedded(reader: PdfReader):
    fonts = [font.get_object() for page in reader.pages for font in page["/Resources"].get("/Font", {}).values()]
    assert fonts
    for font in fonts:
        descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"]
        assert "Source-Sans-3" in font["/BaseFont"]
        assert {"/FontFile2", "/FontFile3"} & set(descriptor)


def test_links_have_words(reader: PdfReader):
    links = [note.get_object() for page in reader.pages for note in page.get("/Annots", ())]
    assert links
    assert all(str(link["/Contents"]).startswith("Go to ") for link in links)


def test_bookmarks_follow_chapters_stages_and_steps(reader: PdfReader):
    def titles(entries: list[Any]) -> list[Any]:
        return [titles(entry) if isinstance(entry, list) else entry.title for entry in entries]

    outline = titles(reader.outline)
    steps = outline[outline.index("Steps") + 1]
    assert steps == [
        "Cut the parts",
        ["Step 1 Cut the sheet"],
        "Put it together",
        ["Step 2 Screw on the seat", "Step 3 Trim the edge"],
    ]


def dates(pdf: bytes) -> set[str]:
    information = PdfReader(io.BytesIO(pdf)).metadata or {}
    return {str(information[key]) for key in ("/CreationDate", "/ModDate")}


def test_dates_come_from_the_plan_or_from_the_stated_moment(html: str, monkeypatch: pytest.MonkeyPatch):
    html = re.sub(r"(?s)(<body[^>]*>).*(?=</body>)", r"\1One line.", html)  # the booklet's head on one page
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    assert dates(make_pdf(html)) == {"D:20260203000000Z"}
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1000000000")
    assert dates(make_pdf(html)) == {"D:20010909014640Z"}
    assert os.environ["SOURCE_DATE_EPOCH"] == "1000000000"


@pytest.mark.parametrize("stated", ["99999999999999999999", "253402300800", "²", "-1", "1e9", "tomorrow", " 1"])
def test_a_stated_moment_that_is_none_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stated: str):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", stated)
    folder = tmp_path / "tray"
    folder.mkdir()
    (folder / "plan.yaml").write_text(TINY)
    outcome = compile_plan(folder, Choice())
    assert [one.code for one in outcome.diagnostics] == ["odd-epoch"]
    assert outcome.files == {}


@pytest.mark.parametrize("stated", ["0", "253402300799"])
def test_the_first_and_the_last_moment_are_sound(html: str, monkeypatch: pytest.MonkeyPatch, stated: str):
    html = re.sub(r"(?s)(<body[^>]*>).*(?=</body>)", r"\1One line.", html)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", stated)
    assert dates(make_pdf(html)) in ({"D:19700101000000Z"}, {"D:99991231235959Z"})


def test_no_file_of_the_product_states_a_moment():
    """`make booklets` and `drawleaf compile` give the same bytes, dated as the plan is."""
    assert "SOURCE_DATE_EPOCH" not in (ROOT / "Makefile").read_text()


def test_nothing_outside_may_be_fetched(tmp_path: Path):
    (tmp_path / "plan").mkdir()
    (tmp_path / "secret.png").write_bytes(b"x")
    (tmp_path / "plan" / "logo.png").write_bytes(b"x")
    fetcher = _fetcher(tmp_path / "plan")
    inside = (tmp_path / "plan" / "logo.png").as_uri()
    for url in (
        "https://a.example/x.png",
        "http://localhost/x",
        "file:///etc/hostname",
        (tmp_path / "secret.png").as_uri(),
    ):
        with pytest.raises(ValueError, match="may not fetch"):
            fetcher.fetch(url)
    with pytest.raises(ValueError, match="may not fetch"):
        fetcher.fetch(inside.replace("logo.png", "%2e%2e/secret.png"))
    assert fetcher.fetch(inside).read() == b"x"
    assert fetcher.fetch(font_files()[0].as_uri()).read(4) == b"\x00\x01\x00\x00"


def test_the_renderer_has_nothing_to_complain_of(html: str):
    assert printed(html).said == ()


def test_a_complaint_of_the_renderer_is_heard():
    assert printed("<html lang='en'><title>t</title><p style='colour: red'>One line.</p></html>").said


def test_a_text_that_just_fills_its_line_is_not_broken_after_its_first_word():
    """A line holds as much as it can, however wide it is, when a figure stands at the start of the next one."""
    words = 'Set the jig and the collar on its bit for a thickness of <span class="len">23/32 in</span> and no more.'
    page = "<style>@page{size:600px 9000px;margin:20px}body{font:15px sans-serif}p{margin:2px}</style>"
    paragraphs = "".join(f'<p style="width:{width}px">{words}</p>' for width in range(300, 440))
    pdf = make_pdf(f"<html lang='en'><head><title>t</title>{page}</head><body>{paragraphs}</body></html>")
    lines = PdfReader(io.BytesIO(pdf)).pages[0].extract_text().splitlines()
    assert len([line for line in lines if line.startswith("Set the jig and the collar")]) == 140


def test_a_name_that_just_fills_its_line_is_not_broken_after_its_first_word():
    """So it is where a part's number, which holds fast to the name, is what no longer fits."""
    style = "@page{size:600px 14000px;margin:20px}body{font:15px sans-serif}p{margin:2px}.balloon{display:inline-block;width:18px}"
    names = [
        f'<b>Right front and left back </b><span class="whole"><b>legs</b> <span class="balloon"{own}>2</span></span>'
        for own in ("", " title=2")  # with an attribute of its own it is printed as it stands here
    ]
    paragraphs = "".join(
        f'<p style="width:{width}px">legs 1 and the {name} lean.</p>' for width in range(250, 379, 3) for name in names
    )
    page = f"<style>{style}.whole{{white-space:nowrap}}</style>"
    pdf = make_pdf(f"<html lang='en'><head><title>t</title>{page}</head><body>{paragraphs}</body></html>")
    lines = PdfReader(io.BytesIO(pdf)).pages[0].extract_text().splitlines()
    assert len([line for line in lines if "and the" in line and "Right front" in line]) == 86
