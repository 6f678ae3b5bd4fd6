"""Buyers' copies of the finished files, and whose a copy is."""

from __future__ import annotations

import html
import io
import json
import os
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path

import pikepdf

from drawleaf.sell.buyers import Buyer, worded
from drawleaf.sell.finished import booklet_file, no_booklet, page_text
from drawleaf.sell.master import KEY, Master, make_master, stamped
from drawleaf.sell.mistakes import SellingError
from drawleaf.sell.whole_files import write_whole

META = "drawleaf-copy"


class NoCopyError(SellingError):
    """A file bears no buyer's stamp of ours; the text says why."""


@dataclass(frozen=True, slots=True)
class Written:
    """One file: where it stands, and whether it stood there whole already."""

    file: Path
    kept: bool


@dataclass(frozen=True, slots=True)
class Originals:
    """The finished files, read and made ready once."""

    name: str
    pdf: Master | None
    html: str | None


def originals(folder: Path) -> Originals:
    """The booklet in a folder that compile wrote. Raises NoMasterError, NoBookletError, OSError."""
    printed, page = booklet_file(folder, ".pdf"), booklet_file(folder, ".html")
    named = printed or page
    if named is None:
        raise no_booklet(folder)
    return Originals(
        named.stem,
        make_master(printed.read_bytes(), str(printed)) if printed is not None else None,
        page_text(page) if page is not None else None,
    )


def write_copies(files: Originals, buyers: Sequence[Buyer], line: str, out: Path) -> Iterator[Written]:
    """A PDF and an HTML for each buyer, one file at a time. What stands there whole already is left. Raises BuyersError, OSError."""
    texts = [worded(line, buyer) for buyer in buyers]  # a mistake in the list is told before anything is written
    for buyer, (said, fields) in zip(buyers, texts, strict=True):
        if files.pdf is not None:
            yield _pdf(out / f"{files.name}-{buyer.file_part}.pdf", *stamped(files.pdf, said, fields))
        if files.html is not None:
            yield _page(out / f"{files.name}-{buyer.file_part}.html", stamped_page(files.html, said, fields).encode())


def _pdf(file: Path, base: bytes, tail: bytes) -> Written:
    if file.is_file() and file.stat().st_size == len(base) + len(tail):
        with file.open("rb") as stream:
            stream.seek(-len(tail), os.SEEK_END)
            if stream.read() == tail:
                return Written(file, True)
    write_whole(file, base + tail)
    return Written(file, False)


def _page(file: Path, data: bytes) -> Written:
    if file.is_file() and file.read_bytes() == data:
        return Written(file, True)
    write_whole(file, data)
    return Written(file, False)


def stamped_page(page: str, line: str, fields: Mapping[str, str]) -> str:
    """The tablet edition with the line at its end and the fields in its head. Raises NoCopyError where the page has no head or body."""
    told = html.escape(json.dumps(dict(fields), ensure_ascii=False, sort_keys=True))
    head, found, rest = page.partition("</head>")
    body, end, after = rest.rpartition("</body>")
    if not found or not end:
        raise NoCopyError("the HTML edition has no end: compile the plan anew")
    foot = f'<footer class="soft"><p>{html.escape(line)}</p></footer>\n'
    return f'{head}<meta name="{META}" content="{told}">\n{found}{body}{foot}{end}{after}'


def whose(file: Path) -> dict[str, str]:
    """The fields that a copy bears. Raises NoCopyError where it bears none, OSError."""
    data = file.read_bytes()
    told = _in_pdf(data) if data[:1024].lstrip().startswith(b"%PDF") else _in_page(data.decode("utf-8", "replace"))
    if told is None:
        raise NoCopyError(f"{file} is no buyer's copy of ours")
    try:
        fields = json.loads(told)
        return {str(column): str(value) for column, value in fields.items()}
    except (ValueError, AttributeError):
        raise NoCopyError(f"{file} bears a stamp that was changed by someone") from None


def _in_pdf(data: bytes) -> str | None:
    try:
        with pikepdf.open(io.BytesIO(data)) as document:
            if KEY in document.docinfo:
                return str(document.docinfo[KEY])
            # Programs that clean a file's information mostly leave its metadata.
            xmp = document.Root.Metadata.read_bytes().decode("utf-8", "replace") if "/Metadata" in document.Root else ""
    except pikepdf.PdfError:
        return None
    found = re.search(r"<copy:fields>([^<]*)</copy:fields>", xmp)
    return html.unescape(found[1]) if found else None


class _Metas(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: str | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "meta" and given.get("name") == META:
            self.found = given.get("content")


def _in_page(text: str) -> str | None:
    reader = _Metas()
    reader.feed(text.partition("</head>")[0])
    return reader.found
