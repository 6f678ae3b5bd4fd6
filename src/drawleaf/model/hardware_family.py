"""What the rooms ask of bought hardware: typed answers, never the name of its kind. A new family is one record in this file; where it sits and
what is cut for it is in ``resolve/fittings/families/``, its shape in ``solids/hardware_bodies.py``."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from drawleaf.model.pose import Pose


class Carries(Enum):
    """What hardware carries: a top lies on it, a drawer runs on it, a door or lid turns on it, a rail or a whole end is bolted on by it."""

    TOP = "top"
    DRAWER = "drawer"
    LEAF = "leaf"
    MEMBER = "member"


class Wall(Enum):
    """How it goes to the wall: driven through the piece, as a plate that the piece is hung on, as a strap that keeps it from tipping."""

    SCREW = "screw"
    HANGER = "hanger"
    STRAP = "strap"


class Foot(Enum):
    """Where it touches the floor: somewhere near its middle, as a wheel that swivels, or all over its pad."""

    POINT = "point"
    PAD = "pad"


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingStep:
    """The step in which it is fitted. ``name`` is the step's id, ``template`` its wording, ``way`` the work in ``shared/methods``, ``title``
    where it is no plain ``Fit the ...``, ``glued_title`` where glue holds some of it. ``early`` goes on the bare piece, before drawers and doors; ``on_wall`` is done where the piece will
    stand; ``inside`` sits behind the door or panel that takes its other half, which its picture leaves out;
    ``pose`` is how the piece lies meanwhile."""

    name: str
    template: str
    way: str = "fit-hardware"
    title: str = ""
    glued_title: str = ""
    early: bool = False
    on_wall: bool = False
    inside: bool = False
    pose: Pose = Pose.UPRIGHT


@dataclass(frozen=True, slots=True, kw_only=True)
class BringingStep:
    """The step that brings what it carries: wording and way, the word that the step's id begins with, its title, another wording for a lid, what a lid's step warns of, and how
    the piece lies meanwhile."""

    template: str
    way: str
    word: str = "hang"
    title: str = "Hang the {}"
    for_lid: str = ""
    lid_cautions: tuple[str, ...] = ()
    pose: Pose = Pose.UPRIGHT


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareFamily:
    """The answers of a kind of hardware. What is not asked of it is left at its default.

    ``step`` is None where it comes with what it ``carries``, or is fitted as its packet says. ``cautions`` are the ids of what its step warns
    of. ``guest`` is what lies in its recess, ``recess_for`` the same in the recess's title, and ``bored_for`` what
    small holes are bored for before it comes. ``cupped`` is a hinge with a cup in the back of the
    door and an arm on a plate: it turns about the axis square to both, and its door comes from before it. ``all_along`` holds along
    its whole edge. ``holds_panel`` keeps a loose panel in its place; ``holds_shelf`` carries a loose shelf on its pins; ``lines_hole`` lines
    such a hole; ``hung_on`` is what coats and bags are hung on; ``on_cleat`` holds a cleat to the wall that the piece hooks over; ``handle`` is screwed on through holes that a template shows.
    """

    key: str
    carries: Carries | None = None
    step: FittingStep | None = None
    brings: BringingStep = BringingStep(template="hang-drawer", way="hang-drawer")
    cautions: tuple[str, ...] = ()
    wall: Wall | None = None
    foot: Foot | None = None
    guest: str = "what goes in it"
    recess_for: str = ""
    bored_for: str = ""
    cupped: bool = False
    all_along: bool = False
    holds_panel: bool = False
    holds_shelf: bool = False
    lines_hole: bool = False
    hung_on: bool = False
    on_cleat: bool = False
    handle: bool = False
    marks: int | None = None
    """Which of its parts can have its recess marked from the other, when that one's half sits: 0 what it sits on, -1 the part opposite."""
    bending_yield: float = 0.0
    """Bending yield strength of the bolt that it is, in psi: NDS-2018 Table I1, from memory. 0 where its strength is not reckoned."""

    @property
    def moves(self) -> bool:
        """Whether what it carries moves in use: a drawer, a door, a lid; not a top on its fasteners."""
        return self.carries in (Carries.LEAF, Carries.DRAWER)

    @property
    def leaved(self) -> bool:
        """Whether it is a hinge of two leaves, one let into each of the parts."""
        return self.carries is Carries.LEAF and not self.cupped

    @property
    def carries_top(self) -> bool:
        """Whether a top lies on it."""
        return self.carries is Carries.TOP

    @property
    def hangs(self) -> bool:
        """Whether the whole piece hangs on it."""
        return self.wall in (Wall.SCREW, Wall.HANGER)

    @property
    def held_back(self) -> bool:
        """Whether it goes on in the step that brings what it carries."""
        return self.carries in (Carries.LEAF, Carries.TOP, Carries.MEMBER)

    @property
    def bolts_on(self) -> bool:
        """Whether it holds a rail or an end of the piece, which comes off again."""
        return self.carries is Carries.MEMBER


