"""How far shelves, seats and drawer bottoms sag under what stands on them.

Simple beams between the supports that ``supports`` finds: a housed or screwed end may stiffen a shelf, and no source says by how much,
so nothing is credited for it. A glued edging counts, as one section with the shelf.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

from drawleaf.checks import beams
from drawleaf.checks.beams import Strip
from drawleaf.checks.carriers import Carrier, carriers_of
from drawleaf.checks.context import (
    WEIGHT_OF_KG,
    Bench,
    called,
    figures,
    mm,
    result,
    sentence,
    shared,
    slides,
    span_mm,
    worst,
)
from drawleaf.checks.supports import Spans, pinned, spans_of, stands
from drawleaf.model.checks import CheckResult, Fine, Load, Quantity, Sentence, Verdict
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part
from drawleaf.model.run import run_of
from drawleaf.units import Length, Units
from drawleaf.units.measures import AREA_LOAD, DENSITY, FORCE, value_of

NAME = "shelf-sag"
LIMIT_RATIO = 144
AWS = "Architectural Woodwork Standards, ed. 1 (2009): loads 1.2.21.2, limit span/144 1.2.21.3 (read in a reprint)"
SOURCE = f"{AWS}; Wood Handbook eq. 9-2, Table 9-1 (read in a reprint); {beams.CREEP_SOURCE}"
MOST_ON_A_SHELF = value_of("200 lbf", FORCE)
ORDINARY = Load((), "area", value_of("40 lbf/ft^2", AREA_LOAD), "ordinary", AWS)
DRAWER_DENSITY = value_of("8.5 lb/ft^3", DENSITY)
"""Kilograms a cubic metre of drawer: 8.5 lb per cubic foot, CPSC 2022 clothing storage rule (read)."""
SEAT_WIDTH = 400.0
"""How wide a strip of a seat one person bears on: common practice, no source."""
TRUNK, TRUNK_LONG, TRUNK_WIDE = 0.6, 850.0, 500.0
"""Of someone who lies, so much of the weight comes down through a mattress on so long and wide a field, mm: from memory of tables of the
parts of the body, rounded."""
NARROWEST = 50.0
LEAST_TOLD = 0.5
"""What sags less than this, mm, is not told of what carries a board."""
EDGING_WIDTH = 19.05
LOAD_WORDS = {
    "ordinary": "an ordinary load",
    "books": "a load of books",
    "display": "things on display",
    "shoes": "shoes and boots",
    "records": "a row of records",
    "sitting": "a heavy person",
    "standing": "a heavy person",
    "lying": "a heavy person who lies on it",
    "a full drawer": "what a full drawer holds",
}


@dataclass(frozen=True, slots=True)
class Case:
    """One board across one span: ``wide`` is the strip considered, ``stiffness`` its E I where it sags most, ``edged`` along its
    edging, ``bare`` without one."""

    spans: Spans
    wide: float
    stiffness: float
    edged: float
    bare: float
    force: float
    load: Load
    weight: float
    board: Strip

    @property
    def first(self) -> float:
        """Sag on the first day as a share of the limit, so that spans and overhangs compare; see ``_ratio``."""
        return self._ratio(1.0)

    def lasting(self, creep: float) -> float:
        """As ``first`` (a share of the limit), after years. A person gets up again, so only what the board itself weighs creeps under a seat."""
        return self._ratio(creep)

    def _ratio(self, creep: float) -> float:
        gap, over = self.spans.gap, self.spans.overhang
        ends = [self.sag(creep) * LIMIT_RATIO / gap if gap > 0 else 0.0]
        if over > 0:
            # A cantilever is held against twice its length (IBC Table 1604.3, note, from memory).
            ends.append(self._overhang_sag(creep) * LIMIT_RATIO / (2 * over))
        return max(ends)

    def sag(self, creep: float = 1.0) -> float:
        """Sag of the span in mm."""
        gap = self.spans.gap
        own = beams.sag(beams.UNIFORM_SIMPLE, self.weight * gap, gap, self.stiffness) * creep
        if self.load.kind == "sitting":
            return own + beams.sag(beams.POINT_SIMPLE, self.force, gap, self.stiffness)
        return own + beams.sag(beams.UNIFORM_SIMPLE, self.force * gap, gap, self.stiffness) * self.stays(creep)

    def stays(self, creep: float) -> float:
        """How many times as far the load itself bends it after years: a person gets up again."""
        return 1.0 if self.load.person else creep

    def _overhang_sag(self, creep: float) -> float:
        over = self.spans.overhang
        own = beams.sag(beams.UNIFORM_CANTILEVER, self.weight * over, over, self.stiffness) * creep
        if self.load.kind == "sitting":
            return own + beams.sag(beams.POINT_CANTILEVER, self.force, over, self.stiffness)
        return own + beams.sag(beams.UNIFORM_CANTILEVER, self.force * over, over, self.stiffness) * self.stays(creep)


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each kind of board that carries something."""
    for part, group in bench.kinds(part for part in bench.plan.parts if _carries(bench, part)):
        found = case_of(bench, part)
        if found is not None:
            yield _finding(bench, part, group, found)


