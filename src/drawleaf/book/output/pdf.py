"""From the booklet's HTML to a tagged PDF (PDF/UA-1, ISO 14289-1:2014) through WeasyPrint.

WeasyPrint is imported only here, when a PDF is made: it needs system libraries that a reader of the HTML edition need not have.
The same HTML gives the same bytes: dates come from the plan or SOURCE_DATE_EPOCH, the file identifier from the HTML.
"""

from __future__ import annotations

import gc
import hashlib
import mimetypes
import os
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from drawleaf.book.output.fewer_elements import with_fewer_elements
from drawleaf.book.output.page_numbers import laid_out_with_numbers
from drawleaf.book.output.pdf_structure import with_structure_mended
from drawleaf.folder_files import RefusedAddressError, file_at
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.resources import font_files, template_folders

PDF_VARIANT = "pdf/ua-1"
SHOWN = (".png", ".jpg", ".jpeg", ".webp", ".svg", ".css", ".ttf", ".otf", ".woff", ".woff2")
"""What a template of an author's may show out of the plan's folder."""
LATEST_EPOCH = 253_402_300_799  # the last second of the year 9999


class MissingRendererError(RuntimeError):
    """WeasyPrint or a library under it cannot be loaded on this computer."""


class RefusedAddressesError(ValueError):
    """The page asks for what a booklet may not open: each ``address`` as the page gives it, with the reason."""

    def __init__(self, refused: Mapping[str, str]) -> None:
        super().__init__(", ".join(refused))
        self.refused = dict(refused)


def make_pdf(html: str, *, plan_folder: Path | None = None) -> bytes:
    """Print the booklet's HTML.

    Only the text family's own font files, data inside the HTML, and pictures in ``plan_folder`` are read; nothing comes from a
    network, and no file is attached. Raises MissingRendererError where WeasyPrint cannot be loaded, RefusedAddressesError where the page
    asks for anything else.
    """
    _renderer()
    fetcher = _fetcher(plan_folder)
    with _rarely_tidied():
        document = laid_out(html, plan_folder, fetcher)
        moment = _moment(document.metadata.created)
        document.metadata.created = document.metadata.modified = moment.strftime("%Y-%m-%dT%H:%M:%SZ")
        with _clock_at(moment):
            pdf = document.write_pdf(finisher=with_structure_mended, pdf_variant=PDF_VARIANT)
    pdf = _identified(pdf, hashlib.sha256(html.encode()).hexdigest()[:32])
    if fetcher.refused:
        raise RefusedAddressesError({_short(address, plan_folder): why for address, why in fetcher.refused.items()})
    return pdf


def laid_out(html: str, plan_folder: Path | None, fetcher: Any = None) -> Any:
    """The booklet's pages as WeasyPrint lays them out, a document of its own, every number of a page in its place.

    Raises MissingRendererError where WeasyPrint cannot be loaded.
    """
    weasyprint = _renderer()
    fetcher = fetcher or _fetcher(plan_folder)
    if len(template_folders(plan_folder)) == 1:
        html = with_fewer_elements(html)
    source = weasyprint.HTML(string=spaces_apart(html), base_url=_base(plan_folder), url_fetcher=fetcher)
    fetcher.refused.update(_without_attachments(source.etree_element))
    document = laid_out_with_numbers(source.etree_element, lambda: source.render(pdf_variant=PDF_VARIANT))
    for page in document.pages:
        page.bookmarks = [(level, _APART.sub("", label), *rest) for level, label, *rest in page.bookmarks]
    return document


@contextmanager
def _rarely_tidied() -> Iterator[None]:
    """Python looks for unused rings among all its objects after every few hundred new ones; of WeasyPrint's million hardly one is unused."""
    before = gc.get_threshold()
    gc.set_threshold(100_000, 20, 100)
    try:
        yield
    finally:
        gc.set_threshold(*before)


def _identified(pdf: bytes, identifier: str) -> bytes:
    """The file with its identifier, which pydyf, where it is to write one, makes by putting all of the file together a second time.

    It goes into the dictionary of the cross-reference stream, the last object of the file: no other moves.
    """
    place = pdf.rindex(b"/Type /XRef") + len(b"/Type /XRef")
    return pdf[:place] + f"/ID [<{identifier}> <{identifier}>]".encode() + pdf[place:]


_SPACE_AT_END = re.compile(r"(?<=[^\s>]) (?=</?(?:span|strong|em|b|i|a|code)[ >])")
_FAST_SPACE_AT_END = re.compile(r"(?<=[^\s>])\u00a0(?=<)")
_APART = re.compile("[\u200b\u200c\u2060]")
"""What ``spaces_apart`` puts in: no bookmark is found by its words with them."""


