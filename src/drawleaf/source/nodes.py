"""What every node of the source tree shares, and the small entries that several kinds of node hold."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PrivateAttr

Expr = Annotated[str, Field(description="A length, number or expression: 3-1/2, 18 mm, width / 2, side.right.")]
Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$", description="Lower-case letters, digits and underscores.")]
AxisName = Literal["x", "y", "z"]
FaceName = Literal["left", "right", "front", "back", "bottom", "top"]
Names = str | list[str]


LINE_NAME = "A name for the line, by which an edition changes it or leaves it out."
ANOTHER_WAY = (
    "Another line of the same sort that does this in another way, with a `name` of its own. What is then done, bought and cut otherwise "
    "is printed as another way; an edition may choose it."
)


def _yes_or_no(value: Any) -> Any:
    """``yes`` and ``no``, ``true`` and ``false`` are two spellings of the same."""
    word = value.lower() if isinstance(value, str) else value
    if word is True or word in ("yes", "true"):
        return True
    return False if word is False or word in ("no", "false") else value


def _yes_or_nothing(value: Any) -> Any:
    plain = _yes_or_no(value)
    return plain if not isinstance(plain, bool) else "yes" if plain else None


_Written = Literal["yes", "no"] | bool
Yes = Annotated[Literal["yes"] | None, BeforeValidator(_yes_or_nothing, json_schema_input_type=_Written)]
YesNo = Annotated[bool, BeforeValidator(_yes_or_no, json_schema_input_type=_Written)]
"""What is switched on or off; ``Yes`` where leaving it out is the only other way."""


No = Literal["no"] | Literal[False]


def unless_no(value: Any) -> Any:
    """Nothing for ``no``, with which a part that is like another says that it has none."""
    return None if _yes_or_no(value) is False else value


FOLLOWING = ("thickness", "grain")
"""Keys of a part that are written out before it is checked, where they follow from the others."""


def unless_like(schema: dict[str, Any]) -> None:
    """What an entry needs, it may have from the one that it is like, or it follows."""
    needed = [key for key in schema.pop("required", []) if key not in FOLLOWING]
    schema["anyOf"] = [{"required": needed}, {"required": ["like"]}]


class SourceNode(BaseModel):
    """Base of all source nodes. ``path`` is where it is in its file; ``source_file`` which file that is."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
    _path: tuple[str | int, ...] = PrivateAttr(default=())
    _file: str = PrivateAttr(default="")

    # Looked up where Pydantic keeps them: its own way to a private attribute takes ten times as long, and places are asked for all the time.
    @property
    def path(self) -> tuple[str | int, ...]:
        return (self.__pydantic_private__ or {}).get("_path", ())

    @property
    def source_file(self) -> str:
        return (self.__pydantic_private__ or {}).get("_file", "")


class At(SourceNode):
    """A place: the two coordinates that the face leaves open, or all three. What is left out is the middle of the part in ``middle_of``."""

    x: Expr | None = None
    y: Expr | None = None
    z: Expr | None = None
    middle_of: str | None = Field(default=None, description="A part: coordinates that are left out are its middle.")


class MirrorEntry(SourceNode):
    """``mirror:`` a twin across a plane: ``mirror: {x: width / 2}``. Exactly one axis."""

    x: Expr | None = None
    y: Expr | None = None
    z: Expr | None = None


class RepeatEntry(SourceNode):
    """``repeat:`` copies along an axis: ``{along: z, spacing: 5, count: 3}`` or ``{along: z, at: [0, 5, 11]}`` (offsets from the first)."""

    along: AxisName
    count: Expr | None = None
    spacing: Expr | None = None
    at: list[Expr] | None = None


MirrorOrNo = Annotated[MirrorEntry | None, BeforeValidator(unless_no, json_schema_input_type=MirrorEntry | No)]
RepeatOrNo = Annotated[RepeatEntry | None, BeforeValidator(unless_no, json_schema_input_type=RepeatEntry | No)]
AxisOrNo = Annotated[AxisName | None, BeforeValidator(unless_no, json_schema_input_type=AxisName | No)]
