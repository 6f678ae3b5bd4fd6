"""Tenons, fingers and tails as marks on a part drawing: one mark to each end, with what is there in its note."""

from __future__ import annotations

from dataclasses import replace

from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.part.marks.kinds import Mark, Spans, middle, placed
from drawleaf.draw.picture.lay import Lay, face_name
from drawleaf.draw.picture.notes import note_pieces
from drawleaf.english import counted
from drawleaf.joinery import BENCH
from drawleaf.model.derived import Derived
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Face, Span
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.shapes import OutlineCut
from drawleaf.setting_out.origins import distance
from drawleaf.setting_out.wood_joints import FINGERS, TENONS, TenonEnd, finger_spans, tenon_ends
from drawleaf.units import ZERO, Length, LengthFormat

NOTES = tuple(work.notes for work in BENCH if work.notes is not None)
DRAWN_AS_ENDS = (*TENONS, *FINGERS, CutKind.PEG_SLOT, *(work.kind for work in BENCH if work.notes is not None))
"""Kinds of cuts that are marked end by end."""
MOST_PLACES = 8


def joint_marks(derived: Derived, lay: Lay) -> list[Mark]:
    """The marks of tenons, fingers and tails of a part."""
    found = [_tenon_mark(derived, lay, end) for end in tenon_ends(derived.plan, lay.part)]
    return [*found, *_finger_marks(derived.plan.lengths, lay), *_slot_marks(derived, lay), *_noted(derived, lay)]


def _noted(derived: Derived, lay: Lay) -> list[Mark]:
    """The notes that families give of their own kinds of cuts."""
    found = []
    for one in (one for notes in NOTES for one in notes(derived.plan, lay.part)):
        origins = {face.axis: face for face, _ in one.measured}
        spans = {face.axis: tuple((ZERO, far) for far in distances) for face, distances in one.measured}
        anchor = [middle(lay, toward, one.at.span(toward.axis)) for toward in (lay.right, lay.up)]
        note = note_pieces(derived.plan.lengths, one.note, lay.part)
        found.append(placed(lay, origins, spans, (anchor[0], anchor[1]), note))
    return found


def _slot_marks(derived: Derived, lay: Lay) -> list[Mark]:
    """The slots for pegs in the tenons at each end: their middles from the low edge and from that end."""
    form, part = derived.plan.lengths, lay.part
    found = []
    for end in tenon_ends(derived.plan, part):
        slots = [
            one
            for one in part.features
            if isinstance(one, BoxCut) and one.kind == CutKind.PEG_SLOT and one.joint == end.joint.id
        ]
        if not slots:
            continue
        run, along = end.face.axis, end.along
        across = tuple((ZERO, distance(part, along.low, one.box.span(along).middle)) for one in slots)
        deep = distance(part, end.face, slots[0].box.span(run).middle)
        size = slots[0].box
        note: Rich = (
            f"{counted(len(slots), 'slot').capitalize()} for pegs, ",
            *inline_pieces(form, size.extent(run)),
            " × ",
            *inline_pieces(form, size.extent(along)),
            ", right through the tenons of this end; distances are to their middles",
        )
        anchor = [middle(lay, toward, size.span(toward.axis)) for toward in (lay.right, lay.up)]
        spans: dict[Axis, Spans] = {along: across, run: ((ZERO, deep),)}
        mark = placed(lay, {along: along.low, run: end.face}, spans, (anchor[0], anchor[1]), note)
        found.append(replace(mark, origins=tuple(one for one in mark.origins if one.axis is along)))
    return found


def _tenon_mark(derived: Derived, lay: Lay, end: TenonEnd) -> Mark:
    form, part = derived.plan.lengths, lay.part
    run = end.face.axis
    spans: dict[Axis, Spans] = {run: ((ZERO, end.length),)}
    origins = {run: end.face}
    body = part.body.span(end.along)
    if end.widths != (body,):
        edges = [at for one in end.widths for at in (one.low, one.high)]
        places = sorted(distance(part, end.along.low, at) for at in edges)
        spans[end.along] = tuple((ZERO, place) for place in places[:MOST_PLACES] if place)
        origins[end.along] = end.along.low
    anchor = []
    for toward in (lay.right, lay.up):
        if toward.axis is run:
            edge = part.body.face(end.face)
            at = Span(*sorted((edge, edge - end.length * end.face.side)))
        elif toward.axis is end.along:
            at = end.widths[0]
        else:
            at = end.thick
        anchor.append(middle(lay, toward, at))
    mark = placed(lay, origins, spans, (anchor[0], anchor[1]), _tenon_note(derived, form, end))
    # A shoulder is measured from its own end, as everybody does: only places along it need a side named.
    return replace(mark, origins=tuple(face for face in mark.origins if face.axis is not run))


