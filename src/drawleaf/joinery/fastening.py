"""Fastenings in space: every screw, brad and pocket screw of a joint with its head, its direction and its item."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from drawleaf.joinery import pockets, screws
from drawleaf.joinery.channel import insert_depth
from drawleaf.joinery.family import Drive, Family, Meeting, Pinned, Terms
from drawleaf.joinery.friendly import Ruler, friendly, friendly_between
from drawleaf.joinery.heads import open_wide, plug_for, sunk, sunk_hold, washer_for
from drawleaf.joinery.planned import Asked, FasteningTerms, Planned, Result
from drawleaf.joinery.rows import SHORT, row, rows_across, rows_at
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.looking_through import of_kinds
from drawleaf.model.place import Box, Span
from drawleaf.model.plan import Fastener
from drawleaf.model.position import Position
from drawleaf.units import Length

DEEPER_INCH, DEEPER_MM = Length.of_inches(1) / 4, Length.of_mm(5)
"""Steps in which the depth of a counterbore is told."""
UNDER_HEAD = Length.of_mm(12)
"""The wood that a head in a deep counterbore keeps under it: common practice, no source."""


def plan_fasteners(family: Family, asked: Asked) -> Result:
    """The fasteners of one entry of ``with:`` at one meeting, screws at round figures of the ruler that one marks them out with."""
    meeting, terms, fastening = asked.meeting, asked.terms, asked.fastening
    if fastening.kind == "pocket_screws":
        return pockets.plan_pockets(asked)
    through, problem = _driven_through(meeting, fastening)
    if problem is not None:
        return (), (problem,)
    drive = family.drive(meeting, through)
    own = family.pinned(meeting, drive) if isinstance(family, Pinned) else None
    hold, region = own or (hold_of(meeting, terms, drive), _region(meeting, drive))
    chosen, found = chosen_for(asked, hold, drive)
    if chosen is None:
        return (), found
    off = _off_joint(region, drive, fastening, terms)
    if off is not None:
        return (), (*found, off)
    rows = _rows(region, drive, fastening, chosen.item, asked.joint, asked.ruler)
    washer = washer_for(chosen.item, fastening.slotted, asked.hardware)
    return tuple(replace(one, fastener=replace(chosen.sunk(one.fastener), washer=washer)) for one in rows), found


@dataclass(frozen=True, slots=True)
class Chosen:
    """What holds a meeting: the item, how deep its head is sunk, the plug over it, or how wide its counterbore is that stays open."""

    item: HardwareItem
    depth: Length
    plug: HardwareItem | None
    wide: Length | None = None

    def sunk(self, fastener: Fastener) -> Fastener:
        """The fastener with its head at that depth, under its plug."""
        return sunk(fastener, self.depth, self.plug, self.wide)


def chosen_for(asked: Asked, hold: screws.Hold, drive: Drive) -> tuple[Chosen | None, tuple[Diagnostic, ...]]:
    """What one entry of ``with:`` takes for so much wood; None with the reason where nothing fits."""
    fastening, terms, hardware, ruler = asked.fastening, asked.terms, asked.hardware, asked.ruler
    depth = fastening.heads.depth(ruler)
    if depth and depth >= hold.skin:
        return None, (_sunk_through(depth, hold, drive, fastening, terms),)
    item, found = _item_for(fastening, sunk_hold(hold, depth), hardware, drive, terms)
    if item is None:
        return None, found
    plug, unplugged = plug_for(fastening.heads, item, hardware, ruler, fastening.position)
    if unplugged:
        return None, (*found, *unplugged)
    return Chosen(item, depth, plug, open_wide(fastening.heads, item, ruler)), found


def _sunk_through(
    depth: Length, hold: screws.Hold, drive: Drive, fastening: FasteningTerms, terms: Terms
) -> Diagnostic:
    return Diagnostic(
        "sunk-through",
        f"Heads {say(depth, terms.unit)} deep would go through “{drive.through.id}”",
        fastening.position,
        f"There are {say(hold.skin, terms.unit)} of it above “{drive.into.id}”.",
        "Make “counterbore” smaller, or leave the heads flush.",
    )


def _off_joint(region: Box, drive: Drive, fastening: FasteningTerms, terms: Terms) -> Diagnostic | None:
    """A row that the author asks for where the two parts do not meet."""
    for face, room in fastening.rows:
        level = drive.through.body.face(face) - room * face.side
        span = None if face.axis is drive.head.axis else region.span(face.axis)
        if span is not None and span.low < level < span.high and face.axis is fastening.rows[0][0].axis:
            continue
        return Diagnostic(
            "rows-off-joint",
            f"No row of fasteners can stand {say(room, terms.unit)} from the {face.value} of “{drive.through.id}”",
            fastening.position,
            "The two parts do not meet there."
            if span is not None
            else f"They are driven in at the {drive.head.value}, so rows lie off its other sides.",
            "Name sides across the joint, all on one axis, and distances that lie on it.",
        )
    return None


def _driven_through(meeting: Meeting, fastening: FasteningTerms):
    if fastening.through is None:
        return None, None
    for part in (meeting.insert, meeting.receiver):
        if part.id in fastening.through:
            return part, None
    return None, Diagnostic(
        "through-stranger",
        f"“through” names neither “{meeting.insert.id}” nor “{meeting.receiver.id}”",
        fastening.position,
        "Screws go through one of the two parts of the joint into the other.",
        "Name one of the parts that this joint joins.",
    )


def hold_of(meeting: Meeting, terms: Terms, drive: Drive) -> screws.Hold:
    """The wood along a fastener's way. Where the insert is let in, the head side or the far side is that much thinner."""
    axis = drive.head.axis
    through, into = drive.through.body.extent(axis), drive.into.body.extent(axis)
    if axis is not meeting.axis:
        # Through a panel onto the ledge of its rabbet: the ledge lies under the panel.
        ledge = drive.into.seen.extent(axis) - through
        return screws.Hold(through, through, ledge)
    if meeting.overlap is not None:
        # In a lap each part has kept what lies on its side of the plane between them.
        plane = meeting.contact.span(axis).low
        skin = abs(drive.through.body.face(drive.head) - plane)
        return screws.Hold(skin, skin, abs(plane - drive.into.body.face(drive.head.opposite)))
    if drive.through.id == meeting.receiver.id:
        entered = insert_depth(meeting)
        return screws.Hold(through, through - entered, into)
    return screws.Hold(through, through, into - terms.depth)


