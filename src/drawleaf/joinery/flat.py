"""Parts that lie flat in one plane and are drawn through one another. Shared by half laps and bridles."""

from __future__ import annotations

from drawleaf.joinery.family import Meeting
from drawleaf.model.diagnostic import Diagnostic


def flat_problems(meeting: Meeting, mend: str) -> tuple[Diagnostic, ...]:
    """What speaks against parts whose broad faces do not lie in one plane; ``mend`` says what joins those."""
    insert, receiver = meeting.insert, meeting.receiver
    if insert.thickness is receiver.thickness:
        return ()
    for part, other in ((receiver, insert), (insert, receiver)):
        if other.thickness is part.width_axis and part.body.extent(part.thickness) == part.body.extent(part.width_axis):
            name, axis = part.kind.rsplit(".", 1)[-1], other.thickness.value
            mend = f"It is as thick as it is wide: write “thickness: {axis}” for “{name}”, and “full_width: {part.thickness.value}” where it has one."
            break
    return (
        Diagnostic(
            "lap-across",
            f"“{insert.id}” and “{receiver.id}” do not lie flat in one plane",
            meeting.position,
            f"The one is thick along {insert.thickness.value}, the other along {receiver.thickness.value}.",
            mend,
        ),
    )
