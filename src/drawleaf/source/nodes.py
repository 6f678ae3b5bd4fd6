"""What every node of the source tree shares, and the small entries that several kinds of node hold."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr

Expr = Annotated[str, Field(description="A length, number or expression: 3-1/2, 18 mm, width / 2, side.right.")]
Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$", description="Lower-case letters, digits and underscores.")]
AxisName = Literal["x", "y", "z"]
FaceName = Literal["left", "right", "front", "back", "bottom", "top"]
Names = str | list[str]


class Node(BaseModel):
    """Base of all source nodes. ``path`` is where it stands in its file; ``source_file`` which file that is."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
    _path: tuple[str | int, ...] = PrivateAttr(default=())
    _file: str = PrivateAttr(default="")

    @property
    def path(self) -> tuple[str | int, ...]:
        return self._path

    @property
    def source_file(self) -> str:
        return self._file


class At(Node):
    """A place: the two coordinates that the face leaves open, or all three."""

    x: Expr | None = None
    y: Expr | None = None
    z: Expr | None = None


class MirrorEntry(Node):
    """``mirror:`` a twin across a plane: ``mirror: {x: width / 2}``. Exactly one axis."""

    x: Expr | None = None
    y: Expr | None = None
    z: Expr | None = None


class RepeatEntry(Node):
    """``repeat:`` copies along an axis: ``{along: z, pitch: 5, count: 3}`` or ``{along: z, at: [0, 5, 11]}`` (offsets from the first)."""

    along: AxisName
    count: Expr | None = None
    pitch: Expr | None = None
    at: list[Expr] | None = None