BUTT_HINGE = HardwareFamily(
    key="butt hinge",
    carries=Carries.LEAF,
    brings=BringingStep(template="hang-door", way="hang-door", for_lid="hang-lid", lid_cautions=("finger trap",)),
    guest="a leaf of the hinge",
    recess_for="the hinges",
    marks=0,
)
PIANO_HINGE = HardwareFamily(
    key="piano hinge",
    carries=Carries.LEAF,
    brings=BringingStep(template="hang-door", way="hang-piano", for_lid="hang-lid", lid_cautions=("finger trap",)),
    guest="a leaf of the hinge",
    recess_for="the piano hinge",
    all_along=True,
)
CONCEALED_HINGE = HardwareFamily(
    key="concealed hinge",
    carries=Carries.LEAF,
    brings=BringingStep(template="hang-cup-door", way="hang-door"),
    guest="the cup of a hinge",
    bored_for="the hinge plates",
    cupped=True,
)
TOP_FASTENER = HardwareFamily(
    key="top fastener",
    carries=Carries.TOP,
    brings=BringingStep(template="fasten-top", way="fasten-top", word="fasten", title="Fasten the {}", pose=Pose.OVER),
    guest="a fastener",
    recess_for="the top fasteners",
)
SLIDES = HardwareFamily(
    key="slides",
    carries=Carries.DRAWER,
    step=FittingStep(
        name="fit-slides",
        template="fit-slides",
        way="fit-slides",
        title="Screw the slides to the case and the drawer",
        early=True,
    ),
)
UNDERMOUNT_SLIDES = HardwareFamily(
    key="undermount slides",
    carries=Carries.DRAWER,
    step=FittingStep(
        name="fit-slides",
        template="fit-undermount",
        way="fit-slides",
        title="Screw the slides to the case and the drawer",
        early=True,
    ),
    brings=BringingStep(template="hang-drawer-under", way="hang-drawer"),
)
_BOLTING = BringingStep(template="fasten-bolts", way="fasten-bolts", word="bolt", title="Bolt on the {}")
BARREL_BOLT = HardwareFamily(key="barrel bolt", carries=Carries.MEMBER, brings=_BOLTING, bending_yield=45_000.0)
LAG_SCREW = HardwareFamily(key="lag screw", carries=Carries.MEMBER, brings=_BOLTING, bending_yield=60_000.0)
RAIL_BRACKET = HardwareFamily(
    key="rail bracket",
    carries=Carries.MEMBER,
    brings=BringingStep(template="hook-rails", way="hook-rails", word="hook", title="Hook on the {}"),
    guest="a plate of the bracket",
    recess_for="the rail brackets",
)
_ON_WALL = FittingStep(
    name="hang-on-wall", template="hang-on-wall", way="wall", title="Hang it on the wall", on_wall=True
)
WALL_SCREW = HardwareFamily(key="wall screw", step=_ON_WALL, wall=Wall.SCREW, cautions=("wall fixing",))
CLEAT_SCREW = HardwareFamily(
    key="cleat screw",
    step=FittingStep(
        name="hang-on-wall", template="hang-on-cleat", way="wall", title="Hang it on its cleat", on_wall=True
    ),
    wall=Wall.SCREW,
    on_cleat=True,
    cautions=("wall fixing",),
)
HANGER = HardwareFamily(key="hanger", step=_ON_WALL, wall=Wall.HANGER, cautions=("wall fixing",))
STRAP = HardwareFamily(
    key="anti-tip strap",
    step=FittingStep(
        name="anchor-to-wall", template="anchor-to-wall", way="wall", title="Fasten it to the wall", on_wall=True
    ),
    wall=Wall.STRAP,
    cautions=("tip-over", "wall fixing"),
)
LEVELLER = HardwareFamily(
    key="leveller",
    step=FittingStep(
        name="fit-levellers",
        template="fit-levellers",
        way="fit-feet",
        title="Fit the leveling feet",
        early=True,
        pose=Pose.ON_BACK,
    ),
    foot=Foot.PAD,
)
CASTOR = HardwareFamily(
    key="castor",
    step=FittingStep(
        name="fit-castors", template="fit-castors", title="Screw on the casters", early=True, pose=Pose.ON_BACK
    ),
    foot=Foot.POINT,
)
SHELF_PIN = HardwareFamily(key="shelf pin", holds_shelf=True)
PIN_SLEEVE = HardwareFamily(
    key="pin sleeve",
    step=FittingStep(
        name="press-sleeves",
        template="press-sleeves",
        way="press-sleeves",
        title="Press in the pin sleeves",
        early=True,
    ),
    lines_hole=True,
)
CORNER_BRACKET = HardwareFamily(
    key="corner bracket",
    step=FittingStep(name="fit-brackets", template="fit-brackets", title="Screw in the corner brackets", early=True),
)
INSET_MAGNET = HardwareFamily(
    key="inset magnet",
    step=FittingStep(
        name="fit-magnets",
        template="fit-magnets",
        title="Screw in the magnets and their plates",
        glued_title="Set in the magnets and their plates",
        early=True,
        inside=True,
    ),
    cautions=("magnets",),
    guest="the magnet or its plate",
    recess_for="the magnets and their plates",
    marks=-1,
    holds_panel=True,
)
CATCH = HardwareFamily(key="catch", step=FittingStep(name="fit-catch", template="fit-catch", inside=True))
LID_STAY = HardwareFamily(
    key="lid stay",
    step=FittingStep(name="fit-stay", template="fit-stay", inside=True),
    cautions=("finger trap",),
)
HOOK = HardwareFamily(key="hook", step=FittingStep(name="fit-hooks", template="fit-hooks"), hung_on=True)
PULL = HardwareFamily(key="pull", step=FittingStep(name="fit-pull", template="fit-pull"), handle=True)
KNOB, HANDLE = (HardwareFamily(key=key, handle=True) for key in ("knob", "handle"))
BOLTED_PULL = HardwareFamily(
    key="bolted pull", step=FittingStep(name="fit-pull", template="fit-bolted-pull", way="fit-bolts"), handle=True
)

