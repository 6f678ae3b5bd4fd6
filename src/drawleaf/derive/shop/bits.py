"""Bits that the steps turn: drill bits, Forstner bits, router bits, each with the size that the work asks for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from drawleaf.english import listed
from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import Plan
from drawleaf.model.settings import ScrewHoleSettings
from drawleaf.model.steps import Operation, Step
from drawleaf.setting_out.outlines import arcs_of
from drawleaf.setting_out.screws import SIXTY_FOURTH, clearance_bit, pilot_hole
from drawleaf.units import Length, LengthFormat, Units

STUD_GRAVITY = 0.45
"""A softwood stud, near the middle of spruce, pine and fir; it only decides between two rules for a pilot hole."""
WALL_GAUGE = 10
STARTER = Length.of_inches(Fraction(3, 8))
"""Through a hole so wide a jigsaw starts and turns."""
STARTED = ("cutout", "cut-standing")
BORED_OUT = ("mortise",)
WALL_KINDS = ("hang-on-wall", "anchor-to-wall")
# Straight router bits as stores keep them: common practice, no source.
STRAIGHT_INCHES = tuple(Length.of_inches(Fraction(size)) for size in ("1/8", "3/16", "1/4", "3/8", "1/2", "3/4"))
STRAIGHT_MM = tuple(Length.of_mm(size) for size in (3, 4, 5, 6, 8, 10, 12, 16, 18))


def pilots_of(plan: Plan, operation: Operation) -> dict[int, Length]:
    """The hole that leads this operation's screws of each gauge in the wood that holds the thread; the densest wood decides."""
    holes: dict[int, Length] = {}
    for fastener in operation.fasteners:
        gauge = fastener.item.gauge
        if gauge and fastener.item.kind not in (FastenerKind.BRAD, FastenerKind.POCKET_SCREW):
            hole = pilot_hole(gauge, plan.part(fastener.into).stock.material.specific_gravity)
            holes[gauge] = max(hole, holes.get(gauge, hole))
    return holes


def screws_in_hardwood(plan: Plan, operation: Operation) -> bool:
    """Whether threads go into solid hardwood, where a dry screw may shear: they are waxed. Common practice, no source."""
    materials = [
        plan.part(fastener.into).stock.material
        for fastener in operation.fasteners
        if fastener.item.gauge and fastener.item.kind not in (FastenerKind.BRAD, FastenerKind.POCKET_SCREW)
    ]
    return any(material.hard and material.solid for material in materials)


def mount_screw(plan: Plan, operation: Operation) -> HardwareItem | None:
    """The screw that an operation's fittings are mounted with."""
    for fitting in operation.fittings:
        for screw in fitting.item.screws:
            item = plan.catalogue.hardware.get(screw.item)
            if item is not None and item.gauge:
                return item
    return None


def mount_pilot(plan: Plan, operation: Operation) -> Length | None:
    """The pilot hole for those screws in the part that they go into; None where none is named."""
    screw = mount_screw(plan, operation)
    if screw is None or screw.gauge is None:
        return None
    parts = [part for fitting in operation.fittings for part in fitting.parts]
    return pilot_hole(screw.gauge, max(plan.part(part).stock.material.specific_gravity for part in parts))


def stud_pilot(operation: Operation) -> Length:
    """The pilot hole in a softwood stud for a wall screw."""
    gauges = [fitting.item.gauge for fitting in operation.fittings if fitting.item.gauge]
    return pilot_hole(max(gauges, default=WALL_GAUGE), STUD_GRAVITY)


def straight_bit(plan: Plan, width: Length) -> Length:
    """The widest straight bit that stores keep and that is no wider than a channel: the narrowest one where all are wider."""
    sizes = STRAIGHT_MM if plan.lengths.units is Units.MM else STRAIGHT_INCHES
    return max((size for size in sizes if size <= width), default=sizes[0])


def wider_bit(plan: Plan, width: Length) -> Length:
    """The narrowest straight bit that stores keep and that is wider than a rabbet; where none is, the widest, whose guide is moved."""
    sizes = STRAIGHT_MM if plan.lengths.units is Units.MM else STRAIGHT_INCHES
    return min((size for size in sizes if size > width), default=sizes[-1])


def bit_format(lengths: LengthFormat) -> LengthFormat:
    """Bits are sold by the 64th of an inch, whatever step the plan's other sizes are rounded to."""
    return replace(lengths, inch_step=SIXTY_FOURTH)


