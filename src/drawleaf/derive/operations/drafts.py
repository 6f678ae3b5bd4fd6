"""Steps in the making, and the workshop that keeps count of what has been done to each part."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from enum import IntEnum
from functools import lru_cache
from typing import TypeVar

from drawleaf.derive.shop.methods import kit_of, lesson_of, method_of, minutes_for, owned_by, ways_for
from drawleaf.derive.shop.part_words import merged_name
from drawleaf.english import listed, plural
from drawleaf.language import Words
from drawleaf.model.catalogue import Caution
from drawleaf.model.lists import CutList, Layouts
from drawleaf.model.plan import Fastener, Feature, FinishCoat, Fitting, Joint, Part, Plan
from drawleaf.model.position import Position
from drawleaf.model.settings import NO_SETTINGS, Settings
from drawleaf.model.steps import Copy, HardwareUse, Operation, Scene
from drawleaf.model.tools import PutOn

Member = TypeVar("Member")
Kind = TypeVar("Kind", bound=Settings)


def _together(_: object) -> Hashable:
    return None


def by_setting(
    found: Iterable[Member],
    setting_of: Callable[[Member], Kind],
    apart: Callable[[Member], Hashable] = _together,
) -> list[tuple[Kind, list[Member]]]:
    """What was found, gathered by its settings, in the order in which it comes: what an operation says is what its members share.

    Work that must not share an operation for another reason (of another assembly, say) is kept ``apart`` by a key of its own.
    """
    groups: dict[Hashable, tuple[Kind, list[Member]]] = {}
    for member in found:
        setting = setting_of(member)
        groups.setdefault((apart(member), setting), (setting, []))[1].append(member)
    return list(groups.values())


def distinct(parts: Iterable[Part]) -> list[Part]:
    """The parts, each once, in their order."""
    return list({part.id: part for part in parts}.values())


class Stage(IntEnum):
    """The headings of the steps, in the order of work."""

    CUT = 1
    PANELS = 2
    MACHINE = 3
    DRILL = 4
    SHAPE = 5
    SAND = 6
    COAT_PARTS = 7
    ASSEMBLE = 8
    SMOOTH = 9
    FINISH = 10
    FIT = 11
    PLACE = 12

    @property
    def heading(self) -> str:
        return _HEADINGS[self]


LAST_PARTS = "Add the last parts"
"""The heading of what is fitted, where none of it is hardware."""

_HEADINGS = {
    Stage.CUT: "Cut the parts",
    Stage.PANELS: "Glue up the panels",
    Stage.MACHINE: "Cut the joints",
    Stage.DRILL: "Drill the parts",
    Stage.SHAPE: "Shape the parts",
    Stage.SAND: "Sand before you assemble",
    Stage.COAT_PARTS: "Coat before you assemble",
    Stage.ASSEMBLE: "Put it together",
    Stage.SMOOTH: "Fill and sand",
    Stage.FINISH: "Finish",
    Stage.FIT: "Fit the hardware",
    Stage.PLACE: "Put it in its place",
}


@dataclass(frozen=True, slots=True)
class Draft:
    """A step before it has a number."""

    id: str
    stage: Stage
    title: str
    assembly: str | None
    operations: tuple[Operation, ...]
    scene: Scene | None
    hardware: tuple[HardwareUse, ...] = ()
    cautions: tuple[Caution, ...] = ()
    heading: str = ""
    also: tuple[str, ...] = ()
    copies: tuple[Copy, ...] = ()


@dataclass
class Workshop:
    """Makes operations, each after all that was done to its parts before. Gathers steps as it goes, and lives for one call.

    ``borrowed`` are tools that the kit lacks and that the steps may use all the same.
    """

    plan: Plan
    cut_list: CutList
    layouts: Layouts
    borrowed: frozenset[str] = frozenset()
    kinds: dict[str, str] = field(default_factory=dict)
    """Every kind of work asked for, with the name of the first operation that is of it."""
    drafts: list[Draft] = field(default_factory=list)
    on_board: dict[str, tuple[Feature, ...]] = field(default_factory=dict)
    """What is cut along the boards of short parts, by part: it is no work on the part any more."""
    late: frozenset[str] = frozenset()
    """The parts whose work waits until they have been cut to their last size from the standing piece."""
    late_work: Callable[[Workshop], None] | None = None
    """All work on loose parts but cutting them out, for those that were late."""
    at_work: frozenset[str] | None = None
    lines_now: frozenset[Position] = frozenset()
    """The lines of machining that are cut into the standing piece now; none while loose parts are worked on."""
    stood: set[Position] = field(default_factory=set)
    """The lines of machining that have been cut into the standing piece."""
    fitted: set[str] = field(default_factory=set)
    """The parts that have been cut to their last size from the standing piece."""
    _last: dict[str, tuple[str, ...]] = field(default_factory=dict)
    _given: set[str] = field(default_factory=set)
    _steps: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        self._kit = owned_by(kit_of(self.plan), self.plan.catalogue)
        self._owned = self._kit | self.borrowed

    @property
    def words(self) -> Words:
        """Our own words in the plan's language, for the titles of steps."""
        return self.plan.words

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts that are worked on now: all but the late ones, or those of the late ones whose turn it is. What is cut when the piece
        stands is no part of them before, and all of them then."""
        waiting = self.plan.order.lines_standing
        parts = tuple(self._left(part) for part in self.plan.parts if self.works_on(part.id))
        if not waiting:
            return parts
        now = self.lines_now
        return tuple(
            replace(part, features=tuple(f for f in part.features if (f.position in (now or waiting)) is bool(now)))
            for part in parts
        )

    def _left(self, part: Part) -> Part:
        """The part without what was cut along its board, before it was cut off."""
        done = self.on_board.get(part.id)
        return replace(part, features=tuple(f for f in part.features if f not in done)) if done else part

    def works_on(self, part: str) -> bool:
        """Whether a part is worked on now."""
        return part not in self.late if self.at_work is None else part in self.at_work

    def work_late(self, parts: Iterable[str], heading: str) -> None:
        """All further work on late parts, now that they have their size; it comes under that heading, like the fitting."""
        parts = frozenset(parts) & self.late
        if not parts or self.late_work is None:
            return
        before, start = self.at_work, len(self.drafts)
        self.at_work = parts
        self.late_work(self)
        self.at_work = before
        for place in range(start, len(self.drafts)):
            self.drafts[place] = replace(
                self.drafts[place], stage=Stage.ASSEMBLE, heading=heading or Stage.ASSEMBLE.heading
            )

    def first_tool(self, kind: str) -> str:
        """The tool that does this kind of work in this kit."""
        return ways_for(kind, self.plan.catalogue, self._owned)[0].tools[0]

    def operation(
        self,
        name: str,
        kind: str,
        parts: Sequence[str],
        *,
        way: str | None = None,
        pieces: int | None = None,
        settings: Settings = NO_SETTINGS,
        joints: Iterable[Joint] = (),
        features: Iterable[tuple[str, Feature]] = (),
        fasteners: Iterable[Fastener] = (),
        fittings: Iterable[Fitting] = (),
        coat: FinishCoat | None = None,
        after: Iterable[str] = (),
        wait_hours: float = 0.0,
        standing: Sequence[str] = (),
        by: PutOn | None = None,
    ) -> Operation:
        """An operation of that wording ``kind``, done as the kit best does the work ``way`` (of the same name where not given), after
        the last work on its parts and on those ``standing``. A finish is put on ``by`` what the author says."""
        touched = tuple(dict.fromkeys((*parts, *standing)))
        before = dict.fromkeys((*(op for part in touched for op in self._last.get(part, ())), *after))
        catalogue, work = self.plan.catalogue, way or kind
        best, others = ways_for(work, catalogue, self._owned)
        if by is not None:
            asked = next((one for one in (best, *others) if catalogue.tools[one.tools[0]].puts_on is by), best)
            best, others = asked, tuple(one for one in (best, *others) if one is not asked)
        self.kinds.setdefault(work, name)
        operation = Operation(
            id=self._unique(name, self._given),
            kind=kind,
            parts=tuple(parts),
            after=tuple(before),
            method=method_of(best, catalogue, self._kit),
            others=tuple(method_of(other, catalogue, self._kit) for other in others),
            settings=settings,
            joints=tuple(joints),
            features=tuple(features),
            fasteners=tuple(fasteners),
            fittings=tuple(fittings),
            coat=coat,
            minutes=minutes_for(work, best, catalogue, len(parts) if pieces is None else pieces),
            wait_hours=wait_hours,
            lesson=lesson_of(work, best, catalogue),
            set_up=minutes_for(work, best, catalogue, 0),
        )
        for part in touched:
            self._last[part] = (operation.id,)
        return operation

    def add(
        self,
        step_id: str,
        stage: Stage,
        title: str,
        operations: Sequence[Operation],
        scene: Scene | None,
        *,
        assembly: str | None = None,
        hardware: Iterable[HardwareUse] = (),
        cautions: Iterable[Caution] = (),
        heading: str = "",
        also: Iterable[str] = (),
    ) -> None:
        """One more step, under the stage's heading or one of its own; ``also`` are names of work gathered in it."""
        heading = heading or self.words.put(stage.heading)
        step_id = self._unique(step_id, self._steps)
        named = tuple(name for name in dict.fromkeys(also) if name != step_id)
        self.drafts.append(
            Draft(
                step_id,
                stage,
                title,
                assembly,
                tuple(operations),
                scene,
                tuple(hardware),
                tuple(cautions),
                heading,
                named,
            )
        )

    def number(self, part_id: str) -> int:
        return self.cut_list.item_of(part_id).number

    def name(self, part_id: str) -> str:
        return self.cut_list.item_of(part_id).name

    def set_up(self, part: Part) -> tuple[str, str]:
        """What shares a set-up at a machine: assembly and kind of the part; those of its first twin where a whole assembly has twins, such as
        the second of two doors."""
        first = self.cut_list.item_of(part.id).parts[0]
        return (first.assembly, first.kind) if first.assembly != part.assembly else (part.assembly, part.kind)

    @staticmethod
    def _unique(name: str, given: set[str]) -> str:
        """The name, with a number where it is taken: also by the number of another name, as the second of ``cut`` takes ``cut-2``."""
        number, found = 1, name
        while found in given:
            number += 1
            found = f"{name}-{number}"
        given.add(found)
        return found


