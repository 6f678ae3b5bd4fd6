"""What is written under a detail: which parts, how wide and deep the cut is, what holds the joint."""

from __future__ import annotations

from drawleaf.derive.shop.bits import bit_format
from drawleaf.draw.joint.kinds import Kind, own_cut, through
from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.picture.notes import note_pieces
from drawleaf.english import capitalized, listed, lower_first
from drawleaf.joinery import family_of
from drawleaf.joinery.bench import Detailed
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Bore, BoxCut, Fastener, Joint
from drawleaf.setting_out.mitres import mitres, spline_size, spline_slots
from drawleaf.setting_out.screws import SLOT_HOLES, clearance_bit
from drawleaf.setting_out.slants import angle_text
from drawleaf.setting_out.wood_joints import crosses
from drawleaf.units import Length, LengthFormat
from drawleaf.units.in_names import TIMES


def detail_title(derived: Derived, joint: Joint) -> str:
    """``dado, bottom in left side``; for a butt with screws ``pocket screws, front top rail to left side``."""
    insert, receiver = (lower_first(derived.plan.part(one).name) for one in (joint.insert, joint.receiver))
    if joint.depth or crosses(joint):
        meets = "{}, {} and {}" if joint.family.partner_word == "and" else "{}, {} in {}"
        return derived.plan.words.tell(meets, derived.plan.words.put(joint.family.title), insert, receiver)
    kinds = list(dict.fromkeys(_plain(fastener.item.kind) for fastener in joint.fasteners))
    held = listed(kinds, most=8) or ("glue joint" if joint.glued else "dry joint")
    return derived.plan.words.tell("{}, {} to {}", derived.plan.words.put(held), insert, receiver)


def _wide(joint: Joint, cut: BoxCut) -> Length:
    """How wide a channel is; of a mortise, the thickness of its tenon."""
    if cut.kind == joint.family.channel:
        return joint.width
    return min(cut.box.extent(axis) for axis in cut.into.axis.others())


def _plain(kind: str) -> str:
    return kind if kind.endswith("s") else f"{kind}s"


def detail_lines(derived: Derived, kind: Kind) -> list[Rich]:
    """The lines under a detail."""
    form, joint = derived.plan.lengths, kind.joint
    insert, receiver = (derived.cut_list.item_of(one) for one in (joint.insert, joint.receiver))
    own, receiver_part = own_cut(derived.plan, joint), derived.plan.part(joint.receiver)
    lines: list[Rich] = []
    if own:
        depth = own.box.extent(own.into.axis)
        lines.append(
            (
                derived.plan.words.tell(
                    "{} in {} {}: ", derived.plan.words.put(own.kind.capitalize()), receiver.number, receiver.name
                ),
                *inline_pieces(form, _wide(joint, own)),
                " wide, ",
                *inline_pieces(form, depth),
                " deep.",
            )
        )
    family = family_of(joint.family)
    notes = family.details(derived.plan, joint) if isinstance(family, Detailed) else ()
    lines += _mitre_lines(derived, joint)
    lines += [note_pieces(form, note, receiver_part) for note in notes]
    if (other := through(derived.plan, joint)) is not None:
        item = derived.cut_list.item_of(other.id)
        lines.append((f"{item.number} {item.name} goes through the opening.",))
    lines.append((_holding(joint),))
    lines += _drawn(derived, joint)
    lines += _hidden_heads(form, joint)
    lines += _slots(derived, joint)
    others = [
        f"{derived.cut_list.item_of(other.insert).number} with {derived.cut_list.item_of(other.receiver).number}"
        + (f" ({len(other.fasteners)} there)" if len(other.fasteners) != len(joint.fasteners) else "")
        for other in kind.joints
    ]
    pairs = [pair for pair in dict.fromkeys(others) if pair != f"{insert.number} with {receiver.number}"]
    if pairs:
        lines.append((f"Made alike: numbers {listed(pairs, most=6)}.",))
    return lines


