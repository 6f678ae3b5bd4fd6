"""What is bored for screws and bought hardware, as marks on a part's face view: clearance holes and slots, the places of fittings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drawleaf.derive.shop.bits import bit_format, pilots_of
from drawleaf.derive.shop.store_words import screw_size
from drawleaf.draw.at_step.bored import screws_into, screws_through, slot_axis
from drawleaf.draw.at_step.later_cuts import cutting_steps
from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.part.like_copies import Sides, same_sides
from drawleaf.draw.part.marks.all_marks import from_edge, pitch_of
from drawleaf.draw.part.marks.kinds import Mark, Spans, placed
from drawleaf.draw.picture.lay import Lay, face_name
from drawleaf.english import counted, listed, lower_first
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.derived import Derived
from drawleaf.model.hardware_family import Wall
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, Fastener, Fitting, Part
from drawleaf.setting_out.hinging import carried_sides, runs_on_slides
from drawleaf.setting_out.origins import distance, fitting_origins
from drawleaf.setting_out.screws import SLOT_HOLES, ScrewLine, clearance_bit, pilot_hole, screw_lines
from drawleaf.units import ZERO, Length, LengthFormat


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of screws as it lies on the part that stands for its row of the cut list."""

    line: ScrewLine
    sides: Sides
    slot: Face | None

    @property
    def like(self) -> tuple:
        """What lines have in common that one note covers: all but the end and the edge that they are measured from, and how far from the edge."""
        turn = self.sides
        size = (
            self.line.item.gauge,
            self.line.item.kind,
            self.slot,
            self.line.sunk,
            self.line.plug is not None,
            self.line.counterbore is not None,
        )
        return (*size, turn[self.line.face], turn[self.line.end].axis, self.line.along)

    @property
    def place(self) -> tuple[Face, Length, Face]:
        """The edge that it is measured from, how far it is from there, and the end that its screws are measured from."""
        return self.sides[self.line.edge], self.line.across, self.sides[self.line.end]


def screw_marks(derived: Derived, item: CutItem, lay: Lay) -> tuple[Mark, ...]:
    """The clearance holes of all copies of a part; those that not all of them have are told apart."""
    copies = _copies(derived, item)
    groups: dict[tuple, dict[str, list[_Line]]] = {}
    for part, lines in copies:
        for line in lines:
            groups.setdefault(line.like, {}).setdefault(part.id, []).append(line)
    found: list[Mark] = []
    for by_part in groups.values():
        shares: dict[tuple, list[str]] = {}
        for part_id, lines in by_part.items():
            places = tuple(sorted({line.place for line in lines}, key=lambda p: (p[0].value, p[1], p[2].value)))
            shares.setdefault(places, []).append(part_id)
        for owners in shares.values():
            found += _line_marks(derived, lay, by_part[owners[0]], _only(item, owners))
    return tuple(found)


def _copies(derived: Derived, item: CutItem) -> list[tuple[Part, list[_Line]]]:
    """Each copy with its lines of screws, turned so that they agree with the first's where that can be."""
    plan, first = derived.plan, item.part
    wanted: set[tuple] | None = None
    found: list[tuple[Part, list[_Line]]] = []
    for part in item.parts:
        screws = screws_through(plan, part)
        lines = screw_lines(plan, screws)
        ways = [_turned(derived, lines, screws, sides) for sides in same_sides(part, first)] or [[]]
        chosen = next((way for way in ways if {(*one.like, one.place) for one in way} == wanted), ways[0])
        wanted = {(*one.like, one.place) for one in chosen} if wanted is None else wanted
        found.append((part, chosen))
    return found


def _turned(derived: Derived, lines: Sequence[ScrewLine], screws: Sequence[Fastener], sides: Sides) -> list[_Line]:
    found = []
    for line in lines:
        screw = next(one for one in screws if (one.through, one.into, one.item) == (line.through, line.into, line.item))
        way = slot_axis(derived.plan, screw) if line.slotted else None
        found.append(_Line(line, sides, sides[way.high] if way else None))
    return found


def _only(item: CutItem, owners: Sequence[str]) -> str:
    """`` (Front top rail only)``: where not all copies have these holes."""
    if len(owners) == len(item.parts):
        return ""
    names = list(dict.fromkeys(part.name for part in item.parts if part.id in owners))
    others = {part.name for part in item.parts if part.id not in owners}
    return f" ({'only ' + counted(len(owners), 'piece') if others & set(names) else listed(names, most=8) + ' only'})"


