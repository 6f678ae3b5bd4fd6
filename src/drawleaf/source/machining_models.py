"""``machining:`` as typed models: work on one part that is no joint."""

# ruff: noqa: RUF012 - pydantic copies a default for every instance
from __future__ import annotations

from pydantic import Field

from drawleaf.source.help_models import HELPS, HelpEntry
from drawleaf.source.nodes import ANOTHER_WAY, LINE_NAME, At, Expr, FaceName, Name, Names, RepeatEntry, SourceNode, Yes

EDGE_KINDS = ("round_over", "chamfer", "cove", "ogee", "bead")
"""Keys of what is run along an edge."""


class PinRows(SourceNode):
    """``shelf_pins:`` rows of blind holes up a face."""

    face: FaceName | None = Field(
        default=None,
        description="The face that they are in. Left out, the faces of two parts that look at one another, and the holes stand opposite.",
    )
    rows: dict[FaceName, Expr] = Field(description="Distance of each row from a face of the part: {front: 2, back: 2}.")
    start: Expr = Field(description="Height of the lowest hole.")
    spacing: Expr
    count: Expr
    diameter: Expr = "1/4 in"
    depth: Expr = "3/8 in"
    sleeves: str | None = Field(
        default=None,
        description="Sleeves from shared/hardware that line the holes; they say how wide and deep each is bored.",
    )


class BoreEntry(SourceNode):
    """``bore:`` / ``finger_hole:`` round holes. Without ``depth`` they go through."""

    face: FaceName
    at: At
    repeat: RepeatEntry | None = None
    diameter: Expr
    depth: Expr | None = None


class NotchEntry(SourceNode):
    """``notch:`` a corner cut off square, full thickness: the corner of two faces, and how far it runs along each axis."""

    corner: list[FaceName] = Field(min_length=2, max_length=2)
    wide: Expr | None = None
    deep: Expr | None = None
    high: Expr | None = None


class RecessEntry(SourceNode):
    """``recess:`` a shallow pocket in a face, its middle ``at`` a place: square by its sizes along the face, or round by ``diameter``."""

    face: FaceName
    at: At
    repeat: RepeatEntry | None = None
    wide: Expr | None = None
    deep: Expr | None = None
    high: Expr | None = None
    diameter: Expr | None = None
    depth: Expr


class EdgeEntry(SourceNode):
    """``round_over:`` / ``chamfer:`` / ``cove:`` / ``ogee:`` / ``bead:`` edges named by their two faces: ``front-top``; ``outline-top`` is the
    whole rim of a sawn outline at that face, ``opening-top`` that of every opening."""

    edges: list[str]
    size: Expr


class OutlineCorner(SourceNode):
    """A corner of an outline: its two coordinates; ``round`` the corner to a radius; ``rise`` of an arc on the stretch from here to the
    next corner, positive where it bulges out of the shape, negative where it cuts into it."""

    x: Expr | None = None
    y: Expr | None = None
    z: Expr | None = None
    round: Expr | None = None
    rise: Expr | None = None


class ShapeEntry(SourceNode):
    """``shape:`` the part is sawn to an outline, seen square to ``face``."""

    face: FaceName
    outline: list[OutlineCorner] = Field(min_length=3)


class CutoutEntry(SourceNode):
    """``cutout:`` an opening, or with ``depth`` a pocket: an ``outline`` of its own, or a rectangle of so ``wide``, ``deep`` and ``high``
    round the place ``at``, its corners rounded to ``round``."""

    face: FaceName
    outline: list[OutlineCorner] = []
    at: At | None = None
    wide: Expr | None = None
    deep: Expr | None = None
    high: Expr | None = None
    round: Expr | None = None
    depth: Expr | None = None
    after_assembly: Yes = Field(
        default=None, description="Cut in the standing piece, where it must line up with other parts."
    )


class TaperEntry(SourceNode):
    """``taper:`` a straight slanting cut along one edge: from ``start`` along the part (where the edge is still whole) to the end, where
    ``narrow_by`` is taken away. ``edge`` is the side that slants, ``toward`` the end that gets thinner."""

    edge: FaceName
    toward: FaceName
    start: Expr
    narrow_by: Expr


class TrimEntry(SourceNode):
    """``angle_cut:`` an end cut at an angle: ``angle`` degrees from square, ``toward`` the side that is cut shorter."""

    face: FaceName
    angle: Expr
    toward: FaceName


class MachiningEntry(SourceNode):
    """``machining:`` work on one part that is no joint. ``in`` names the part; a twin is machined as its mirror image.

    Exactly one of the other keys.
    """

    in_: Names = Field(alias="in")
    shelf_pins: PinRows | None = None
    bore: BoreEntry | None = None
    finger_hole: BoreEntry | None = None
    notch: NotchEntry | None = None
    recess: RecessEntry | None = None
    round_over: EdgeEntry | None = None
    chamfer: EdgeEntry | None = None
    cove: EdgeEntry | None = None
    ogee: EdgeEntry | None = None
    bead: EdgeEntry | None = None
    shape: ShapeEntry | None = None
    cutout: CutoutEntry | None = None
    taper: TaperEntry | None = None
    angle_cut: TrimEntry | None = None
    after: Names = Field(
        default=[], description="Cut in the standing piece, when these parts or assemblies have been joined."
    )
    before: Names = Field(default=[], description="Parts or assemblies that come when this is cut.")
    helps: list[HelpEntry] = Field(default=[], description=HELPS)
    name: Name | None = Field(default=None, description=LINE_NAME)
    another_way: MachiningEntry | None = Field(default=None, description=ANOTHER_WAY)
