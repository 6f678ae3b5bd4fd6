"""Joint families: one file each. A new family is one file and one line in ``FAMILIES``."""

from __future__ import annotations

from drawleaf.joinery.butt import Butt
from drawleaf.joinery.dado import Dado
from drawleaf.joinery.family import Family
from drawleaf.joinery.groove import Groove
from drawleaf.joinery.rabbet import Rabbet

FAMILIES: tuple[Family, ...] = (Butt(), Dado(), Groove(), Rabbet())


def family_of(key: str) -> Family:
    """The family that the source calls ``key``. Raises KeyError where there is none."""
    return {family.key: family for family in FAMILIES}[key]