def _line_marks(derived: Derived, lay: Lay, lines: Sequence[_Line], only: str) -> list[Mark]:
    """A mark for each line of screws; lines that are alike share a note."""
    lines = list({line.place: line for line in lines}.values())
    note = _line_note(derived, lay, lines, only)
    found = [_line_mark(lay, line, note) for line in lines]
    # As far from either side: the drawing says so by itself.
    edges = {line.place[0] for line in lines}
    ends = {line.place[2] for line in lines}
    said_by_end = (edges if len(edges) > 1 else set()) | (ends if len(ends) > 1 else set())
    return [replace(mark, origins=tuple(face for face in mark.origins if face not in said_by_end)) for mark in found]


def _line_mark(lay: Lay, one: _Line, note: Rich) -> Mark:
    end = one.sides[one.line.end]
    edge, across, _ = one.place
    origins = {end.axis: end, edge.axis: edge}
    spans: dict[Axis, Spans] = {end.axis: from_edge(one.line.along), edge.axis: ((ZERO, across),)}
    values = {end.axis: one.line.along[0], edge.axis: across}
    anchor = [
        _from_low(lay, toward, origins.get(toward.axis), values.get(toward.axis, ZERO))
        for toward in (lay.right, lay.up)
    ]
    return placed(lay, origins, spans, (anchor[0], anchor[1]), note)


def _from_low(lay: Lay, toward: Face, origin: Face | None, value: Length) -> Length:
    return lay.reach(toward) - value if origin is toward else value


def _line_note(derived: Derived, lay: Lay, lines: Sequence[_Line], only: str) -> Rich:
    form, line = derived.plan.lengths, lines[0].line
    assert line.item.gauge is not None
    wide, size = clearance_bit(line.item.gauge, bit_format(form)), screw_size(line.item, form.units)
    single = line.count == 1
    rows = f"{len(lines)} rows of " if len(lines) > 1 and not single else ""
    count = len(lines) if single else line.count
    face = lines[0].sides[line.face]
    pitch = pitch_of(line.along) if line.count > 2 else None
    apart: Rich = (", ", *inline_pieces(form, pitch), " apart") if pitch else ()
    if lines[0].slot is not None:
        what = f"{rows}{counted(count, 'slot')}"
        length: Rich = (*bit_pieces(form, wide), " wide and ", *bit_pieces(form, wide * SLOT_HOLES), " long")
        way = {Axis.X: "left to right", Axis.Y: "front to back", Axis.Z: "bottom to top"}[lines[0].slot.axis]
        return (f"{what} for {size} screws, ", *length, f", from {way}", *apart, only)
    what = f"{rows}{counted(count, 'clearance hole')}"
    where = face_name(lay.part, face)
    sunk: Rich = (f", countersunk on the {where}",) if line.item.kind == FastenerKind.WOOD_SCREW else ()
    if line.counterbore is not None:
        wide_deep: Rich = (
            *bit_pieces(form, line.counterbore),
            " wide and ",
            *inline_pieces(form, line.sunk),
            " deep",
        )
        sunk = (f", counterbored on the {where} ", *wide_deep, *((" for a plug",) if line.plug is not None else ()))
    elif line.sunk:
        sunk = (f", countersunk on the {where} until the head lies ", *inline_pieces(form, line.sunk), " deep")
    return (f"{what} for {size} screws, diameter ", *bit_pieces(form, wide), *sunk, *apart, only)


def bit_pieces(form: LengthFormat, size: Length) -> Rich:
    """The size of a bit, as finely as bits are sold."""
    return inline_pieces(bit_format(form), size)


# Fittings


def fitting_marks(derived: Derived, lay: Lay) -> tuple[Mark, ...]:
    """Where the middle of each fitting is on the face that it is mounted on; its holes are bored when it is held there."""
    part = lay.part
    groups: dict[tuple, list[Fitting]] = {}
    for fitting in derived.plan.fittings:
        if part.id in fitting.parts[:1] and _is_set_out(part, fitting):
            groups.setdefault((fitting.item.id, fitting.face), []).append(fitting)
    return tuple(_fitting_mark(derived, lay, group) for group in groups.values())


def _is_set_out(part: Part, fitting: Fitting) -> bool:
    """Whether its place is marked on a broad face of the part, on which nothing is bored for it before."""
    family = fitting.item.family
    bored_already = family.wall is Wall.SCREW or family.holds_shelf or runs_on_slides(fitting)
    return not bored_already and fitting.face.axis is part.thickness and not _has_hole(part, fitting)


