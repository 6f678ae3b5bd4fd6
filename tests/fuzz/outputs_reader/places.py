"""No two things in one place, no hole that its part has no wood for, no screw beside the wood that it should hold.

Parts whose cuts are all square-cornered are reckoned exactly. Parts that lean, mouldings, rounds, and what is sawn to an outline or a plane
are left to the boxes around them where that proves something, and out of it where it does not.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, pairwise, product

from fuzz.outputs_reader.outputs import AXES, SLACK, Data, Outputs, exact, mm, spot

Box = tuple[tuple[Fraction, Fraction], ...]
EDGE_PROFILES = {"round over", "round-over", "chamfer", "cove", "ogee", "bead"}


def _box(body: Data) -> Box:
    return tuple((exact(body[axis][0]), exact(body[axis][1])) for axis in AXES)


def _common(a: Box, b: Box) -> Box | None:
    box = tuple((max(p[0], q[0]), min(p[1], q[1])) for p, q in zip(a, b, strict=True))
    return box if all(high - low > SLACK for low, high in box) else None


def _square(part: Data) -> bool:
    """Whether nothing but boxes was taken out of it, round holes and edge profiles apart."""
    boxes = len(part["recesses"]) + len(part["bores"])
    others = len(part["features"]) - boxes - sum(kind in EDGE_PROFILES for kind in part["features"])
    return not part["leans"] and not part["section"] and others == 0


def two_parts_are_not_in_one_place(outputs: Outputs) -> Iterator[str]:
    """Where the blanks of two parts overlap, one of them has been cut away."""
    square = [(name, part, _box(part["body"])) for name, part in outputs.parts.items() if _square(part)]
    for (one, a, box_a), (other, b, box_b) in combinations(square, 2):
        common = _common(box_a, box_b)
        if common is None:
            continue
        if _in_a_bevel(common, a) and _in_a_bevel(common, b):
            continue
        voids = [_box(recess["body"]) for recess in (*a["recesses"], *b["recesses"])]
        if not _covered(common, voids):
            yield f"“{one}” and “{other}” are in one place"


def _in_a_bevel(common: Box, part: Data) -> bool:
    """Whether it may be what a bevel along an edge took away, which is no larger than the wood is thick: the two halves of a cleat hook
    into each other so."""
    _, middle, least = sorted((high - low for low, high in common), reverse=True)
    return "chamfer" in part["features"] and max(middle, least) <= exact(part["thickness"]) + SLACK


def _covered(box: Box, voids: list[Box]) -> bool:
    inside = [void for void in voids if _common(box, void)]
    grid = [
        sorted({*side, *(edge for void in inside for edge in void[at] if side[0] < edge < side[1])})
        for at, side in enumerate(box)
    ]
    for cell in product(*(list(pairwise(edges)) for edges in grid)):
        if any(high - low <= SLACK for low, high in cell):
            continue
        middle = [(low + high) / 2 for low, high in cell]
        if not any(all(low <= at <= high for at, (low, high) in zip(middle, void, strict=True)) for void in inside):
            return False
    return True


def recesses_are_within_their_part(outputs: Outputs) -> Iterator[str]:
    for name, part in outputs.parts.items():
        body = _box(part["body"])
        for recess in part["recesses"]:
            box = _box(recess["body"])
            if any(high <= low for low, high in box):
                yield f"“{name}”: a {recess['kind']} of no size"
            if any(
                low < around[0] - SLACK or high > around[1] + SLACK
                for (low, high), around in zip(box, body, strict=True)
            ):
                yield f"“{name}”: a {recess['kind']} reaches beyond it"
        if _covered(body, [_box(recess["body"]) for recess in part["recesses"]]):
            yield f"“{name}” is cut away whole"


def holes_are_within_their_part(outputs: Outputs) -> Iterator[str]:
    for name, part in outputs.parts.items():
        sides = [(mm(part["body"][axis][0]), mm(part["body"][axis][1])) for axis in AXES]
        for bore in part["bores"]:
            where, at = f"“{name}”: a {bore['kind']} hole of {bore['diameter']['mm']} mm", spot(bore["at"])
            direction, diameter = bore["direction"], mm(bore["diameter"])
            if abs(math.hypot(*direction) - 1) > 1e-4:
                yield f"{where} goes nowhere"
            if any(not low - SLACK <= value <= high + SLACK for value, (low, high) in zip(at, sides, strict=True)):
                yield f"{where} begins outside it"
            along = max(range(3), key=lambda axis: abs(direction[axis]))
            across = [high - low for axis, (low, high) in enumerate(sides) if axis != along]
            if diameter > min(across) + SLACK:
                yield f"{where} is wider than the part"
            if (
                bore["depth"] is not None
                and mm(bore["depth"])
                > sum(abs(d) * (high - low) for d, (low, high) in zip(direction, sides, strict=True)) + diameter
            ):
                yield f"{where} is {bore['depth']['mm']} deep, deeper than the part"


def two_holes_are_not_one(outputs: Outputs) -> Iterator[str]:
    """Of two holes into one face, neither has its centre within the other, but for one bored wider in steps on one centre."""
    for name, part in outputs.parts.items():
        for one, other in combinations(part["bores"], 2):
            if one["face"] != other["face"] or one["kind"] != other["kind"]:
                continue
            apart = math.dist(spot(one["at"]), spot(other["at"]))
            if not apart and one["diameter"] != other["diameter"]:
                continue
            if apart < max(mm(one["diameter"]), mm(other["diameter"])) / 2:
                yield f"“{name}”: two {one['kind']} holes in one place at {[round(value, 1) for value in spot(one['at'])]}"


def screws_go_into_their_wood(outputs: Outputs) -> Iterator[str]:
    """But where the check of screws stops the plan, which says so itself."""
    stopped = {
        part
        for check in outputs.plan["checks"]
        if (check["check"], check["verdict"]) == ("screws", "stop")
        for part in check["parts"]
    }
    for joint in outputs.plan["joints"]:
        if {joint["part"], joint["into"]} <= stopped:
            continue
        for driven in joint["driven"]:
            part = outputs.parts.get(driven["into"])
            if part is None or part["leans"] or driven["length"] is None or driven["item"].startswith("peg "):
                continue  # pegs are driven right through, and trimmed
            at, direction, length = spot(driven["at"]), driven["direction"], mm(driven["length"])
            point = [value + step * length for value, step in zip(at, direction, strict=True)]
            sides = [(mm(part["body"][axis][0]), mm(part["body"][axis][1])) for axis in AXES]
            if any(not low - SLACK <= value <= high + SLACK for value, (low, high) in zip(point, sides, strict=True)):
                yield f"joint {joint['id']}: the point of a “{driven['item']}” is not in “{driven['into']}”"


def two_fasteners_are_not_in_one_place(outputs: Outputs) -> Iterator[str]:
    """No two shanks in one place, of whatever joints."""
    driven = [
        (joint["id"], one, spot(one["at"]), _tip(one), mm(one["shank"]) / 2)
        for joint in outputs.plan["joints"]
        for one in joint["driven"]
        if one["shank"] is not None and one["length"] is not None
    ]
    for (joint, one, a, b, thick), (other, two, c, d, too) in combinations(driven, 2):
        room = thick + too
        if (
            all(
                min(p, q) - room < max(r, s) and min(r, s) - room < max(p, q)
                for p, q, r, s in zip(a, b, c, d, strict=True)
            )
            and segments_apart(a, b, c, d) < room - SLACK
        ):
            yield f"“{one['item']}” of {joint} and “{two['item']}” of {other} are in one place"


def _tip(driven: Data) -> tuple[float, float, float]:
    length = mm(driven["length"])
    x, y, z = (value + step * length for value, step in zip(spot(driven["at"]), driven["direction"], strict=True))
    return x, y, z


def segments_apart(a: tuple, b: tuple, c: tuple, d: tuple) -> float:
    """The least distance of two segments: each end from the other one, and of the lines where those feet lie on both."""

    def minus(p, q):
        return tuple(x - y for x, y in zip(p, q, strict=True))

    def dot(p, q):
        return sum(x * y for x, y in zip(p, q, strict=True))

    def from_end(p, q, r):
        along = minus(r, q)
        share = dot(minus(p, q), along) / (dot(along, along) or 1.0)
        foot = tuple(x + min(1.0, max(0.0, share)) * y for x, y in zip(q, along, strict=True))
        return math.dist(p, foot)

    found = min(from_end(a, c, d), from_end(b, c, d), from_end(c, a, b), from_end(d, a, b))
    u, v, w = minus(b, a), minus(d, c), minus(a, c)
    uu, uv, vv, uw, vw = dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w)
    whole = uu * vv - uv * uv
    if whole > 1e-9:
        s, t = (uv * vw - vv * uw) / whole, (uu * vw - uv * uw) / whole
        if 0 <= s <= 1 and 0 <= t <= 1:
            gap = tuple(x + s * y - t * z for x, y, z in zip(w, u, v, strict=True))
            found = min(found, math.hypot(*gap))
    return found


def fittings_have_a_part(outputs: Outputs) -> Iterator[str]:
    yield from (f"fitting {one['id']} hangs on nothing" for one in outputs.plan["hardware_places"] if not one["parts"])


RULES = (
    two_parts_are_not_in_one_place,
    recesses_are_within_their_part,
    holes_are_within_their_part,
    two_holes_are_not_one,
    screws_go_into_their_wood,
    two_fasteners_are_not_in_one_place,
    fittings_have_a_part,
)
