"""A finished PDF made ready for buyers' copies, once: every page bears one line in its foot, and each copy only says what the line is.

A copy is the master with an update behind it (ISO 32000-1, 7.5.6): the line, the document's information and its metadata. Nothing else of the
file is touched, so the structure tree and what says PDF/UA stay as they are. The line is an artifact: a screen reader does not read it on
every page; the metadata tell it once.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from xml.sax.saxutils import escape

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream

from drawleaf.sell.mistakes import SellingError
from drawleaf.sell.stamp_font import StampFont, stamp_font, to_unicode

LINE = "/BuyersLine"
KEY = "/BuyersCopy"
"""Where the document's information holds the fields, as JSON."""
SPACE = "https://drawleaf.invalid/copy/1/"
"""The name of our property in the metadata; an address that by its ending leads nowhere (RFC 2606)."""
SIZE, LEFT, FOOT = 8.0, 57.0, 17.0
"""In points: the line's letters, and where it begins."""
GREY = 0.33


class NoMasterError(SellingError):
    """The file cannot be made ready; the text says why."""


@dataclass(frozen=True, slots=True)
class Master:
    """The file that all copies begin with, and what an update needs to know of it."""

    data: bytes
    line: int
    information: int
    metadata: int
    size: int
    root: int
    before: int
    identifier: bytes
    title: str
    xmp: str
    width: float
    font: StampFont
    font_object: int
    entries: str


def make_master(pdf: bytes, place: str = "the PDF") -> Master:
    """Raises NoMasterError where the file is no PDF, is locked, or was stamped before."""
    try:
        document = pikepdf.open(io.BytesIO(pdf))
    except pikepdf.PasswordError:
        raise NoMasterError(f"{place} is locked with a password") from None
    except pikepdf.PdfError as error:
        raise NoMasterError(f"{place} is no sound PDF: {error}") from None
    if KEY in document.docinfo:
        raise NoMasterError(f"{place} is a buyer's copy already: take the file that compile wrote")
    font = stamp_font()
    _, wide = put_line(document, font)
    if "/Metadata" not in document.Root:
        document.Root.Metadata = document.make_indirect(Stream(document, _BARE_XMP))
    document.docinfo["/Producer"] = document.docinfo.get("/Producer", "drawleaf")
    out = io.BytesIO()
    document.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return _read_back(out.getvalue(), font, wide)


def put_line(document: pikepdf.Pdf, font: StampFont, text: str | None = None) -> tuple[Stream, float]:
    """The line on every page as an artifact, with its text where it has one already; the form it is drawn by, and the pages' width in points."""
    letters = document.make_indirect(_font(document, font))
    wide = min(float(page.mediabox[2]) - float(page.mediabox[0]) for page in document.pages)
    line = document.make_indirect(_form(document, wide, letters))
    if text is not None:
        line.write(drawn(font, wide, text))
    for page in document.pages:
        page.contents_add(b"q\n", prepend=True)
        page.contents_add(b"Q\n/Artifact <</Type /Pagination /Subtype /Footer>> BDC q /BuyersLine Do Q EMC\n")
        # A dictionary of the page's own: pages may share theirs.
        page.obj.Resources = _copied(page.obj.get("/Resources"))
        page.obj.Resources.XObject = _copied(page.obj.Resources.get("/XObject"))
        page.obj.Resources.XObject[LINE] = line
    return line, wide


_BARE_XMP = (
    b'<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/">'
    b'<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"></rdf:RDF></x:xmpmeta><?xpacket end="r"?>'
)


def _read_back(data: bytes, font: StampFont, wide: float) -> Master:
    """The numbers that the saved file has given to its objects."""
    document = pikepdf.open(io.BytesIO(data))
    line = document.pages[0].obj.Resources.XObject[LINE]
    begins = re.findall(rb"startxref\s+(\d+)\s+%%EOF", data[-64:])
    return Master(
        data=data,
        line=line.objgen[0],
        information=document.trailer.Info.objgen[0],
        metadata=document.Root.Metadata.objgen[0],
        size=int(document.trailer.Size),
        root=document.Root.objgen[0],
        before=int(begins[-1]),
        identifier=bytes(document.trailer.ID[0]),
        title=str(document.docinfo.get("/Title", "")),
        xmp=document.Root.Metadata.read_bytes().decode("utf-8"),
        width=wide,
        font=font,
        font_object=line.Resources.Font.F0.objgen[0],
        entries="".join(f" {key} {_text(str(value))}" for key, value in sorted(document.docinfo.items()) if key != KEY),
    )


