"""The shop shelf: pictures and texts of a listing, out of a folder that compile wrote."""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pypdfium2
from PIL import Image, ImageStat

from drawleaf.book.output.pdf import make_pdf
from drawleaf.book.page.fonts import font_faces_for_print
from drawleaf.language import Words
from drawleaf.sell.author_prices import read_price
from drawleaf.sell.cover_picture import laid_in
from drawleaf.sell.finished import booklet_pdf
from drawleaf.sell.listing import Shown, as_data, as_markdown, as_text, make_listing
from drawleaf.sell.mistakes import SellingError
from drawleaf.sell.on_sale import on_sale_from
from drawleaf.sell.sample import chapter_pages

SIZES = ((2000, 2000), (1600, 1200), (1200, 630))
MOST = 1_000_000
"""Bytes of a picture that shops take."""
COLORS = (256, 128, 64, 32)
DRAWN = (
    ("piece", "cover", "{}, finished, seen from the front and a little above"),
    ("exploded", "exploded-1", "{}: all its parts pulled apart along the ways they go together"),
    ("sizes", "elevation-front", "{} from the front, with its sizes"),
)
"""Pictures made of drawings: name, drawing, and what it shows."""
PHOTO = "{}, finished"
SPREADS = (("glance", "{}: at a glance, two pages of the booklet"), ("cut_list", "{}: the cut list, two pages of the booklet"),
           ("steps", "{}: steps with their drawings, two pages of the booklet"))  # fmt: skip
"""Pictures of two facing pages: a chapter that begins on one of them, and what they show."""
STEPS = "steps"
"""The chapter of many pages, of which the two fullest are shown."""
THUMB = 0.1
"""Pixels to the point in which a page shows how full it is."""


class ShelfError(SellingError):
    """The folder is no compiled plan; the text says why."""


def shelf_files(
    folder: Path,
    photo: Image.Image | None = None,
    prices: Path | None = None,
    sizes: tuple[tuple[int, int], ...] = SIZES,
) -> Iterator[tuple[str, bytes]]:
    """Every file of the shelf with its name, pictures first.

    ``photo`` is the picture of the piece, its drawing where there is none; ``prices`` the author's file of them. Raises
    ShelfError, another SellingError, OSError.
    """
    file = folder / "plan.json"
    if not file.is_file():
        raise ShelfError(f"{folder} holds no plan.json: compile the plan first")
    plan = on_sale_from(file.read_bytes(), file.as_posix())
    pdf = booklet_pdf(folder).read_bytes()
    price = read_price(prices, plan.edition) if prices is not None else None
    words = Words(plan.language)
    shown: list[Shown] = []
    document = pypdfium2.PdfDocument(pdf)
    piece = [(DRAWN[0][0], PHOTO, [laid_in(photo, size) for size in sizes])] if photo is not None else []
    drawn = DRAWN[len(piece) :]
    for name, alt, pictures in (*piece, *_drawings(folder, drawn, sizes), *_spreads(document, pdf, sizes)):
        for (wide, high), picture in zip(sizes, pictures, strict=True):
            stem = f"{name}-{wide}x{high}"
            yield f"{stem}.png", _png(picture)
            yield f"{stem}.webp", _webp(picture)
        wide, high = sizes[0]
        shown.append(Shown(f"{name}-{wide}x{high}.png", words.tell(alt, plan.title) + "."))
    listing = make_listing(plan, len(document), price)
    yield "listing.txt", as_text(listing, shown).encode()
    yield "listing.md", as_markdown(listing, shown).encode()
    yield "listing.json", as_data(listing, shown).encode()


Pictures = tuple[str, str, list[Image.Image]]


