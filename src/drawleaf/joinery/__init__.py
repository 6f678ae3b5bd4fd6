"""Joint families: a folder each. A new family is its folder and one line in ``FAMILIES``."""

from __future__ import annotations

from drawleaf.joinery.bench import AtBench, BenchWork
from drawleaf.joinery.box_joint.geometry import BoxJoint
from drawleaf.joinery.breadboard.geometry import Breadboard
from drawleaf.joinery.bridle.geometry import Bridle
from drawleaf.joinery.butt.geometry import Butt
from drawleaf.joinery.dado.geometry import Dado
from drawleaf.joinery.dovetail.geometry import Dovetail
from drawleaf.joinery.family import Family
from drawleaf.joinery.groove.geometry import Groove
from drawleaf.joinery.half_lap.geometry import HalfLap
from drawleaf.joinery.housing.geometry import Housing
from drawleaf.joinery.mitre.geometry import Mitre
from drawleaf.joinery.mortise_and_tenon.geometry import MortiseAndTenon
from drawleaf.joinery.rabbet.geometry import Rabbet
from drawleaf.joinery.round_tenon.geometry import RoundTenon
from drawleaf.joinery.sliding_dovetail.geometry import SlidingDovetail
from drawleaf.joinery.slot.geometry import Slot
from drawleaf.joinery.tongue.geometry import Tongue
from drawleaf.model.code import Code
from drawleaf.model.joint_family import JointFamily

FAMILIES: tuple[Family, ...] = (
    Butt(),
    Dado(),
    Groove(),
    Rabbet(),
    Tongue(),
    MortiseAndTenon(),
    Breadboard(),
    HalfLap(),
    Bridle(),
    BoxJoint(),
    Dovetail(),
    Mitre(),
    Housing(),
    SlidingDovetail(),
    RoundTenon(),
)

BROUGHT: tuple[Family, ...] = (Slot(),)
"""Families of the joints of loose pieces, which no line of a source asks for."""

BENCH: tuple[BenchWork, ...] = tuple(
    work for family in FAMILIES if isinstance(family, AtBench) for work in family.bench
)
"""The kinds of cuts that families make themselves, in the order of the bench."""

CODES: tuple[Code, ...] = tuple(code for family in FAMILIES for code in family.facts.codes)
"""The codes that families tell and explain themselves."""

_BY_KEY = {family.facts.key: family for family in (*FAMILIES, *BROUGHT)}


def family_of(facts: JointFamily) -> Family:
    """The family that gives these answers."""
    return _BY_KEY[facts.key]


def family_called(key: str) -> Family:
    """The family of that word of the source. Raises KeyError where there is none."""
    return _BY_KEY[key]