def _carries(bench: Bench, part: Part) -> bool:
    """A level board that lies open to be loaded: not covered, not a narrow rail, unless the author puts something on it."""
    if part.thickness is not Axis.Z:
        return False
    if bench.load_on(part) is not None:
        return True
    _, width, _ = part.size
    if width.mm < NARROWEST:
        return False
    x, y, top = span_mm(part.seen, Axis.X), span_mm(part.seen, Axis.Y), part.seen.z.high.mm
    covered = 0.0
    for other in bench.near.within({Axis.X: x, Axis.Y: y, Axis.Z: (top - 0.3, top + 0.3)}):
        if abs(other.seen.z.low.mm - top) < 0.3:
            wide, deep = shared(x, span_mm(other.seen, Axis.X)), shared(y, span_mm(other.seen, Axis.Y))
            covered += max(wide, 0) * max(deep, 0)
    return covered < 0.5 * (x[1] - x[0]) * (y[1] - y[0])


def case_of(bench: Bench, part: Part) -> Case | None:
    """The stiffer of the ways that a board is carried; None where it has no second support or its stiffness is not known."""
    cases = [case for spans in spans_of(bench, part) if (case := _case(bench, part, spans)) is not None]
    return min(cases, key=lambda case: case.first, default=None)


def _case(bench: Bench, part: Part, spans: Spans) -> Case | None:
    other = Axis.Y if spans.axis is Axis.X else Axis.X
    with_grain = part.grain is None or part.grain is spans.axis
    modulus = beams.along(part.stock.material, with_grain=with_grain)
    if modulus is None or spans.gap <= 0:
        return None
    load = bench.load_on(part) or _usual_load(bench, part)
    wide = part.seen.extent(other).mm
    if load.kind == "sitting":
        wide = min(wide, SEAT_WIDTH)
    thick = part.seen.z.extent.mm
    board = Strip(wide, thick, part.seen.z.low.mm, modulus)
    edgings = list(_edgings(bench, part, spans.axis))
    bare, edged = beams.bending_stiffness(board), beams.bending_stiffness(board, *(strip for _, strip in edgings))
    both_sides = len({side for side, _ in edgings}) == 2
    weight = part.stock.material.density / 1e9 * WEIGHT_OF_KG * wide * thick
    force = force_on(load, part, wide)
    stiffness = edged if both_sides else beams.edged_on_one_side(edged, bare)
    if load.kind == "lying":
        force *= _pitch(bench, part, load, other) / wide
    return Case(spans, wide, stiffness, edged, bare, force, load, weight, board)


def _pitch(bench: Bench, part: Part, load: Load, across: Axis) -> float:
    """How much of a mattress one slat carries, mm: as far as from its middle to the next one's."""
    middles = sorted(bench.parts[one].seen.span(across).middle.mm for one in load.parts if one in bench.parts)
    gaps = [b - a for a, b in pairwise(middles) if b - a > 1.0]
    return max(part.seen.extent(across).mm, min(gaps, default=0.0))


