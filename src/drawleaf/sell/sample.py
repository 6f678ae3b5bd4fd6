"""The free taste: some pages of a finished PDF, marked as a sample, with nothing of the other pages inside.

Pages keep their printed numbers, which viewers show too. Links between them stay, all others go, as do bookmarks, names of places, attachments,
what other pages draw, and the words that their tags hold.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape

import pikepdf
from pikepdf import Array, Dictionary, Name

from drawleaf.book.output.named_places import named_places, pages_of_places
from drawleaf.sell.master import put_line
from drawleaf.sell.mistakes import SellingError
from drawleaf.sell.stamp_font import stamp_font

CHAPTERS = ("glance", "tools", "exploded")
"""Chapters whose first page is in the sample where the author chooses none."""
STEPS = 2
SHARED = ("/XObject", "/Pattern", "/Shading", "/ExtGState", "/Properties", "/ColorSpace", "/Font")
"""What a page's resources hold by name; one dictionary may serve all pages of a file."""


class SampleError(SellingError):
    """No sample can be made; the text says why."""


def read_pages(text: str) -> tuple[int, ...]:
    """``1,3,10-12`` as page numbers, in order. Raises SampleError."""
    found: set[int] = set()
    for word in text.replace(" ", "").split(","):
        match = re.fullmatch(r"(\d{1,5})(?:-(\d{1,5}))?", word)
        if match is None:
            raise SampleError(f"“{text}” names no pages: write them as 1,3,10-12")
        found |= set(range(int(match[1]), int(match[2] or match[1]) + 1))
    return tuple(sorted(found))