def _tenon_note(derived: Derived, form: LengthFormat, end: TenonEnd) -> Rich:
    kind = next(one.kind for one in end.part.features if isinstance(one, BoxCut) and one.joint == end.joint.id)
    item = derived.cut_list.item_of(end.joint.receiver)
    count = len(end.widths)
    noun = CutKind.TONGUE if kind == CutKind.TONGUE else CutKind.TENON
    if kind == CutKind.BREADBOARD_TONGUE:
        first: Rich = (
            f"Tongue for {item.number} {item.name}: ",
            *inline_pieces(form, end.thick.extent),
            " thick, ",
            *inline_pieces(form, end.haunch),
            f" long, with {counted(count, 'tenon')} ",
            *inline_pieces(form, end.length),
            " long",
        )
        return (*first, *_offset_words(form, end))
    head = f"{noun.capitalize()} for {item.number} {item.name}: "
    if count > 1:
        head = f"{counted(count, noun).capitalize()} for {item.number} {item.name}, each "
    words: Rich = (head, *inline_pieces(form, end.thick.extent), " thick")
    body = end.part.body.span(end.along)
    if end.widths != (body,):
        words = (*words, ", ", *inline_pieces(form, end.widths[0].extent), " wide")
    words = (*words, ", ", *inline_pieces(form, end.length), " long", *_offset_words(form, end))
    if end.haunch:
        words = (*words, ", with a haunch ", *inline_pieces(form, end.haunch), " long")
    return words


def _offset_words(form: LengthFormat, end: TenonEnd) -> Rich:
    face, room = end.offset
    if not room:
        return (f", flush with the {face_name(end.part, face)}",)
    return (", ", *inline_pieces(form, room), f" from the {face_name(end.part, face)}")


def _finger_marks(form: LengthFormat, lay: Lay) -> list[Mark]:
    """One mark to each end that has fingers, tails or sockets: where each lies along it."""
    part = lay.part
    groups: dict[tuple[Face, str], list[BoxCut | OutlineCut]] = {}
    for cut in part.features:
        if isinstance(cut, BoxCut | OutlineCut) and cut.kind in FINGERS:
            groups.setdefault((cut.into, cut.kind), []).append(cut)
    return [_pattern(form, lay, face, kind, cuts) for (face, kind), cuts in groups.items()]


def _pattern(form: LengthFormat, lay: Lay, face: Face, kind: str, cuts: list[BoxCut | OutlineCut]) -> Mark:
    part = lay.part
    run = next(axis for axis in Axis if axis not in (face.axis, part.thickness))
    body = part.body.span(run)
    wide = [finger_spans(cut, run) for cut in cuts]
    inside = [Span(max(one.low, body.low), min(one.high, body.high)) for one in wide]
    places = sorted({distance(part, run.low, at) for one in inside for at in (one.low, one.high)})
    places = [one for one in places if one and one != body.extent]
    depth = _depth(part, face, cuts[0])
    spans: dict[Axis, Spans] = {
        run: tuple((ZERO, place) for place in places[:MOST_PLACES]),
        face.axis: ((ZERO, depth),),
    }
    origins = {run: run.low, face.axis: face}
    anchor = []
    for toward in (lay.right, lay.up):
        edge = part.body.face(face)
        at = inside[0] if toward.axis is run else Span(*sorted((edge, edge - depth * face.side)))
        anchor.append(middle(lay, toward, at if toward.axis in (run, face.axis) else part.body.span(toward.axis)))
    mark = placed(lay, origins, spans, (anchor[0], anchor[1]), _pattern_note(form, part, kind, cuts, depth))
    return replace(mark, origins=tuple(one for one in mark.origins if one.axis is not face.axis))


def _pattern_note(form: LengthFormat, part: Part, kind: str, cuts: list[BoxCut | OutlineCut], depth: Length) -> Rich:
    deep = inline_pieces(form, depth)
    if kind == CutKind.FINGER:
        return (f"{counted(len(cuts), 'gap').capitalize()} between fingers, ", *deep, " deep")
    if kind == CutKind.TAIL:
        return (
            f"{counted(len(cuts) - 1, 'tail').capitalize()}, ",
            *deep,
            " long; the waste between them is widest at the shoulder",
        )
    cut = cuts[0]
    assert isinstance(cut, OutlineCut)
    across = (
        cut.outline.bounds[cut.outline.axis.others().index(part.thickness)]
        if part.thickness in cut.outline.axis.others()
        else None
    )
    body = part.body.span(part.thickness)
    blind = across is not None and (across.low > body.low or across.high < body.high)
    if blind and across is not None:
        inside = min(across.high, body.high) - max(across.low, body.low)
        return (
            f"{counted(len(cuts), kind).capitalize()} for tails, ",
            *deep,
            " from the end, ",
            *inline_pieces(form, inside),
            " deep, widest at their floor",
        )
    return (
        f"{counted(len(cuts), kind).capitalize()} for tails, ",
        *deep,
        " from the end, widest at the outside",
    )


def _depth(part: Part, face: Face, cut: BoxCut | OutlineCut) -> Length:
    """How far fingers or sockets reach in from the end."""
    if isinstance(cut, BoxCut):
        return cut.box.extent(face.axis)
    axes = cut.outline.axis.others()
    span = cut.outline.bounds[axes.index(face.axis)] if face.axis in axes else cut.span
    body = part.body.span(face.axis)
    return min(span.high, body.high) - max(span.low, body.low)
