"""What is worth a full-size template: sections of mouldings, outlines, corners cut to a shape, rows of holes, pulls, holes for the wall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.draw.paper.lettering import Rich
from drawleaf.draw.picture.lay import Lay, face_name, lay_out
from drawleaf.draw.template.hinge_subjects import cup_subjects
from drawleaf.draw.template.hole_subjects import ROUND, PinRow, fitting_subjects, pin_rows, pin_subject
from drawleaf.draw.template.outline_subjects import outline_subjects
from drawleaf.draw.template.section_subjects import section_subjects
from drawleaf.draw.template.subject import Subject
from drawleaf.model.derived import Derived
from drawleaf.model.lists import CutItem
from drawleaf.model.plan import BoxCut, EdgeProfile
from drawleaf.model.shapes import OutlineCut
from drawleaf.setting_out.wood_joints import JOINTED
from drawleaf.units import ZERO, Length

_WHOLE = Length.of_mm(150)
"""A shaped part no larger than this either way is shown whole."""


def template_subjects(derived: Derived) -> tuple[Subject, ...]:
    """All of a plan, in the order of the cut list; like ones once, mirror images once."""
    x, y, z = derived.overall
    rows: dict[tuple, list[PinRow]] = {}
    corners: dict[tuple, list[Subject]] = {}
    fittings: list[Subject] = []
    for item in derived.cut_list.items:
        worked = [fitting.face for fitting in derived.plan.fittings if item.part.id in fitting.parts[:1]]
        lay = lay_out(item.part, (x / 2, y / 2, z / 2), worked)
        sections = section_subjects(derived.plan.lengths, item)
        for key, subject in (
            *sections,
            *_outlines(derived, item, lay),
            *_corners(item, lay),
            *cup_subjects(derived, item),
        ):
            corners.setdefault(key, []).append(subject)
        for row in pin_rows(item, lay):
            rows.setdefault(row.key, []).append(row)
        fittings += fitting_subjects(derived, item, lay)
    shapes = (_turned_over(users) for users in corners.values())
    return (*shapes, *(pin_subject(derived.plan.lengths, users) for users in rows.values()), *fittings)


PROFILED = "run-moulding"
"""The work that gives parts their section."""


def templates_for(derived: Derived) -> dict[int, tuple[int, ...]]:
    """For each step that a template serves, by number, the numbers of its templates."""
    subjects = template_subjects(derived)
    found: dict[int, tuple[int, ...]] = {}
    for step in derived.steps:
        worked = [pair[1] for operation in step.operations for pair in operation.features]
        worked += [fitting for operation in step.operations for fitting in operation.fittings]
        worked += [part for operation in step.operations if operation.kind == PROFILED for part in operation.parts]
        numbers = [k for k, subject in enumerate(subjects, start=1) if any(one in worked for one in subject.serves)]
        if numbers:
            found[step.number] = tuple(numbers)
    return found


def _outlines(derived: Derived, item: CutItem, lay: Lay) -> list[tuple[tuple, Subject]]:
    cuts = tuple(feature for feature in item.part.features if isinstance(feature, OutlineCut))
    found = outline_subjects(derived.plan.lengths, item, lay)
    return [(key, replace(subject, serves=cuts)) for key, subject in found]


def _turned_over(users: Sequence[Subject]) -> Subject:
    """One template for all that have the same corner; the others' mirror image is its back."""
    first = users[0]
    others = {f"{one.item.number} {one.item.name}": None for one in users[1:] if one.item is not first.item}
    more: tuple[Rich, ...] = tuple(
        (f"{name}: turn the template over where it lies the other way round.",) for name in others
    )
    serves = tuple(one for user in users for one in user.serves)
    return replace(first, lines=(*first.lines, *more), serves=serves)


def _corners(item: CutItem, lay: Lay) -> list[tuple[tuple, Subject]]:
    """A corner cut off, or a notch right through: shown with its two edges, or the whole part where it is small."""
    found: list[tuple[tuple, Subject]] = []
    part = item.part
    for feature in part.features:
        if isinstance(feature, EdgeProfile):
            faces = {face.axis: face for face in feature.edge}
            if feature.kind != "chamfer" or part.thickness in faces or len(faces) == 1:
                continue
            spans = {}
            for toward in (lay.right, lay.up):
                reach = lay.reach(toward)
                at_far = faces[toward.axis] is toward
                spans[toward] = (reach - feature.size, reach) if at_far else (ZERO, feature.size)
            name = "corner"
        elif feature.kind in JOINTED:
            continue
        elif isinstance(feature, BoxCut) and {part.thickness.low, part.thickness.high} <= set(feature.open):
            spans = {
                toward: lay.span(toward, feature.box.span(toward.axis).low, feature.box.span(toward.axis).high)
                for toward in (lay.right, lay.up)
            }
            name = feature.kind
        else:
            continue
        across, up = _window(lay, spans)
        lines: list[Rich] = [
            (
                f"{item.number} {item.name}, {face_name(part, lay.face)}. Lay the template's edges on the edges of the wood.",
            )
        ]
        title = f"{name}, {item.name.lower()}"
        key = (name, *sorted(high - low for low, high in spans.values()), across[1] - across[0] == lay.reach(lay.right))
        found.append((key, Subject(title, item, lay, across[0], up[0], across[1], up[1], (), tuple(lines), (feature,))))
    return found


def _window(lay: Lay, spans) -> tuple[tuple[Length, Length], tuple[Length, Length]]:  # type: ignore[no-untyped-def]
    whole = lay.reach(lay.right) <= _WHOLE and lay.reach(lay.up) <= _WHOLE
    found = []
    for toward in (lay.right, lay.up):
        low, high = spans[toward]
        reach = lay.reach(toward)
        found.append((ZERO, reach) if whole else (max(ZERO, low - ROUND * 2), min(reach, high + ROUND * 2)))
    return found[0], found[1]
