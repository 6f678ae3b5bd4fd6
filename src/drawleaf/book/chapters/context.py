"""What every chapter may ask: the derived plan, its drawings, the formatter, and where things stand in the booklet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from pathlib import Path

from markupsafe import Markup

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.lessons import lesson_lines
from drawleaf.book.words.own_templates import AtStepError
from drawleaf.book.words.wording import StepText, step_text
from drawleaf.derive.shop.store_words import size_label
from drawleaf.derive.teaching import taught
from drawleaf.language import Words
from drawleaf.model.catalogue import Caution, Stock
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing, Drawings
from drawleaf.model.lists import CutItem
from drawleaf.model.plan import Note
from drawleaf.model.steps import Step
from drawleaf.model.teaching import Taught
from drawleaf.model.tools import Tool
from drawleaf.units import Length

WORN = "Keeping safe"
"""The group of what is worn, as ``shared/tools`` names it."""
LASTING, MANY = 0.5, 10
"""A tool that at least this share of the steps uses stays on the bench, in a plan of at least so many steps."""
SIGNAL_RANK = ("DANGER", "WARNING", "CAUTION", "NOTICE")


class _StepTexts(Mapping[int, StepText]):
    """The words of each step by its number, made when they are first asked for."""

    def __init__(
        self, steps: Mapping[int, Step], derived: Derived, formatter: Formatter, plan_folder: Path | None
    ) -> None:
        self._steps, self._made = steps, dict[int, StepText]()
        self._make = partial(_worded, derived=derived, formatter=formatter, plan_folder=plan_folder)

    def __getitem__(self, number: int) -> StepText:
        if number not in self._made:
            self._made[number] = self._make(self._steps[number])
        return self._made[number]

    def __iter__(self) -> Iterator[int]:
        return iter(self._steps)

    def __len__(self) -> int:
        return len(self._steps)


def _worded(step: Step, derived: Derived, formatter: Formatter, plan_folder: Path | None) -> StepText:
    """The step's words. Raises AtStepError where a template is at fault, so that an author hears at which step."""
    try:
        return step_text(step, derived, formatter, plan_folder)
    except Exception as error:
        raise AtStepError(step.number, error) from error