def _usual_load(bench: Bench, part: Part) -> Load:
    drawer = _drawer_of(bench, part)
    if not drawer:
        return ORDINARY
    carrier = bench.moving.get(part.id)
    across = run_of(carrier).across if carrier is not None else Axis.X
    sides = [one for one in drawer if one.thickness is across]
    deep = max((one.seen.z.high.mm for one in sides), default=part.seen.z.high.mm) - part.seen.z.high.mm
    pressure = DRAWER_DENSITY * WEIGHT_OF_KG * deep / 1000
    return Load((), "area", pressure, "a full drawer", "8.5 lb a cubic foot, CPSC 2022 (read)")


def _drawer_of(bench: Bench, part: Part) -> tuple[Part, ...]:
    """The drawer whose floor a board may be, on slides or loose on runners; nothing where it is in none."""
    if part.id in bench.moving and slides(bench.moving[part.id]):
        return bench.moving_parts(bench.moving[part.id])
    return next((box for box in bench.loose_boxes.values() if part in box), ())


def force_on(load: Load, part: Part, wide: float) -> float:
    """Newtons per millimetre of span on the strip; for a seat, the person's weight in newtons."""
    length, width, _ = part.size
    area = length.mm * width.mm
    match load.kind:
        case "sitting":
            return load.value
        case "area":
            # AWS caps what a shelf must carry at 200 lb.
            pressure = min(load.value / 1e6, MOST_ON_A_SHELF / area)
        case "lying":
            pressure = load.value * TRUNK / (TRUNK_LONG * TRUNK_WIDE)
        case "line":
            pressure = load.value / 1000 * length.mm / area
        case "total":
            pressure = load.value / area
    return pressure * wide


def _edgings(bench: Bench, part: Part, axis: Axis) -> Iterator[tuple[bool, Strip]]:
    """Strips glued along the front or back edge, grain along the span, over most of its length; and whether on the high side."""
    for joint in bench.joints_of[part.id]:
        other = bench.parts[joint.other(part.id)]
        if not joint.glued or joint.face.axis in (axis, Axis.Z) or other.grain is not axis:
            continue
        if stands(bench, other.id, part.id):
            continue  # it carries the board, and is counted there
        if joint.contact.extent(axis).mm < 0.9 * part.seen.extent(axis).mm or other.stock.material.stiffness is None:
            continue
        across = joint.face.axis
        strip = Strip(
            other.seen.extent(across).mm, other.seen.z.extent.mm, other.seen.z.low.mm, other.stock.material.stiffness
        )
        yield other.seen.span(across).middle > part.seen.span(across).middle, strip


def _finding(bench: Bench, part: Part, group: tuple[Part, ...], case: Case) -> CheckResult:
    creep = beams.creep_factor(part.stock.material)
    carrier = _weakest(bench, part, case)
    own = (carrier.sag, carrier.later, carrier.span / LIMIT_RATIO) if carrier is not None else (0.0, 0.0, 1.0)
    verdict = worst(
        (
            Verdict.STOP if case.first > 1 or own[0] > own[2] else Verdict.PASS,
            Verdict.ADVICE if case.lasting(creep) > 1 or own[1] > own[2] else Verdict.PASS,
        )
    )
    if verdict is Verdict.STOP and _drawer_of(bench, part):
        verdict = Verdict.ADVICE  # a drawer's bottom that sags looks poor and falls on no one
    gap = case.spans.gap
    limit = mm(gap / LIMIT_RATIO)
    held = "on pins" if pinned(bench, part) else "between its supports"
    told = figures(
        clear_span=mm(gap),
        load=_load_figure(case.load),
        sag_on_the_first_day=Fine(mm(case.sag())),
        sag_after_years=Fine(mm(case.sag(creep))),
        limit=Fine(limit),
    )
    longest = _told_down(_longest(case, creep), bench.plan.lengths.units)
    words = "The {part}, {span} clear {held}, sags {first} under {load} ({figure}) on the first day and {later} after years; the limit is {limit}."
    values = {
        "part": called(part),
        "span": mm(gap),
        "held": held,
        "first": Fine(mm(case.sag())),
        "later": Fine(mm(case.sag(creep))),
        "load": LOAD_WORDS.get(case.load.word, "the load that the author states"),
        "figure": _load_figure(case.load),
        "limit": Fine(limit),
    }
    if case.load.kind != "sitting":
        words += " With that load it may span up to {longest}."
        values["longest"] = longest
        told += figures(longest_span=longest)
    if case.edged > case.bare * 1.001:
        words += " Along its glued edging it is {times} as stiff as the board alone; the sags are those of the other edge, which gains less."
        values["times"] = Quantity(case.edged / case.bare, "factor")
        told += figures(edge_stiffer_by_its_edging=Quantity((case.edged / case.bare - 1) * 100, "percent"))
    if carrier is not None:
        words += " The {carrier} that carries its edge is {clear} long and sags {own} itself, {own_later} after years."
        values |= {"carrier": called(carrier.part), "own": Fine(mm(carrier.sag)), "own_later": Fine(mm(carrier.later))}
        values["clear"] = mm(carrier.span)
        told += figures(sag_of_what_carries_it=Fine(mm(carrier.later)))
    return result(
        NAME,
        "Shelves and spans",
        verdict,
        group,
        sentence(words, **values),
        figures=told,
        limit=sentence("a sag of 1/144 of the span, after years as well"),
        source=SOURCE,
        remedy=_higher(carrier) if carrier is not None and own[1] > own[2] else _remedy(part, case, creep),
        position=case.load.position or part.position,
        steps=bench.steps_with((one.id for one in group), ("set-shelves", "join", "join-body")),
    )