def bit_words(plan: Plan, steps: Sequence[Step], tool: str) -> str:
    """The sizes of a kind of bit that the steps ask for: ``Diameters: 1 in and 1-1/4 in.``; empty for what is no bit."""
    kind = _KINDS.get(tool)
    if kind is None:
        return ""
    one, many, sizes_of = kind
    operations = [op for step in steps for op in step.operations if any(used.id == tool for used in op.method.tools)]
    found = sorted({size for operation in operations for size in sizes_of(plan, operation)})
    if not found:
        return ""
    words = [f"number {size}" if isinstance(size, int) else bit_format(plan.lengths).text(size) for size in found]
    return f"{one if len(found) == 1 else many}: {listed(words)}."


def _setting(operation: Operation, name: str) -> Iterable[Length]:
    return (value for at, value in operation.settings.named() if at == name and isinstance(value, Length))


def _drilled(plan: Plan, operation: Operation) -> Iterable[Length]:
    """What an operation bores with twist drills."""
    yield from _setting(operation, "bit")
    if operation.kind in BORED_OUT:
        yield from _setting(operation, "width")
    if operation.kind in STARTED and not any(_setting(operation, "bit")):
        yield STARTER
    yield from (clearance_bit(gauge, bit_format(plan.lengths)) for gauge in _gauges(plan, operation))
    yield from pilots_of(plan, operation).values()
    mounted = mount_pilot(plan, operation) if operation.kind != "set-shelves" else None
    if mounted is not None:
        yield mounted
    if operation.kind in WALL_KINDS:
        yield stud_pilot(operation)


def _gauges(plan: Plan, operation: Operation) -> Iterable[int]:
    return (operation.settings.gauge,) if isinstance(operation.settings, ScrewHoleSettings) else ()


def _bored(plan: Plan, operation: Operation) -> Iterable[Length]:
    yield from _setting(operation, "bit")
    yield from _setting(operation, "counterbore")


def _radii(plan: Plan, operation: Operation) -> Iterable[Length]:
    return _setting(operation, "size")


def _straight(plan: Plan, operation: Operation) -> Iterable[Length]:
    """A rabbet is cut in one setting by a bit that hangs over the edge; any other channel by one no wider than it is."""
    size = wider_bit if ("kind", CutKind.RABBET) in operation.settings.named() else straight_bit
    return (size(plan, width) for width in _setting(operation, "width"))


def _chisels(plan: Plan, operation: Operation) -> Iterable[Length]:
    """A mortise is pared with a chisel as wide as it is, or a little less."""
    return _setting(operation, "width") if operation.kind in BORED_OUT else ()


def _depths(plan: Plan, operation: Operation) -> Iterable[Length]:
    """A bearing bit runs with its bearing on the inside face: how far it cuts in is how deep the rabbet is."""
    return _setting(operation, "depth")


def _profile_radii(plan: Plan, operation: Operation) -> Iterable[Length]:
    """The radii of a moulding's curves."""
    sections = [plan.part(part).section for part in operation.parts]
    return (arc.radius for section in sections if section is not None for arc in arcs_of(section.outline))


Sizes = Callable[[Plan, Operation], Iterable[Length | int]]
_KINDS: dict[str, tuple[str, str, Sizes]] = {
    "drill bits": ("Diameter", "Diameters", _drilled),
    "forstner bits": ("Diameter", "Diameters", _bored),
    "hole saw": ("Diameter", "Diameters", _bored),
    "spade bit": ("Diameter", "Diameters", _bored),
    "auger bits": ("Diameter", "Diameters", _bored),
    "chisel": ("Width", "Widths", _chisels),
    "countersink bit": ("For screws", "For screws", _gauges),
    "straight bit": ("Width", "Widths", _straight),
    "rabbeting bit": ("With the bearing for", "With the bearings for", _depths),
    "round-over bit": ("Radius", "Radii", _radii),
    "chamfer bit": ("For a chamfer of", "For chamfers of", _radii),
    "profile bits": ("Radius", "Radii", _profile_radii),
    "cove bit": ("Radius", "Radii", _radii),
    "ogee bit": ("Height of the profile", "Heights of the profiles", _radii),
    "beading bit": ("Size of the bead", "Sizes of the beads", _radii),
}
"""What is printed of each kind of bit, for one size and for several, and where its sizes are found. A new kind is one line here."""
