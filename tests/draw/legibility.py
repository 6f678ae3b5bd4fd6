"""Reads a finished SVG back and finds what a reader could not read: from real font metrics, not from what the writer meant."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

from drawleaf.draw.paper.lettering import cap_height, text_width

NS = "{http://www.w3.org/2000/svg}"
SMALLEST = 2.5
"""Millimetres that capitals must stand high on paper (ISO 3098-1 series, from memory)."""

Box = tuple[float, float, float, float]


def faults(svg: str) -> list[str]:
    """Everything wrong with the lettering and frame of a drawing, in words."""
    root = ET.fromstring(svg)
    texts = [(node.text or "", _text_box(node)) for node in root.iter(f"{NS}text")]
    width, height = (float(value) for value in root.attrib["viewBox"].split()[2:])
    found = [f"{text!r} overlaps {other!r}" for (text, a), (other, b) in combinations(texts, 2) if _overlap(a, b)]
    found += [f"{text!r} stands outside the frame" for text, box in texts if not _within(box, width, height)]
    found += [
        f"{node.text!r} is too small"
        for node in root.iter(f"{NS}text")
        if cap_height(float(node.attrib["font-size"])) < SMALLEST
    ]
    for path in root.iter(f"{NS}path"):
        found += _path_faults(path, texts, width, height)
    return found


def leader_faults(svg: str) -> list[str]:
    """Leaders that cross one another."""
    leaders = [
        (run[0], run[-1])
        for path in ET.fromstring(svg).iter(f"{NS}path")
        if path.attrib["class"] == "leader"
        for run in _runs(path.attrib["d"])
    ]
    return [f"leaders {a} and {b} cross" for a, b in combinations(leaders, 2) if _meet(a, b)]


def _meet(a, b) -> bool:
    def turn(p, q, r) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(*a, b[0]) * turn(*a, b[1]) < 0 and turn(*b, a[0]) * turn(*b, a[1]) < 0


def line_widths(svg: str) -> dict[str, float]:
    """The width of each kind of line in a drawing."""
    paths = ET.fromstring(svg).iter(f"{NS}path")
    return {path.attrib["class"]: float(path.attrib["stroke-width"]) for path in paths if "stroke" in path.attrib}


def styles_drawn_twice(svg: str) -> list[str]:
    """Line styles that have more than one path."""
    names = [path.attrib["class"] for path in ET.fromstring(svg).iter(f"{NS}path") if "stroke" in path.attrib]
    return sorted({name for name in names if names.count(name) > 1})


def _path_faults(path: ET.Element, texts: list[tuple[str, Box]], width: float, height: float) -> list[str]:
    name, reach = path.attrib["class"], float(path.attrib.get("stroke-width", 0)) / 2
    found = []
    for points in _runs(path.attrib["d"]):
        if any(
            not (reach - 0.02 <= x <= width - reach + 0.02 and reach - 0.02 <= y <= height - reach + 0.02)
            for x, y in points
        ):
            found.append(f"a {name} line leaves the frame")
        if name in ("dimension", "leader"):
            found += [
                f"{text!r} is crossed by a {name} line"
                for text, box in texts
                for a, b in pairwise(points)
                if _crosses(a, b, box)
            ]
    return found


def _runs(data: str) -> list[list[tuple[float, float]]]:
    """The points of each run; of arcs, their ends and the top and bottom of the circle."""
    runs: list[list[tuple[float, float]]] = []
    for piece in data.split("M")[1:]:
        if "A" in piece:
            left, right = (float(v) for v in (piece.split(" ")[0], piece.split("A")[1].split(" ")[5]))
            level = float(piece.split("A")[0].split(" ")[1])
            r = (right - left) / 2
            runs.append([(left, level), (left + r, level - r), (right, level), (left + r, level + r)])
        else:
            numbers = [float(v) for v in re.findall(r"-?[\d.]+", piece)]
            runs.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return runs


def _text_box(node: ET.Element) -> Box:
    size, x, y = (float(node.attrib[key]) for key in ("font-size", "x", "y"))
    width = text_width(node.text or "", size, int(node.attrib["font-weight"]))
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[node.attrib["text-anchor"]]
    match = re.match(r"rotate\((-?[\d.]+)", node.attrib.get("transform", ""))
    angle = math.radians(float(match.group(1))) if match else 0.0
    corners = []
    for dx in (start, start + width):
        for dy in (-cap_height(size), 0.0):
            corners.append(
                (x + dx * math.cos(angle) - dy * math.sin(angle), y + dx * math.sin(angle) + dy * math.cos(angle))
            )
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    return (min(xs) + 0.03, min(ys) + 0.03, max(xs) - 0.03, max(ys) - 0.03)


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _within(box: Box, width: float, height: float) -> bool:
    return box[0] >= 0 and box[1] >= 0 and box[2] <= width and box[3] <= height


def _crosses(a: tuple[float, float], b: tuple[float, float], box: Box) -> bool:
    """Whether the line from a to b has a point inside the box, by fine sampling."""
    if max(a[0], b[0]) < box[0] or min(a[0], b[0]) > box[2] or max(a[1], b[1]) < box[1] or min(a[1], b[1]) > box[3]:
        return False
    steps = max(2, int(math.dist(a, b) / 0.1))
    points = ((a[0] + (b[0] - a[0]) * i / steps, a[1] + (b[1] - a[1]) * i / steps) for i in range(steps + 1))
    return any(box[0] < x < box[2] and box[1] < y < box[3] for x, y in points)