def _item_for(
    fastening: FasteningTerms, hold: screws.Hold, hardware: Mapping[str, HardwareItem], drive: Drive, terms: Terms
) -> tuple[HardwareItem | None, tuple[Diagnostic, ...]]:
    if fastening.item is not None:
        found = _check_given(fastening.item, hold, drive, fastening, terms)
        return (fastening.item if fastening.item.length is not None else None), found
    noun = "brad" if fastening.kind == "brads" else "screw"
    if fastening.kind == "brads":
        gauge, kind = 18, FastenerKind.BRAD
    else:
        gauge, kind = screws.gauge_for(hold), FastenerKind.WOOD_SCREW
    candidates = of_kinds(hardware, kind)
    chosen = screws.choose([item for item in candidates if item.gauge == gauge], hold)
    chosen = chosen or screws.choose(candidates, hold)
    if chosen is None:
        deeper = _deeper(candidates, hold, fastening, terms)
        return None, (_none_fits(noun, hold, drive, fastening.position, terms, deeper),)
    if not screws.holds_well(chosen, hold):
        deeper = _deeper(candidates, hold, fastening, terms)
        return chosen, (_short_hold(chosen, hold, drive, fastening, terms, deeper),)
    return chosen, ()


def _deeper(candidates: Sequence[HardwareItem], hold: screws.Hold, fastening: FasteningTerms, terms: Terms) -> str:
    """How deep an open counterbore must be for a screw that holds well, as a sentence; empty where none helps, or heads are hidden otherwise."""
    if fastening.kind != "screws" or fastening.slotted or hold.sunk or fastening.heads.hidden:
        return ""
    step = DEEPER_MM if terms.unit == "mm" else DEEPER_INCH
    for steps in range(1, int((hold.skin - UNDER_HEAD).ratio(step)) + 1):
        chosen = screws.choose(candidates, sunk_hold(hold, step * steps))
        if chosen is not None and screws.holds_well(chosen, sunk_hold(hold, step * steps)):
            return f"Let the heads lie deeper, in open holes: “counterbore: {say(step * steps, terms.unit)}”."
    return ""


