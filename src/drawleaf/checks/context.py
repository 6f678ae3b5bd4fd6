"""What every check looks at, and how it says what it found."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from drawleaf.english import listed, lower_first
from drawleaf.model.boxes import is_box
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.checks import NOTHING, CheckResult, Figure, Load, Sentence, Value, Verdict
from drawleaf.model.derived import Derived
from drawleaf.model.hardware_family import HARDWARE_FAMILIES, Carries
from drawleaf.model.near import Near
from drawleaf.model.place import Axis, Box
from drawleaf.model.plan import BoxCut, Fastener, Fitting, Joint, Part, Plan
from drawleaf.model.position import Position
from drawleaf.setting_out.hinging import is_hinge, runs_on_slides
from drawleaf.solids.build import Solids
from drawleaf.units import Length, Units
from drawleaf.units.measures import factor

TOUCH_MM = 0.3
"""Faces nearer than this touch."""
WEIGHT_OF_KG = float(factor("kgf", "N"))
"""What a kilogram weighs, in newtons."""


def _bringing(carries: Carries) -> tuple[str, ...]:
    """Kinds of operations that bring what such hardware carries."""
    brings = [family.brings for family in HARDWARE_FAMILIES if family.carries is carries]
    return tuple(dict.fromkeys(kind for one in brings for kind in (one.template, one.for_lid) if kind))


HANGING, RUNNING_IN = _bringing(Carries.LEAF), _bringing(Carries.DRAWER)
"""Kinds of operations that hang a door or a lid, and that run a drawer in."""


@dataclass(frozen=True, eq=False)
class Bench:
    """The derived plan with its solids, and look-ups that several checks share."""

    derived: Derived
    solids: Solids

    @property
    def plan(self) -> Plan:
        return self.derived.plan

    @cached_property
    def parts(self) -> dict[str, Part]:
        return {part.id: part for part in self.plan.parts}

    @cached_property
    def joints(self) -> dict[str, Joint]:
        return {joint.id: joint for joint in self.plan.joints}

    @cached_property
    def joints_of(self) -> dict[str, tuple[Joint, ...]]:
        """The joints of each part."""
        found: dict[str, list[Joint]] = {part.id: [] for part in self.plan.parts}
        for joint in self.plan.joints:
            found[joint.insert].append(joint)
            found[joint.receiver].append(joint)
        return {part: tuple(joints) for part, joints in found.items()}

    @cached_property
    def held_fast(self) -> dict[str, frozenset[str]]:
        """For each part those that a joint which holds fast ties it to."""
        return {
            part: frozenset(joint.other(part) for joint in joints if holds_fast(joint))
            for part, joints in self.joints_of.items()
        }

    @cached_property
    def near(self) -> Near:
        """All parts, by where they stand."""
        return Near(self.plan.parts)

    @cached_property
    def floor(self) -> float:
        """Where the lowest part ends, in mm: what the piece stands on."""
        return min(part.seen.z.low.mm for part in self.plan.parts)

    def on_floor(self, part: Part) -> bool:
        """Whether a part stands on the floor."""
        return part.seen.z.low.mm - self.floor < TOUCH_MM

    @cached_property
    def moving(self) -> dict[str, Fitting]:
        """Each part that runs on slides or swings on hinges, with the first fitting that carries it."""
        carried: dict[str, Fitting] = {}
        for fitting in self.plan.fittings:
            if not (slides(fitting) or swings(fitting)):
                continue
            for part in self.moving_parts(fitting):
                carried.setdefault(part.id, fitting)
        return carried

    def moving_parts(self, fitting: Fitting) -> tuple[Part, ...]:
        """The parts of the drawer that a fitting carries."""
        moved = fitting.moving
        if moved is None:
            return ()
        if moved in self.parts:
            return (self.parts[moved],)
        return self.plan.parts_in(moved)

    @cached_property
    def drawers(self) -> dict[str, tuple[Part, ...]]:
        """Drawers on slides by the assembly that moves."""
        return {
            fitting.moving: self.moving_parts(fitting)
            for fitting in self.plan.fittings
            if fitting.moving is not None and slides(fitting)
        }

    @cached_property
    def loose_boxes(self) -> dict[str, tuple[Part, ...]]:
        """Boxes that stand loose in the piece, such as drawers on runners of wood: a floor between upright sides all round. By assembly."""
        found: dict[str, tuple[Part, ...]] = {}
        for assembly in self.plan.assemblies:
            parts = self.plan.parts_in(assembly.id) if assembly.loose else ()
            if is_box(parts):
                found[assembly.id] = parts
        return found

    @cached_property
    def leaves(self) -> dict[str, Fitting]:
        """Doors and lids on hinges, by what moves, each with its first hinge."""
        found: dict[str, Fitting] = {}
        for fitting in self.plan.fittings:
            if fitting.moving is not None and swings(fitting):
                found.setdefault(fitting.moving, fitting)
        return found

    def thumb(self, inches: int, millimetres: int) -> Length:
        """A rule of thumb in the round figure that shops of the plan's units use for it: 6 ft, or 1800 mm."""
        metric = self.plan.lengths.units is Units.MM
        return Length.of_mm(millimetres) if metric else Length.of_inches(inches)

    def load_on(self, part: Part) -> Load | None:
        """What the author says stands on a part; the last word counts."""
        found = [load for load in self.plan.checks.loads if part.id in load.parts]
        return found[-1] if found else None

    @cached_property
    def masses(self) -> dict[str, float]:
        """Kilograms of each machined part, from its solid and the catalogue's density."""
        return {part.id: part.stock.material.mass(self.solids.solid(part.id).volume) for part in self.plan.parts}

    def mass(self, part: Part) -> float:
        """Kilograms of a machined part."""
        return self.masses[part.id]

    def kinds(self, parts: Iterable[Part] | None = None) -> Iterator[tuple[Part, tuple[Part, ...]]]:
        """Parts grouped by kind: the first copy, and all of them."""
        groups: dict[str, list[Part]] = {}
        for part in self.plan.parts if parts is None else parts:
            groups.setdefault(part.kind, []).append(part)
        for group in groups.values():
            yield group[0], tuple(group)

    def steps_cutting(self, joints: Iterable[str]) -> tuple[str, ...]:
        """Ids of the steps that cut for any of these joints, in their order."""
        places = {place for joint in joints for place in self._cut_at.get(joint, ())}
        return tuple(self.derived.steps[place].id for place in sorted(places))

    @cached_property
    def _cut_at(self) -> dict[str, set[int]]:
        """The places of the steps that cut for each joint."""
        found: dict[str, set[int]] = {}
        for place, step in enumerate(self.derived.steps):
            for operation in step.operations:
                for _, feature in operation.features:
                    if isinstance(feature, BoxCut) and feature.joint is not None:
                        found.setdefault(feature.joint, set()).add(place)
        return found

    def steps_with(self, parts: Iterable[str], kinds: Collection[str] | None = None) -> tuple[str, ...]:
        """Ids of the steps that work on any of these parts, by an operation of these kinds; by any where none are named."""
        ids = set(parts)
        return tuple(
            step.id
            for step in self.derived.steps
            if any(
                (kinds is None or operation.kind in kinds) and ids & set(operation.parts)
                for operation in step.operations
            )
        )


