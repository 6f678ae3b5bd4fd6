"""Drawings as they stand in the page.

On paper a drawing is an image of exact size with alternative text: the PDF then has one Figure tag for each. On a screen the
SVG stands in the page itself, so that its lettering uses the page's font and it can be enlarged without loss.
"""

from __future__ import annotations

import base64
import re
from functools import lru_cache

from markupsafe import Markup

from drawleaf.model.drawings import Drawing

_PROLOG = re.compile(r"^\s*(<\?xml[^>]*\?>|<!DOCTYPE[^>]*>|\s)*", re.IGNORECASE)
_ROOT_SIZE = re.compile(r"\s(width|height|role|aria-label|aria-labelledby)=\"[^\"]*\"")
_ID = re.compile(r"\bid=\"([^\"]+)\"")


def picture_for_print(drawing: Drawing) -> Markup:
    """An image in its true size on paper."""
    data = base64.b64encode(drawing.svg.encode()).decode()
    return Markup(
        '<img class="drawing" style="width:{}mm;height:{}mm" alt="{}" src="data:image/svg+xml;base64,{}">'
    ).format(_mm(drawing.width_mm), _mm(drawing.height_mm), drawing.alt, data)


NARROW = (60, 100)
"""Drawings no wider than these, in mm on paper, are not blown up to the whole width of a screen: see ``screen.css``."""


@lru_cache(maxsize=512)
def picture_for_screen(drawing: Drawing) -> Markup:
    """The SVG itself, as wide as its place allows, with names of its own so that two drawings in a page never mix."""
    svg = _PROLOG.sub("", drawing.svg, count=1)
    end = svg.index(">")
    root = _ROOT_SIZE.sub("", svg[:end])
    narrow = next((f" upto-{width}" for width in NARROW if drawing.width_mm <= width), "")
    label = Markup(' class="drawing{}" role="img" aria-label="{}" data-width="{}" data-drawing="{}"').format(
        narrow, drawing.alt, _mm(drawing.width_mm), drawing.id
    )
    return Markup(_own_names(f"{root}{label}{svg[end:]}", drawing.id))


def _own_names(svg: str, prefix: str) -> str:
    """Put the drawing's id before every name that its SVG defines and refers to."""
    for name in sorted(set(_ID.findall(svg)), key=len, reverse=True):
        own = f"{prefix}-{name}"
        svg = (
            svg.replace(f'id="{name}"', f'id="{own}"')
            .replace(f"url(#{name})", f"url(#{own})")
            .replace(f'href="#{name}"', f'href="#{own}"')
        )
    return svg


def _mm(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
