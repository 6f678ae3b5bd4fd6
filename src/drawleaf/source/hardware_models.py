"""``hardware:`` as a typed model: bought hardware in its place."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from drawleaf.source.help_models import HELPS, HelpEntry
from drawleaf.source.nodes import (
    ANOTHER_WAY,
    LINE_NAME,
    At,
    AxisName,
    Expr,
    FaceName,
    Name,
    Names,
    RepeatEntry,
    SourceNode,
)


class FittingEntry(SourceNode):
    """``hardware:`` bought hardware in its place. ``item`` is an id from ``shared/hardware``.

    Slides: ``on`` the fixed parts, ``carries`` the drawer's assembly, ``opens`` the side it comes out at. Hinges: ``on`` the part that stands still, ``carries`` the door or lid.
    Shelf pins: ``on`` the shelf they carry. Magnets, catches, stays and brackets: ``other_half_on`` names what takes the other half.
    """

    item: str
    on: Names
    face: FaceName | None = None
    at: At | None = None
    repeat: RepeatEntry | None = None
    backing: str | None = Field(
        default=None, description="The part behind a thin panel that the screws of the hardware reach through it."
    )
    carries: str | None = None
    opens: Literal["left", "right", "front", "back"] | None = Field(
        default=None,
        description="Slides: the side of the piece that the drawer comes out at; the front where left out.",
    )
    other_half_on: str | None = Field(
        default=None,
        description="The part that takes the other half: a magnet's plate, a catch's strike, a bracket's leg.",
    )
    count: Expr | None = None
    end_distance: Expr | None = Field(
        default=None,
        description="Hinges and table-top fasteners: from each end to the middle of the first and the last one.",
    )
    let_in: Literal["both", "case", "door", "none"] | None = Field(
        default=None,
        description="Leaf hinges: let into both, the case (what the door or lid hangs on), the door (or lid), or none; both where left out.",
    )
    overlay: Literal["full", "half", "inset"] | None = Field(
        default=None,
        description="Concealed hinges: how the door covers the case, to be held against what the hinge is made for.",
    )
    boring: Expr | None = Field(
        default=None,
        description="Concealed hinges: wood between the cup and the edge of the door; worked out from the overlay where left out.",
    )
    setback: Expr | None = Field(
        default=None, description="Concealed hinges: from the front edge to the plate's screws; 37 mm where left out."
    )
    along: AxisName | None = Field(
        default=None, description="Bar pulls: the axis that they lie along; left to right, or upright, where left out."
    )
    center_to_center: Expr | None = Field(
        default=None, description="Pulls: between the middles of their two holes; as the item has it where left out."
    )
    held_by: Literal["screws", "glue", "both"] | None = Field(
        default=None,
        description="Magnets: what holds them, or their half on the part that `on` names; screws where left out.",
    )
    other_half_held_by: Literal["screws", "glue", "both"] | None = Field(
        default=None, description="Magnets: what holds the plate in the part opposite; screws where left out."
    )
    set_below: Expr | None = Field(
        default=None, description="Magnets: how far they lie below the face, each half; 1/64 in where left out."
    )
    after: Names = Field(default=[], description="What is there before this hardware goes on, when the finish is dry.")
    before: Names = Field(
        default=[], description="Parts or assemblies that come when this hardware sits: it goes on the loose part."
    )
    mark: Literal["from_mate"] | None = Field(
        default=None,
        description="Magnets and leaf hinges: the recess opposite is marked from the half that sits, and cut then, not before assembly.",
    )
    helps: list[HelpEntry] = Field(default=[], description=HELPS)
    note: str = ""
    name: Name | None = Field(default=None, description=LINE_NAME)
    another_way: FittingEntry | None = Field(default=None, description=ANOTHER_WAY)
