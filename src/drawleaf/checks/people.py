"""What people stand or sit on: a person on its edge and on either end, and no joint on the way to the floor held in end grain alone."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.bolts import bolt_results, reckoned
from drawleaf.checks.context import (
    WEIGHT_OF_KG,
    Bench,
    called,
    figures,
    names,
    result,
    sentence,
    worst,
)
from drawleaf.checks.folding_legs import folding_results, untied_results
from drawleaf.checks.load_path import UPRIGHT, LoadPath, load_path
from drawleaf.checks.splay import splay_results
from drawleaf.checks.unglued import unglued_results
from drawleaf.english import lower_first
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.checks import CheckResult, Load, Quantity, Verdict
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Part
from drawleaf.model.steps import JOINING
from drawleaf.units import ZERO

NAME = "people-load"
TITLE = "What people stand or sit on"
UNDER_LOAD = "Joints under load"
INSET = {"standing": 50.0, "sitting": 60.0}
"""How far from the edge a person's weight comes down, mm: half a foot's width, common practice, no source; sitting as in EN 1022, from memory."""
STEADY = 1.25
ALONG = 0.7
WITHDRAWAL = "NDS-2018 12.2.2: wood screws are not loaded in withdrawal from end grain (from memory); glue on end grain: common practice, no source"
TIPPING = "a moment balance of our own; EN 1022 for sitting and EN 14183 for step stools, both from memory"


def check(bench: Bench) -> Iterator[CheckResult]:
    """For each part that the author says people stand or sit on: whether it tips, and what holds it; for each other load, its joints."""
    if not any(load.person for load in bench.plan.checks.loads):
        yield from untied_results(bench, NAME, "Legs")
    for load in bench.plan.checks.loads:
        parts = [bench.parts[one] for one in load.parts if one in bench.parts]
        person = load.person
        if not parts:
            continue
        path = load_path(bench, parts)
        weak = [joint for joint in path.joints if held_in_end_grain(bench, joint)]
        yield from _weak(bench, load, weak, person)
        title = TITLE if person else UNDER_LOAD
        held = [joint for joint in path.joints if joint not in weak]
        asked = list(unglued_results(bench, load, parts, held, NAME, title, person=person))
        if person:
            asked += splay_results(bench, load, list(path.joints), NAME, TITLE)
            asked += folding_results(bench, load, path, NAME, TITLE)
            asked += bolt_results(bench, load, path, NAME, TITLE)
        yield from asked
        if person:
            sound = not weak and worst(one.verdict for one in asked) is Verdict.PASS
            yield _tipping(bench, load, parts, path, sound=sound)


def held_in_end_grain(bench: Bench, joint: Joint) -> bool:
    """Whether glue or screws in the end of a solid part are all that holds it: nothing let in, no pins, no pocket screws, no block."""
    if not joint.family.set_on or joint.depth > ZERO:
        return False
    if any(one.item.pin or one.item.kind == FastenerKind.POCKET_SCREW for one in joint.fasteners):
        return False
    if not any(_ends_in(bench.parts[one], joint) for one in (joint.insert, joint.receiver)):
        return False
    return not _blocked(bench, joint)


def _ends_in(part: Part, joint: Joint) -> bool:
    """Whether it is the end grain of a solid part that a joint touches, and that looks to the side."""
    looks = joint.normal or joint.face.normal
    if not part.stock.material.solid or part.grain is None or abs(looks[2]) > UPRIGHT:
        return False
    grain = [0.0, 0.0, 0.0]
    grain[part.grain.index] = 1.0
    way = part.tilt.out_direction((grain[0], grain[1], grain[2])) if part.tilt is not None else tuple(grain)
    return abs(sum(a * b for a, b in zip(looks, way, strict=True))) >= ALONG


def _blocked(bench: Bench, joint: Joint) -> bool:
    """Whether a block in the corner, glued along the grain to both parts, carries for the joint."""

    def glued_to(part: str) -> set[str]:
        found = set[str]()
        for one in bench.joints_of[part]:
            other = bench.parts[one.other(part)]
            if one.glued and one.id != joint.id and other.grain is not one.face.axis:
                found.add(other.id)
        return found

    return bool(glued_to(joint.insert) & glued_to(joint.receiver))


def _weak(bench: Bench, load: Load, weak: list[Joint], person: bool) -> Iterator[CheckResult]:
    """One finding for each line of the source that holds a load in end grain."""
    lines: dict[str, list[Joint]] = {}
    for joint in weak:
        lines.setdefault(joint.line, []).append(joint)
    for joints in lines.values():
        first = joints[0]
        insert, receiver = bench.parts[first.insert], bench.parts[first.receiver]
        if not _ends_in(insert, first):
            insert, receiver = receiver, insert
        leans = insert.tilt is not None or receiver.tilt is not None
        words = "The end of the {insert} is held to the {receiver} by {what} in end grain alone, and {who}"
        words += "; the splay of the legs pulls it open." if leans else "."
        yield result(
            NAME,
            TITLE if person else UNDER_LOAD,
            Verdict.STOP if person else Verdict.ADVICE,
            [
                bench.parts[one]
                for one in dict.fromkeys(one for joint in joints for one in (joint.insert, joint.receiver))
            ],
            sentence(
                words,
                insert=called(insert),
                receiver=called(receiver),
                what=_held_by(first),
                who="people stand or sit on what it carries" if person else "it carries a load",
            ),
            limit=sentence("no load in glue or screws in end grain alone"),
            source=WITHDRAWAL,
            remedy=sentence(
                "Let it in with “mortise_and_tenon”, “dado” or “half_lap”, add “dowels”, or glue a block into the corner."
                if not leans
                else "Add “dowels”, which stand square to the splayed face, or glue a block into the corner along the grain of both."
            ),
            position=first.position,
            steps=bench.steps_with((first.insert,), JOINING),
        )


def _held_by(joint: Joint) -> str:
    kinds = list(dict.fromkeys(f"{one.item.kind}s" for one in joint.fasteners))
    return " and ".join([*(["glue"] if joint.glued else []), *kinds]) or "nothing"


def _tipping(bench: Bench, load: Load, parts: list[Part], path: LoadPath, *, sound: bool) -> CheckResult:
    """A person near each edge of it in turn, about the line of the feet on that side."""
    word = "stands" if load.word == "standing" else "sits"
    inset = INSET.get(load.word, INSET["sitting"])
    margin, side = min(
        (
            (_margin(bench, load, parts, axis, way, inset), f"{axis.value}{way}")
            for axis in (Axis.X, Axis.Y)
            for way in (-1, 1)
        ),
        key=lambda one: one[0],
    )
    hung = any(fitting.item.family.wall is not None for fitting in bench.plan.fittings)
    where = "on one end" if side.startswith("x") else "on its edge"
    verdict = Verdict.PASS if hung or margin >= STEADY else Verdict.ADVICE if margin >= 1 else Verdict.STOP
    most = Quantity(load.value / WEIGHT_OF_KG, "mass")
    words = "A person of {most} who {word} {where} of the {part}"
    if hung:
        words = "The {part} is held by the wall when a person of {most} {word} {where}; how strong that fixing is was not reckoned here."
    elif margin == float("inf"):
        words += " stays over its feet, and does not tip it."
    else:
        words += " tips it with {share} of what holds it." if margin >= 1 else " tips it over."
    told = figures(load=most)
    unasked = "" if hung else _unasked(bench, path)
    if unasked:
        words += " How strong {unasked} was not reckoned."
    elif sound and verdict is Verdict.PASS:
        words += " It is made for one person of up to {most}."
        told += figures(maximum_load=most)
    return result(
        NAME,
        TITLE,
        verdict,
        parts,
        sentence(
            words,
            most=most,
            word=word,
            where=where,
            part=names(parts).lower(),
            share=Quantity(min(100 / margin, 999.0), "percent"),
            unasked=unasked,
        ),
        figures=told,
        limit=sentence("what holds it at least {margin} what tips it", margin=Quantity(STEADY, "factor")),
        source=TIPPING,
        remedy=sentence("Set the feet farther out, or let the top stand out less over them."),
        position=load.position,
    )


def _unasked(bench: Bench, path: LoadPath) -> str:
    """What carries where no joint hands on and nothing lies beneath: hardware, or what the plan does not say. Empty where the way ends on
    the floor everywhere."""
    for part in path.ends:
        held = [
            one
            for one in bench.plan.fittings
            if part.id in one.parts or part.id in {other.id for other in bench.moving_parts(one)}
        ]
        if not held:
            return f"what holds the {called(part)} is"
        if not any(reckoned(one) for one in held):
            return f"the {lower_first(held[0].item.name)} that holds the {called(part)} is"
    return ""


def _margin(bench: Bench, load: Load, parts: list[Part], axis: Axis, way: int, inset: float) -> float:
    """Holding moment over tipping moment about the outermost feet on one side; infinite where the person stays inside them."""
    edge = max(part.seen.span(axis).high.mm if way > 0 else -part.seen.span(axis).low.mm for part in parts) - inset
    feet = max(way * place for place in _feet(bench, axis))
    if edge <= feet:
        return float("inf")
    hold = sum(
        bench.mass(part) * WEIGHT_OF_KG * (feet - way * bench.solids.solid(part.id).centroid[axis.index])
        for part in bench.plan.parts
    )
    return max(hold, 0.0) / (load.value * (edge - feet))


def _feet(bench: Bench, axis: Axis) -> list[float]:
    """Where along an axis the piece touches the floor."""
    floor = min(bench.solids.solid(part.id).bounds[0][2] for part in bench.plan.parts)
    places: list[float] = []
    for part in bench.plan.parts:
        vertices = bench.solids.solid(part.id).mesh.vertices
        places += [float(one) for one in vertices[vertices[:, 2] - floor < 1.0][:, axis.index]]
    return places
