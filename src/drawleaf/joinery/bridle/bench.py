"""How the bench cuts a bridle's fork. Its tenon is sawn as every tenon is."""

from __future__ import annotations

from drawleaf.joinery.bench import BenchWork, Cut
from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import BoxCut, Feature, Part, Plan
from drawleaf.model.settings import ForkSettings


def _setting(plan: Plan, part: Part, cuts: tuple[Cut, ...]) -> ForkSettings:
    (cut,) = cuts
    assert isinstance(cut, BoxCut)
    return ForkSettings(cut.box.extent(part.thickness))


def _agrees(told: ForkSettings, part: Part, cut: Feature) -> bool:
    return isinstance(cut, BoxCut) and cut.box.extent(part.thickness) == told.thickness


FORK = BenchWork(
    CutKind.FORK, "fork", ("Cut the fork in the {}", "Cut the forks in the {}"), ForkSettings, _setting, _agrees
)