HARDWARE_FAMILIES = (
    TOP_FASTENER,
    UNDERMOUNT_SLIDES,
    SLIDES,
    CONCEALED_HINGE,
    PIANO_HINGE,
    BUTT_HINGE,
    BARREL_BOLT,
    LAG_SCREW,
    RAIL_BRACKET,
    WALL_SCREW,
    CLEAT_SCREW,
    HANGER,
    STRAP,
    LEVELLER,
    CASTOR,
    SHELF_PIN,
    PIN_SLEEVE,
    CORNER_BRACKET,
    INSET_MAGNET,
    CATCH,
    LID_STAY,
    HOOK,
    PULL,
    KNOB,
    HANDLE,
    BOLTED_PULL,
)
"""Every family that a room asks something of; where several carry one thing, the first says how it is brought."""
_BY_KEY = {family.key: family for family in HARDWARE_FAMILIES}


def family_of(kind: str) -> HardwareFamily:
    """The family of a kind of hardware; of one that is not known here, which is screwed on as its packet says, one without answers."""
    return _BY_KEY.get(kind) or HardwareFamily(key=kind)


def leading(families: Iterable[HardwareFamily]) -> HardwareFamily | None:
    """The one among these that says how what they carry is brought; None where there are none."""
    order = {family.key: place for place, family in enumerate(HARDWARE_FAMILIES)}
    return min(families, key=lambda one: order.get(one.key, len(order)), default=None)