def _weakest(bench: Bench, part: Part, case: Case) -> Carrier | None:
    """Of what carries the board alone along an edge, what sags most for its span; None where that is nothing one could measure. Under a person
    ``people`` asks the whole way to the floor."""
    if case.load.person or _drawer_of(bench, part):
        return None
    found = carriers_of(bench, part, case.spans, case.force + case.weight)
    worst_of = max(found, key=lambda one: one.later / one.span, default=None)
    return worst_of if worst_of is not None and worst_of.later > LEAST_TOLD else None


def _longest(case: Case, creep: float) -> float:
    whole = case.force * case.stays(creep) + case.weight * creep
    return beams.longest_span(beams.UNIFORM_SIMPLE, whole, case.stiffness, LIMIT_RATIO)


def _told_down(span: float, units: Units) -> Length:
    """A longest span, rounded down to the half inch or the centimetre that one would say."""
    step = Length.of_mm(10) if units is Units.MM else Length.of_inches(1) / 2
    return step * floor(span / step.mm)


def _higher(carrier: Carrier) -> Sentence:
    """What keeps the carrier from sagging: more height, or half the span."""
    return sentence(
        "Make the {carrier} {high} high or more, or put a foot under its middle.",
        carrier=called(carrier.part),
        high=mm(ceil(carrier.higher(LIMIT_RATIO))),
    )


def _remedy(part: Part, case: Case, creep: float) -> Sentence:
    """The cheapest thing that would do: an edging, else a support in the middle, else a thicker board."""
    needed = (case.lasting(creep) * case.stiffness) ** 2 / case.bare  # an edging on one side gives the geometric mean
    material = part.stock.material
    height = beams.edging_height(needed, EDGING_WIDTH, material.stiffness or 0.0, case.board)
    if height is not None and case.load.kind != "sitting":
        return sentence(
            "Glue a solid edging {wide} thick and {high} high to its front edge, its top flush with the shelf; or put a support in the middle.",
            wide=mm(EDGING_WIDTH),
            high=mm(height),
        )
    if case.lasting(creep) <= 8:
        return sentence("Put a support under its middle: half the span sags an eighth as much.")
    pieces = floor(case.lasting(creep) ** (1 / 3)) + 1
    return sentence("Divide it by uprights into {pieces} spans, or make it of much thicker stock.", pieces=pieces)


def _load_figure(load: Load) -> Quantity:
    match load.kind:
        case "lying":
            return Quantity(load.value / WEIGHT_OF_KG, "mass")
        case "area":
            return Quantity(load.value, "area load")
        case "line":
            return Quantity(load.value, "line load")
        case _:
            return Quantity(load.value, "force")
