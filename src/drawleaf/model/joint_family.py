"""What the rooms ask of a joint family: typed answers, never its name. Each family gives its own in ``joinery/<family>/``."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawleaf.model.code import Code


class CutKind(StrEnum):
    """Kinds of cuts that joints make. Several families share some: a tongue and a breadboard end both sit in a groove."""

    DADO = "dado"
    GROOVE = "groove"
    RABBET = "rabbet"
    NOTCH = "notch"
    TONGUE = "tongue"
    BREADBOARD_TONGUE = "breadboard tongue"
    TENON = "tenon"
    MORTISE = "mortise"
    HAUNCH = "haunch"
    PEG_SLOT = "peg slot"
    LAP = "lap"
    FORK = "fork"
    FINGER = "finger"
    TAIL = "tail"
    SOCKET = "socket"
    HOUSING = "housing"
    MITRE = "mitre"
    SPLINE_SLOT = "spline slot"


class Easing(StrEnum):
    """What frees a joint that keeps others open."""

    CHANNEL = "sand the end of the part, or deepen the channel"
    TENON = "pare the tenon, or deepen the mortise"


@dataclass(frozen=True, slots=True)
class Moves:
    """How a booklet words the making of a joint, where the plain words (``push ... into the dado in ...``) do not serve.

    ``comes`` is for the first part coming to the second, ``comes_over`` for the second coming to the first; ``{}`` are the parts. Glue
    goes ``glue_where`` (``on``) ``glue`` (``the tails``) of the second part, or of the first (``glue_on_first``).
    """

    comes: str
    comes_over: str
    glue_where: str = ""
    glue: str = ""
    glue_on_first: bool = False


@dataclass(frozen=True, slots=True)
class Called:
    """Other words of the trade for a joint, American and British, and the line that an author of one of them should write: ``{a}`` is what
    is let in or set on, ``{b}`` what receives it. Common usage, from memory, no source."""

    words: tuple[str, ...]
    line: str


@dataclass(frozen=True, slots=True)
class JointFamily:
    """A joint family as every room knows it. Equal only to itself; no room compares ``key``, which is the word of the source.

    ``meaning`` explains the key to an author; ``noun`` and ``plural`` name what takes the part that is let in, ``sits`` how it does.
    """

    key: str
    meaning: str
    noun: str
    plural: str
    sits: str
    let_in: bool = False
    """The first part enters the second, so that a depth must be given."""
    crossing: bool = False
    """The parts are drawn through one another: nothing is let in, and nothing grows."""
    brought: bool = False
    """The joints of loose pieces, which no line of a source asks for."""
    leans: bool = False
    """It can join a part that leans."""
    can_wait: bool = False
    """Its cut can be made when the parts around it stand."""
    channel: CutKind | None = None
    """The channel as wide as the first part is thick, where it makes one."""
    held_in_channel: bool = False
    """A channel with two walls holds the first part's edge, in which it may swell when it is not glued."""
    panel: bool = False
    """The first part slides in its channel until it is home, and is free to move there."""
    moves: bool = False
    """What is not glued is meant to move."""
    tongued: bool = False
    """What is let in is thinner than its part: a tongue."""
    tenoned: bool = False
    """Glue holds the first part by its tenons, which may be loose ones from the store."""
    caps_end: bool = False
    """The second part is a board across the end of the first, which swells and shrinks in it."""
    glued_at: str = ""
    """The one place that takes glue, so that the rest can move: ``middle tenon``. Empty where glue goes all over the joint or nowhere."""
    mitred: bool = False
    """The parts meet at half the corner's angle."""
    fingered: bool = False
    """Fingers or tails along a corner: all cuts together are the joint."""
    forked: bool = False
    """The first part's tenon stands open in a fork, as wide as its part."""
    lapped: bool = False
    """Broad faces are glued across each other."""
    grips: bool = False
    """It holds the first part on both sides; a rabbet is open on one."""
    loose_end: bool = False
    """There may be no bottom to touch: a panel has room to move in its groove, a rod may come through."""
    holds_all_round: bool = False
    """It holds a part in every direction along the face that takes it."""
    comes_across: bool = False
    """The first part comes along its own thickness, whichever face the joint lies on, as tails come to their sockets: so it is pressed home."""
    square_end: bool = False
    """Of a part that leans the end is let in square to its own length; it is not cut to lie flat."""
    end_share: float = 0.5
    """The least share of the joint's end that touches: less where only shoulders or the gaps between fingers do."""
    easing: Easing | None = None
    partner_word: str = "in"
    """How a title names the second part: tail ``in`` pin, one mitred part ``and`` the other."""
    telling: Moves | None = None
    american: str = ""
    """How a title names the family in the language of our own words, where the key is a British word."""
    verb: str = "Push"
    """How the first part comes into its channel."""
    called: tuple[Called, ...] = ()
    codes: tuple[Code, ...] = ()
    """Mistakes that this family alone reports, with what to do."""

    @property
    def set_on(self) -> bool:
        """Whether two faces only meet: nothing is let in, nothing crosses."""
        return not (self.let_in or self.crossing or self.brought or self.holds_all_round)

    @property
    def title(self) -> str:
        """The family as a title names it: ``mortise and tenon``."""
        return self.american or self.key.replace("_", " ")

    def __hash__(self) -> int:
        return hash(self.key)
