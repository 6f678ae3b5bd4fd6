"""Every drawing painted by WeasyPrint (as the PDF shows it) and by Chromium (as the HTML edition shows it), compared as pixels.

Both are painted grey at 96 dpi and averaged over squares of 4 by 4 pixels (about 1 mm), for the two smooth their edges differently and
may set a glyph or a dash half a pixel aside. Tolerance: on average no more than 4 of 255 grey steps apart, and no more than 0.6 % of
the squares apart by more than 64.
"""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from tests.conftest import PLANS, drawn

from drawleaf.book.output.pdf import make_pdf
from drawleaf.book.page.fonts import font_faces_for_print
from drawleaf.model.drawings import Drawing

DPI = 96
SQUARE = 4
MEAN, SHARE, FAR = 4.0, 0.006, 64
BATCH = 24
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
PDFTOCAIRO = shutil.which("pdftocairo")

pytestmark = pytest.mark.skipif(
    CHROMIUM is None or PDFTOCAIRO is None,
    reason="needs Chromium and pdftocairo, which scripts/system-libraries installs where apt can",
)


def drawings_of(name: str) -> tuple[Drawing, ...]:
    return drawn(name)[1].all()


def pixels(mm: float) -> int:
    return round(mm / 25.4 * DPI)


@pytest.mark.parametrize("name", PLANS)
def test_both_paint_the_same(name, tmp_path, request):
    """Every third drawing of the ledge here, and one of each kind of the bench; all with ``--long``."""
    drawings = drawings_of(name)
    if not request.config.getoption("--long"):
        one_of_each = {(drawing.kind, drawing.width_mm > 100): drawing for drawing in drawings}
        drawings = drawings[::3] if name == "key-ledge" else tuple(one_of_each.values())
    apart = {}
    for start in range(0, len(drawings), BATCH):
        batch = drawings[start : start + BATCH]
        for drawing, one, other in zip(
            batch, by_chromium(batch, tmp_path), by_weasyprint(batch, tmp_path), strict=True
        ):
            mean, share = difference(one, other)
            if mean > MEAN or share > SHARE:
                apart[drawing.id] = (round(mean, 2), round(share, 4))
    assert apart == {}, apart


def test_the_comparison_can_fail(tmp_path):
    """Two drawings that differ by some lettering alone are told apart."""
    drawing = next(d for d in drawings_of("key-ledge") if d.kind == "part")
    other = Drawing(
        drawing.id,
        drawing.kind,
        "t",
        drawing.svg.replace("<text", "<desc").replace("</text>", "</desc>"),
        "",
        drawing.width_mm,
        drawing.height_mm,
        None,
    )
    one, two = by_chromium([drawing, other], tmp_path)
    mean, share = difference(one, two)
    assert mean > MEAN or share > SHARE


def difference(one: np.ndarray, other: np.ndarray) -> tuple[float, float]:
    """Mean distance of the squares in grey steps, and the share of squares far apart."""
    high, wide = (min(a, b) // SQUARE * SQUARE for a, b in zip(one.shape, other.shape, strict=True))
    assert abs(one.shape[0] - other.shape[0]) <= 2
    assert abs(one.shape[1] - other.shape[1]) <= 2
    a, b = (
        picture[:high, :wide].reshape(high // SQUARE, SQUARE, wide // SQUARE, SQUARE).mean(axis=(1, 3))
        for picture in (one.astype(float), other.astype(float))
    )
    far = np.abs(a - b)
    return float(far.mean()), float((far > FAR).mean())


def by_chromium(drawings, folder: Path) -> list[np.ndarray]:
    """All in one page, one below the other, photographed once."""
    tops, y = [], 0
    blocks = []
    for drawing in drawings:
        tops.append(y)
        blocks.append(f'<div style="position:absolute;left:0;top:{y}px">{drawing.svg}</div>')
        y += pixels(drawing.height_mm) + 8
    style = f"{font_faces_for_print()} body {{ margin: 0; background: #fff }} svg {{ display: block }}"
    page, shot = folder / "page.html", folder / "page.png"
    page.write_text(
        f"<html><head><meta charset='utf-8'><style>{style}</style></head><body>{''.join(blocks)}</body></html>"
    )
    subprocess.run(
        [
            str(CHROMIUM),
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--hide-scrollbars",
            "--force-device-scale-factor=1",
            f"--user-data-dir={folder / 'profile'}",
            f"--window-size=700,{y + 120}",
            f"--screenshot={shot}",
            page.as_uri(),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    with Image.open(shot) as image:
        whole = np.asarray(image.convert("L"))
    return [whole[top : top + pixels(d.height_mm), : pixels(d.width_mm)] for top, d in zip(tops, drawings, strict=True)]


def by_weasyprint(drawings, folder: Path) -> list[np.ndarray]:
    """Each on a page of its own, of its own size."""
    style = "".join(
        f"@page p{i} {{ size: {d.width_mm}mm {d.height_mm}mm; margin: 0 }} .p{i} {{ page: p{i} }}"
        for i, d in enumerate(drawings)
    )
    blocks = "".join(
        f'<div class="p{i}" style="width:{d.width_mm}mm;height:{d.height_mm}mm">{d.svg}</div>'
        for i, d in enumerate(drawings)
    )
    css = f"<style>{font_faces_for_print()} {style} svg {{ display: block }} body {{ margin: 0 }}</style>"
    file = folder / "pages.pdf"
    file.write_bytes(make_pdf(f"<html lang='en'><head><title>t</title>{css}</head><body>{blocks}</body></html>"))
    subprocess.run(
        [str(PDFTOCAIRO), "-r", str(DPI), "-gray", "-png", str(file), str(folder / "p")], check=True, timeout=120
    )
    found = []
    for shot in sorted(folder.glob("p-*.png")):
        with Image.open(shot) as image:
            found.append(np.asarray(image.convert("L")))
        shot.unlink()
    return found
