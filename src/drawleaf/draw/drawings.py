"""All drawings of a plan, in one call."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial
from itertools import islice

from drawleaf.cache import NOTHING_KEPT, Kept
from drawleaf.draw import made_from
from drawleaf.draw.at_step.later_cuts import solids_at
from drawleaf.draw.at_step.so_far import States
from drawleaf.draw.joint.details import DetailSetting, detail_id, detail_settings, draw_detail
from drawleaf.draw.layout_drawing import draw_layout
from drawleaf.draw.paper.lettering import label, place_centered
from drawleaf.draw.paper.scales import scale_for, scale_text
from drawleaf.draw.paper.svg import Sketch, write
from drawleaf.draw.part.drawing import draw_part
from drawleaf.draw.piece.cover import draw_cover
from drawleaf.draw.piece.elevations import draw_elevations
from drawleaf.draw.piece.exploded import Exploded, draw_exploded, exploded_views
from drawleaf.draw.piece.sections import draw_sections
from drawleaf.draw.step.drawing import LOW, NARROW, TALL, draw_step
from drawleaf.draw.step.schedule_drawing import draw_schedule
from drawleaf.draw.template.subjects import templates_for
from drawleaf.draw.template.templates import draw_templates
from drawleaf.english import counted, listed
from drawleaf.model.derived import Derived, OtherWay
from drawleaf.model.drawings import Drawing, Drawings
from drawleaf.model.lists import BoardLayout, CutItem, SheetLayout
from drawleaf.model.steps import Step
from drawleaf.second_process import Share, one_by_one
from drawleaf.solids.build import Solids, build_solids
from drawleaf.units import Length

_ROOM = (149.0, 92.0)


def draw_all(
    derived: Derived,
    solids: Solids,
    *,
    for_print: bool = True,
    kept: Kept = NOTHING_KEPT,
    share: Share = one_by_one,
) -> Drawings:
    """Every drawing that the booklet shows. Computed from the solids and the lists; nothing is placed by hand.

    A screen has room for the high drawings of the steps; the low and the narrow ones are left out where nothing is printed.
    ``share`` may have several drawings made at the same time.
    """
    return gathered(Desk(derived, solids, for_print=for_print, kept=kept), share)


def gathered(desk: Desk, share: Share = one_by_one) -> Drawings:
    """All drawings of a plan, as the desk has or makes them."""
    derived = desk.derived
    layouts = (*derived.layouts.sheets, *derived.layouts.boards)
    whole = (desk.cover, desk.exploded, desk.elevations, desk.sections, desk.details, desk.templates)
    # The steps that show much of the piece are made next to the drawings of the whole: they have most in common.
    late = [partial(desk.step, step) for step in reversed(derived.steps)]
    parts = [partial(desk.part, item) for item in derived.cut_list.items]
    made = iter(share([*whole, *late, *parts, *(partial(desk.layout, layout) for layout in layouts)]))
    cover, exploded, elevations, sections, (details, detail_of), templates = islice(made, len(whole))
    steps = dict(reversed([(step.number, next(made)) for step in reversed(derived.steps)]))
    drawn_parts = {item.number: next(made) for item in derived.cut_list.items}
    return Drawings(
        cover=cover,
        exploded=exploded,
        elevations=elevations,
        sections=sections,
        details=details,
        templates=templates,
        templates_for=_templates_for(derived, templates),
        detail_of=detail_of,
        parts={number: drawn[0] for number, drawn in drawn_parts.items()},
        parts_larger={number: drawn[1:] for number, drawn in drawn_parts.items()},
        steps={number: drawn[0] for number, drawn in steps.items() if drawn},
        steps_low={number: drawn[1] for number, drawn in steps.items() if len(drawn) > 1},
        steps_narrow={number: drawn[2] for number, drawn in steps.items() if len(drawn) > 1},
        sheets={layout.number: next(made) for layout in derived.layouts.sheets},
        boards={layout.number: next(made) for layout in derived.layouts.boards},
        schedule=draw_schedule(derived),
        ways={way.id: desk.way(way) for way in derived.ways},
    )


def _templates_for(derived: Derived, drawn: Sequence[Drawing]) -> dict[int, tuple[Drawing, ...]]:
    """The first sheet of each template that serves a step."""
    first: dict[int | None, Drawing] = {}
    for drawing in drawn:
        first.setdefault(drawing.number, drawing)
    return {
        step: tuple(first[number] for number in numbers if number in first)
        for step, numbers in templates_for(derived).items()
    }


def blanks(derived: Derived) -> dict[str, Drawing]:
    """Empty paper in place of the drawings that take longest, for a page that cannot wait."""
    ids = ["cover", "exploded-1", "elevation-front", "elevation-side", "elevation-top", "section-a", "detail-01"]
    ids += [f"part-{item.number:02d}" for item in derived.cut_list.items]
    ids += [f"step-{step.number:02d}" for step in derived.steps if step.scene is not None]
    ids += [f"sheet-{layout.number:02d}" for layout in derived.layouts.sheets]
    ids += [f"board-{layout.number:02d}" for layout in derived.layouts.boards]
    words = "This drawing is still to come."
    paper = Sketch()
    place_centered(paper, label(words), (85.0, 30.0))
    svg = write(paper, 170.0, 60.0, words, words)
    return {an_id: Drawing(an_id, "blank", words, svg, words, 170.0, 60.0, None) for an_id in ids}


class Desk:
    """Draws what is asked for, or takes it from what is kept."""

    def __init__(
        self,
        derived: Derived,
        solids: Solids,
        *,
        for_print: bool = True,
        kept: Kept = NOTHING_KEPT,
        instead: Mapping[str, Drawing] | None = None,
    ) -> None:
        """``instead`` are older drawings that may stand for those that are not at hand, until those are made; ``owed`` says which do."""
        self.derived, self.solids, self.kept, self.instead = derived, solids, kept, instead or {}
        self.for_print = for_print
        self.rooms = (TALL, LOW, NARROW) if for_print else (TALL,)
        self.owed: dict[str, None] = {}

    @cached_property
    def _states(self) -> States:
        return States(self.derived)

    @cached_property
    def _whole(self) -> made_from.Inputs:
        return made_from.of_the_whole(self.derived)

    def some(self, ids: Collection[str]) -> dict[str, Drawing]:
        """The drawings of these ids; ids that the plan does not have are passed over."""
        found: list[Drawing] = []
        found += [self.cover()] if "cover" in ids else []
        for kind, draw in (("exploded", self.exploded), ("elevation", self.elevations), ("section", self.sections)):
            found += draw() if any(an_id.startswith(kind) for an_id in ids) else ()
        found += self.templates() if any(an_id.startswith("template") for an_id in ids) else ()
        found += self.details()[0] if any(an_id.startswith("detail") for an_id in ids) else ()
        found += [self.part(item)[0] for item in self.derived.cut_list.items if f"part-{item.number:02d}" in ids]
        layouts = self.derived.layouts
        found += [self.layout(layout) for layout in layouts.sheets if f"sheet-{layout.number:02d}" in ids]
        found += [self.layout(layout) for layout in layouts.boards if f"board-{layout.number:02d}" in ids]
        found += [one for step in self.derived.steps if f"step-{step.number:02d}" in ids for one in self.step(step)[:1]]
        return {drawing.id: drawing for drawing in found if drawing.id in ids}

    def cover(self) -> Drawing:
        old = self._old("cover")
        return self._made("cover", self._whole, lambda: (draw_cover(self.derived, self.solids),), old)[0]

    def exploded(self) -> tuple[Drawing, ...]:
        return tuple(self._exploded(subject) for subject in exploded_views(self.derived.plan))

    def _exploded(self, subject: Exploded) -> Drawing:
        inputs = made_from.of_an_exploded_view(self.derived, subject)
        draw = partial(draw_exploded, self.derived, self.solids, subject)
        return self._made("exploded", inputs, lambda: (draw(),), self._old(subject.id))[0]

    def elevations(self) -> tuple[Drawing, ...]:
        old = self._old("elevation")
        return self._made("elevations", self._whole, lambda: draw_elevations(self.derived, self.solids), old)

    def sections(self) -> tuple[Drawing, ...]:
        return self._made(
            "sections", self._whole, lambda: draw_sections(self.derived, self.solids), self._old("section")
        )

    def templates(self) -> tuple[Drawing, ...]:
        """Full-size templates, sheet by sheet."""
        old = self._old("template")
        return self._made("templates", self._whole, lambda: draw_templates(self.derived, self.solids), old)

    def details(self) -> tuple[tuple[Drawing, ...], Mapping[str, str]]:
        """The details, and which of them shows which joint."""
        settings = detail_settings(self.derived, self.solids)
        shown_in = {joint.id: detail_id(setting.number) for setting in settings for joint in setting.kind.joints}
        return tuple(self._detail(setting) for setting in settings), shown_in

    def _detail(self, setting: DetailSetting) -> Drawing:
        inputs = made_from.of_a_detail(self.derived, setting)
        draw = partial(draw_detail, self.derived, self.solids, setting)
        return self._made("detail", inputs, lambda: (draw(),), self._old(detail_id(setting.number)))[0]

    def part(self, item: CutItem) -> tuple[Drawing, ...]:
        """As it usually is, then larger."""
        inputs = (made_from.of_a_part(self.derived, item), self.for_print)
        old = self._old(f"part-{item.number:02d}")
        draw = partial(draw_part, self.derived, self.solids, item, for_print=self.for_print)
        return self._made("part", inputs, draw, old)

    def step(self, step: Step) -> tuple[Drawing, ...]:
        """In each of the rooms; empty for a step that has no drawing of its own."""
        step = step.once
        inputs = (made_from.of_a_step(self.derived, step, self._states), len(self.rooms))
        old = self._old(f"step-{step.number:02d}")
        return self._made("step", inputs, lambda: self._drawn(step), old)

    def _drawn(self, step: Step) -> tuple[Drawing, ...]:
        return draw_step(self.derived, solids_at(self.derived, self.solids, step), step, self.rooms)

    def way(self, way: OtherWay) -> tuple[Drawing, ...]:
        """The steps of another way, drawn as its own booklet would have them: low, for they stand between the words."""
        desk = Desk(way.derived, build_solids(way.derived.plan), kept=self.kept)
        desk.rooms = (LOW,)
        drawn = (desk.step(step) for step in way.steps)
        return tuple(replace(one, id=f"way-{way.id}-{one.id}") for drawings in drawn for one in drawings)

    def layout(self, layout: SheetLayout | BoardLayout) -> Drawing:
        kind, draw = ("sheet", _sheet) if isinstance(layout, SheetLayout) else ("board", _board)
        inputs = made_from.of_a_layout(self.derived, layout)
        old = self._old(f"{kind}-{layout.number:02d}")
        return self._made("layout", inputs, lambda: (draw(self.derived, layout),), old)[0]  # type: ignore[arg-type]

    def _old(self, first: str) -> tuple[Drawing, ...]:
        return tuple(one for an_id, one in self.instead.items() if an_id.startswith(first))

    def _made(
        self, kind: str, inputs: made_from.Inputs, draw: Callable[[], tuple[Drawing, ...]], old: tuple[Drawing, ...]
    ) -> tuple[Drawing, ...]:
        """What is kept; else the older drawings, owed; else new ones. All bear words, in the plan's language."""
        inputs = (self.derived.plan.words, *inputs)
        if old and not self.kept.holds(kind, inputs):
            self.owed.update(dict.fromkeys(one.id for one in old))
            return old
        return self.kept.get(kind, inputs, draw)


