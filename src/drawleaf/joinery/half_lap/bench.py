"""How the bench cuts a half lap."""

from __future__ import annotations

from drawleaf.joinery.bench import BenchWork, Cut, deep
from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import BoxCut, Feature, Part, Plan
from drawleaf.model.settings import LapSettings


def _setting(plan: Plan, part: Part, cuts: tuple[Cut, ...]) -> LapSettings:
    (cut,) = cuts
    assert isinstance(cut, BoxCut)
    return LapSettings(deep(cut))


def _agrees(told: LapSettings, part: Part, cut: Feature) -> bool:
    return isinstance(cut, BoxCut) and deep(cut) == told.depth


LAP = BenchWork(CutKind.LAP, "lap", ("Cut the lap in the {}", "Cut the laps in the {}"), LapSettings, _setting, _agrees)
