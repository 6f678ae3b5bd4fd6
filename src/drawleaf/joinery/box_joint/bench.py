"""How the bench cuts the fingers of a box joint."""

from __future__ import annotations

from drawleaf.joinery.bench import BenchWork, Cut, Note, deep
from drawleaf.joinery.corner import corner_run
from drawleaf.joinery.proportion import Made
from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import BoxCut, Feature, Joint, Part, Plan
from drawleaf.model.settings import FingerSettings


def _setting(plan: Plan, part: Part, cuts: tuple[Cut, ...]) -> FingerSettings:
    (cut,) = cuts
    assert isinstance(cut, BoxCut)
    return FingerSettings(deep(cut))


def _agrees(told: FingerSettings, part: Part, cut: Feature) -> bool:
    return isinstance(cut, BoxCut) and deep(cut) == told.depth


# Fingers of one corner are cut in one go, with one blade set high and low: the others have steps of their own.
FINGERS = BenchWork(
    CutKind.FINGER,
    "fingers",
    ("Cut the finger on the {}", "Cut the fingers on the {}"),
    FingerSettings,
    _setting,
    _agrees,
    together=True,
)


def finger_width(plan: Plan, joint: Joint) -> tuple[Note, ...]:
    """The line under a detail that says how wide a finger is."""
    made = Made(joint, plan.part(joint.insert), plan.part(joint.receiver))
    gaps, run = made.cuts(made.receiver), corner_run(made.insert, made.receiver)
    return (("Fingers ", max(cut.box.extent(run) for cut in gaps), " wide."),) if gaps else ()
