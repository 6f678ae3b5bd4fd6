"""Holds a finished SVG against svgwrite's tables of SVG 1.1: which element stands in which, with what attributes and values."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from svgwrite.validator2 import get_validator
from tests.draw.legibility import NS


def svg_faults(svg: str) -> list[str]:
    """What is not SVG 1.1, or could clash with another drawing in the same page.

    ``role`` is a later standard's attribute (WAI-ARIA): it may only stand at the root, as ``img``.
    """
    validator = get_validator("full", debug=True)
    root = ET.fromstring(svg)
    found = [] if root.attrib.pop("role", None) == "img" else ["the root is no img"]
    for element in root.iter():
        name = element.tag.removeprefix(NS)
        try:
            validator.check_all_svg_attribute_values(name, element.attrib)
            for child in element:
                validator.check_valid_children(name, child.tag.removeprefix(NS))
        except (KeyError, TypeError, ValueError) as wrong:
            found.append(f"{name}: {wrong}")
        if "id" in element.attrib:
            found.append(f"{name} has an id")
    return found