def plain(derived: Derived, kind: Kind) -> bool:
    """Whether a section would show two boards and a screw: a joint with nothing cut for it, square, held by screws, brads or glue alone."""
    joint, parts = kind.joint, [derived.plan.part(one) for one in (kind.joint.insert, kind.joint.receiver)]
    shaped = bool(joint.depth) or crosses(joint) or own_cut(derived.plan, joint) is not None or joint.family.fingered
    slanting = any(part.tilt is not None for part in parts) or bool(_mitre_lines(derived, joint))
    telling = any(one.slotted or one.item.pin or one.counterbore is not None for one in joint.fasteners)
    return not (shaped or slanting or telling or isinstance(family_of(joint.family), Detailed))


def _drawn(derived: Derived, joint: Joint) -> list[Rich]:
    """How much nearer to the shoulder the holes in a drawbored tenon are."""
    if not any(one.item.kind == FastenerKind.PEG for one in joint.fasteners):
        return []
    through, tenon = (
        {
            (one.row, one.start.along(joint.face.axis))
            for one in derived.plan.part(part).features
            if isinstance(one, Bore)
        }
        for part in (joint.receiver, joint.insert)
    )
    off = [abs(a - b) for row, a in through for other, b in tenon if row is not None and row == other]
    if not off or not min(off):
        return []
    return [("Holes in the tenon ", *inline_pieces(derived.plan.lengths, min(off)), " nearer to the shoulder.")]


def _hidden_heads(form: LengthFormat, joint: Joint) -> list[Rich]:
    """What hides the heads of its screws, and how deep they lie."""
    hidden = dict.fromkeys((_over(one), one.sunk) for one in joint.fasteners if one.sunk)
    return [(f"Heads {over}, ", *inline_pieces(form, deep), " deep.") for over, deep in hidden]


def _over(screw: Fastener) -> str:
    """Where a sunk head lies."""
    if screw.plug is not None:
        return f"under {screw.plug.plural}"
    return "under filler" if screw.under_filler else "in open counterbores"


def _slots(derived: Derived, joint: Joint) -> list[Rich]:
    """How wide and long the slots are in which its screws slide, and what lies under their heads."""
    slotted = [one for one in joint.fasteners if one.slotted and one.item.gauge is not None]
    if not slotted or slotted[0].item.gauge is None:
        return []
    form, wide = bit_format(derived.plan.lengths), clearance_bit(slotted[0].item.gauge, derived.plan.lengths)
    under = ", washers under the heads" if any(one.washer is not None for one in slotted) else ""
    return [
        ("In slots ", *inline_pieces(form, wide), f" {TIMES} ", *inline_pieces(form, wide * SLOT_HOLES), f"{under}.")
    ]


def _mitre_lines(derived: Derived, joint: Joint) -> list[Rich]:
    """At what angle each part of a mitre is sawn, and its spline."""
    lines: list[Rich] = []
    parts = [derived.plan.part(one) for one in (joint.insert, joint.receiver)]
    angles = [
        (derived.cut_list.item_of(part.id).number, one)
        for part in parts
        for one in mitres(part)
        if one.cut.joint == joint.id
    ]
    said = {angle_text(one.mitre or one.tilt) for _, one in angles}
    if len(said) == 1:
        lines.append((f"Both parts sawn at {said.pop()}.",))
    elif said:
        words = [f"{number} sawn at {angle_text(one.mitre or one.tilt)}" for number, one in angles]
        lines.append((f"{listed(words, most=8)}.",))
    slot = next((one for one in spline_slots(parts[0]) if one.joint == joint.id), None)
    if slot is not None:
        form = derived.plan.lengths
        thick, wide = spline_size(slot)
        lines.append(("Spline ", *inline_pieces(form, thick), " thick, ", *inline_pieces(form, wide), " wide."))
    return lines


def _holding(joint: Joint) -> str:
    counts: dict[str, int] = {}
    names: dict[str, tuple[str, str]] = {}
    for fastener in joint.fasteners:
        counts[fastener.item.id] = counts.get(fastener.item.id, 0) + 1
        names[fastener.item.id] = (fastener.item.name, fastener.item.plural)
    held = [f"{count} × {names[item][count > 1]}" for item, count in counts.items()]
    if joint.glued:
        held.insert(0, "glue")
    if joint.family.glued_at:
        held.insert(0, f"glue on the {joint.family.glued_at} alone")
    if not held:
        return "No glue: it must be free to move." if joint.family.moves else "No glue: it is made to come apart."
    said = listed(held, most=8)
    return f"{capitalized(said)}."
