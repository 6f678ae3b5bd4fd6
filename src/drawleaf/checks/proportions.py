"""Proportions of joints: how deep a channel may go before what is left is too weak. Workshop custom; no source gives strengths."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drawleaf.checks.context import Bench, called, figures, mm, result, sentence
from drawleaf.model.checks import CheckResult, Quantity, Verdict
from drawleaf.model.plan import BoxCut, Joint

NAME = "joint-proportions"


@dataclass(frozen=True, slots=True)
class Rule:
    """How deep a cut may go, as a share of the thickness it is cut into: less than ``least`` hardly holds, beyond ``most`` weakens the
    part, beyond ``stop`` leaves too little."""

    least: float
    most: float
    stop: float
    words: str


# Common practice, no source: a third to a half for a dado or groove, half to two thirds for a rabbet. `most` has a little over, because
# a depth that is right for the label is a shade more of stock that runs thin.
RULES = {
    "dado": Rule(0.2, 0.55, 0.75, "a third of the thickness, at most half"),
    "groove": Rule(0.2, 0.55, 0.75, "a third of the thickness, at most half"),
    "rabbet": Rule(0.3, 0.72, 0.85, "half to two thirds of the thickness"),
}


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each line of the source that cuts a channel."""
    lines: dict[str, list[tuple[Joint, float, float]]] = {}
    for joint in bench.plan.joints:
        if joint.family not in RULES:
            continue
        receiver = bench.parts[joint.receiver]
        axis = receiver.thickness
        depths = [
            feature.box.extent(axis).mm
            for feature in receiver.features
            if isinstance(feature, BoxCut) and feature.joint == joint.id
        ]
        if depths:
            lines.setdefault(joint.line, []).append((joint, max(depths), receiver.body.extent(axis).mm))
    for cuts in lines.values():
        yield _finding(bench, cuts)


def verdict_of(family: str, share: float) -> Verdict:
    """What a depth, as a share of the thickness it is cut into, deserves."""
    rule = RULES[family]
    if share > rule.stop:
        return Verdict.STOP
    return Verdict.PASS if rule.least <= share <= rule.most else Verdict.ADVICE


def _finding(bench: Bench, cuts: list[tuple[Joint, float, float]]) -> CheckResult:
    joint, depth, thick = max(cuts, key=lambda cut: cut[1] / cut[2])
    shallow = min(cuts, key=lambda cut: cut[1] / cut[2])
    if verdict_of(joint.family, depth / thick) is Verdict.PASS:
        joint, depth, thick = shallow
    share = depth / thick
    rule = RULES[joint.family]
    verdict = verdict_of(joint.family, share)
    parts = list(dict.fromkeys(bench.parts[one] for cut, _, _ in cuts for one in (cut.insert, cut.receiver)))
    words = "The {family} for the {insert} goes {depth} into {thick} of the {receiver}: {share} of its thickness."
    deep = share > rule.most
    return result(
        NAME,
        "Joint proportions",
        verdict,
        parts,
        sentence(
            words,
            family=joint.family,
            insert=called(bench.parts[joint.insert]),
            receiver=called(bench.parts[joint.receiver]),
            depth=mm(depth),
            thick=mm(thick),
            share=Quantity(share * 100, "percent"),
        ),
        figures=figures(depth=mm(depth), thickness=mm(thick), share_of_the_thickness=Quantity(share * 100, "percent")),
        limit=sentence("a {family}: {rule}", family=joint.family, rule=rule.words),
        remedy=sentence(
            "Make “depth” no more than {best}: what is left beside the channel carries the part."
            if deep
            else "Make “depth” {best} or so: a shallower channel hardly holds.",
            best=mm(thick * (rule.most if deep else max(rule.least, 1 / 3))),
        ),
        position=joint.position,
        steps=bench.steps_with((joint.receiver,), lambda kind: kind == "channel"),
    )
