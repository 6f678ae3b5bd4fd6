"""Drawings as they stand in the page.

On paper a drawing is an image of exact size with alternative text: the PDF then has one Figure tag for each. On a screen the
SVG stands in the page itself, so that its lettering uses the page's font and it can be enlarged without loss.
"""

from __future__ import annotations

import base64
from functools import lru_cache
from xml.etree import ElementTree

from markupsafe import Markup

from drawleaf.model.drawings import Drawing
from drawleaf.units import trimmed

_SVG = "http://www.w3.org/2000/svg"
_OF_THE_FILE = ("width", "height", "version", "baseProfile")
"""Attributes that a drawing has as a file and not as an element of a page."""


def picture_for_print(drawing: Drawing) -> Markup:
    """An image in its true size on paper."""
    data = base64.b64encode(drawing.svg.encode()).decode()
    return Markup(
        '<img class="drawing" style="width:{}mm;height:{}mm" alt="{}" src="data:image/svg+xml;base64,{}">'
    ).format(trimmed(drawing.width_mm, 2), trimmed(drawing.height_mm, 2), drawing.alt, data)


NARROW = (60, 100, 130, 150)
"""Drawings no wider than these, in mm on paper, say so: the style sheet of a screen neither blows up a narrow one to the whole width nor
lets the lettering of a wide one become too small to read."""


@lru_cache(maxsize=512)
def picture_for_screen(drawing: Drawing) -> Markup:
    """The SVG itself, as wide as its place allows. It has no ids (a test sees to it), so that two drawings in a page never mix."""
    root = ElementTree.fromstring(drawing.svg)
    for element in root.iter():
        element.tag = element.tag.removeprefix(f"{{{_SVG}}}")
    narrow = next((f" upto-{width}" for width in NARROW if drawing.width_mm <= width), "")
    attributes = {name: value for name, value in root.attrib.items() if name not in _OF_THE_FILE} | {
        "xmlns": _SVG,
        "class": f"drawing{narrow}",
        "role": "img",
        "aria-label": drawing.alt,
        "data-width": trimmed(drawing.width_mm, 2),
        "data-drawing": drawing.id,
    }
    root.attrib.clear()
    root.attrib.update(sorted(attributes.items()))
    return Markup(ElementTree.tostring(root, encoding="unicode"))
