"""Joint families: one file each. A new family is one file and one line in ``FAMILIES``."""

from __future__ import annotations

from drawleaf.joinery.box_joint import BoxJoint
from drawleaf.joinery.breadboard import Breadboard
from drawleaf.joinery.bridle import Bridle
from drawleaf.joinery.butt import Butt
from drawleaf.joinery.dado import Dado
from drawleaf.joinery.dovetail import Dovetail
from drawleaf.joinery.family import Crossing, Family
from drawleaf.joinery.groove import Groove
from drawleaf.joinery.half_lap import HalfLap
from drawleaf.joinery.housing import Housing
from drawleaf.joinery.mitre import Mitre
from drawleaf.joinery.mortise_and_tenon import MortiseAndTenon
from drawleaf.joinery.rabbet import Rabbet
from drawleaf.joinery.slot import Slot
from drawleaf.joinery.socket import Socket
from drawleaf.joinery.tongue import Tongue

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
    Socket(),
)

BROUGHT: tuple[Family, ...] = (Slot(),)
"""Families of the joints of loose pieces, which no line of a source asks for."""

LEANING: frozenset[str] = frozenset((Butt().key, Housing().key))
"""Families that can join a part that leans."""

CROSSED: frozenset[str] = frozenset(family.key for family in FAMILIES if isinstance(family, Crossing))
"""Families whose parts are drawn through one another: nothing is let in, and nothing grows."""


def family_of(key: str) -> Family:
    """The family of that key, which for all but those of loose pieces is the word of the source. Raises KeyError where there is none."""
    return {family.key: family for family in (*FAMILIES, *BROUGHT)}[key]
