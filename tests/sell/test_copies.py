"""Buyers' copies: what they bear, that they stay what they were, and that the work can be taken up again."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest
from pypdf import PdfReader
from tests.sell.booklets import compiled_folder, pdf
from typer.testing import CliRunner

from drawleaf.cli import app
from drawleaf.outputs import write_set
from drawleaf.sell.buyers import LINE, BuyersError, read_buyers, worded
from drawleaf.sell.copies import NoCopyError, originals, whose, write_copies
from drawleaf.sell.finished import NoBookletError, booklet_pdf
from drawleaf.sell.master import KEY, NoMasterError, make_master, stamped

BUYERS = "name,order,date,terms\nAda Ólafsdóttir,A-17,2026-11-30,One print for own use\nЖанна <b>& Söhne</b>,A-18,2026-12-01,\n"


@pytest.fixture
def sold(tmp_path: Path) -> Path:
    compiled_folder(tmp_path / "peg-box")
    (tmp_path / "buyers.csv").write_text(BUYERS, encoding="utf-8")
    return tmp_path


def copies(sold: Path) -> list[Path]:
    buyers = read_buyers(sold / "buyers.csv")
    return [one.file for one in write_copies(originals(sold / "peg-box"), buyers, LINE, sold / "copies")]


def test_every_page_bears_the_line_and_both_files_say_whose_they_are(sold: Path) -> None:
    files = copies(sold)
    assert [file.name for file in files] == [
        f"peg-box-{order}.{kind}" for order in ("A-17", "A-18") for kind in ("pdf", "html")
    ]
    pages = PdfReader(files[0]).pages
    assert len(pages) == 7
    for page in pages:
        assert "Copy for Ada Ólafsdóttir, order A-17, 2026-11-30, One print for own use" in page.extract_text()
    for file in files[:2]:
        assert whose(file) == {
            "name": "Ada Ólafsdóttir", "order": "A-17", "date": "2026-11-30", "terms": "One print for own use",
        }  # fmt: skip
    assert whose(files[2])["name"] == "Жанна <b>& Söhne</b>"
    assert "&lt;b&gt;&amp; Söhne&lt;/b&gt;" in files[3].read_text(encoding="utf-8")


def test_the_tags_and_what_says_pdf_ua_stay_and_the_line_is_none_of_them(sold: Path) -> None:
    (file, *_) = copies(sold)
    with pikepdf.open(file) as copy, pikepdf.open(io.BytesIO(pdf())) as before:
        assert b'pdfuaid:part="1"' in copy.Root.Metadata.read_bytes()
        assert _roles(copy.Root.StructTreeRoot) == _roles(before.Root.StructTreeRoot)
        assert copy.Root.MarkInfo.Marked
        assert str(copy.docinfo["/Title"]) == str(before.docinfo["/Title"])
        for page in copy.pages:
            drawn = b"".join(
                one.read_bytes()
                for one in (page.Contents if isinstance(page.Contents, pikepdf.Array) else [page.Contents])
            )
            assert b"/Artifact <</Type /Pagination /Subtype /Footer>> BDC q /BuyersLine Do Q EMC" in drawn
        fonts = copy.pages[0].Resources.XObject["/BuyersLine"].Resources.Font.F0
        assert "/FontFile2" in fonts.DescendantFonts[0].FontDescriptor


def _roles(element: pikepdf.Object) -> list[str]:
    found = [str(element.S)] if "/S" in element else []
    kids = element.get("/K", pikepdf.Array())
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary):
            found += _roles(kid)
    return found


def test_the_same_list_gives_the_same_bytes_and_what_is_whole_is_left(sold: Path) -> None:
    first = {file: file.read_bytes() for file in copies(sold)}
    torn = next(iter(first))
    torn.write_bytes(first[torn][:-100])
    buyers = read_buyers(sold / "buyers.csv")
    again = list(write_copies(originals(sold / "peg-box"), buyers, LINE, sold / "copies"))
    assert [one.kept for one in again] == [False, True, True, True]
    assert {one.file: one.file.read_bytes() for one in again} == first
    assert not list((sold / "copies").glob(".*"))


def test_only_what_the_line_prints_is_in_the_file(sold: Path) -> None:
    buyer = read_buyers(sold / "buyers.csv")[0]
    line, fields = worded("Order {order}", buyer)
    assert (line, fields) == ("Order A-17", {"order": "A-17"})
    base, tail = stamped(make_master(pdf()), line, fields)
    with pikepdf.open(io.BytesIO(base + tail)) as copy:
        assert str(copy.docinfo[KEY]) == '{"order": "A-17"}'
    assert "Ada".encode("utf-16-be").hex().upper().encode() not in tail
    with pytest.raises(BuyersError, match="names “street”"):
        worded("{name}, {street}", buyer)


def test_a_copy_is_small_beside_the_master_and_quickly_made() -> None:
    master = make_master(pdf())
    base, tail = stamped(master, "Copy for nobody", {"name": "nobody"})
    assert base is master.data
    assert len(tail) < 5000


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("name,order\n", "has no buyers"),
        ("name,order\nA,1\nB,1\n", "one file"),
        ("name,order\nA,1,2\n", "more fields"),
        ("street\nHigh Street\n", "needs a column"),
        ('name,order\n"A\nB,1\n', "no CSV"),
    ],
)
def test_a_list_that_cannot_be_used_is_told_before_anything_is_written(text: str, told: str, sold: Path) -> None:
    (sold / "buyers.csv").write_text(text, encoding="utf-8")
    given = ["copies", str(sold / "peg-box"), "--buyers", str(sold / "buyers.csv"), "--out", str(sold / "copies")]
    result = CliRunner().invoke(app, given)
    assert result.exit_code == 1
    assert told in result.stderr
    assert not (sold / "copies").exists()


def test_what_is_no_copy_says_so(sold: Path) -> None:
    with pytest.raises(NoCopyError):
        whose(sold / "peg-box" / "peg-box.pdf")
    with pytest.raises(NoCopyError):
        whose(sold / "peg-box" / "peg-box.html")
    (file, *_) = copies(sold)
    with pytest.raises(NoMasterError, match="copy already"):
        make_master(file.read_bytes())
    with pytest.raises(NoMasterError, match="no sound PDF"):
        make_master(b"%PDF-1.7 torn")


def test_the_booklet_is_what_compile_wrote_and_no_other_file_in_the_folder(tmp_path: Path) -> None:
    """A sheet of corrections stands before it in the alphabet."""
    folder = tmp_path / "peg-box"
    write_set(folder, {"peg-box.pdf": pdf(), "peg-box.html": b"<html>"})
    (folder / "errata-A-to-B.pdf").write_bytes(b"%PDF-1.7 a sheet")
    assert booklet_pdf(folder).name == "peg-box.pdf"
    assert originals(folder).name == "peg-box"
    with pytest.raises(NoBookletError, match="compile the plan first"):
        originals(tmp_path)