@dataclass(frozen=True, slots=True)
class Work:
    """A file of operations as the list of steps has it: what it does in the shop, and the kinds of work in ``shared/methods`` it asks for."""

    do: Callable[[Workshop], None]
    kinds: tuple[str, ...]


@lru_cache(maxsize=1 << 14)
def local(name: str) -> str:
    """The last word of a dotted id as a step id writes it: ``case.front_rail`` gives ``front-rail``."""
    return slug(name.rsplit(".", 1)[-1])


def slug(text: str) -> str:
    """Lower-case letters and digits with hyphens between words."""
    words = "".join(character if character.isalnum() else " " for character in text.lower()).split()
    return "-".join(words)


def key_of(plan: Plan, part: Part) -> str:
    """What a step about one kind of part is called after: the assembly where it has no other kind (``seat``), else the part's own name,
    with the assembly's before it where two assemblies have parts of that name."""
    if all(plan.part(other).kind == part.kind for other in plan.assembly(part.assembly).parts):
        return local(part.assembly)
    name = local(part.kind)
    namesakes = any(other.kind != part.kind and local(other.kind) == name for other in plan.parts)
    return f"{local(part.assembly)}-{name}" if namesakes else name


def counted(fasteners: Iterable[Fastener]) -> tuple[HardwareUse, ...]:
    """Fasteners and their washers by item, temporary ones left out: they are taken out again and serve twice."""
    counts: dict[str, int] = {}
    items = {}
    for fastener in fasteners:
        if not fastener.temporary:
            for item in (fastener.item, *((fastener.washer,) if fastener.washer is not None else ())):
                items[item.id] = item
                counts[item.id] = counts.get(item.id, 0) + 1
    return tuple(HardwareUse(items[item], count) for item, count in counts.items())