def _sheet(derived: Derived, layout: SheetLayout) -> Drawing:
    name = f"Sheet {layout.number}: {layout.stock.name}"
    return _layout(derived, layout, "sheet", name, (layout.sheet.length, layout.sheet.width))


def _board(derived: Derived, layout: BoardLayout) -> Drawing:
    name = f"Board {layout.number}: {layout.stock.name}"
    return _layout(derived, layout, "board", name, (layout.length, layout.board.width))


def _layout(
    derived: Derived, layout: SheetLayout | BoardLayout, kind: str, title: str, size: tuple[Length, Length]
) -> Drawing:
    form = derived.plan.lengths
    reduction = scale_for(size[0].mm, size[1].mm, *_ROOM)
    # The key below the layout is no wider than the layout itself needs: the list of cuts may stand beside it.
    key = min(170.0, max(size[0].mm / reduction + 20.0, 90.0))
    drawn = draw_layout(form, layout.stock, size, layout.placed, layout.cuts, layout.offcuts, (key, 110.0), reduction)
    names = [f"{piece.label}{f' strip {piece.strip}' if piece.strip else ''}" for piece in layout.placed]
    alt = (
        f"{title}, {form.sold().text(size[0])} by {form.sold().text(size[1])}, drawn to scale. Cut from it: {listed(names, most=20)}. "
        f"{counted(len(layout.cuts), 'cut')} numbered in order"
        + (f", {counted(len(layout.offcuts), 'offcut')} left over, hatched." if layout.offcuts else ".")
    )
    svg, panes = write(drawn.sketch, drawn.width, drawn.height, title, alt), tuple(drawn.sketch.panes)
    an_id, scale = f"{kind}-{layout.number:02d}", scale_text(reduction)
    return Drawing(an_id, kind, title, svg, alt, drawn.width, drawn.height, scale, panes, layout.number)
