"""Screws, pocket screws and brads: long enough to hold, short enough to stay inside, far enough from edges and ends.

Edge and end distances of small screws in pre-bored wood have no published figure (NDS 12.1.5 only asks that the wood must not split,
read); those here are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from drawleaf.checks.context import Bench, called, figures, mm, result, sentence, worst
from drawleaf.checks.leaning_screws import figures_of
from drawleaf.checks.under_hardware import under_hardware
from drawleaf.english import capitalized, plural
from drawleaf.joinery.pockets import pocket_length
from drawleaf.model.catalogue import SCREWS, FastenerKind
from drawleaf.model.checks import CheckResult, Figure, Fine, Sentence, Verdict
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Part
from drawleaf.model.screw_sizes import number_under
from drawleaf.setting_out.screws import clearance_hole, pilot_hole
from drawleaf.units import ZERO, Length

NAME = "screws"
SLANTED = 0.99
COVER = 1.5
"""Wood that must be left in front of a point, mm: common practice, no source."""
LEAST_ENTRY = 6.35
PLENTY = 25.0
SIX_DIAMETERS = 6
SOUND_SHARE = Fraction(2, 3)
SLACK = 1.0
EDGE_STOP, EDGE_ADVICE = 1.0, 1.5
END_ADVICE = 3.0
SEAT_STOP, SEAT_ADVICE = 3.0, 6.0
"""Wood that must, and that should, be left under a head that is sunk, mm; under less it pulls through. Common practice, no source."""
SIXTEENTH = 25.4 / 16
LEAST_PLUG = 4.0
"""How deep a plug must sit so as not to be sanded through or fall out, mm: common practice, no source."""
SOURCE = (
    "enough thread: six diameters (NDS-2018 12.1.5, from memory) or two thirds of what is fastened, whichever is less; "
    "edge, end and pocket-screw lengths, wood under a sunk head: common practice, no source; clearance and pilot holes: NDS 12.1.5 (read in a reprint)"
)


@dataclass(frozen=True, slots=True)
class Hold:
    """A straight fastener's figures in mm: wood it goes through, how far it enters, wood left before its point, nearest edge of
    either part, in diameters."""

    skin: float
    entry: float
    left: float
    edge: float
    end: float


def hold_of(bench: Bench, fastener: Fastener) -> Hold | None:
    """None for pocket screws, which have a check of their own, and for fasteners without a length."""
    if fastener.item.length is None or fastener.item.kind == FastenerKind.POCKET_SCREW:
        return None
    diameter = fastener.item.diameter.mm if fastener.item.diameter else 1.0
    if any(bench.parts[one].tilt is not None for one in (fastener.through, fastener.into)):
        found = figures_of(bench, fastener)
        if found is None:
            return None
        skin, entry, left, edge, end = found
        return Hold(skin, entry, left, edge / diameter, end / diameter)
    if max(map(abs, fastener.direction)) < SLANTED:
        return None
    axis = max(Axis, key=lambda one: abs(fastener.direction[one.index]))
    forward = fastener.direction[axis.index] > 0
    head = fastener.at.along(axis).mm
    through, into = bench.parts[fastener.through], bench.parts[fastener.into]
    point = head + fastener.item.length.mm * (1 if forward else -1)
    near, far = into.body.span(axis).low.mm, into.body.span(axis).high.mm
    plane = _plane_between(bench, fastener, axis)
    if plane is not None:
        near, far = (plane, far) if forward else (near, plane)
    if not forward:
        near, far, head, point = -far, -near, -head, -point
    edges = [*_edges(through, fastener, axis), *_edges(into, fastener, axis)]
    across = min((distance for distance, along in edges if not along), default=float("inf"))
    end = min((distance for distance, along in edges if along), default=float("inf"))
    return Hold(near - head, point - near, far - point, across / diameter, end / diameter)


def _plane_between(bench: Bench, fastener: Fastener, axis: Axis) -> float | None:
    """Where a fastener passes from the one part of a lap into the other, in mm; None where the second begins with its own face."""
    joint = bench.joints.get(fastener.joint or "")
    if joint is None or not joint.family.crossing or joint.face.axis is not axis:
        return None
    return joint.contact.span(axis).low.mm


def _edges(part: Part, fastener: Fastener, axis: Axis) -> Iterator[tuple[float, bool]]:
    """Distances from the fastener to the part's faces beside it; and whether each is an end (across the grain)."""
    for other in axis.others():
        at, span = fastener.at.along(other).mm, part.body.span(other)
        for distance in (at - span.low.mm, span.high.mm - at):
            yield distance, part.grain is other and part.stock.material.solid


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each kind of fastener that is sound everywhere; one for each line of the source where one is not."""
    sound: dict[tuple[str, bool], list[tuple[Fastener, Hold | None]]] = {}
    lines: dict[tuple[str, str], list[Fastener]] = {}
    positions = {joint.line: joint.position for joint in bench.plan.joints}
    for joint in bench.plan.joints:
        for fastener in (one for one in joint.fasteners if not one.item.pin):
            lines.setdefault((joint.line, fastener.item.id), []).append(fastener)
    for (line, _), group in lines.items():
        holds = [hold_of(bench, fastener) for fastener in group]
        trouble = worst(
            _verdict(fastener, hold) if hold else _pocket_verdict(bench, fastener)
            for fastener, hold in zip(group, holds, strict=True)
        )
        if trouble is Verdict.PASS:
            for fastener, hold in zip(group, holds, strict=True):
                slanted = hold is None and fastener.item.kind != FastenerKind.POCKET_SCREW
                sound.setdefault((fastener.item.kind, slanted), []).append((fastener, hold))
        else:
            yield _trouble(bench, group, holds, trouble, positions[line])
    for group in sound.values():
        yield _sound(bench, group)
    yield from under_hardware(bench, NAME)


def needed_entry(fastener: Fastener, hold: Hold) -> float:
    """How far it should enter: six diameters or two thirds of the skin, if the second part is thick enough for that."""
    diameter = fastener.item.diameter.mm if fastener.item.diameter else 0.0
    room = hold.entry + hold.left - COVER * 2
    if fastener.item.kind == FastenerKind.BRAD:
        return min(hold.skin * float(SOUND_SHARE), room)
    return min(SIX_DIAMETERS * diameter, hold.skin * float(SOUND_SHARE), room)


def _verdict(fastener: Fastener, hold: Hold) -> Verdict:
    if hold.left < 0 or hold.entry < LEAST_ENTRY - SLACK or hold.edge < EDGE_STOP:
        return Verdict.STOP
    if fastener.sunk and hold.skin < SEAT_STOP:
        return Verdict.STOP
    short = hold.entry < needed_entry(fastener, hold) - SLACK
    brad = fastener.item.kind == FastenerKind.BRAD
    if _seats_badly(fastener, hold):
        return Verdict.ADVICE
    if hold.left < COVER or short or hold.edge < EDGE_ADVICE or (not brad and hold.end < END_ADVICE):
        return Verdict.ADVICE
    return Verdict.PASS


def _seats_badly(fastener: Fastener, hold: Hold) -> bool:
    """Whether too little wood is left under a head that is sunk, or its plug is too short to stay."""
    return bool(fastener.sunk) and (hold.skin < SEAT_ADVICE or _shallow(fastener))


def _shallow(fastener: Fastener) -> bool:
    return fastener.plug is not None and fastener.sunk.mm < LEAST_PLUG


def _pocket_verdict(bench: Bench, fastener: Fastener) -> Verdict:
    if fastener.item.kind != FastenerKind.POCKET_SCREW or fastener.item.length is None:
        return Verdict.PASS
    part = bench.parts[fastener.through]
    wanted = pocket_length(part.seen.extent(part.thickness))
    return Verdict.PASS if wanted is None or abs((fastener.item.length - wanted).mm) < SLACK else Verdict.ADVICE


def _trouble(bench: Bench, group: list[Fastener], holds: list[Hold | None], verdict: Verdict, position) -> CheckResult:
    first = group[0]
    parts = [bench.parts[first.through], bench.parts[first.into]]
    known = [(fastener, hold) for fastener, hold in zip(group, holds, strict=True) if hold is not None]
    if not known:
        wanted = pocket_length(parts[0].seen.extent(parts[0].thickness)) or ZERO
        words = sentence(
            "{item}: pocket screws in the {through}, which is {thick} thick, should be {wanted} long.",
            item=first.item.name,
            through=parts[0].name.lower(),
            thick=parts[0].seen.extent(parts[0].thickness),
            wanted=wanted,
        )
        remedy = sentence("Leave out “item” and let it be chosen.")
        return _result(verdict, parts, words, (), remedy, position)
    fastener, hold = max(known, key=lambda one: [Verdict.PASS, Verdict.ADVICE, Verdict.STOP].index(_verdict(*one)))
    parts = [bench.parts[fastener.through], bench.parts[fastener.into]]
    values = {
        "item": fastener.item.name,
        "through": parts[0].name.lower(),
        "into": parts[1].name.lower(),
        "skin": mm(hold.skin),
        "entry": mm(max(hold.entry, 0.0)),
        "left": mm(abs(hold.left)),
    }
    diameter = fastener.item.diameter.mm if fastener.item.diameter else 1.0
    if hold.left < 0:
        words = "{item}: it goes through {skin} of the {through}, and its point comes {left} out of the {into} on the far side."
        remedy = sentence("Take one no longer than {longest}.", longest=mm(hold.skin + hold.entry + hold.left - COVER))
    elif hold.left < COVER:
        words = "{item}: its point stops only {left} short of a face of the {into}, where it may show or bulge."
        remedy = sentence("Take one no longer than {longest}.", longest=mm(hold.skin + hold.entry + hold.left - COVER))
        if any(part.tilt is not None for part in parts):
            remedy = sentence("Take a shorter one: it runs at a slant toward that face.")
    elif hold.entry < needed_entry(fastener, hold) - SLACK or hold.entry < LEAST_ENTRY - SLACK:
        words = "{item}: it goes through {skin} of the {through} and enters the {into} by only {entry}; it should be {needed} or more."
        values["needed"] = mm(max(needed_entry(fastener, hold), LEAST_ENTRY))
        remedy = sentence("Take a longer one, or drive it from the other part with “through”.")
    elif _seats_badly(fastener, hold):
        words, remedy = _seat_words(fastener, hold)
        values["sunk"] = fastener.sunk
    elif hold.edge < EDGE_ADVICE:
        words = (
            "{item} from the {through} into the {into}: it stands {edge} from an edge, and the wood may split there."
        )
        values["edge"] = Fine(mm(hold.edge * diameter))
        remedy = _edge_remedy(parts, diameter)
    else:
        words = (
            "{item} from the {through} into the {into}: it stands {end} from the end of a board, which may split there."
        )
        values["end"] = mm(hold.end * diameter)
        remedy = _end_remedy(fastener, parts, END_ADVICE * diameter)
    return _result(verdict, parts, sentence(words, **values), _hold_figures(fastener, hold), remedy, position)


def _seat_words(fastener: Fastener, hold: Hold) -> tuple[str, Sentence]:
    """What is wrong with a head that is sunk, and what to do."""
    if _shallow(fastener):
        words = "{item}: the plugs in the {through} sit only {sunk} deep, and may fall out or be sanded through."
        return words, sentence("Make “counterbore” {least} or more.", least=mm(LEAST_PLUG))
    words = "{item}: its head lies {sunk} below the face of the {through}, which leaves {skin} under it: it may pull through."
    room = hold.skin + fastener.sunk.mm - SEAT_ADVICE
    if fastener.plug is not None and room < LEAST_PLUG:
        return words, sentence(
            "The {part} is too thin for plugs there: write “heads: filled”.", part=fastener.through.rsplit(".", 1)[-1]
        )
    return words, sentence("Make “counterbore” {room} or less.", room=mm(max(room, 0.0)))


def _end_remedy(fastener: Fastener, parts: list[Part], enough: float) -> Sentence:
    """What takes a screw away from the end of a board: ``end_distance`` where its row runs along that board's grain. Where it stands in
    the middle of another board's edge, no key moves it."""
    through, into = parts
    axis = max(Axis, key=lambda one: abs(fastener.direction[one.index]))
    short = next((part for part in parts if _short_end(part, fastener, axis, enough) is not None), through)
    grain = _short_end(short, fastener, axis, enough)
    row = max(axis.others(), key=lambda one: min(part.body.extent(one).exact_mm for part in parts))
    if grain is row:
        return sentence("Keep the screws clear of the ends: “end_distance: {enough}”.", enough=mm(enough))
    other = into if short is through else through
    by = enough - min(_ends(short, fastener, grain)) if grain is not None else enough
    by = ceil(by / SIXTEENTH) * SIXTEENTH  # never rounded to less than will do
    return sentence(
        "“end_distance” does not move it that way, as it stands in the middle of the {other}: set the {other} {by} farther in from the end of the {short}, "
        "join them with “rabbet” and glue, or let the {other} into a “dado”.",
        other=called(other),
        short=called(short),
        by=mm(by),
    )


