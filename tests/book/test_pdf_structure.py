"""The structure of the PDF, where WeasyPrint leaves it open: heads of tables, links, lists, running lines. An independent checker
(outloud 0.2.1, its rules of PDF/UA-1) found 59 errors in the booklet of the key ledge without it, and none with it."""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, NullObject
from tests.laid_pages import printed

from drawleaf.book.output.booklet import make_html

RUNNING_ON = '<ul class="inline"><li>Hold it flat.</li> <li>Clamp what is short.</li> <li>Wait.</li></ul><style>.inline li { display: inline }</style>'
"""A list whose items run on in one line, as those of a caution on paper do."""
WITH_A_NUMBER = '<p>See <a href="#steps"><span>3</span> the third step</a>.</p>'


@pytest.fixture
def reader(derived, drawings, plain_words) -> PdfReader:
    html = make_html(derived, drawings, for_print=True)
    return PdfReader(io.BytesIO(printed(html.replace("</body>", f"{RUNNING_ON}{WITH_A_NUMBER}</body>")).pdf))


def elements(node: Any, above: tuple[str, ...] = ()) -> Iterator[tuple[DictionaryObject, tuple[str, ...]]]:
    """Every element of the structure tree, with the kinds of those about it."""
    node = node.get_object()
    if isinstance(node, ArrayObject):
        for child in node:
            yield from elements(child, above)
    elif isinstance(node, DictionaryObject):
        if "/S" in node:
            yield node, above
            above = (*above, str(node["/S"]))
        if "/K" in node:
            yield from elements(node["/K"], above)


def kids(node: DictionaryObject) -> list[Any]:
    found = node["/K"].get_object()
    return [kid.get_object() for kid in found] if isinstance(found, ArrayObject) else [found]


def tree(reader: PdfReader) -> list[tuple[DictionaryObject, tuple[str, ...]]]:
    return list(elements(reader.root_object["/StructTreeRoot"]))


def parents(reader: PdfReader) -> dict[int, Any]:
    flat = reader.root_object["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    return {int(flat[place]): flat[place + 1].get_object() for place in range(0, len(flat), 2)}


def test_every_head_of_a_table_says_what_it_heads(reader: PdfReader):
    heads = [(node["/A"].get("/Scope"), "/THead" in above) for node, above in tree(reader) if node["/S"] == "/TH"]
    assert Counter(heads).keys() == {("/Column", True), ("/Row", False)}


def test_every_link_belongs_to_a_link_element_and_is_printed(reader: PdfReader):
    owners = parents(reader)
    notes = [note for page in reader.pages for note in page.get("/Annots", ())]
    assert notes
    for reference in notes:
        note = reference.get_object()
        assert note["/F"] & 4
        owner = owners[note["/StructParent"]]
        assert owner["/S"] == "/Link"
        assert any(_is_note(kid) and kid.raw_get("/Obj") == reference for kid in kids(owner))
    held = [node["/S"] for node, _ in tree(reader) for kid in kids(node) if _is_note(kid)]
    assert held == ["/Link"] * len(notes)


def _is_note(kid: Any) -> bool:
    return isinstance(kid, DictionaryObject) and kid.get("/Type") == "/OBJR"


def test_a_list_has_no_children_but_items_and_lists(reader: PdfReader):
    lists = [[str(kid["/S"]) for kid in kids(node)] for node, _ in tree(reader) if node["/S"] == "/L"]
    assert ["/LI", "/LI", "/LI"] in lists
    assert all(set(one) <= {"/LI", "/L"} for one in lists)


def test_running_lines_belong_to_their_pages_and_are_no_content(reader: PdfReader):
    """On each page but the cover; every other piece of text has an element that hangs on the tree."""
    owners = parents(reader)
    hung = {id(node) for node, _ in tree(reader)}
    for page in list(reader.pages)[1:]:
        data = page.get_contents().get_data()
        running = len(re.findall(rb"/Artifact\s*<</Type /Pagination>>\s*BDC", data))
        assert running >= 2
        marked = owners[page["/StructParents"]]
        found = [one.get_object() for one in marked]
        assert all(isinstance(one, NullObject) or id(one) in hung for one in found)
        assert sum(isinstance(one, NullObject) for one in found) == running
