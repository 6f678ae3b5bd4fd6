"""From the booklet's HTML to a tagged PDF (PDF/UA-1, ISO 14289-1:2014) through WeasyPrint.

WeasyPrint is imported only here, when a PDF is made: it needs system libraries that a reader of the HTML edition need not have.
The same HTML gives the same bytes: dates come from the plan or SOURCE_DATE_EPOCH, the file identifier from the HTML.
"""

from __future__ import annotations

import hashlib
import os
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from drawleaf.resources import font_files

PRODUCER_VARIANT = "pdf/ua-1"


class MissingRendererError(RuntimeError):
    """WeasyPrint or a library under it cannot be loaded on this computer."""


def make_pdf(html: str, *, plan_folder: Path | None = None) -> bytes:
    """Print the booklet's HTML.

    Only the text family's own font files, data inside the HTML, and pictures in ``plan_folder`` are read; nothing comes from a
    network. Raises MissingRendererError where WeasyPrint cannot be loaded.
    """
    weasyprint = _renderer()
    document = weasyprint.HTML(string=html, base_url=_base(plan_folder), url_fetcher=_fetcher(plan_folder)).render(
        pdf_variant=PRODUCER_VARIANT
    )
    moment = _stated_moment()
    if moment:
        document.metadata.created = document.metadata.modified = moment
    identifier = hashlib.sha256(html.encode()).hexdigest()[:32].encode()
    return document.write_pdf(finisher=_finish, pdf_variant=PRODUCER_VARIANT, pdf_identifier=identifier)


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


def _stated_moment() -> str | None:
    """SOURCE_DATE_EPOCH (reproducible-builds.org) as a W3C date, where it is set to a number."""
    stated = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not stated.isdigit():
        return None
    return datetime.fromtimestamp(int(stated), UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _fetcher(plan_folder: Path | None) -> Any:
    """A fetcher that refuses everything but data, our fonts, and what lies in the plan's folder."""
    from weasyprint.urls import URLFetcher

    fonts = frozenset(file.as_uri() for file in font_files())
    base = _base(plan_folder)

    class BookletFetcher(URLFetcher):
        def fetch(self, url: str, headers: Any = None) -> Any:
            local = url in fonts or (base is not None and url.startswith(base) and ".." not in url)
            if not (local or url.startswith("data:")):
                raise ValueError(f"The booklet must stand by itself; it may not fetch {url}")
            return super().fetch(url, headers)

    return BookletFetcher(allowed_protocols=("data", "file"))


def _finish(_document: Any, pdf: Any) -> None:
    """Give each inner link words that a screen reader can say; WeasyPrint puts the bare name of its target there."""
    import pydyf

    for entry in pdf.objects:
        if isinstance(entry, dict) and entry.get("Subtype") == "/Link" and "Dest" in entry:
            name = str(entry["Dest"].string)
            entry["Contents"] = pydyf.String("Go to " + name.replace("-", " ").replace("_", " "))
