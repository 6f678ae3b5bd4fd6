"""Parts that lie flat in one plane and are drawn through one another. Shared by half laps and bridles."""

from __future__ import annotations

from typing import Literal

from drawleaf.joinery.family import Meeting
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis

_SIZES = {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}


def flat_problems(meeting: Meeting, mend: str, unit: Literal["in", "mm"]) -> tuple[Diagnostic, ...]:
    """What speaks against parts whose broad faces do not lie in one plane; ``mend`` says what joins those."""
    insert, receiver = meeting.insert, meeting.receiver
    if insert.thickness is receiver.thickness:
        return ()
    for part, other in ((receiver, insert), (insert, receiver)):
        if other.thickness is part.width_axis and part.body.extent(part.thickness) == part.body.extent(part.width_axis):
            name, axis = part.kind.rsplit(".", 1)[-1], other.thickness.value
            mend = f"It is as thick as it is wide: write “thickness: {axis}” for “{name}”, and “full_width: {part.thickness.value}” where it has one."
            break
    else:
        mend = _slots(meeting, unit) or mend
    return (
        Diagnostic(
            "lap-across",
            f"“{insert.id}” and “{receiver.id}” do not lie flat in one plane",
            meeting.position,
            f"The one is thick along {insert.thickness.value}, the other along {receiver.thickness.value}.",
            mend,
        ),
    )


def _slots(meeting: Meeting, unit: Literal["in", "mm"]) -> str:
    """The lines of two slots, each to half of what they share, in which parts that stand across one another slide together, as dividers in a
    box do; empty where no slot comes out at an edge, or they are of two assemblies."""
    insert, receiver, room = meeting.insert, meeting.receiver, meeting.overlap
    if room is None or insert.assembly != receiver.assembly or insert.tilt is not None or receiver.tilt is not None:
        return ""
    up = next(axis for axis in Axis if axis not in (insert.thickness, receiver.thickness))
    # The one has its slot from above and the other from below, or the other way round.
    ends = [(up.high, up.low), (up.low, up.high)]
    fits = [(a, b) for a, b in ends if receiver.seen.face(a) == room.face(a) and insert.seen.face(b) == room.face(b)]
    if not fits:
        return ""
    lines = []
    for part, other, edge in ((receiver, insert, fits[0][0]), (insert, receiver, fits[0][1])):
        if part.mirrored:  # it is cut as its twin's image
            continue
        name, across = (one.id.removeprefix(f"{one.assembly}.") for one in (part, other))
        sizes = {other.thickness: other.seen.extent(other.thickness), up: room.extent(up)}
        size = ", ".join(
            f"{_SIZES[axis]}: {say(long, unit)}" for axis, long in sorted(sizes.items(), key=lambda one: one[0].index)
        )
        face = part.thickness.low.value
        place = f"{{middle_of: {across}, {up.value}: {name}.{edge.value}}}"
        lines.append(f"“- {{in: {name}, cutout: {{face: {face}, at: {place}, {size}}}}}”")
    first, second = (one.kind.rpartition(".")[2] for one in (insert, receiver))
    said = f"Let them slide together in two slots: write “butt: {first}, to: {second}” here"
    return (
        f"{said}, and under “machining:” {' and '.join(lines)}."
        if lines
        else f"{said}, with what is told of their twins."
    )