def stamped(master: Master, line: str, fields: Mapping[str, str]) -> tuple[bytes, bytes]:
    """The two halves of a copy: the master's bytes, which all share, and the update that is this buyer's."""
    told = json.dumps(dict(fields), ensure_ascii=False, sort_keys=True)
    objects = {
        master.line: _stream(_form_entries(master.width, master.font_object), drawn(master.font, master.width, line)),
        master.information: f"<<{master.entries} {KEY} {_text(told)}>>".encode("latin-1"),
        master.metadata: _stream("/Type /Metadata /Subtype /XML", _xmp(master.xmp, told)),
    }
    tail, places = bytearray(b"\n"), {}
    for number, body in sorted(objects.items()):
        places[number] = len(master.data) + len(tail)
        tail += f"{number} 0 obj\n".encode() + body + b"\nendobj\n"
    here = len(master.data) + len(tail)
    places[master.size] = here
    rows = b"".join(b"\x01" + place.to_bytes(5, "big") + b"\x00\x00" for _, place in sorted(places.items()))
    index = " ".join(f"{number} 1" for number in sorted(places))
    own = hashlib.sha256(master.identifier + line.encode() + told.encode()).hexdigest()[:32]
    head = (
        f"/Type /XRef /Size {master.size + 1} /W [1 5 2] /Index [{index}] /Prev {master.before} /Root {master.root} 0 R "
        f"/Info {master.information} 0 R /ID [<{master.identifier.hex()}> <{own}>]"
    )
    tail += f"{master.size} 0 obj\n".encode() + _stream(head, rows) + f"\nendobj\nstartxref\n{here}\n%%EOF\n".encode()
    return master.data, bytes(tail)


def _stream(entries: str, data: bytes) -> bytes:
    return f"<<{entries} /Length {len(data)}>>\nstream\n".encode() + data + b"\nendstream"


def _text(text: str) -> str:
    """A text of a PDF in hexadecimal, with nothing in it that could be taken for anything else."""
    return f"<{(chr(0xFEFF) + text).encode('utf-16-be').hex().upper()}>"


def drawn(font: StampFont, width: float, line: str) -> bytes:
    """The line as a page draws it, cut short where it is wider than the page."""
    room = width - 2 * LEFT - 40.0
    shown = line
    while len(shown) > 1 and font.width(shown) * SIZE > room:
        shown = shown[: -2 if shown == line else -3].rstrip() + "…"
    return f"BT /F0 {SIZE:g} Tf {GREY} g {LEFT:g} {FOOT:g} Td <{font.hexed(shown)}> Tj ET".encode()


def _xmp(xmp: str, told: str) -> bytes:
    ours = f'<rdf:Description rdf:about="" xmlns:copy="{SPACE}"><copy:fields>{escape(told)}</copy:fields></rdf:Description>'
    return xmp.replace("</rdf:RDF>", f"{ours}</rdf:RDF>", 1).encode()


def _form_entries(wide: float, font: int) -> str:
    return f"/Type /XObject /Subtype /Form /BBox [0 0 {wide:g} {FOOT + 2 * SIZE:g}] /Resources <</Font <</F0 {font} 0 R>>>>"


def _form(document: pikepdf.Pdf, wide: float, font: pikepdf.Object) -> Stream:
    """The line before anyone's name is in it."""
    form = Stream(document, b"")
    form.Type, form.Subtype = Name.XObject, Name.Form
    form.BBox = Array([0, 0, wide, FOOT + 2 * SIZE])
    form.Resources = Dictionary(Font=Dictionary(F0=font))
    return form


def _copied(given: pikepdf.Object | None) -> Dictionary:
    return Dictionary({str(key): value for key, value in given.items()}) if given is not None else Dictionary()


def _font(document: pikepdf.Pdf, font: StampFont) -> Dictionary:
    name = Name("/DRAWLF+SourceSans3-Regular")
    file = document.make_indirect(Stream(document, font.data))
    file.Length1 = len(font.data)
    about = document.make_indirect(
        Dictionary(
            Type=Name.FontDescriptor,
            FontName=name,
            Flags=32,
            FontBBox=Array(list(font.box)),
            ItalicAngle=0,
            Ascent=font.ascent,
            Descent=font.descent,
            CapHeight=660,
            StemV=80,
            FontFile2=file,
        )
    )
    widths = [font.widths[number] for number in range(len(font.widths))]
    inner = document.make_indirect(
        Dictionary(
            Type=Name.Font,
            Subtype=Name.CIDFontType2,
            BaseFont=name,
            CIDSystemInfo=Dictionary(Registry=b"Adobe", Ordering=b"Identity", Supplement=0),
            FontDescriptor=about,
            CIDToGIDMap=Name.Identity,
            W=Array([0, Array(widths)]),
        )
    )
    return Dictionary(
        Type=Name.Font,
        Subtype=Name.Type0,
        BaseFont=name,
        Encoding=Name("/Identity-H"),
        DescendantFonts=Array([inner]),
        ToUnicode=document.make_indirect(Stream(document, to_unicode(font.glyphs.items()))),
    )
