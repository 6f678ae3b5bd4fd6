"""Every drawing is of something, on its paper, with its words on the paper too."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element

from fuzz.outputs_reader.outputs import Outputs

SVG = "{http://www.w3.org/2000/svg}"
MARGIN = 1.0
LETTER = 0.35
"""The narrowest that a letter of a line of words is on the average, in heights of the type."""
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?|nan|inf", re.IGNORECASE)
_TURN = re.compile(r"rotate\(([^)]*)\)")
_NUMBERED = re.compile(r"(step|board|sheet|part)-(\d+)")


def drawings_have_a_paper(outputs: Outputs) -> Iterator[str]:
    for name, svg in outputs.drawings.items():
        view = _view(svg)
        if view is None or not (view[2] > 0 and view[3] > 0) or not all(map(math.isfinite, view)):
            yield f"{name} has no paper: {svg.get('viewBox')}"
        if not (svg.findtext(f"{SVG}title") or "").strip():
            yield f"{name} has no title"
        if not [
            one
            for one in svg.iter()
            if one.tag in (f"{SVG}path", f"{SVG}circle", f"{SVG}rect", f"{SVG}line", f"{SVG}polygon")
        ]:
            yield f"{name} is empty"


def figures_are_numbers(outputs: Outputs) -> Iterator[str]:
    for name, svg in outputs.drawings.items():
        for element in svg.iter():
            for key, value in element.attrib.items():
                if key in (
                    "d",
                    "x",
                    "y",
                    "width",
                    "height",
                    "font-size",
                    "points",
                    "transform",
                    "viewBox",
                    "r",
                    "cx",
                    "cy",
                ) and re.search(r"nan|inf", value, re.IGNORECASE):
                    yield f"{name} has {key} “{value[:40]}”"


def words_are_on_the_paper(outputs: Outputs) -> Iterator[str]:
    for name, svg in outputs.drawings.items():
        view = _view(svg)
        if view is None:
            continue
        left, top, wide, high = view
        for text in svg.iter(f"{SVG}text"):
            for x, y in _line(text):
                if not (left - MARGIN <= x <= left + wide + MARGIN and top - MARGIN <= y <= top + high + MARGIN):
                    yield f"{name}: “{''.join(text.itertext())}” is off the page at {x:.1f}, {y:.1f}"
                    break


def lines_are_on_the_paper(outputs: Outputs) -> Iterator[str]:
    """Lines end on the paper; arcs are judged by their ends."""
    for name, svg in outputs.drawings.items():
        view = _view(svg)
        if view is None or any(element.get("transform") for element in svg.iter() if element.tag != f"{SVG}text"):
            continue
        left, top, wide, high = view
        for path in svg.iter(f"{SVG}path"):
            for x, y in _ends(path.get("d", "")):
                if not (left - MARGIN <= x <= left + wide + MARGIN and top - MARGIN <= y <= top + high + MARGIN):
                    yield f"{name}: a line of {path.get('class')} goes to {x:.1f}, {y:.1f}, off the page"
                    break


def drawings_are_of_what_there_is(outputs: Outputs) -> Iterator[str]:
    if not outputs.drawings:
        return
    plan = outputs.plan
    counts = {
        "step": len(plan["steps"]),
        "board": len(plan["layouts"]["boards"]),
        "sheet": len(plan["layouts"]["sheets"]),
        "part": len(plan["cut_list"]),
    }
    for name in outputs.drawings:
        found = _NUMBERED.fullmatch(name)
        if found and not 1 <= int(found[2]) <= counts[found[1]]:
            yield f"{name}, and there are {counts[found[1]]}"


def _view(svg: Element) -> tuple[float, float, float, float] | None:
    figures = (svg.get("viewBox") or "").replace(",", " ").split()
    try:
        left, top, wide, high = map(float, figures)
    except ValueError:
        return None
    return left, top, wide, high


def _line(text: Element) -> tuple[tuple[float, float], tuple[float, float]]:
    """From where to where the words stand at least."""
    x, y = float(text.get("x", 0)), float(text.get("y", 0))
    long = len("".join(text.itertext())) * float(text.get("font-size", 0)) * LETTER
    start = x - {"middle": long / 2, "end": long}.get(text.get("text-anchor", "start"), 0.0)
    ends = (start, y), (start + long, y)
    turn = _TURN.search(text.get("transform", ""))
    if turn is None:
        return ends
    degrees, *about = (float(one) for one in _NUMBER.findall(turn[1]))
    ax, ay = about or (0.0, 0.0)
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    first, last = ((ax + c * (p - ax) - s * (q - ay), ay + s * (p - ax) + c * (q - ay)) for p, q in ends)
    return first, last


def _ends(path: str) -> Iterator[tuple[float, float]]:
    for command, figures in re.findall(r"([A-Za-z])([^A-Za-z]*)", path):
        numbers = [float(one) for one in _NUMBER.findall(figures)]
        if command in "MLT":
            yield from zip(numbers[::2], numbers[1::2], strict=False)
        elif command == "A":
            yield from zip(numbers[5::7], numbers[6::7], strict=False)


RULES = (
    drawings_have_a_paper,
    figures_are_numbers,
    words_are_on_the_paper,
    lines_are_on_the_paper,
    drawings_are_of_what_there_is,
)