def make_sample(pdf: bytes, pages: Sequence[int] | None = None, mark: str = "Sample: {} of {} pages") -> bytes:
    """A PDF with those pages (from 1; a good choice where None is given). Raises SampleError."""
    try:
        document = pikepdf.open(io.BytesIO(pdf))
    except (pikepdf.PdfError, pikepdf.PasswordError) as error:
        raise SampleError(f"the booklet is no PDF that can be read: {error}") from None
    whole, places = len(document.pages), named_places(document)
    chosen = tuple(sorted(set(pages))) if pages is not None else _usual(document)
    if not chosen or chosen[0] < 1 or chosen[-1] > whole:
        raise SampleError(f"the booklet has pages 1 to {whole}")
    if len(chosen) == whole:
        raise SampleError("that is the whole booklet, and no sample")
    kept = {document.pages[number - 1].obj.objgen for number in chosen}
    bookmarks = _bookmarks(document, kept)
    links = _links(document, kept, places)
    for name in (
        "/Names",
        "/Outlines",
        "/Dests",
        "/OpenAction",
        "/AcroForm",
        "/AF",
        "/Threads",
        "/PieceInfo",
        "/PageLabels",
    ):
        if name in document.Root:
            del document.Root[name]
    for number in range(whole, 0, -1):
        if number not in chosen:
            del document.pages[number - 1]
    _tags(document, kept, links)
    for page in document.pages:
        for key in ("/B", "/Thumb", "/PieceInfo", "/AA", "/AF"):
            if key in page.obj:
                del page.obj[key]
        page.obj.Resources = _used(document, page.obj, page.obj.get("/Resources"), set())
    document.Root.PageLabels = Dictionary(
        Nums=Array([one for at, number in enumerate(chosen) for one in (at, Dictionary(S=Name.D, St=number))])
    )
    with document.open_outline() as outline:
        outline.root.extend(pikepdf.OutlineItem(title, at) for title, at in bookmarks)
    said = mark.format(len(chosen), whole)
    put_line(document, stamp_font(), said)
    _title(document, said)
    out = io.BytesIO()
    document.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def chapter_pages(pdf: bytes) -> dict[str, int]:
    """The page (from 1) of each named place of a booklet: chapters by their ids, steps, parts."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return pages_of_places(document)


def _usual(document: pikepdf.Pdf) -> tuple[int, ...]:
    """The cover, at a glance, the tools, an exploded view, and two steps."""
    pages = pages_of_places(document)
    steps = sorted({page for name, page in pages.items() if name.startswith("step-")})
    own = [pages[name] for name in CHAPTERS if name in pages]
    return tuple(sorted({1, *own, *steps[:STEPS]}))


def _bookmarks(document: pikepdf.Pdf, kept: set[tuple[int, int]]) -> list[tuple[str, int]]:
    """The titles of bookmarks that lead to a page of the sample, with its place in it from 0."""
    order = [page.obj.objgen for page in document.pages if page.obj.objgen in kept]
    found: list[tuple[str, int]] = []

    def walk(entry: pikepdf.Object | None) -> None:
        while entry is not None:
            place = entry.get("/Dest")
            if isinstance(place, Array) and place[0].objgen in kept:
                found.append((str(entry.Title), order.index(place[0].objgen)))
            walk(entry.get("/First"))
            entry = entry.get("/Next")

    walk(document.Root.get("/Outlines", Dictionary()).get("/First"))
    return found


def _links(
    document: pikepdf.Pdf, kept: set[tuple[int, int]], places: dict[str, pikepdf.Object]
) -> set[tuple[int, int]]:
    """Takes every link off that leads out of the sample, and gives those that stay their page itself. Which annotations stay."""
    staying: set[tuple[int, int]] = set()
    for page in document.pages:
        if page.obj.objgen not in kept or "/Annots" not in page.obj:
            continue
        found = []
        for link in page.obj.Annots:
            action = link.get("/A", Dictionary())
            place = link.get("/Dest", action.get("/D"))
            if place is not None and not isinstance(place, Array):
                place = places.get(str(place))
            inside = isinstance(place, Array) and place[0].objgen in kept
            if inside:
                if "/A" in link:
                    del link["/A"]
                link.Dest = place
            elif action.get("/S") != Name.URI:
                continue
            found.append(link)
            staying.add(link.objgen)
        page.obj.Annots = Array(found)
    return staying


def _tags(document: pikepdf.Pdf, kept: set[tuple[int, int]], links: set[tuple[int, int]]) -> None:
    """Cuts the structure tree down to what the pages show."""
    root = document.Root.get("/StructTreeRoot")
    if root is None:
        return
    tree = root.get("/ParentTree")
    parents = dict(pikepdf.NumberTree(tree).items()) if tree is not None else {}
    numbers = [page.obj.get("/StructParents") for page in document.pages]
    numbers += [link.get("/StructParent") for page in document.pages for link in page.obj.get("/Annots", Array())]
    if "/IDTree" in root:
        del root["/IDTree"]
    _cut(root, None, kept, links)
    left = sorted(int(number) for number in numbers if number is not None and int(number) in parents)
    root.ParentTree = document.make_indirect(
        Dictionary(Nums=Array([one for number in left for one in (number, parents[number])]))
    )
    root.ParentTreeNextKey = left[-1] + 1 if left else 0


def _cut(
    element: pikepdf.Object,
    page: tuple[int, int] | None,
    kept: set[tuple[int, int]],
    links: set[tuple[int, int]],
) -> bool:
    """Whether anything of an element is left once what other pages show is out of it."""
    page = element.Pg.objgen if "/Pg" in element else page
    kids = element.get("/K", Array())
    left = []
    for kid in kids if isinstance(kids, Array) else [kids]:
        if not isinstance(kid, Dictionary):
            stays = page in kept
        elif kid.get("/Type") == Name.OBJR:
            stays = kid.Obj.objgen in links
        elif kid.get("/Type") == Name.MCR:
            stays = (kid.Pg.objgen if "/Pg" in kid else page) in kept
        else:
            stays = _cut(kid, page, kept, links)
        if stays:
            left.append(kid)
    element.K = Array(left)
    if "/Pg" in element and page not in kept:
        del element["/Pg"]
    return bool(left)


def _used(
    document: pikepdf.Pdf, drawing: pikepdf.Object, resources: pikepdf.Object | None, seen: set[tuple[int, int]]
) -> Dictionary:
    """What a page, or a form on it, draws with, out of resources that may serve the whole file."""
    if resources is None:
        return Dictionary()
    names = _names(drawing)
    found = Dictionary()
    for kind, entries in resources.items():
        if kind not in SHARED or not isinstance(entries, Dictionary):
            found[kind] = entries
            continue
        own = Dictionary({name: entry for name, entry in entries.items() if name in names})
        for entry in _forms(own.values()):
            if entry.objgen not in seen:
                seen.add(entry.objgen)
                entry.Resources = _used(document, entry, entry.get("/Resources", resources), seen)
        found[kind] = own
    return found


def _forms(entries: Iterable[pikepdf.Object]) -> Iterable[pikepdf.Object]:
    """The streams that draw with resources of their own: forms, tiling patterns, and the groups of soft masks."""
    for entry in entries:
        if isinstance(entry, pikepdf.Stream) and ("/Resources" in entry or entry.get("/Subtype") == Name.Form):
            yield entry
        mask = entry.get("/SMask") if isinstance(entry, Dictionary) else None
        if isinstance(mask, Dictionary) and "/G" in mask:
            yield mask.G


def _names(drawing: pikepdf.Object) -> set[str]:
    """Every name that a page or form speaks of in what it draws."""
    return {
        str(operand)
        for operands, _ in pikepdf.parse_content_stream(drawing)
        for operand in operands
        if isinstance(operand, Name)
    }


def _title(document: pikepdf.Pdf, said: str) -> None:
    """The title says that it is a sample, in both places."""
    before = str(document.docinfo.get("/Title", ""))
    after = f"{before}. {said}".lstrip(". ")
    document.docinfo["/Title"] = after
    if "/Metadata" in document.Root:
        xmp = document.Root.Metadata.read_bytes().decode("utf-8")
        document.Root.Metadata.write(xmp.replace(f">{escape(before)}<", f">{escape(after)}<").encode())
