"""Two joints where one was meant: the same parts joined in the same way at the same place."""

from __future__ import annotations

from collections.abc import Iterable

from drawleaf.model.plan import Joint
from drawleaf.resolve.names.findings import Findings


def report_joined_twice(joints: Iterable[Joint], findings: Findings) -> None:
    """An error for each line that makes a joint which another line, or the same one, makes already."""
    first: dict[tuple[object, ...], Joint] = {}
    for joint in joints:
        known = first.setdefault((joint.family, joint.insert, joint.receiver, joint.face, joint.contact), joint)
        if known is not joint:
            where = f"line {known.position.line}" if known.position.line != joint.position.line else "it"
            findings.error(
                "joined-twice",
                f"“{joint.insert}” and “{joint.receiver}” are joined here as {where} has joined them already",
                joint.position,
                "A booklet would have the builder cut and close one joint twice.",
                "Take one of the two out; all that holds a joint stands in one line: “with: [glue, screws]”.",
            )