def _short_end(part: Part, fastener: Fastener, axis: Axis, enough: float) -> Axis | None:
    """The axis of a part's grain, where the screw stands too near one of its ends."""
    grain = part.grain
    if grain is None or grain is axis or not part.stock.material.solid:
        return None
    return grain if min(_ends(part, fastener, grain)) < enough else None


def _ends(part: Part, fastener: Fastener, axis: Axis) -> tuple[float, float]:
    at, span = fastener.at.along(axis).mm, part.body.span(axis)
    return at - span.low.mm, span.high.mm - at


def _edge_remedy(parts: list[Part], diameter: float) -> Sentence:
    """A board may be too thin for the screw, wherever it stands."""
    enough = EDGE_ADVICE * diameter
    thin = next((part for part in parts if part.stock.thickness.mm < 2 * enough), None)
    if thin is None:
        return sentence("Keep it {enough} from every edge, or take a thinner one with “item”.", enough=Fine(mm(enough)))
    thick = thin.stock.thickness
    gauge = number_under(thick / 2 / Fraction(EDGE_ADVICE))
    words = "The {part} is only {thick} thick: " + (
        "take a #{gauge} screw or a thinner one with “item”, or " if gauge else ""
    )
    return sentence(words + "let it into a dado.", part=called(thin), thick=thick, gauge=gauge)