def spaces_apart(html: str) -> str:
    """The same HTML, with a space of no width after each space at the end of a text, where an inline element begins or ends, and a
    joiner after a fast space there.

    Where a text fills its line but for the space at its end, WeasyPrint 70 takes it for too long and breaks it after its first
    word. A text that does not end in a space is spared that.
    """
    return _FAST_SPACE_AT_END.sub("\u00a0\u2060", _SPACE_AT_END.sub(" \u200c\u200b", html))


def _renderer() -> Any:
    try:
        import weasyprint
    except (ImportError, OSError) as error:
        raise MissingRendererError(
            "WeasyPrint could not be loaded. The HTML edition needs nothing; for the PDF install WeasyPrint with its "
            f"libraries (Pango). The reason given was: {error}"
        ) from error
    return weasyprint


def _base(plan_folder: Path | None) -> str | None:
    return plan_folder.resolve().as_uri() + "/" if plan_folder else None


def _moment(plan_date: str | None) -> datetime:
    """SOURCE_DATE_EPOCH (reproducible-builds.org) where it is set, else the plan's own date."""
    if stated := os.environ.get("SOURCE_DATE_EPOCH", ""):
        if epoch_fault():
            raise ValueError("SOURCE_DATE_EPOCH is no moment")
        return datetime.fromtimestamp(int(stated), UTC)
    try:
        return datetime.fromisoformat(plan_date or "").replace(tzinfo=UTC)
    except ValueError:
        return datetime.fromtimestamp(0, UTC)


def epoch_fault() -> Diagnostic | None:
    """What is wrong with the moment that SOURCE_DATE_EPOCH states; None where it is sound or not set."""
    stated = os.environ.get("SOURCE_DATE_EPOCH", "")
    sound = stated.isascii() and stated.isdigit() and len(stated) <= 12 and int(stated) <= LATEST_EPOCH
    if not stated or sound:
        return None
    return Diagnostic(
        "odd-epoch",
        f"SOURCE_DATE_EPOCH is set to “{stated[:40]}”, which is no moment that a PDF can bear",
        None,
        "Where this setting of your computer is there, a PDF bears its moment instead of the plan's own date.",
        f"Unset it, or set it to whole seconds since 1970, from 0 to {LATEST_EPOCH}.",
    )


@contextmanager
def _clock_at(moment: datetime) -> Iterator[None]:
    """Let fontTools, which stamps the embedded fonts, read this moment instead of the clock."""
    before = os.environ.get("SOURCE_DATE_EPOCH")
    os.environ["SOURCE_DATE_EPOCH"] = str(int(moment.timestamp()))
    try:
        yield
    finally:
        if before is None:
            del os.environ["SOURCE_DATE_EPOCH"]
        else:
            os.environ["SOURCE_DATE_EPOCH"] = before


def _fetcher(plan_folder: Path | None) -> Any:
    """A fetcher that gives data, our fonts, and what lies in the plan's folder. All else it keeps in ``refused``, with the reason.

    WeasyPrint goes on without what is refused, so whoever prints asks afterwards.
    """
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    fonts = frozenset(file.resolve() for file in font_files())

    class BookletFetcher(URLFetcher):
        def __init__(self) -> None:
            super().__init__(allowed_protocols=("data",), allow_redirects=False)
            self.refused: dict[str, str] = {}

        def fetch(self, url: str, headers: Any = None) -> Any:
            try:
                if url.startswith("data:"):
                    return super().fetch(url, headers)
                file = file_at(url, plan_folder, SHOWN, fonts)
                kind = mimetypes.guess_type(file.name)[0] or "application/octet-stream"
                return URLFetcherResponse(file.as_uri(), file.read_bytes(), {"Content-Type": kind})
            except RefusedAddressError as error:
                self.refused[url] = str(error)
                raise ValueError(f"The booklet must stand by itself; it may not fetch {url}: {error}") from None
            except (OSError, ValueError) as error:
                self.refused[url] = f"it cannot be read ({error})"
                raise

    return BookletFetcher()


def _without_attachments(page: Any) -> dict[str, str]:
    """Takes the mark that makes a link an attached file off every element, and says which files were meant: a booklet has none."""
    meant: dict[str, str] = {}
    for element in page.iter():
        relations = (element.get("rel") or "").split()
        if any(word.lower() == "attachment" for word in relations):
            del element.attrib["rel"]
            meant[element.get("href") or ""] = "a booklet has no attached files"
    return meant


def _short(address: str, plan_folder: Path | None) -> str:
    """An address as a template writes it, where it is one in the plan's folder; a long one cut."""
    base = _base(plan_folder)
    own = address.removeprefix(base) if base else address
    return own if len(own) <= 200 else own[:200] + "…"