MOST_NAMED = 3
"""So many kinds of part, or so many assemblies, stand in a title. "You need" names them all."""


def title_names(parts: Sequence[Part]) -> str:
    """Parts as a title names them: ``bottom``, ``shelves``, ``left and right sides``, ``front and back top rails``, ``aprons``."""
    return listed(_titled(parts))


def short_names(plan: Plan, parts: Sequence[Part]) -> str:
    """The same, but ``parts of the case`` where there are too many kinds to name."""
    names = _titled(parts)
    homes = list(dict.fromkeys(plan.assembly(part.assembly).name.lower() for part in parts))
    if len(names) <= MOST_NAMED or len(homes) >= MOST_NAMED:
        return listed(names)
    return plan.words.tell("parts of the {}", listed(homes))


def _titled(parts: Sequence[Part]) -> list[str]:
    kinds: dict[str, list[str]] = {}
    for part in parts:
        kinds.setdefault(part.kind, []).append(part.name)
    words: dict[str, int] = {}
    for names in kinds.values():
        name = merged_name(names)
        words[name] = words.get(name, 0) + len(names)
    families: dict[str, list[str]] = {}
    for name in words:
        families.setdefault(name.split()[-1].lower(), []).append(name)
    several = sum(len(names) > 1 for names in families.values()) > 1
    found: list[str] = []
    for names in families.values():
        family = _family(names, short=several) if len(names) > 1 else None
        found += [family] if family else [plural(name) if words[name] > 1 else name for name in names]
    return [name.lower() for name in found]


def _family(names: Sequence[str], *, short: bool) -> str | None:
    """Names that end alike as one: ``Front and back top rails``; ``aprons`` for three of them, or where it is to be ``short``; None where that
    would say something else."""
    words = [name.lower().split() for name in names]
    tail = 1
    while tail < min(map(len, words)) and len({tuple(one[-1 - tail :]) for one in words}) == 1:
        tail += 1
    shared = " ".join(words[0][-tail:])
    if any(len(one) == tail for one in words):
        return plural(shared)
    if any(" and " in name for name in names):
        return plural(shared)
    if len({one[0] for one in words}) < len(words) or any(len(one) > tail + 1 for one in words):
        return None
    return plural(shared if short or len(names) > 2 else merged_name(list(names)))
