"""Settings of saw and planer: what makes the blanks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.model.settings.base import Settings, Value
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class SheetSettings(Settings):
    """The cuts of one sheet of the layout; ``stock`` in the words of the store."""

    sheet: int
    stock: str
    cuts: int
    thickness: Length


@dataclass(frozen=True, slots=True)
class LineCutSettings(Settings):
    """Cuts of sheets that no guide serves: which, in words, and how many."""

    cuts: str
    count: int


@dataclass(frozen=True, slots=True)
class CrosscutSettings(Settings):
    """``start``: the first of several steps, where ends are squared. ``blanks``: what comes off, in a word."""

    stop: Length
    count: int
    strips: bool
    start: bool
    blanks: str


@dataclass(frozen=True, slots=True)
class RipSettings(Settings):
    """``rest`` names the board that the parts are still one with; empty where they are loose."""

    fence: Length
    count: int
    strips: bool
    rest: str


@dataclass(frozen=True, slots=True)
class GlueUpSettings(Settings):
    """A panel before it is trimmed; so many clamps below it."""

    strips: int
    strip_width: Length
    strip_length: Length
    rough_length: Length
    rough_width: Length
    thickness: Length
    clamps: int


@dataclass(frozen=True, slots=True)
class TrimPanelSettings(Settings):
    """``extra`` is what each edge is too large by."""

    length: Length
    width: Length
    extra: Length
    rough_width: Length


@dataclass(frozen=True, slots=True)
class TrimPartSettings(Settings):
    length: Length
    width: Length
    oversize: Length


@dataclass(frozen=True, slots=True)
class FittedSettings(Settings):
    """The calculated size of a part that is marked from the standing piece, and what it is too large by."""

    length: Length
    width: Length
    longer: Length
    wider: Length


@dataclass(frozen=True, slots=True)
class FittedMouldingSettings(Settings):
    """How far the saw is turned, in degrees; ``stands``: the moulding stands on edge. ``front``: it is the first of its ring, ``dry``: it is
    not fastened, and only held there."""

    mitre: Fraction
    tilt: Fraction
    stands: bool
    front: bool
    dry: bool


@dataclass(frozen=True, slots=True)
class CutOffSettings(Settings):
    """Short parts off their board: whether it was ripped before, carries a chamfer, has its end squared."""

    stop: Length
    count: int
    stock: str
    ripped: bool
    chamfered: bool
    squared: bool


@dataclass(frozen=True, slots=True)
class BoardChamferSettings(CutOffSettings):
    """The chamfer sawn while the part is one with its board."""

    size: Length


@dataclass(frozen=True, slots=True)
class PlaningSettings(Settings):
    """``sold`` is the thickness as bought; ``rough``: the boards are not planed yet."""

    thickness: Length
    sold: Length
    count: int
    stock: str
    rough: bool


@dataclass(frozen=True, slots=True)
class ResawSettings(PlaningSettings):
    """``leaves`` come from one board; ``rest`` is what the thinnest board left over is good for."""

    fence: Length
    leaves: int
    from_one: str
    rest: Length | None


@dataclass(frozen=True, slots=True)
class TapeSettings(Settings):
    """How long the tape for each part is cut, by part id."""

    lengths: tuple[tuple[str, Length], ...]

    def named(self) -> Iterator[tuple[str, Value]]:
        for part, length in self.lengths:
            yield f"length {part}", length


@dataclass(frozen=True, slots=True)
class ProfileSettings(Settings):
    """A moulding's or round part's section by its name; ``boards`` are the full boards that it is run on, empty for parts cut to length."""

    width: Length
    thickness: Length
    profile: str
    boards: str = ""


@dataclass(frozen=True, slots=True)
class SlantSettings(Settings):
    """How far the saw's fence and blade are turned, in degrees."""

    mitre: Fraction
    tilt: Fraction


@dataclass(frozen=True, slots=True)
class MitreSettings(SlantSettings):
    """``stands``: the piece stands on edge at the saw. ``short``: it is cut off a longer piece last."""

    stands: bool
    moulding: bool
    short: bool