def _drawings(
    folder: Path, drawn: Sequence[tuple[str, str, str]], sizes: tuple[tuple[int, int], ...]
) -> Iterator[Pictures]:
    """Drawings alone in the middle of a white picture, printed in one go and then made pixels."""
    found = [(name, alt, folder / "drawings" / f"{drawing}.svg") for name, drawing, alt in drawn]
    found = [(name, alt, file) for name, alt, file in found if file.is_file()]
    if not found:
        return
    pages, rules = [], []
    for _, _, file in found:
        source = base64.b64encode(file.read_bytes()).decode()
        for wide, high in sizes:
            edge = round(min(wide, high) * 0.06)
            rules.append(f"@page p{len(pages)} {{ size: {wide}px {high}px; margin: {edge}px; }}")
            box = f"width:{wide - 2 * edge}px;height:{high - 2 * edge}px"
            pages.append(
                f'<div style="page:p{len(pages)};break-after:page"><img style="{box};object-fit:contain" alt="" '
                f'src="data:image/svg+xml;base64,{source}"></div>'
            )
    html = f"<html lang='en'><head><title>.</title><style>{font_faces_for_print()}{''.join(rules)}body{{margin:0}}img{{display:block}}</style></head><body>{''.join(pages)}</body></html>"
    printed = pypdfium2.PdfDocument(make_pdf(html))
    for at, (name, alt, _) in enumerate(found):
        yield (
            name,
            alt,
            [_pixels(printed, at * len(sizes) + place, size) for place, size in enumerate(sizes)],
        )


def _pixels(document: pypdfium2.PdfDocument, page: int, size: tuple[int, int]) -> Image.Image:
    picture = _rendered(document, page, 96 / 72)
    return picture if picture.size == size else picture.resize(size, Image.Resampling.LANCZOS)


def _spreads(document: pypdfium2.PdfDocument, pdf: bytes, sizes: tuple[tuple[int, int], ...]) -> Iterator[Pictures]:
    """Two facing pages as they lie open, with a thin edge, on a tint."""
    places = chapter_pages(pdf)
    for chapter, alt in SPREADS:
        if chapter not in places:
            continue
        left = _fullest(document, places) if chapter == STEPS else places[chapter] // 2 * 2
        # Even pages lie left; the cover has none beside it.
        if 1 < left < len(document):
            yield f"pages-{chapter.replace('_', '-')}", alt, [_spread(document, left - 1, size) for size in sizes]


def _fullest(document: pypdfium2.PdfDocument, places: Mapping[str, int]) -> int:
    """The left page (from 1) of the two facing pages of steps on which the emptier one is fullest; 0 where no two face each other."""
    steps = sorted(page for name, page in places.items() if name.startswith("step-"))
    pairs = [page for page in range(2, len(document), 2) if steps and steps[0] <= page < steps[-1]]

    def ink(page: int) -> float:
        return 255.0 - ImageStat.Stat(_rendered(document, page - 1, THUMB).convert("L")).mean[0]

    return max(pairs, key=lambda page: min(ink(page), ink(page + 1)), default=0)


def _spread(document: pypdfium2.PdfDocument, first: int, size: tuple[int, int]) -> Image.Image:
    wide, high = size
    picture = Image.new("RGB", size, (236, 236, 234))
    page_wide, page_high = document[first].get_size()
    scale = min(wide * 0.92 / (2 * page_wide), high * 0.9 / page_high)
    page_size = (round(page_wide * scale), round(page_high * scale))
    left, top = (wide - 2 * page_size[0] - 2) // 2, (high - page_size[1]) // 2
    for at in range(2):
        page = _rendered(document, first + at, scale).resize(page_size, Image.Resampling.LANCZOS)
        picture.paste(page, (left + at * (page_size[0] + 2), top))
    return picture


def _rendered(document: pypdfium2.PdfDocument, page: int, scale: float) -> Image.Image:
    """A page in so many pixels to the point."""
    options: dict[str, Any] = {"scale": scale}  # the library says a whole number, and takes any
    return document[page].render(**options).to_pil().convert("RGB")


def _png(picture: Image.Image) -> bytes:
    """In as many colors as a megabyte holds."""
    data = _saved(picture, "PNG")
    if len(data) >= MOST:
        data = _saved(picture, "PNG", optimize=True)  # slow, and some percent less
    for colors in COLORS:
        if len(data) < MOST:
            break
        data = _saved(picture.quantize(colors, dither=Image.Dither.NONE), "PNG", optimize=True)
    return data


def _webp(picture: Image.Image) -> bytes:
    data = _saved(picture, "WEBP", quality=90, method=2)
    for quality in (75, 60, 40):
        if len(data) < MOST:
            break
        data = _saved(picture, "WEBP", quality=quality, method=2)
    return data


def _saved(picture: Image.Image, kind: str, **how: Any) -> bytes:
    out = io.BytesIO()
    picture.save(out, kind, **how)
    return out.getvalue()
