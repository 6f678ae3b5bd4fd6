"""Screws that lie where hardware is screwed on: its own screws would meet them."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, mm, result, sentence
from drawleaf.model.catalogue import SCREWS
from drawleaf.model.checks import CheckResult, Fine, Verdict
from drawleaf.model.plan import Fastener, Fitting
from drawleaf.setting_out.screws import entered_face

CLEAR = 8.0
"""From the line of the hardware's holes to the middle of a screw, mm: half of two screws and wood between. Common practice, no source."""


def under_hardware(bench: Bench, name: str) -> Iterator[CheckResult]:
    """Advice for each piece of hardware with screws on the line of its holes."""
    told: set[tuple[str, str]] = set()
    for fitting in bench.plan.fittings:
        if fitting.body is None or not fitting.item.screws:
            continue
        for screw, off in _on_its_line(bench, fitting):
            if (fitting.line, screw.through) in told:
                continue
            told.add((fitting.line, screw.through))
            part = bench.parts[screw.through]
            yield result(
                name,
                "Screws under hardware",
                Verdict.ADVICE,
                (part,),
                sentence(
                    "A screw in the {part} lies {off} from the line of the holes of the {item}, whose own screws may meet it.",
                    part=called(part),
                    off=Fine(mm(off)),
                    item=fitting.item.name.lower(),
                ),
                figures=figures(from_the_line=Fine(mm(off))),
                limit=sentence("{clear} or more", clear=mm(CLEAR)),
                remedy=sentence("Set its row aside with “rows”, or drive it from the other side."),
                position=next(joint.position for joint in bench.joints_of[part.id] if screw in joint.fasteners),
            )


def _on_its_line(bench: Bench, fitting: Fitting) -> Iterator[tuple[Fastener, float]]:
    """Screws that enter the face on which the hardware sits, within its length and near the middle line along it."""
    assert fitting.body is not None
    a, b = fitting.face.axis.others()
    long, across = (a, b) if fitting.body.extent(a) >= fitting.body.extent(b) else (b, a)
    reach, line = fitting.body.span(long), fitting.body.span(across).middle
    for part in fitting.parts:
        for joint in bench.joints_of.get(part, ()):
            for screw in joint.fasteners:
                if screw.through != part or screw.item.kind not in SCREWS or entered_face(screw) is not fitting.face:
                    continue
                off = abs(screw.mouth.along(across) - line).mm
                if reach.low <= screw.mouth.along(long) <= reach.high and off < CLEAR and _flush(screw, fitting):
                    yield screw, off


def _flush(screw: Fastener, fitting: Fitting) -> bool:
    """Whether the head lies in the very face that the hardware touches."""
    assert fitting.body is not None
    face = fitting.body.face(fitting.face.opposite)
    return abs(screw.mouth.along(fitting.face.axis) - face).mm < 2.0
