"""From the booklet's HTML to a tagged PDF (PDF/UA-1, ISO 14289-1:2014) through WeasyPrint.

WeasyPrint is imported only here, when a PDF is made: it needs system libraries that a reader of the HTML edition need not have.
The same HTML gives the same bytes: dates come from the plan or SOURCE_DATE_EPOCH, the file identifier from the HTML.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from urllib.request import url2pathname

from drawleaf.resources import font_files

PDF_VARIANT = "pdf/ua-1"


class MissingRendererError(RuntimeError):
    """WeasyPrint or a library under it cannot be loaded on this computer."""


def make_pdf(html: str, *, plan_folder: Path | None = None) -> bytes:
    """Print the booklet's HTML.

    Only the text family's own font files, data inside the HTML, and pictures in ``plan_folder`` are read; nothing comes from a
    network. Raises MissingRendererError where WeasyPrint cannot be loaded.
    """
    weasyprint = _renderer()
    source = weasyprint.HTML(string=spaces_apart(html), base_url=_base(plan_folder), url_fetcher=_fetcher(plan_folder))
    document = source.render(pdf_variant=PDF_VARIANT)
    moment = _moment(document.metadata.created)
    document.metadata.created = document.metadata.modified = moment.strftime("%Y-%m-%dT%H:%M:%SZ")
    identifier = hashlib.sha256(html.encode()).hexdigest()[:32].encode()
    with _clock_at(moment):
        return document.write_pdf(finisher=_finish, pdf_variant=PDF_VARIANT, pdf_identifier=identifier)


_SPACE_BEFORE_INLINE = re.compile(r"(?<=[^\s>]) (?=<(?:span|strong|em|b|i|a|code)[ >])")


def spaces_apart(html: str) -> str:
    """The same HTML, with each space between a text and an inline element in an element of its own.

    Where a text fills its line but for the space at its end, WeasyPrint 70 takes it for too long and breaks it after its first
    word. A text that does not end in a space is spared that.
    """
    return _SPACE_BEFORE_INLINE.sub("<span> </span>", html)


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
    """SOURCE_DATE_EPOCH (reproducible-builds.org) where it is set to a number, else the plan's own date."""
    stated = os.environ.get("SOURCE_DATE_EPOCH", "")
    if stated.isdigit():
        return datetime.fromtimestamp(int(stated), UTC)
    try:
        return datetime.fromisoformat(plan_date or "").replace(tzinfo=UTC)
    except ValueError:
        return datetime.fromtimestamp(0, UTC)


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
    """A fetcher that refuses everything but data, our fonts, and what lies in the plan's folder."""
    from weasyprint.urls import URLFetcher

    fonts = frozenset(file.resolve() for file in font_files())
    folder = plan_folder.resolve() if plan_folder else None

    class BookletFetcher(URLFetcher):
        def fetch(self, url: str, headers: Any = None) -> Any:
            if not (url.startswith("data:") or _is_ours(url, fonts, folder)):
                raise ValueError(f"The booklet must stand by itself; it may not fetch {url}")
            return super().fetch(url, headers)

    return BookletFetcher(allowed_protocols=("data", "file"))


def _is_ours(url: str, fonts: frozenset[Path], folder: Path | None) -> bool:
    """Whether a URL names one of our fonts or a file that really lies in the plan's folder."""
    parts = urlsplit(url)
    if parts.scheme != "file" or parts.netloc:
        return False
    file = Path(url2pathname(parts.path)).resolve()
    return file in fonts or (folder is not None and file.is_relative_to(folder))


def _finish(_document: Any, pdf: Any) -> None:
    """Give each inner link words that a screen reader can say; WeasyPrint puts the bare name of its target there."""
    import pydyf

    for entry in pdf.objects:
        if isinstance(entry, dict) and entry.get("Subtype") == "/Link" and "Dest" in entry:
            name = str(entry["Dest"].string)
            entry["Contents"] = pydyf.String("Go to " + name.replace("-", " ").replace("_", " "))
