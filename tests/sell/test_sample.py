"""The sample: chosen pages, marked, with nothing of the others inside."""

from __future__ import annotations

import io
import re

import pikepdf
import pytest
from pypdf import PdfReader
from tests.sell.booklets import TITLES, pdf

from drawleaf.sell.sample import SampleError, make_sample, read_pages


def everything_in(data: bytes) -> str:
    """All that is in a file as text: what its pages show, every string and every stream of every object."""
    said = [page.extract_text() for page in PdfReader(io.BytesIO(data)).pages]
    with pikepdf.open(io.BytesIO(data)) as document:
        for item in document.objects:
            said.append(repr(item))
            if isinstance(item, pikepdf.Stream):
                said.append(item.read_bytes().decode("latin-1"))
    return "\n".join(said)


def test_only_the_chosen_pages_are_inside() -> None:
    """Pages 1, 2 and 5: of the others no word, bookmark, tag or name of a place is left. The whole booklet has them, so they would be found."""
    made = make_sample(pdf(), (1, 2, 5))
    said, before = everything_in(made), everything_in(pdf())
    for number, title in enumerate(TITLES):
        secret = f"Secret{number:03}"
        assert secret in before
        assert (secret in said) is (number in (0, 1, 4))
        assert title in before
        linked = number in (1, 2, 5)  # the words of a link on a page that is inside
        assert (title in said) is (number in (0, 1, 4) or linked)


def test_each_page_is_marked_and_keeps_its_number() -> None:
    reader = PdfReader(io.BytesIO(make_sample(pdf(), (1, 2, 5))))
    assert reader.page_labels == ["1", "2", "5"]
    assert all("Sample: 3 of 7 pages" in page.extract_text() for page in reader.pages)
    assert reader.metadata is not None
    assert reader.metadata.title == "Peg box (PB-1, revision A). Sample: 3 of 7 pages"


def test_links_inside_stay_and_those_that_lead_out_go() -> None:
    """Page 1 points to page 2, which is inside; 2 points to 3 and 5 to 6, which are not."""
    with pikepdf.open(io.BytesIO(make_sample(pdf(), (1, 2, 5)))) as document:
        counts = [len(page.obj.get("/Annots", [])) for page in document.pages]
        assert counts == [1, 0, 0]
        assert document.pages[0].Annots[0].Dest[0].objgen == document.pages[1].obj.objgen
        assert b'pdfuaid:part="1"' in document.Root.Metadata.read_bytes()
        assert "/Names" not in document.Root


def test_bookmarks_lead_to_the_pages_that_are_inside() -> None:
    reader = PdfReader(io.BytesIO(make_sample(pdf(), (2, 5))))
    assert [(one.title, reader.get_destination_page_number(one)) for one in reader.outline] == [
        ("At a glance", 0),
        ("Step one", 1),
    ]


def test_the_tags_that_stay_are_those_of_the_pages() -> None:
    with pikepdf.open(io.BytesIO(make_sample(pdf(), (2, 5)))) as document:
        pages = {page.obj.objgen for page in document.pages}
        told = [one.Pg.objgen for one in document.objects if isinstance(one, pikepdf.Dictionary) and "/Pg" in one]
        assert told
        assert set(told) == pages


def test_the_same_pages_give_the_same_bytes() -> None:
    assert make_sample(pdf(), (1, 2)) == make_sample(pdf(), (2, 1, 2))


@pytest.mark.parametrize("pages", [(0, 1), (3, 8), (1, 2, 3, 4, 5, 6, 7), ()])
def test_pages_that_make_no_sample_are_told(pages: tuple[int, ...]) -> None:
    with pytest.raises(SampleError, match=r"pages 1 to 7|whole booklet"):
        make_sample(pdf(), pages)


def test_pages_are_read_as_people_write_them() -> None:
    assert read_pages("1, 3,10-12") == (1, 3, 10, 11, 12)
    with pytest.raises(SampleError, match=re.escape("1,3,10-12")):
        read_pages("all")