def gives(fastener: Fastener) -> bool:
    """Brads bend; a screw in a slot slides."""
    return fastener.item.kind == FastenerKind.BRAD or fastener.slotted


def holds_fast(joint: Joint) -> bool:
    """Whether a joint leaves its parts no room to move."""
    return joint.glued or any(not gives(one) for one in joint.fasteners)


def slides(fitting: Fitting) -> bool:
    """Whether it carries a drawer."""
    return fitting.moving is not None and runs_on_slides(fitting)


def swings(fitting: Fitting) -> bool:
    """Whether it carries a door or a lid."""
    return fitting.moving is not None and is_hinge(fitting)


Check = Callable[[Bench], Iterable[CheckResult]]


def sentence(template: str, **values: Value) -> Sentence:
    """Words with their figures."""
    return Sentence(template, tuple(values.items()))


def figures(**values: Value) -> tuple[Figure, ...]:
    """Named figures; underscores become spaces."""
    return tuple(Figure(name.replace("_", " "), value) for name, value in values.items())


def result(
    check: str,
    title: str,
    verdict: Verdict,
    parts: Iterable[Part],
    words: Sentence,
    *,
    what: str = "",
    figures: tuple[Figure, ...] = (),
    limit: Sentence = NOTHING,
    source: str = "common practice, no source",
    remedy: Sentence = NOTHING,
    position: Position | None = None,
    steps: tuple[str, ...] = (),
    caution: str = "",
    at_step: Sentence = NOTHING,
    fit: tuple[str, ...] = (),
) -> CheckResult:
    """A finding. Its place in the source: the first part, if no place is given. A pass asks for no remedy."""
    concerned = tuple(parts)
    if position is None and concerned:
        position = concerned[0].position
    return CheckResult(
        check=check,
        title=title,
        verdict=verdict,
        what=what or names(concerned),
        parts=tuple(part.id for part in concerned),
        figures=figures,
        limit=limit,
        source=source,
        words=words,
        remedy=remedy if verdict is not Verdict.PASS else NOTHING,
        position=position,
        steps=steps,
        caution=caution,
        at_step=at_step,
        fit=fit,
    )


def names(parts: Iterable[Part]) -> str:
    """The parts' names, each once: ``Side, Bottom and Divider``."""
    words = list(dict.fromkeys(part.name for part in parts))
    return listed(words, most=4) if len(words) > 5 else listed(words)


def called(part: Part) -> str:
    """A part's name inside a sentence: ``seat top``."""
    return lower_first(part.name)


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """The gravest of some verdicts."""
    order = (Verdict.PASS, Verdict.ADVICE, Verdict.STOP)
    return max(verdicts, key=order.index, default=Verdict.PASS)


def judged(value: float, advice: float, stop: float) -> Verdict:
    """Pass up to ``advice``, stop beyond ``stop``. The least rounding of floats does not count."""
    if value <= advice * (1 + 1e-9):
        return Verdict.PASS
    return Verdict.ADVICE if value <= stop * (1 + 1e-9) else Verdict.STOP


def mm(value: float) -> Length:
    """A length worked out in floats, to a thousandth of a millimetre."""
    return Length(Fraction(round(value * 1000), 1000))


def span_mm(box: Box, axis: Axis) -> tuple[float, float]:
    """Low and high of a box along an axis, in millimetres."""
    span = box.span(axis)
    return span.low.mm, span.high.mm


def over_all(parts: Iterable[Part], axis: Axis) -> tuple[float, float]:
    """From where to where several parts reach along an axis, mm."""
    spans = [span_mm(part.seen, axis) for part in parts]
    return min(low for low, _ in spans), max(high for _, high in spans)


def shared(a: tuple[float, float], b: tuple[float, float]) -> float:
    """How much two intervals overlap, in their own unit; negative where a gap is between them."""
    return min(a[1], b[1]) - max(a[0], b[0])