def _check_given(
    item: HardwareItem, hold: screws.Hold, drive: Drive, fastening: FasteningTerms, terms: Terms
) -> tuple[Diagnostic, ...]:
    """Whether it holds at all; whether its point comes out, or it holds too little, is the workshop check's to say."""
    if item.length is None:
        return (
            Diagnostic(
                "no-length", f"“{item.id}” has no length in the catalogue, so it holds nothing", fastening.position
            ),
        )
    length = say(item.length, terms.unit)
    if screws.enters(item, hold) < screws.LEAST_ENTRY:
        return (
            Diagnostic(
                "screw-too-short",
                f"{item.name} does not reach into “{drive.into.id}”",
                fastening.position,
                f"It is {length} long, and there are {say(hold.skin, terms.unit)} of “{drive.through.id}” to go through.",
                "Take a longer one, or leave out “item” and let it be chosen.",
            ),
        )
    if not screws.holds_well(item, hold):
        return (_short_hold(item, hold, drive, fastening, terms),)
    return ()


def _none_fits(noun: str, hold: screws.Hold, drive: Drive, position: Position, terms: Terms, deeper: str) -> Diagnostic:
    least, most = say(hold.skin + screws.LEAST_ENTRY, terms.unit), say(hold.longest, terms.unit)
    return Diagnostic(
        "no-screw-fits",
        f"No {noun} in the catalogue fits through “{drive.through.id}” into “{drive.into.id}”",
        position,
        f"It would have to be longer than {least} and no longer than {most}.",
        (f"{deeper} Or drive" if deeper else "Drive")
        + " it from the other part with “through:”, fasten with glue alone, or add the size to shared/hardware.",
    )


def _short_hold(
    item: HardwareItem, hold: screws.Hold, drive: Drive, fastening: FasteningTerms, terms: Terms, deeper: str = ""
) -> Diagnostic:
    entry, skin = say(screws.enters(item, hold), terms.unit), say(hold.skin, terms.unit)
    return Diagnostic(
        "short-hold",
        f"{item.name} enters “{drive.into.id}” by only {entry}",
        fastening.position,
        f"It fastens {skin} of “{drive.through.id}”; it should enter about as far again (common practice, no source).",
        _other_way(fastening, drive, deeper),
        Severity.ADVICE,
    )


def _other_way(fastening: FasteningTerms, drive: Drive, deeper: str) -> str:
    """What to write so that it holds: through the thinner part where that is not how it is driven already."""
    axis = drive.head.axis
    if drive.into.body.extent(axis) < drive.through.body.extent(axis):
        return f"Drive it the other way: {{{fastening.kind}: {{through: {drive.into.kind.split('.')[-1]}}}}}.{deeper and f' {deeper}'}"
    return deeper or "Let glue carry the load as well, or make the part that it enters thicker."


def _region(meeting: Meeting, drive: Drive) -> Box:
    """The patch that fasteners are spread over, on the head's face."""
    axis = drive.head.axis
    surface = drive.through.body.face(drive.head)
    patch = meeting.contact
    if axis is not meeting.axis:
        patch = patch.with_span(meeting.axis, _tongue(meeting))
    return patch.with_span(axis, Span(surface, surface))


def _tongue(meeting: Meeting) -> Span:
    """The part of the insert that lies in the receiver, along the joint's axis."""
    seen, body = meeting.insert.seen.face(meeting.face), meeting.insert.body.face(meeting.face)
    return Span.between(seen, body)


def _rows(region: Box, drive: Drive, fastening: FasteningTerms, item: HardwareItem, joint: str, ruler: Ruler):
    along, across = sorted(drive.head.axis.others(), key=lambda axis: -region.extent(axis).exact_mm)
    direction = drive.head.opposite.normal
    if fastening.rows:
        across = fastening.rows[0][0].axis
        along = next(axis for axis in drive.head.axis.others() if axis is not across)
        levels = rows_at(
            [drive.through.body.face(face) - room * face.side for face, room in fastening.rows], fastening.count
        )
    else:
        levels = rows_across(region.span(across), fastening.count)
    for level, count in levels:
        places = row(region.span(along), count, fastening.every, fastening.ends)
        if item.kind != FastenerKind.BRAD:
            settle = friendly if fastening.ends is None else friendly_between
            places = settle(places, drive.through.body.span(along), ruler)
        for place in places:
            at = region.center.moved(along, place).moved(across, level)
            fastener = Fastener(item, at, direction, drive.through.id, drive.into.id, joint, slotted=fastening.slotted)
            optional = fastening.count is None and region.extent(along) < SHORT
            yield Planned(fastener, along, region.span(along), optional=optional)