def _sound(bench: Bench, group: list[tuple[Fastener, Hold | None]]) -> CheckResult:
    """All sound fasteners of one kind, in one result, with the one that enters least."""
    parts = list(dict.fromkeys(bench.parts[one] for fastener, _ in group for one in (fastener.through, fastener.into)))
    known = [(fastener, hold) for fastener, hold in group if hold is not None]
    first, weakest = min(known, key=lambda one: one[1].entry) if known else (group[0][0], None)
    sizes = len({fastener.item.id for fastener, _ in group})
    values = {"kind": capitalized(plural(first.item.kind)), "count": len(group), "sizes": sizes}
    words = "{kind}, {count} " + ("of {sizes} sizes: " if sizes > 1 else "in all: ")
    told: tuple[Figure, ...] = ()
    if weakest is not None:
        told = (Figure("the one that enters least", first.item.name), *_hold_figures(first, weakest))
        left = min(hold.left for _, hold in known)
        words += "each enters the second part by {entry} or more, and no point comes "
        words += "near a face." if left > PLENTY else "nearer than {left} to a face."
        values |= {"entry": mm(weakest.entry), "left": mm(left)}
    elif first.item.kind != FastenerKind.POCKET_SCREW:
        words += "driven square through a part that leans, and each stays inside the wood that it enters."
    else:
        words += "each is as long as the thickness that its pocket is bored in asks for."
    gauge = first.item.gauge
    if gauge is not None and first.item.kind in SCREWS:
        gravity = bench.parts[first.into].stock.material.specific_gravity
        told += figures(clearance_hole=clearance_hole(gauge), pilot_hole=pilot_hole(gauge, gravity))
    return _result(Verdict.PASS, parts, sentence(words, **values), told, sentence(""), bench.parts[first.into].position)


def _hold_figures(fastener: Fastener, hold: Hold) -> tuple[Figure, ...]:
    return figures(
        length=fastener.item.length or Length(Fraction(0)),
        through=mm(hold.skin),
        enters=mm(max(hold.entry, 0.0)),
        should_enter=mm(max(needed_entry(fastener, hold), 0.0)),
    )


def _result(verdict: Verdict, parts, words, told, remedy, position) -> CheckResult:
    return result(
        NAME,
        "Screws and brads",
        verdict,
        parts,
        words,
        figures=told,
        limit=sentence("no point through a face, enough thread in the second part, clear of edges and ends"),
        source=SOURCE,
        remedy=remedy,
        position=position,
    )
