"""``joints:`` as typed models: how parts meet and how they are held."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, create_model

from drawleaf.joinery import FAMILIES
from drawleaf.source.help_models import HELPS, HelpEntry
from drawleaf.source.nodes import ANOTHER_WAY, LINE_NAME, Expr, FaceName, Name, Names, SourceNode, Yes


class ScrewOptions(SourceNode):
    """How screws, pocket screws or brads are set: which item, how many or how far apart, how far from the ends, through which part."""

    item: str | None = None
    count: Expr | None = None
    spacing: Expr | None = None
    end_distance: Expr | None = None
    through: str | None = None
    on: FaceName | None = Field(default=None, description="Pocket screws: the face that the pockets are bored in.")
    slots: Yes = Field(
        default=None, description="Screws through slots, so that a wide board can move across its grain."
    )
    drawbore: Expr | None = Field(
        default=None,
        description="Pegs: how much nearer to the shoulder the tenon is bored, so that the peg draws it in.",
    )
    heads: Literal["flush", "filled", "plugged"] | None = Field(
        default=None,
        description="Screws: what hides their heads. `plugged`: plugs of wood in counterbores; `filled`: wood filler; `flush` where left out.",
    )
    counterbore: Expr | None = Field(
        default=None,
        description="How far heads lie below the face; 1/4 in under a plug and 1/16 in under filler where left out. Without `heads` the counterbore stays open, as in thick rails.",
    )
    plug: str | None = Field(
        default=None, description="The plug, from shared/hardware; as wide as the heads ask for where left out."
    )
    rows: dict[FaceName, Expr] = Field(
        default={},
        description="Rows of screws or brads, and how far each is from a face of the part they go through: {bottom: 1-3/4, top: 1}.",
    )


EVERY = "every "
"""Before the spacing of fasteners."""


def _short(value: Any) -> Any:
    """``3`` for so many, ``every 6`` for so far apart."""
    if not isinstance(value, str):
        return value
    if value.isdecimal():
        return {"count": value}
    return {"spacing": value.removeprefix(EVERY)} if value.startswith(EVERY) else value


_SHORT = Annotated[int, Field(ge=1)] | Annotated[str, Field(pattern=f"^({EVERY}.+|[0-9]+)$")]
Fasteners = Annotated[ScrewOptions, BeforeValidator(_short, json_schema_input_type=ScrewOptions | _SHORT)]
"""Options of fasteners; or only how many (``3``), or how far apart (``every 6``)."""


class Fastening(SourceNode):
    """One entry of ``with:``. A bare word is short for the word with no options, ``{screws: 3}`` for their ``count``, ``{brads: every 6}`` for their ``spacing``."""

    glue: Yes = None
    screws: Fasteners | None = None
    pocket_screws: Fasteners | None = None
    brads: Fasteners | None = None
    dowels: Fasteners | None = None
    pegs: Fasteners | None = None


_IN_WORDS = re.compile(
    rf"(?:(?P<count>[0-9]+) (?P<these>[a-z][a-z_ ]*?)|(?P<row>[a-z][a-z_ ]*?) (?P<every>{EVERY}.+?))(?: through (?P<through>[a-z][a-z0-9_.]*))?(?: on (?P<on>[a-z]+))?"
)


def _worded(value: Any) -> Any:
    """``3 screws``, ``brads every 6``, ``2 pocket screws on back``, ``4 screws through top``: how many or how far apart, through which part and on which face."""
    said = _IN_WORDS.fullmatch(value) if isinstance(value, str) else None
    if said is None:
        return value
    word = (said["these"] or said["row"]).replace(" ", "_")
    options = {"count": said["count"]} if said["count"] else {"spacing": said["every"].removeprefix(EVERY)}
    return {
        word if word.endswith("s") else f"{word}s": {
            **options,
            **{key: said[key] for key in ("through", "on") if said[key]},
        }
    }


FasteningWord = Literal["glue", "screws", "pocket_screws", "brads", "dowels", "pegs"]
_WORDS = Annotated[str, Field(pattern=f"^([0-9]+ [a-z][a-z_ ]*|[a-z][a-z_ ]* {EVERY}.+)$")]
FasteningInWords = Annotated[
    FasteningWord | Fastening, BeforeValidator(_worded, json_schema_input_type=FasteningWord | Fastening | _WORDS)
]
"""An entry of ``with:``: a word, a word with options, or both in words: ``3 screws``."""


class SplineOptions(SourceNode):
    """``spline:`` a strip let into both halves of a mitre: how thick or of what stock, how deep in each part."""

    thickness: Expr | None = Field(default=None, description="How thick the strip is; as its stock if left out.")
    depth: Expr
    stock: str | None = Field(
        default=None,
        description="What it is cut from; thin plywood of that thickness, else the wood of the mitred part, if left out.",
    )


class LooseOptions(SourceNode):
    """``loose:`` the tenon as a piece of its own: how thick, wide and long it is, and the stock of the strip that it is cut off; or the
    ``item`` that is bought in its place."""

    thickness: Expr | None = Field(default=None, description="How thick it is; a third of the wood if left out.")
    width: Expr | None = Field(default=None, description="How wide; three times as wide as thick if left out.")
    length: Expr | None = Field(
        default=None, description="How long; five times its thickness if left out, less in thin wood."
    )
    stock: str | None = Field(default=None, description="What the strip is milled of; as the first part if left out.")
    item: str | None = Field(default=None, description="A loose tenon of shared/hardware, bought instead of made.")


_FAMILIES: dict[str, Any] = {
    one.facts.key: (Names | None, Field(default=None, description=one.facts.meaning)) for one in FAMILIES
}
FamilyKeys = create_model("FamilyKeys", __base__=SourceNode, **_FAMILIES)
"""The key of each joint family, with the names of what is let in or set on."""


class JointEntry(FamilyKeys):
    """``joints:`` how parts meet. Exactly one family key names what is let in or set on; ``to`` or ``in`` names what receives it.

    A name stands for all copies of a part; an assembly's name for those of its parts that touch. ``depth`` is how far the part is let in.
    """

    to: Names | None = None
    in_: Names | None = Field(default=None, alias="in")
    depth: Expr | None = None
    clearance: Expr | None = Field(
        default=None, description="Room left at the bottom of a groove for the panel to move."
    )
    stopped: dict[FaceName, Expr] = Field(
        default={}, description="Ends of the channel that stop short, and how far from that face."
    )
    thickness: Expr | None = Field(
        default=None, description="Of a tongue, tenon or spline; a third of the wood if left out."
    )
    shoulder: Expr | None = Field(default=None, description="Wood left at each edge of a tenon.")
    offset: dict[FaceName, Expr] = Field(
        default={}, description="How far a tongue or tenon stands from a face of its part; in the middle if left out."
    )
    haunch: Expr | None = Field(default=None, description="Depth of the haunch beside a tenon at the end of a stile.")
    through: Yes = Field(default=None, description="The tenon comes out on the far side.")
    loose: Yes | LooseOptions = Field(
        default=None, description="Both parts are mortised, and a loose tenon joins them; its sizes, or yes."
    )
    count: Expr | None = Field(default=None, description="How many tails, fingers or tenons.")
    finger_width: Expr | None = Field(default=None, description="Box joint: how wide one finger is.")
    slope: Expr | None = Field(default=None, description="Slope of a dovetail: 1/8, 1/6.")
    on: FaceName | None = Field(default=None, description="Half lap: the side on which the first part lies.")
    after_assembly: Yes = Field(
        default=None, description="Rabbet: cut with a bearing bit when the parts around it are glued."
    )
    spline: SplineOptions | None = Field(default=None, description="A strip of wood let into a mitre across its line.")
    with_: list[FasteningInWords] = Field(default=[], alias="with")
    after: Names = Field(
        default=[], description="Parts or assemblies that stand before what this line lets in or sets on comes to them."
    )
    before: Names = Field(
        default=[],
        description="Parts or an assembly that come when this joint is made: it is joined first, by itself.",
    )
    mark: Literal["from_mate"] | None = Field(
        default=None,
        description="Dowels: the holes of the second part are marked through from those of the first, not measured.",
    )
    helps: list[HelpEntry] = Field(default=[], description=HELPS)
    name: Name | None = Field(default=None, description=LINE_NAME)
    another_way: JointEntry | None = Field(default=None, description=ANOTHER_WAY)
