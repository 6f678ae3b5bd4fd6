"""What a full-size template shows."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.draw.paper.lettering import Rich
from drawleaf.draw.picture.lay import Lay
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Face
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Hole:
    """The middle of a hole, from the left and the lower edge of the face view, and its diameter."""

    across: Length
    up: Length
    diameter: Length


@dataclass(frozen=True, slots=True)
class Subject:
    """A piece of a part's face view at full size: the window (from the left and lower edge: left, low, right, high), the holes in it."""

    title: str
    item: CutItem
    lay: Lay
    left: Length
    low: Length
    right: Length
    high: Length
    holes: tuple[Hole, ...]
    lines: tuple[Rich, ...]
    serves: tuple[object, ...] = ()
    """The features and fittings that it is for, or the ids of parts that get this section: a step that works on one of them names it."""
    first: str = ""
    """What the first of the holes is called: ``bottom hole``."""
    outlines: tuple[tuple[Length, Length, Length, Length], ...] = ()
    """Boxes (left, low, right, high) that a fitting covers."""
    stick: bool = False
    """Whether a strip with the holes on it may stand for a template of many sheets."""
    half: Face | None = None
    """The way to the other half where this is one half of a shape that is its own mirror image."""
