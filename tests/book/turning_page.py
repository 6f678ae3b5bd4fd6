"""A page with the turning view of a plan written out in a test, and nothing else of a booklet: each drawing is an empty frame on a screen of its own."""

from __future__ import annotations

from pathlib import Path

from tests.small_plans import derived_from

from drawleaf.book.output.turning import with_turning
from drawleaf.draw.step.drawing import draw_step
from drawleaf.draw.turnable.turnable import turnable
from drawleaf.model.turnable import Turnable
from drawleaf.solids.build import build_solids

OPEN = """
const svg = document.querySelector(`svg[data-drawing='${arguments[0]}']`);
svg.closest('.drawing-frame').querySelector('.turn-open').click();
"""
DRAWN = "const done = arguments[arguments.length - 1]; requestAnimationFrame(() => requestAnimationFrame(() => done(true)));"


def turning_page(source: str, folder: Path) -> tuple[Path, Turnable]:
    """The file, and what is turned in it."""
    derived = derived_from(source)
    solids = build_solids(derived.plan)
    drawn = {step.number: found[0] for step in derived.steps if (found := draw_step(derived, solids, step))}
    made = turnable(derived, solids, drawn)
    frames = "".join(
        f'<section class="screen" id="{one.drawing}"><div class="drawing-frame"><svg class="drawing" data-drawing="{one.drawing}" '
        f'aria-label="Step {one.step or 0}."></svg></div></section>'
        for one in (made.whole, *made.steps)
    )
    style = "<style>:root { --ground: #fff; --ink: #000; --accent: #b3541e; } body { margin: 0 }</style>"
    html = f'<html lang="en"><head><title>Turned</title>{style}</head><body>{frames}</body></html>'
    file = folder / "turned.html"
    file.write_text(with_turning(html, derived, made), encoding="utf-8")
    return file, made
