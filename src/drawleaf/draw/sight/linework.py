"""What a projection hands to the drawings: lines and visible regions, and how loose segments become few long lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.sight.view import Vector, View

Array = NDArray[np.float64]
Kind = Literal["sharp", "silhouette"]


@dataclass(frozen=True, eq=False)
class Polyline:
    """A line on paper: (N, 2) millimetres of the piece, the part or fitting it belongs to, and whether an edge or a rounded outline."""

    points: Array
    part: str
    kind: Kind

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """How far it reaches: u low, v low, u high, v high."""
        low, high = self.points.min(axis=0).tolist(), self.points.max(axis=0).tolist()
        return (low[0], low[1], high[0], high[1])

    @property
    def length(self) -> float:
        """Millimetres along all its stretches."""
        return float(np.linalg.norm(np.diff(self.points, axis=0), axis=1).sum())


@dataclass(frozen=True, eq=False)
class ShadedFace:
    """What can be seen of one face: whose it is, its outward unit normal in the piece's frame, and the region on paper."""

    part: str
    normal: Vector
    region: BaseGeometry


@dataclass(frozen=True, eq=False)
class Linework:
    """A projected scene. Everything is in the view's plane: u to the right, v up, millimetres.

    ``visible`` and ``hidden`` are joined polylines with doubled lines dropped; a hidden line under a visible one is dropped too.
    ``shaded_faces`` and ``outline`` give what can be seen of each face and part, holes and all. All but ``visible`` are worked out
    when first asked for.
    """

    view: View
    shown: tuple[str, ...]
    bounds: tuple[float, float, float, float]
    find_visible: Callable[[], tuple[Polyline, ...]] = field(repr=False)
    find_hidden: Callable[[], tuple[Polyline, ...]] = field(repr=False)
    find_faces: Callable[[], tuple[ShadedFace, ...]] = field(repr=False)
    find_outline: Callable[[str], BaseGeometry] = field(repr=False)
    _outlines: dict[str | tuple[str, ...], BaseGeometry] = field(default_factory=dict, repr=False)

    @cached_property
    def visible(self) -> tuple[Polyline, ...]:
        return self.find_visible()

    @cached_property
    def hidden(self) -> tuple[Polyline, ...]:
        return self.find_hidden()

    @cached_property
    def shaded_faces(self) -> tuple[ShadedFace, ...]:
        return self.find_faces()

    def outline(self, part: str) -> BaseGeometry:
        """The region on paper where the part can be seen; empty where it is hidden whole."""
        if part not in self._outlines:
            self._outlines[part] = self.find_outline(part)
        return self._outlines[part]

    def region(self, parts: Iterable[str]) -> BaseGeometry:
        """The region on paper where any of the parts can be seen."""
        key = tuple(parts)
        if key not in self._outlines:
            self._outlines[key] = shapely.union_all([self.outline(part) for part in key])
        return self._outlines[key]
