"""Operations and the steps that group them. Lengths stay lengths; wording templates print them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from drawleaf.model.catalogue import Caution, Consumable, FinishProduct, HardwareItem
from drawleaf.model.helps import Help
from drawleaf.model.plan import Fastener, Feature, FinishCoat, Fitting, Joint
from drawleaf.model.pose import Pose
from drawleaf.model.settings import Settings
from drawleaf.model.tools import Tool
from drawleaf.units import Length

Vector = tuple[float, float, float]
JOINING = ("join", "join-body", "join-front")
"""Kinds of operations that close joints, and bring parts together for good."""


@dataclass(frozen=True, slots=True)
class Method:
    """One way to do an operation: the tools it takes (first the one that does the work).

    ``borrow`` are those of them that the kit lacks; ``note`` is what to know of this way before one chooses it,
    ``practiced`` whether it asks for a hand that has done it before.
    """

    id: str
    name: str
    tools: tuple[Tool, ...]
    cautions: tuple[Caution, ...]
    borrow: tuple[Tool, ...] = ()
    note: str = ""
    practiced: bool = False


@dataclass(frozen=True, slots=True)
class Operation:
    """One piece of work. ``kind`` names its wording template; ``parts`` are part ids; ``after`` operation ids that must precede it.
    ``settings`` hold for every one of its ``features``.

    ``minutes`` is hands-on time, ``set_up`` so many of these minutes as set up the work before the first piece; ``wait_hours`` what must pass
    before anything that depends on it.
    """

    id: str
    kind: str
    parts: tuple[str, ...]
    after: tuple[str, ...]
    method: Method
    others: tuple[Method, ...]
    settings: Settings
    joints: tuple[Joint, ...]
    features: tuple[tuple[str, Feature], ...]
    fasteners: tuple[Fastener, ...]
    fittings: tuple[Fitting, ...]
    coat: FinishCoat | None
    minutes: float
    wait_hours: float
    lesson: str = ""
    """How this kind of work is taught: a name of ``templates/lessons``."""
    set_up: float = 0.0


@dataclass(frozen=True, slots=True)
class Move:
    """A part that comes into place in this step, along a unit direction of travel (into its place)."""

    part: str
    direction: Vector


@dataclass(frozen=True, slots=True)
class Scene:
    """What a step's drawing shows: parts that stand already, parts that are new, how they arrive, fasteners and fittings that go in.

    ``layout`` names a sheet or board layout to show instead (``sheet 1``), None otherwise.
    """

    standing: tuple[str, ...]
    new: tuple[str, ...]
    moves: tuple[Move, ...]
    fasteners: tuple[Fastener, ...]
    fittings: tuple[str, ...]
    layout: str | None = None
    pose: Pose = Pose.UPRIGHT


@dataclass(frozen=True, slots=True)
class HardwareUse:
    """So many of an item used in a step."""

    item: HardwareItem
    count: int


@dataclass(frozen=True, slots=True)
class ClampUse:
    """So many clamps on the work at once, each opening at least that far."""

    count: int
    opening: Length


@dataclass(frozen=True, slots=True)
class Copy:
    """One of several like pieces of work that a step tells once: in which assembly it is done (empty where in several), on which parts (in one order for all copies;
    empty where they are worked on each for itself), and by which operations."""

    assembly: str
    parts: tuple[str, ...]
    operations: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """A numbered step of the booklet. ``id`` is stable across redesigns (author's notes hook onto it).

    ``stage`` is its heading (``Cut the parts``). ``assembly`` is the assembly it works on, if one.
    ``also`` are the names of work gathered in this step: a note hooked onto one of them finds it here.
    ``supplies`` is what the step uses up; ``clamps`` what it needs at once; ``next_after_wait`` the first step that must
    wait for this one to dry, None where nothing does. Where the work is done several times alike, ``operations`` has all of it and ``copies``
    says whose is whose; the scene shows the first.
    """

    number: int
    id: str
    stage: str
    title: str
    assembly: str | None
    operations: tuple[Operation, ...]
    parts: tuple[str, ...]
    hardware: tuple[HardwareUse, ...]
    tools: tuple[Tool, ...]
    cautions: tuple[Caution, ...]
    scene: Scene | None
    also: tuple[str, ...] = ()
    supplies: tuple[Consumable | FinishProduct, ...] = ()
    clamps: tuple[ClampUse, ...] = ()
    next_after_wait: int | None = None
    helps: tuple[Help, ...] = ()
    """The scraps that hold or guide this step's work, each where it is set now."""
    copies: tuple[Copy, ...] = ()

    @property
    def once(self) -> Step:
        """The step as it is drawn and told: the first of its copies alone."""
        if not self.copies:
            return self
        own = set(self.copies[0].operations)
        return replace(self, operations=tuple(op for op in self.operations if op.id in own), copies=())

    @property
    def minutes(self) -> float:
        """Hands-on minutes of all its operations."""
        return sum(operation.minutes for operation in self.operations)

    @property
    def wait_hours(self) -> float:
        """Hours that the longest drying of its operations takes."""
        return max((operation.wait_hours for operation in self.operations), default=0.0)


@dataclass(frozen=True, slots=True)
class Spell:
    """Work on one step within one day: hours from the start of that day's work. ``hand`` is 0 for the maker, 1 for a helper."""

    step: int
    day: int
    start: float
    end: float
    hand: int = 0


@dataclass(frozen=True, slots=True)
class Drying:
    """A wait after a step, in hours by the clock since the first day's work began (a day of the calendar has 24)."""

    step: int
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Schedule:
    """Time for the whole plan: hours of hands-on work, hours of waiting on the critical path, days at a stated pace.

    ``spells`` and ``dryings`` lay one person's work out over the days; ``critical`` are the steps that a later finish follows from if
    they take longer. ``helped`` and ``helped_days`` are the same work shared by two.
    """

    active_hours: float
    waiting_hours: float
    days: int
    basis: str
    hours_a_day: float = 0.0
    spells: tuple[Spell, ...] = ()
    dryings: tuple[Drying, ...] = ()
    critical: tuple[int, ...] = ()
    helped: tuple[Spell, ...] = ()
    helped_days: int = 0
    for_two: bool = False
    """Whether ``spells`` are those of two people who build it together, one of them learning."""