@dataclass(frozen=True, slots=True)
class Book:
    """One booklet being set: for paper, or for a screen."""

    derived: Derived
    drawings: Drawings
    formatter: Formatter
    for_print: bool
    texts: Mapping[int, StepText]
    first_steps: Mapping[str, int]
    item_by_part: Mapping[str, CutItem]
    on_the_bench: tuple[Tool, ...] = ()
    """Tools that stay on the bench from first to last: they are named once, and not at each step."""
    taught: Mapping[int, Taught] = field(default_factory=dict)
    plan_folder: Path | None = None
    begun: float = 0.0
    """Millimetres of its last page that the chapter before the one being set takes, where that says so."""

    @staticmethod
    def of(derived: Derived, drawings: Drawings, *, for_print: bool, plan_folder: Path | None = None) -> Book:
        """With the words of each step, and where each caution first appears."""
        formatter = Formatter.of(derived.plan)
        texts = _StepTexts({step.number: step for step in derived.steps}, derived, formatter, plan_folder)
        first_steps: dict[str, int] = {}
        for step in derived.steps:
            for caution in step.cautions:
                first_steps.setdefault(caution.id, step.number)
        items = {part.id: item for item in derived.cut_list.items for part in item.parts}
        bench = _on_the_bench(derived.steps)
        teaches = taught(derived.plan, derived.steps) if derived.plan.about.learner else {}
        return Book(derived, drawings, formatter, for_print, texts, first_steps, items, bench, teaches, plan_folder)

    @property
    def words(self) -> Words:
        """Our own words in the booklet's language."""
        return self.formatter.words

    @property
    def overall(self) -> tuple[Length, Length, Length]:
        """Width, depth and height of the whole piece."""
        x, y, z = (Length(Fraction(side).limit_denominator(100_000)) for side in self.derived.overall)
        return x, y, z

    @property
    def overall_words(self) -> Markup:
        """The overall size with each side named, so that none is taken for another."""
        names = ("wide", "deep", "high")
        sides = zip(self.overall, names, strict=True)
        return self.formatter.join([self.formatter.length(side) + " " + name for side, name in sides])

    def stock_words(self, stock: Stock) -> str:
        """A stock by its name and label size: ``Birch plywood, 3/4 in``. The size is left out where the name has it already."""
        label = size_label(stock)
        return stock.name if not label or label in stock.name else f"{stock.name}, {label}"

    def items(self, part_ids: Iterable[str]) -> tuple[tuple[CutItem, int], ...]:
        """Cut-list rows of these parts with how many of each, by item number."""
        counts: dict[int, int] = {}
        rows: dict[int, CutItem] = {}
        for part_id in part_ids:
            item = self.item_by_part.get(part_id)
            if item is not None:
                rows[item.number] = item
                counts[item.number] = counts.get(item.number, 0) + 1
        return tuple((rows[number], counts[number]) for number in sorted(rows))

    def revised_part(self, item: CutItem) -> bool:
        """Whether any of these parts changed since the revision that changes are marked against."""
        marks = self.derived.revised
        return marks is not None and any(part.id in marks.parts for part in item.parts)

    def revised_step(self, step: Step) -> bool:
        """The same for a step: its own work, or that of which a change matters first there."""
        marks = self.derived.revised
        return marks is not None and step.id in marks.steps

    def revised_layout(self, stock: Stock) -> bool:
        """The same for the layouts of a stock."""
        marks = self.derived.revised
        return marks is not None and stock.id in marks.stocks

    def revised_item(self, item: str) -> bool:
        """The same for an item of hardware, by its id."""
        marks = self.derived.revised
        return marks is not None and item in marks.hardware

    def steps_of(self, item: CutItem) -> tuple[Step, ...]:
        """The steps in which any copy of the part is worked on."""
        ids = {part.id for part in item.parts}
        return tuple(step for step in self.derived.steps if ids & set(step.parts))

    def notes(self, target: str, *hooks: str) -> tuple[Note, ...]:
        """The author's words hooked onto a step, part or chapter."""
        return tuple(note for note in self.derived.plan.notes if note.target == target and note.hook in hooks)

    def part_notes(self, item: CutItem) -> tuple[Note, ...]:
        """The author's words on any copy of a part."""
        return self.notes(
            "part", item.key, *dict.fromkeys(name for part in item.parts for name in (part.id, part.kind))
        )

    def cautions_of(self, step: Step) -> tuple[tuple[Caution, ...], tuple[Caution, ...]]:
        """Those printed in full here (their first place), and those printed again in short form; gravest first.

        A hazard is printed again where a stage begins to have it, and at every step where ``shared/cautions`` says so: nobody reads the
        thirtieth repetition.
        """
        ordered = sorted(step.cautions, key=lambda caution: SIGNAL_RANK.index(caution.signal))
        full = tuple(caution for caution in ordered if self.first_steps[caution.id] == step.number)
        before = {one.id for other in self.derived.steps if _sooner(other, step) for one in other.cautions}
        again = (one for one in ordered if one not in full and (one.every_use or one.id not in before))
        return full, tuple(again)

    def lessons_of(self, step: Step) -> tuple[tuple[str, tuple[Markup, ...]], ...]:
        """What a learner does in a step and what the experienced hand does beside; nothing in a booklet for one. Raises AtStepError where
        a template is at fault."""
        try:
            return lesson_lines(step, self.taught.get(step.number), self.derived, self.formatter, self.plan_folder)
        except Exception as error:
            raise AtStepError(step.number, error) from error

    def details_of(self, step: Step) -> tuple[Drawing, ...]:
        """The enlarged details of the joints that a step cuts or closes; not those that a row of a table tells."""
        cut = {getattr(feature, "joint", None) for operation in step.operations for _, feature in operation.features}
        joints = cut | {joint.id for operation in step.operations for joint in operation.joints}
        wanted = {
            self.drawings.detail_of[joint] for joint in joints if joint is not None and joint in self.drawings.detail_of
        }
        return tuple(drawing for drawing in self.drawings.details if drawing.id in wanted and not drawing.plain)

    def drawing_of(self, step: Step) -> Drawing | None:
        """The drawing of a step, or the sheet or board layout that it cuts."""
        return self.drawings.steps.get(step.number)


def _on_the_bench(steps: Sequence[Step]) -> tuple[Tool, ...]:
    """What most steps use, but for what is worn: each step says that itself."""
    uses = Counter(tool for step in steps for tool in step.tools if tool.group != WORN)
    if len(steps) < MANY:
        return ()
    return tuple(tool for tool, count in uses.most_common() if count >= LASTING * len(steps))


def _sooner(other: Step, step: Step) -> bool:
    """Whether a step comes before this one in the same stage of the work."""
    return other.stage == step.stage and other.number < step.number
