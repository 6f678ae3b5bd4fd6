"""How a woodworker calls a side of a part, with its two words apart, and the places where glue goes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from drawleaf.english import listed
from drawleaf.model.place import Face


class Side(str):
    """``inside face``: ``which`` one and of what ``kind`` (``face``, ``edge``, ``end``). It prints as its words.

    ``inward``: it looks into its assembly. ``of_twins``: it is so called that mirrored twins have it alike.
    """

    __slots__ = ("inward", "kind", "of_twins", "which")

    which: str
    kind: str
    inward: bool
    of_twins: bool

    def __new__(cls, which: str, kind: str, *, inward: bool = False, of_twins: bool = False) -> Side:
        side = super().__new__(cls, f"{which} {kind}" if which else kind)
        side.which, side.kind, side.inward, side.of_twins = which, kind, inward, of_twins
        return side

    @property
    def of_either_twin(self) -> Side:
        """The same where it does not matter which of two mirrored parts is meant: ``end`` for the left end of the one and the right of the other."""
        return Side("", self.kind) if self.which in (Face.LEFT.value, Face.RIGHT.value) else self


@dataclass(frozen=True, slots=True)
class GluePlace:
    """Where glue goes, before the parts are named: ``on`` ``the ends`` (of a part), ``in`` ``the dado`` (``in`` it)."""

    where: str
    what: str | Markup
    whose: str = "of"

    @property
    def words(self) -> Markup:
        """``on the ends``."""
        return Markup("{} {}").format(self.where, self.what)


def told_together(places: Iterable[GluePlace]) -> list[GluePlace]:
    """Places of the same parts: ``on`` ``the ends and the top edge`` comes first, as one."""
    some = list(places)
    on = [place for place in some if place.where == "on"]
    rest = [place for place in some if place.where != "on"]
    if len(on) < 2:
        return [*on, *rest]
    names = [place.what for place in on]
    what = Markup("{} and {}").format(Markup(", ").join(names[:-1]), names[-1])
    return [GluePlace("on", what), *rest]


def sides_together(sides: Sequence[Side]) -> str:
    """``front and back edges``: sides of one kind name it once."""
    kinds = {side.kind for side in sides}
    if len(sides) == 1 or len(kinds) > 1:
        return " and the ".join(sides)
    return f"{listed([side.which for side in sides])} {kinds.pop()}s"
