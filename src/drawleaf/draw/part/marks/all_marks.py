"""What is cut into a part, as marks on its face view: where, how far from which edge, and the note that belongs to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from drawleaf.derive.shop.bits import bit_format
from drawleaf.derive.shop.part_words import edge_text
from drawleaf.draw.at_step.bored import SCREW_HOLE, SLOT
from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.part.marks.joints import DRAWN_AS_ENDS, joint_marks
from drawleaf.draw.part.marks.kinds import Mark, Spans, middle, placed
from drawleaf.draw.part.marks.outlines import outline_marks
from drawleaf.draw.part.marks.recesses import RECESS, recess_marks
from drawleaf.draw.picture.lay import Lay, edge_name, face_name
from drawleaf.english import capitalized, counted, listed, noun
from drawleaf.model.derived import Derived
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Joint, Part
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.setting_out.channels import channel_of
from drawleaf.setting_out.mitres import saw_words
from drawleaf.setting_out.origins import distance, hole_origins, pin_origins, run_and_across
from drawleaf.setting_out.slants import narrow_end, slant_of, taper_off, taper_start
from drawleaf.units import ZERO, Length, LengthFormat

_KINDS = {
    "shelf pin": "shelf-pin hole",
    "hole": "hole",
    "finger hole": "finger hole",
    "pocket": "pocket hole",
    "recess": "round recess",
}
_CHANNELS = (CutKind.DADO, CutKind.GROOVE, CutKind.RABBET)


def marks(derived: Derived, lay: Lay) -> tuple[Mark, ...]:
    """All marks of what is cut into a part, in the order of its features; like ones under one note."""
    form, part = derived.plan.lengths, lay.part
    found: list[Mark] = joint_marks(derived, lay)
    for feature in part.features:
        if feature.kind in DRAWN_AS_ENDS:
            continue
        if isinstance(feature, BoxCut) and feature.kind not in (SLOT, RECESS):
            found.append(_cut_mark(derived, lay, feature))
        elif isinstance(feature, OutlineCut):
            found += outline_marks(derived.plan, lay, feature)
        elif isinstance(feature, PlaneCut):
            found.append(_plane_mark(derived, lay, feature))
    found += recess_marks(form, lay)
    found += [_hole_mark(form, lay, row) for row in _hole_groups(part)]
    found += _profile_marks(form, lay, [f for f in part.features if isinstance(f, EdgeProfile)])
    return tuple(found)


def _cut_mark(derived: Derived, lay: Lay, cut: BoxCut) -> Mark:
    """A channel as the steps set it out; another cut from the edges that it is nearest to."""
    origins: dict[Axis, Face] = {}
    spans: dict[Axis, Spans] = {}
    for toward in (lay.right, lay.up):
        axis = toward.axis
        origins[axis], spans[axis] = _set_out(lay.part, cut, axis)
    anchor = tuple(middle(lay, toward, cut.box.span(toward.axis)) for toward in (lay.right, lay.up))
    mark = placed(lay, origins, spans, (anchor[0], anchor[1]), _cut_note(derived, lay, cut))
    from_afar = tuple(origins[axis] for axis, some in spans.items() if len(some) > 1)
    return replace(mark, origins=from_afar)


def _set_out(part: Part, cut: BoxCut, axis: Axis) -> tuple[Face, Spans]:
    """The side that a cut is measured from along an axis, and its distances from there: where it begins and how wide it is; its own
    width where it starts at that side; nothing where it runs from side to side."""
    body, void = part.body.span(axis), cut.box.span(axis)
    origin = axis.low if void.low - body.low <= body.high - void.high else axis.high
    if cut.kind in _CHANNELS:
        channel = channel_of(part, cut)
        if channel.across is axis:
            origin = channel.edge
        elif not channel.stops:
            return origin, ()
    near, far = sorted((distance(part, origin, void.low), distance(part, origin, void.high)))
    at_near, at_far = near.mm < 1e-6, (body.extent - far).mm < 1e-6
    if at_near and at_far:
        return origin, ()
    if at_near:
        return origin, ((near, far),)
    return origin, ((ZERO, near), (near, far))


def _cut_note(derived: Derived, lay: Lay, cut: BoxCut) -> Rich:
    form, part = derived.plan.lengths, lay.part
    depth = cut.box.extent(cut.into.axis)
    sides = [axis for axis in Axis if axis is not cut.into.axis]
    run = max(sides, key=lambda axis: cut.box.extent(axis))
    width = cut.box.extent(next(axis for axis in sides if axis is not run))
    name = derived.plan.words.put(cut.kind.capitalize())
    if part.thickness.low in cut.open and part.thickness.high in cut.open:
        a, b = cut.box.extent(lay.right.axis), cut.box.extent(lay.up.axis)
        return (f"{name} ", *inline_pieces(form, a), " × ", *inline_pieces(form, b), ", right through")
    where = "" if cut.into is lay.face else f", in the {face_name(part, cut.into)}"
    return (
        f"{name}{_for_part(derived, part, cut.joint)}: ",
        *inline_pieces(form, width),
        " wide, ",
        *inline_pieces(form, depth),
        f" deep{where}",
    )


def _for_part(derived: Derived, part: Part, joint_id: str | None) -> str:
    """`` for 3 Bottom``: the part that the cut receives."""
    joint: Joint | None = next((joint for joint in derived.plan.joints if joint.id == joint_id), None)
    if joint is None:
        return ""
    other = joint.insert if joint.receiver == part.id else joint.receiver
    if other == part.id:
        return ""
    item = derived.cut_list.item_of(other)
    return f" for {item.number} {item.name}"


def _plane_mark(derived: Derived, lay: Lay, cut: PlaneCut) -> Mark:
    """A slanting saw cut at an end or along an edge."""
    anchor = []
    for toward in (lay.right, lay.up):
        reach = lay.reach(toward)
        middle = toward.axis is not cut.face.axis
        anchor.append(reach / 2 if middle else reach if cut.face is toward else ZERO)
    where = face_name(lay.part, cut.face)
    slant = slant_of(lay.part, cut)
    words = _taper_words(derived.plan.lengths, lay.part, cut) if slant.sort == "taper" else ()
    sawn = derived.plan.words.put(saw_words(lay.part, slant))
    return Mark((anchor[0], anchor[1]), (), (), (f"{capitalized(where)}: ", *words, sawn))


def _taper_words(form: LengthFormat, part: Part, cut: PlaneCut) -> Rich:
    """``taper, 12 in from the edge at the back end, which leaves 24; begun 100 from the front end; ``: as it is drawn on the wood."""
    narrow, start = narrow_end(part, cut), taper_start(part, cut)
    ends = [other for other in part.features if isinstance(other, PlaneCut) and slant_of(part, other).sort == "taper"]
    off = sum(
        (
            taper_off(part, other)
            for other in ends
            if narrow_end(part, other) is narrow and other.face.axis is cut.face.axis
        ),
        ZERO,
    )
    begun: Rich = ("begun at ",) if not start else ("begun ", *inline_pieces(form, start), " from ")
    return (
        "taper, ",
        *inline_pieces(form, taper_off(part, cut)),
        f" off at the {face_name(part, narrow)}, which leaves ",
        *inline_pieces(form, part.body.extent(cut.face.axis) - off),
        "; ",
        *begun,
        f"the {face_name(part, narrow.opposite)}; ",
    )


def _hole_groups(part: Part) -> list[list[Bore]]:
    """Holes that one note covers: of a kind and size, on one face. Rows of pins together; pockets of each end and
    lines of other holes by themselves."""
    groups: dict[tuple, list[Bore]] = {}
    for bore in part.features:
        if isinstance(bore, Bore) and bore.kind != SCREW_HOLE:
            apart: object = bore.kind == "pocket" and bore.direction
            if bore.kind not in ("pocket", "shelf pin"):
                apart = bore.start.along(run_and_across(part, bore.face)[1])
            key = (bore.kind, bore.face, bore.diameter, bore.depth, apart)
            groups.setdefault(key, []).append(bore)
    return list(groups.values())


def _hole_mark(form: LengthFormat, lay: Lay, bores: Sequence[Bore]) -> Mark:
    part, first = lay.part, bores[0]
    axes = [face.axis for face in (lay.right, lay.up) if face.axis is not first.face.axis]
    if first.kind == "pocket":
        origins = {axis: axis.low for axis in axes}
    else:
        origins = pin_origins(part) if first.kind == "shelf pin" else hole_origins(part, bores)
    places = {
        axis: tuple(sorted({distance(part, origins[axis], bore.start.along(axis)) for bore in bores})) for axis in axes
    }
    spans = {axis: from_edge(places[axis]) for axis in axes}
    if first.kind == "pocket":
        # The jig sets how far from the end a pocket begins: only its place across the part is measured.
        run = max(axes, key=lambda axis: abs(first.direction[axis.index]))
        spans[run] = ()
    start = min(bores, key=lambda b: tuple(distance(part, origins[axis], b.start.along(axis)) for axis in axes)).start
    anchor = (lay.along(lay.right, start.along(lay.right.axis)), lay.along(lay.up, start.along(lay.up.axis)))
    pitch = next((step for axis in axes if (step := pitch_of(places[axis])) and len(places[axis]) > 2), None)
    return placed(lay, origins, spans, anchor, _hole_note(form, lay, bores, pitch))


def from_edge(places: Sequence[Length]) -> Spans:
    """The first place from the edge; the others too, where they keep no pitch and are few; the pitch once where they do."""
    if len(places) == 1:
        return ((ZERO, places[0]),)
    if pitch_of(places) and len(places) > 2:
        return ((ZERO, places[0]), (places[0], places[1]))
    return tuple((ZERO, place) for place in places[:6])


def pitch_of(places: Sequence[Length]) -> Length | None:
    """The one distance between neighbours; None where there are several or fewer than two places."""
    steps = {b - a for a, b in pairwise(places)}
    return steps.pop() if len(steps) == 1 else None


def _hole_note(form: LengthFormat, lay: Lay, bores: Sequence[Bore], pitch: Length | None) -> Rich:
    bore = bores[0]
    words: list = [f"{_how_many(lay.part, bores)}, diameter ", *inline_pieces(bit_format(form), bore.diameter)]
    if bore.kind == "pocket":
        words.append("; the jig sets how far from the end")
    elif bore.depth is None:
        words.append(", right through")
    else:
        # As finely as its width: a hole is told to the 64th of an inch throughout.
        words += [", ", *inline_pieces(bit_format(form), bore.depth), " deep"]
    if pitch is not None and len(bores) > 2 and bore.kind != "pocket":
        words += [", ", *inline_pieces(form, pitch), " apart"]
    if bore.face is not lay.face:
        words.append(f", from the {face_name(lay.part, bore.face)}")
    return tuple(words)


def _how_many(part: Part, bores: Sequence[Bore]) -> str:
    """``2 rows of 7 shelf-pin holes``; ``Hole``; ``2 pocket holes in each end``."""
    name = _KINDS.get(bores[0].kind, bores[0].kind)
    if bores[0].kind == "pocket":
        slope = [axis for axis in part.thickness.others() if abs(bores[0].direction[axis.index]) > 0.5]
        toward = {bore.direction for bore in part.features if isinstance(bore, Bore) and bore.kind == "pocket"}
        end = "end" if slope and slope[0] is part.length_axis else "edge"
        return f"{counted(len(bores), name)} in {'each' if len(toward) == 2 else 'the'} {end}"
    rows: dict[str | None, int] = {}
    for bore in bores:
        rows[bore.row] = rows.get(bore.row, 0) + 1
    if bores[0].kind == "shelf pin" and len(rows) > 1 and len(set(rows.values())) == 1:
        return f"{len(rows)} rows of {counted(len(bores) // len(rows), name)}"
    return counted(len(bores), name) if len(bores) > 1 else name.capitalize()


def _profile_marks(form: LengthFormat, lay: Lay, profiles: Sequence[EdgeProfile]) -> list[Mark]:
    groups: dict[tuple[str, Length], list[EdgeProfile]] = {}
    for profile in profiles:
        groups.setdefault((profile.kind, profile.size), []).append(profile)
    found: list[Mark] = []
    for (kind, size), edges in groups.items():
        names = [edge_text(profile) if profile.round_what else edge_name(lay.part, profile.edge) for profile in edges]
        said = f" along the {listed(names, most=8)} {noun(len(names), 'edge')}"
        name = {"round_over": "Round over", "round over": "Round over", "chamfer": "Chamfer"}.get(
            kind, kind.capitalize()
        )
        note: Rich = (f"{name} ", *inline_pieces(form, size), said)
        found.append(_corner_mark(lay, edges[0], note) or Mark(_edge_anchor(lay, edges[0]), (), (), note))
    return found


def _corner_mark(lay: Lay, profile: EdgeProfile, note: Rich) -> Mark | None:
    """A corner cut off in the face view: how far along either edge, the key on the middle of the slope. None for other edges."""
    across = next((f for f in profile.edge if f.axis is lay.right.axis), None)
    upright = next((f for f in profile.edge if f.axis is lay.up.axis), None)
    if across is None or upright is None or profile.kind != "chamfer":
        return None
    spans = []
    for face, toward in ((across, lay.right), (upright, lay.up)):
        reach = lay.reach(toward)
        spans.append((reach - profile.size, reach) if face is toward else (ZERO, profile.size))
    anchor = ((spans[0][0] + spans[0][1]) / 2, (spans[1][0] + spans[1][1]) / 2)
    return Mark(anchor, (spans[0],), (spans[1],), note)


def _edge_anchor(lay: Lay, profile: EdgeProfile) -> tuple[Length, Length]:
    """A point on the edge in the face view."""
    at: list[Length] = []
    for toward in (lay.right, lay.up):
        face = next((f for f in profile.edge if f.axis is toward.axis), None)
        if face is None:
            at.append(lay.reach(toward) * 3 / 10)
        else:
            at.append(lay.reach(toward) if face is toward else ZERO)
    return (at[0], at[1])
