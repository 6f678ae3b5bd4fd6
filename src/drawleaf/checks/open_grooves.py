"""Grooves that run on past their panel: a slot stays open in the foot of a post, below the rail that ends the panel."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, mm, result, sentence, span_mm
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut, Joint, Part

NAME = "open-groove"
SHOWS = 20.0
"""An open stretch shorter than this is a notch beside a joint, in mm."""
ROOM = 3.0
"""So much longer than its panel a stopped groove is at its end, in mm."""


def check(bench: Bench) -> Iterator[CheckResult]:
    """Advice for each line of the source whose grooves stay open in a part, at the end that is open longest."""
    worst: dict[str, tuple[float, Joint, Part, Face]] = {}
    for joint in bench.plan.joints:
        receiver, insert = bench.parts[joint.receiver], bench.parts[joint.insert]
        if not joint.family.panel or receiver.tilt is not None:
            continue
        for cut in receiver.features:
            if isinstance(cut, BoxCut) and cut.joint == joint.id and cut.kind is CutKind.GROOVE:
                for end, open_mm in _open_ends(bench, cut, receiver, insert):
                    if open_mm >= SHOWS and open_mm > worst.get(joint.line, (0.0,))[0]:
                        worst[joint.line] = open_mm, joint, receiver, end
    for open_mm, joint, receiver, end in worst.values():
        insert = bench.parts[joint.insert]
        stop = abs((insert.body.face(end) - receiver.seen.face(end)).mm) - ROOM
        yield result(
            NAME,
            "Grooves that stay open",
            Verdict.ADVICE,
            (receiver, insert),
            sentence(
                "The groove for the {panel} runs on in the {part} to its {end} end, and stays open there over {bare}.",
                panel=called(insert),
                part=called(receiver),
                end=end.value,
                bare=mm(open_mm),
            ),
            figures=figures(open_length=mm(open_mm)),
            limit=sentence("a groove ends where its panel ends"),
            source="common practice, no source",
            remedy=sentence(
                "Give {id} a line of its own with “stopped: {opening}{end}: {stop}{closing}”.",
                id=receiver.kind,
                opening="{",
                end=end.value,
                stop=mm(max(stop, 1.0)),
                closing="}",
            ),
            position=joint.position,
        )


def _open_ends(bench: Bench, cut: BoxCut, receiver: Part, insert: Part) -> Iterator[tuple[Face, float]]:
    """How much of a groove lies open beyond either end of its panel, in mm: under no part, and with none in it."""
    across = insert.thickness
    run = next((axis for axis in Axis if axis not in (across, cut.into.axis)), None)
    if run is None or cut.into.axis is across:
        return
    channel, panel = cut.box.span(run), insert.body.span(run)
    near = {axis: span_mm(cut.box, axis) for axis in Axis}
    near[run] = min(near[run][0], panel.low.mm), max(near[run][1], panel.high.mm)
    covered = [
        (other.body.span(run).low.mm, other.body.span(run).high.mm)
        for other in bench.near.within(near)
        if other.id not in (receiver.id, insert.id) and _covers(other, cut, across, receiver)
    ]
    for end, low, high in ((run.low, channel.low.mm, panel.low.mm), (run.high, panel.high.mm, channel.high.mm)):
        if high > low:
            yield end, _bare(low, high, covered)


def _covers(other: Part, cut: BoxCut, across: Axis, receiver: Part) -> bool:
    """Whether a part lies over the mouth of the groove, or in it."""
    mouth, span = cut.box.span(across), other.body.span(across)
    over = span.low.mm <= mouth.low.mm + 0.5 and mouth.high.mm - 0.5 <= span.high.mm
    touching = other.seen.face(cut.into.opposite) == receiver.seen.face(cut.into)
    return (over and touching) or other.body.overlap(cut.box) is not None


def _bare(low: float, high: float, covered: list[tuple[float, float]]) -> float:
    """The longest stretch between two places that nothing covers."""
    longest, at = 0.0, low
    for start, end in sorted(covered):
        longest = max(longest, min(start, high) - at)
        at = max(at, end)
    return max(longest, high - at, 0.0)
