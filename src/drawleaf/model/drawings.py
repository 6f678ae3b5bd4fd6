"""A finished drawing as handed to the booklet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Sight:
    """How a picture was projected. ``axes`` are right, up and towards the viewer, unit vectors of the piece's frame; ``factor`` is paper mm
    a mm of the piece, ``origin`` the paper place of the view's u = v = 0. ``offsets`` are how far bodies are moved for the picture (mm).
    ``nearest``: all that lies nearer to the viewer than this depth is cut away, in a section; None where nothing is."""

    axes: tuple[Vector, Vector, Vector]
    factor: float
    origin: tuple[float, float]
    offsets: tuple[tuple[str, Vector], ...] = ()
    nearest: float | None = None


@dataclass(frozen=True, slots=True)
class Pane:
    """What a stretch of a drawing shows, so that a place on paper can be traced back to its part: ``box`` on paper (left, top, right,
    bottom) and the ids of the parts and fittings in it. Without a ``sight`` the whole box stands for the one that is shown."""

    box: tuple[float, float, float, float]
    shown: tuple[str, ...]
    sight: Sight | None = None


@dataclass(frozen=True, slots=True)
class Drawing:
    """An SVG that stands by itself. ``id`` names its file (``part-03``); sizes are on paper; ``scale`` as printed (``1 : 10``), None for
    pictorial views; ``alt`` says in words what it shows. ``panes`` say which part is seen where; a later one lies upon the earlier.
    ``number`` is that of the part, step, sheet, board, detail or template that it shows; None for drawings of the whole. ``plain``: it
    shows a part that is cut to size and nothing else, or a square joint with nothing cut for it, so that a row of a table says all."""

    id: str
    kind: str
    title: str
    svg: str
    alt: str
    width_mm: float
    height_mm: float
    scale: str | None
    panes: tuple[Pane, ...] = ()
    number: int | None = None
    plain: bool = False


@dataclass(frozen=True, slots=True)
class Drawings:
    """All drawings of a plan, by kind, keyed the way the chapters look them up."""

    cover: Drawing
    exploded: tuple[Drawing, ...]
    elevations: tuple[Drawing, ...]
    parts: dict[int, Drawing]
    steps: dict[int, Drawing]
    sheets: dict[int, Drawing]
    boards: dict[int, Drawing]
    sections: tuple[Drawing, ...] = ()
    details: tuple[Drawing, ...] = ()
    detail_of: Mapping[str, str] = field(default_factory=dict)
    """The id of the detail that shows a joint, by the joint's id."""
    templates: tuple[Drawing, ...] = ()
    steps_low: Mapping[int, Drawing] = field(default_factory=dict)
    """The drawings of ``steps`` again, low and no wider than they need, for pages that hold much."""
    steps_narrow: Mapping[int, Drawing] = field(default_factory=dict)
    """And again, narrow, to stand beside the words."""
    parts_larger: Mapping[int, tuple[Drawing, ...]] = field(default_factory=dict)
    """The drawings of ``parts`` again, each larger than the last, for pages that have room."""

    schedule: Drawing | None = None
    """The work over the days; None where there are no steps."""

    templates_for: Mapping[int, tuple[Drawing, ...]] = field(default_factory=dict)
    """The templates (their first sheets) that serve a step, by the step's number."""
    ways: Mapping[str, tuple[Drawing, ...]] = field(default_factory=dict)
    """The drawings of the steps of another way, by its id; of steps that have one."""

    def all(self) -> tuple[Drawing, ...]:
        """Every drawing in booklet order."""
        return (
            self.cover,
            *self.exploded,
            *self.elevations,
            *self.sections,
            *self.details,
            *self.parts.values(),
            *self.sheets.values(),
            *self.boards.values(),
            *self.steps.values(),
            *(drawing for way in self.ways.values() for drawing in way),
            *self.templates,
            *((self.schedule,) if self.schedule else ()),
        )
