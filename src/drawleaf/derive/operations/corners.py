"""Laps, bridles, box joints and dovetails on loose parts."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, by_setting, key_of, plural, title_names
from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import BoxCut, Part, Plan
from drawleaf.model.settings import FingerSettings, ForkSettings, LapSettings, Settings, SocketSettings, TailSettings
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Operation, Scene
from drawleaf.setting_out.wood_joints import dovetail_slope, tail_length

WORK = {
    CutKind.LAP: "lap",
    CutKind.FORK: "fork",
    CutKind.FINGER: "fingers",
    CutKind.TAIL: "tails",
    CutKind.SOCKET: "sockets",
}
"""Kinds of cuts, in the order in which they are made, with the work that makes them. Tails before the sockets that are marked from them."""
TITLE = {
    CutKind.LAP: "Cut the laps in",
    CutKind.FORK: "Cut the forks in",
    CutKind.FINGER: "Cut the fingers on",
    CutKind.TAIL: "Cut the tails on",
    CutKind.SOCKET: "Cut the sockets in",
}
HALF_BLIND = "sockets-half-blind"
Cut = BoxCut | OutlineCut
Group = tuple[Settings, list[tuple[Part, Cut]]]


def cut_corners(shop: Workshop) -> None:
    """One step to a kind of cut and a set of parts of one assembly."""
    for kind in WORK:
        found = [
            (part, one)
            for part in shop.plan.parts
            for one in part.features
            if isinstance(one, BoxCut | OutlineCut) and one.kind == kind
        ]
        groups = by_setting(found, lambda pair: _setting(shop.plan, *pair), apart=lambda pair: pair[0].assembly)
        steps: dict[object, list[Group]] = {}
        for number, (setting, group) in enumerate(groups):
            # Fingers of one corner are cut in one go, with one blade set high and low: the others stand in steps of their own.
            home = group[0][0].assembly if kind == CutKind.FINGER else number
            steps.setdefault(home, []).append((setting, group))
        for step in steps.values():
            _step(shop, kind, step)


def _setting(plan: Plan, part: Part, cut: Cut) -> Settings:
    """What is set or marked for a cut: depth of a lap or finger, width of a fork, length and slope of tails."""
    match cut:
        case BoxCut(kind=CutKind.LAP):
            return LapSettings(cut.box.extent(cut.into.axis))
        case BoxCut(kind=CutKind.FORK):
            return ForkSettings(cut.box.extent(part.thickness))
        case BoxCut():
            return FingerSettings(cut.box.extent(cut.into.axis))
        case OutlineCut():
            joint = next(joint for joint in plan.joints if joint.id == cut.joint)
            tails = tail_length(plan, joint), dovetail_slope(plan, joint)
            return (
                SocketSettings(*tails, _half_blind(part, cut)) if cut.kind == CutKind.SOCKET else TailSettings(*tails)
            )


def _half_blind(part: Part, cut: OutlineCut) -> bool:
    """Whether a socket stops before the far face of its part."""
    axes = cut.outline.axis.others()
    across = part.thickness
    if across not in axes:
        return False
    span, body = cut.outline.bounds[axes.index(across)], part.body.span(across)
    return span.low > body.low or span.high < body.high


def _step(shop: Workshop, kind: str, groups: Sequence[Group]) -> None:
    operations = [_operation(shop, kind, *group) for group in groups]
    found = [pair for _, group in groups for pair in group]
    parts = list({part.id: part for part, _ in found}.values())
    scene = Scene((), tuple(one.id for one in parts), (), (), ())
    title = f"{TITLE[kind]} the {title_names(parts)}"
    if len(found) == 1:
        title = title.replace(f"the {plural(kind)}", f"the {kind}")
    also = [one.id for one in operations]
    shop.add(operations[0].id, Stage.MACHINE, title, operations, scene, also=also)


def _operation(shop: Workshop, kind: str, setting: Settings, group: Sequence[tuple[Part, Cut]]) -> Operation:
    joints = {cut.joint for _, cut in group}
    blind = isinstance(setting, SocketSettings) and setting.blind
    return shop.operation(
        f"{WORK[kind]}-{key_of(shop.plan, group[0][0])}",
        WORK[kind],
        tuple(dict.fromkeys(part.id for part, _ in group)),
        way=HALF_BLIND if blind else WORK[kind],
        pieces=len(group),
        settings=setting,
        joints=[joint for joint in shop.plan.joints if joint.id in joints],
        features=[(part.id, cut) for part, cut in group],
    )


CORNERS = Work(cut_corners, (*WORK.values(), HALF_BLIND))