def _has_hole(part: Part, fitting: Fitting) -> bool:
    """Whether the part is bored or cut for it already, as for a screw to the wall or the leaf of a hinge."""
    if any(feature.position == fitting.position for feature in part.features):
        return True
    others = fitting.face.axis.others()
    return any(
        isinstance(feature, Bore) and all(feature.start.along(a) == fitting.at.along(a) for a in others)
        for feature in part.features
    )


def _fitting_mark(derived: Derived, lay: Lay, group: Sequence[Fitting]) -> Mark:
    form, part, item = derived.plan.lengths, lay.part, group[0].item
    origins = fitting_origins(part, group)
    places = {
        axis: tuple(sorted({distance(part, face, one.at.along(axis)) for one in group}))
        for axis, face in origins.items()
    }
    spans = {axis: from_edge(values) for axis, values in places.items()}
    anchor = [
        _from_low(lay, toward, origins.get(toward.axis), places[toward.axis][0]) for toward in (lay.right, lay.up)
    ]
    pitch = next((step for values in places.values() if len(values) > 2 and (step := pitch_of(values))), None)
    name = item.name if len(group) == 1 else counted(len(group), item.name, item.plural)
    words: list = [f"Middle of the {lower_first(name)}"]
    if pitch:
        words += [", ", *inline_pieces(form, pitch), " apart"]
    pilot = _pilot(derived, part, group[0])
    if pilot:
        words += ["; pilot holes, diameter ", *bit_pieces(form, pilot), ", through its own holes"]
    if group[0].face is not lay.face:
        words.append(f", on the {face_name(part, group[0].face)}")
    crosses = tuple(
        (lay.along(lay.right, one.at.along(lay.right.axis)), lay.along(lay.up, one.at.along(lay.up.axis)))
        for one in group
    )
    return replace(placed(lay, origins, spans, (anchor[0], anchor[1]), tuple(words)), crosses=crosses)


def _pilot(derived: Derived, part: Part, fitting: Fitting) -> Length | None:
    """The pilot hole for the screws that a fitting is mounted with, in the densest part that they go into."""
    dense = [derived.plan.part(one).stock.material.specific_gravity for one in (*fitting.parts, part.id)]
    for screw in fitting.item.screws:
        item = derived.plan.catalogue.hardware.get(screw.item)
        if item is not None and item.gauge:
            return pilot_hole(item.gauge, max(dense))
    return None


# Bored later


def later_notes(derived: Derived, item: CutItem) -> list[Rich]:
    """What is done when the piece is put together: pilot holes through the clearance holes of another part, or through a slide; openings."""
    form = derived.plan.lengths
    found: dict[Length | None, dict[str, None]] = {}
    for part in item.parts:
        for screw in screws_into(derived.plan, part):
            other = derived.cut_list.item_of(screw.through)
            found.setdefault(_pilot_for(derived, screw), {})[f"{other.number} {other.name}"] = None
        for fitting in derived.plan.fittings:
            if runs_on_slides(fitting) and part.id in (*fitting.parts, *_carried(derived, fitting)):
                found.setdefault(_pilot(derived, part, fitting), {})["the drawer slides"] = None
    cuts = [step for part in item.parts for step in cutting_steps(derived, part.id)]
    openings: list[Rich] = [(f"Opening: cut in step {step.number}",) for step in dict.fromkeys(cuts)]
    marked = dict.fromkeys(
        step.number
        for step in derived.steps
        for operation in step.operations
        for part, cut in operation.features
        if any(one.id == part for one in item.parts)
        and derived.plan.order.is_marked(part, cut.position)
        and operation.fittings
    )
    openings += [(f"Recess: marked from its mate and cut in step {number}",) for number in marked]
    return openings + [
        (
            "At assembly: pilot holes",
            *((", diameter ", *bit_pieces(form, wide)) if wide else ()),
            f", through the holes in {listed(list(names), most=8)}",
        )
        for wide, names in found.items()
    ]


def _pilot_for(derived: Derived, screw: Fastener) -> Length | None:
    """The pilot hole as the step that drives the screw has it: one bit for all of its gauge."""
    operations = (operation for step in derived.steps for operation in step.operations)
    driven = next((operation for operation in operations if screw in operation.fasteners), None)
    assert screw.item.gauge is not None
    if driven is not None:
        return pilots_of(derived.plan, driven).get(screw.item.gauge)
    return pilot_hole(screw.item.gauge, derived.plan.part(screw.into).stock.material.specific_gravity)


def _carried(derived: Derived, fitting: Fitting) -> tuple[str, ...]:
    """The sides of the drawer that the other half of a slide is screwed to."""
    return tuple(part.id for part in carried_sides(derived.plan, fitting))
