"""The piece as bodies that a reader can turn: each shape once, where the bodies stand in each scene, and how they move.

Places and sizes are in millimetres of the piece's frame.
"""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.place import Face
from drawleaf.units import Length

Vector = tuple[float, float, float]
Axes = tuple[Vector, Vector, Vector]


@dataclass(frozen=True, slots=True)
class Surface:
    """What a stretch of triangles is of its part: an outer ``face``, the ``cut`` (the kind of the feature that left it), or neither where it
    belongs to no cut by itself. ``fresh``: the work of the step that is shown."""

    triangles: int
    face: Face | None = None
    cut: str = ""
    fresh: bool = False


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed surface at home, which many bodies may share.

    ``points`` are little-endian 16-bit x, y, z in turn, in steps of ``grain`` (mm along each axis) from ``low``. ``corners`` index them,
    three for a triangle, anticlockwise as seen from outside; ``edges`` two for an edge. Both have 16 bits, or 32 where there are more than 65 536
    points. ``surfaces`` share out the triangles in turn. ``lean`` are the rows of the turn by which a leaning part's own directions stand on the
    piece; its six faces are named as it is made, upright.
    """

    low: Vector
    grain: Vector
    points: bytes
    corners: bytes
    edges: bytes
    surfaces: tuple[Surface, ...] = ()
    lean: Axes | None = None


@dataclass(frozen=True, slots=True)
class Lying:
    """A piece of a sheet or board as it is cut: the number of the ``shape`` of its blank, whose frame begins in the blank's middle; the ``axes`` along the stock,
    across it and up, in directions of the piece; where its ``middle`` lies and where that is in the frame of the finished part
    (``about``). ``stock`` is the id of the sheet or board."""

    shape: int
    axes: Axes
    middle: Vector
    about: Vector
    stock: str


@dataclass(frozen=True, slots=True)
class Stock:
    """A sheet or board that a scene shows: the ``id`` under which it stands, its ``kind`` (Sheet, Board), number and sides, and what it is of."""

    id: str
    kind: str
    number: int
    sides: tuple[Length, Length]
    name: str


@dataclass(frozen=True, slots=True)
class Standing:
    """A part or fitting (``id``) in a scene: the number of its shape and where the origin of the shape's frame stands.

    ``off`` is how far from its place the picture draws it, against the direction in which it comes home; ``turn`` the place in the order in which it does so, None
    where it stays as it is drawn. ``axes`` (right, up, towards the viewer) and ``on_paper`` (the middle of its box, along the right and up)
    are given at the bench, where each part lies by itself as its own view shows it.
    """

    id: str
    shape: int
    at: Vector
    new: bool = False
    off: Vector = (0.0, 0.0, 0.0)
    turn: int | None = None
    axes: Axes | None = None
    on_paper: tuple[float, float] = (0.0, 0.0)
    lying: Lying | None = None
    """Where it comes from in a scene of sheets and boards: without a ``turn`` it stays there."""
    strip: int | None = None
    """Which strip of its panel it is, from 1 as its step counts them; None for a whole part."""


@dataclass(frozen=True, slots=True)
class Driven:
    """A screw, brad or pin: its item's id, where its hole opens, the direction in which it is driven, and the part that it goes ``through``.
    ``sunk`` is how deep its head lies; ``head`` whether it has one."""

    item: str
    at: Vector
    direction: Vector
    length: float
    thick: float
    through: str
    sunk: float = 0.0
    head: bool = True


@dataclass(frozen=True, slots=True)
class Pressing:
    """A clamp's jaw: where it presses, in which direction, and how far the picture draws it from there."""

    at: Vector
    toward: Vector
    off: Vector


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where a part or fitting meets a part: the ``face`` of ``part`` lies against the face ``onto`` of ``other``, or goes ``into`` it.

    A fitting has no ``face``; ``onto`` is None where the two meet at no one face: in a mitre, or all through."""

    part: str
    face: Face | None
    other: str
    onto: Face | None = None
    into: bool = False


@dataclass(frozen=True, slots=True)
class Turning:
    """A scene that can be turned. It begins as the drawing of the id ``drawing`` shows it: ``axes`` are the drawing's right, up and
    towards the viewer, ``up`` what is upright as the piece lies there, ``factor`` paper mm a mm of the piece, ``origin`` the paper place of
    u = v = 0. ``step`` is the step's number, None for the whole piece.
    """

    drawing: str
    step: int | None
    axes: Axes
    up: Vector
    factor: float
    origin: tuple[float, float]
    standing: tuple[Standing, ...]
    driven: tuple[Driven, ...] = ()
    pressing: tuple[Pressing, ...] = ()
    meetings: tuple[Meeting, ...] = ()
    """Of what is new with what is shown; where nothing is new, of all that is shown."""
    brings: bool = True
    """Whether what is tinted comes to the piece in this step; otherwise it is worked on as it stands."""
    stocks: tuple[Stock, ...] = ()
    """The sheets or boards that are shown; each stands under its id."""


@dataclass(frozen=True, slots=True)
class Opening:
    """What moves in use: a door or lid that swings about ``about`` along ``axis`` by ``reach`` degrees, or (``about`` None) a drawer or shelf
    that goes ``reach`` mm along ``axis``. ``bodies`` are all that go with it; ``id`` names the part or assembly. ``loose``: it comes out for good."""

    id: str
    bodies: tuple[str, ...]
    axis: Vector
    reach: float
    about: Vector | None = None
    loose: bool = False


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A drawing of a sheet or board: where on paper (left, top, right, bottom) each piece lies, and the part that it becomes."""

    drawing: str
    pieces: tuple[tuple[tuple[float, float, float, float], str], ...]


@dataclass(frozen=True, slots=True)
class Turnable:
    """All that can be turned: the ``shapes``, the ``whole`` piece taken apart, what opens in it, and each step with a picture. ``layouts`` tell
    which part is seen where on sheets and boards."""

    shapes: tuple[Shape, ...]
    whole: Turning
    openings: tuple[Opening, ...]
    steps: tuple[Turning, ...]
    layouts: tuple[LaidOut, ...] = ()
