"""A drawing for a step: what stands already in grey, what is new strong and tinted, the way it moves, what is driven where."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely

from drawleaf.draw.at_step.alike import one_of_alike
from drawleaf.draw.at_step.joined import loose_things, pieces_at
from drawleaf.draw.at_step.nearby import nearby
from drawleaf.draw.at_step.so_far import solids_so_far
from drawleaf.draw.paper.balloons import Tag, arrange, draw_balloons
from drawleaf.draw.paper.frame import EDGE, Framed, Room, fitted
from drawleaf.draw.paper.style import (
    ACCENT_TINT,
    NEW_EDGE,
    NEW_OUTLINE,
    PICTURE_OUTLINE,
    STANDING,
    STANDING_FILL,
)
from drawleaf.draw.paper.svg import Sketch, write
from drawleaf.draw.picture.panes import show
from drawleaf.draw.picture.picture import (
    GENTLE,
    Window,
    inner_point,
    paint_faces,
    paint_lines,
    paint_outline,
    window_fitting,
)
from drawleaf.draw.piece.exploded import item_tags, on_paper
from drawleaf.draw.piece.explosion import Moving, explode
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import Vector, View
from drawleaf.draw.sight.viewpoint import best_view, worked_faces
from drawleaf.draw.step.alt_words import alt_words, counted_item
from drawleaf.draw.step.bench_drawing import draw_bench, in_the_whole
from drawleaf.draw.step.clamps import CLAMP_BODY, clamp_bodies, clamp_tints, paint_clamps, presses
from drawleaf.draw.step.cutting_drawing import draw_cutting
from drawleaf.draw.step.fastener_marks import draw_fasteners, fastener_reach
from drawleaf.draw.step.glue_up_drawing import draw_glue_up, is_glue_up
from drawleaf.draw.step.help_marks import PLACED, help_bodies, help_offsets, help_tags, help_tints, paint_helps
from drawleaf.draw.step.inset import LEAST, Bounds, add_inset, can_enlarge, sizes_in, smallest
from drawleaf.draw.step.legend import Entry, add_column, add_legend, column_size, entries
from drawleaf.draw.step.legend_place import below_figure, in_corner, stands_beside
from drawleaf.draw.step.moves import arrivals, draw_moves, pulled_back
from drawleaf.draw.step.saw_setup import add_saw_setup, at_saw
from drawleaf.draw.step.squaring import BESIDE, add_squaring, figure_height, squared
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.plan import Fitting
from drawleaf.model.steps import Pose, Scene, Step
from drawleaf.solids.build import Solids

TALL: Room = Room(170.0, 82.0)
"""High enough to see the work, low enough that a step with its words stands on one page."""
LOW: Room = Room(170.0, 54.0)
"""For a step with many words, or one that shares its page."""
NARROW: Room = Room(74.0, 64.0)
"""To stand beside the words."""
_FIGURE = 40.0
_HIGHEST, _LOW_HIGHEST = 100.0, 70.0
"""A room grows to this height (mm) where something new would be too small in it; a low one to the second."""
_NEARLY, _BESIDE_WORDS = 0.9, 12.0
"""Of the least length so much is enough for no close look; in a narrow or a low picture so many mm: there it would take the room of the whole."""
_SPECK, _WORTH_HEIGHT = 4.0, 1.15
"""What is smaller than the first (mm) is made no clearer by height, nor is a picture that grows by less than the second."""
_CROWDED = 12
"""Above this many balloons, draw none: the tint alone shows the parts."""


def draw_step(derived: Derived, solids: Solids, step: Step, rooms: Sequence[Room] = (TALL,)) -> tuple[Drawing, ...]:
    """The step's drawing in each of the rooms given; none where there is nothing to show."""
    scene = step.scene
    if scene is None:
        return ()
    if scene.layout is not None:
        return draw_cutting(derived, step, rooms)
    if scene.pose is not Pose.UPRIGHT:
        # What came from above would come up from the bench now: it is drawn where it lies.
        scene = replace(scene, moves=())
    shown = tuple(dict.fromkeys((*scene.standing, *scene.new, *scene.fittings)))
    bodies = [part for part in shown if solids.body(part) is not None]
    if not bodies:
        return ()
    if not scene.standing and not scene.moves and not scene.fasteners and not scene.fittings:
        if is_glue_up(step):
            return draw_glue_up(derived, step, rooms)
        if pieces := pieces_at(derived, step):
            return _draw_pieces(derived, solids, step, scene, pieces, rooms)
        if not in_the_whole(derived, step):
            return draw_bench(derived, solids, step, rooms)
        rest = tuple(part.id for part in derived.plan.parts if part.id not in scene.new)
        scene = replace(scene, standing=rest)
        bodies = [*rest, *scene.new]
    if (near := nearby(solids, step, scene)) is not scene:
        left = set(scene.standing) - {*near.standing, *near.new}
        scene, bodies = near, [one for one in bodies if one not in left]
    scene, alike = one_of_alike(derived, scene)
    if alike > 1:
        bodies = [*scene.standing, *scene.new]
    return _draw_scene(derived, solids, step, scene, tuple(bodies), rooms, alike=alike)


def _draw_pieces(
    derived: Derived,
    solids: Solids,
    step: Step,
    scene: Scene,
    pieces: Sequence[tuple[str, ...]],
    rooms: Sequence[Room],
) -> tuple[Drawing, ...]:
    """What is joined by now in one, and what is still loose drawn apart from it. Where all of it is worked on, nothing is singled out."""
    shown = tuple(part for piece in pieces for part in piece)
    rest = tuple(part for part in shown if part not in scene.new)
    scene = replace(scene, standing=rest, new=scene.new if rest else ())
    apart = explode(solids, [Moving(piece[0], piece) for piece in pieces]).offsets if len(pieces) > 1 else {}
    return _draw_scene(derived, solids, step, scene, shown, rooms, apart)


def _draw_scene(
    derived: Derived,
    solids: Solids,
    step: Step,
    scene: Scene,
    shown: tuple[str, ...],
    rooms: Sequence[Room],
    apart: Mapping[str, Vector] | None = None,
    alike: int = 1,
) -> tuple[Drawing, ...]:
    """``apart``: how far each part stands from its place (mm), where that does not follow from the scene's moves. The scene is one of so
    many that are ``alike``."""
    solids = solids_so_far(derived, solids, step, shown)
    new = tuple(part for part in shown if part in {*scene.new, *scene.fittings})
    offsets = pulled_back(solids, scene, shown) if apart is None else dict(apart)
    faces = worked_faces(step.operations, new)
    view = best_view(solids, shown, new or shown, offsets, faces, scene.fasteners, pose=scene.pose)
    placed = help_bodies(step)
    moved = {**offsets, **help_offsets(placed, offsets)}
    held = clamp_bodies(presses(step, scene, solids, offsets), solids, view, shown, offsets)
    others = {an_id: solid for an_id, _, solid in placed} | dict(held)
    work = project(solids, view, shown, moved, others)
    kinds = loose_things(derived, step, new) if scene.moves or scene.fasteners or scene.fittings else ()
    subject = _Subject(derived, solids, step, scene, work, new, placed, offsets, held, alike, kinds)
    return tuple(_in_room(subject, _with_figures(room, step)) for room in rooms)


@dataclass(frozen=True, slots=True)
class _Subject:
    """What a picture of a step shows, in whatever room."""

    derived: Derived
    solids: Solids
    step: Step
    scene: Scene
    work: Linework
    new: tuple[str, ...]
    placed: Sequence[PLACED]
    offsets: Mapping[str, Vector]
    held: Sequence[CLAMP_BODY]
    alike: int
    kinds: Sequence[Sequence[tuple[str, ...]]]
    """What comes in this step, thing by thing (``loose_things``)."""

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """In the view's plane, with the fasteners drawn outside the work."""
        return _bounds(self.work, self.work.view, self.scene, self.offsets)

    def window(self, wide: float, high: float) -> Window:
        """Where the view is on paper so wide and high (mm)."""
        return window_fitting(self.bounds, (EDGE, EDGE, wide - EDGE, high - EDGE), most=0.6)

    def signs(self, window: Window) -> list[Entry]:
        """What the legend names."""
        found = entries(
            self.work.view,
            window,
            self.scene,
            self.offsets,
            clamps=bool(self.held),
            diagonals=bool(squared(self.step)),
            helps=bool(self.placed),
            alike=self.alike,
        )
        words = self.derived.plan.words
        return [one._replace(words=words.put(one.words)) for one in found]


def _in_room(subject: _Subject, room: Room) -> Drawing:
    step = subject.step
    alt = alt_words(subject.derived, step, subject.scene, subject.work.view, subject.alike)
    title = f"Step {step.number}: {step.title}"
    figure = BESIDE if squared(step) else 0.0
    beside = room.width > NARROW.width and stands_beside(
        subject.signs(subject.window(*room)),
        subject.work,
        subject.bounds,
        room,
        numbered=bool(subject.new),
        figure=figure,
        figure_high=figure_height(subject.solids, step),
    )

    def fit(room: Room, tiny: Bounds | None) -> Framed:
        return fitted(
            lambda wide, high, rough: _compose(subject, (wide, high), room, Sketch(rough=rough), beside, tiny), *room
        )

    done = fit(room, None)
    least = smallest(
        subject.work, sizes_in(subject.work.view, subject.solids, subject.new, subject.offsets), subject.kinds
    )
    if least is not None and least[0] * _factor(done) < LEAST:
        done = _with_the_small(fit, room, done, *least)
    svg, panes = write(done.sketch, done.width, done.height, title, alt), tuple(done.sketch.panes)
    return Drawing(
        f"step-{step.number:02d}", "step", title, svg, alt, done.width, done.height, None, panes, step.number
    )


def _with_figures(room: Room, step: Step) -> Room:
    """A narrow room is higher where a figure stands below the picture."""
    below = bool(squared(step)) or at_saw(step) is not None
    return Room(room.width, room.height + _FIGURE) if room.width <= NARROW.width and below else room


def _with_the_small(
    fit: Callable[[Room, Bounds | None], Framed], room: Room, done: Framed, shows: float, box: Bounds
) -> Framed:
    """The picture higher, where that makes the smallest of what is new clearer; else, or where it is still short, with a close look at it.
    ``shows`` is its length, ``box`` where it is (mm of the piece)."""
    narrow, low = room.width <= NARROW.width, room.height <= LOW.height
    highest = _LOW_HIGHEST if low else _HIGHEST
    least = _BESIDE_WORDS if narrow or low else _NEARLY * LEAST
    high = min(highest, room.height * LEAST / (shows * _factor(done)))
    if high > room.height and shows * _factor(done) > _SPECK:
        larger = fit(room._replace(height=high), None)
        if _factor(larger) > _WORTH_HEIGHT * _factor(done):
            room, done = room._replace(height=high), larger
    if shows * _factor(done) < least and can_enlarge(box, _factor(done)):
        done = fit(room._replace(height=room.height + (_FIGURE if narrow else 0.0)), box)
    return done


def _factor(done: Framed) -> float:
    """Paper mm a piece mm in the picture."""
    sight = done.sketch.panes[0].sight
    assert sight is not None
    return sight.factor


def _compose(
    subject: _Subject, space: tuple[float, float], room: Room, sketch: Sketch, beside: bool, tiny: Bounds | None
) -> Sketch:
    """The scene within so much ``space``, with fasteners and arrows, on the sketch; what stands round it takes the rest of the ``room``:
    balloons, further figures, a close look at what is ``tiny``, and the legend below or ``beside`` it."""
    derived, solids, step, scene = subject.derived, subject.solids, subject.step, subject.scene
    work, new, placed, offsets, held = subject.work, subject.new, subject.placed, subject.offsets, subject.held
    view, window = work.view, subject.window(*space)

    def paint(on: Sketch, at: Window) -> None:
        show(on, work, at, offsets, but={an_id for an_id, *_ in (*placed, *held)})
        paint_scene(on, work, at, new, placed, held)
        draw_fasteners(on, view, at, scene.fasteners, offsets)

    paint(sketch, window)
    arrows = draw_moves(sketch, solids, work, window, arrivals(solids, step, scene), offsets)
    avoid = shapely.union_all(arrows).buffer(3.0 / window.factor) if arrows else None
    tags = item_tags(work, window, derived.cut_list, new, frozenset(new), avoid)
    tags += _fitting_tags(derived, work, window, scene)
    tags += help_tags(work, window, placed)
    if len(tags) <= _CROWDED:
        drawn = on_paper(work, window)
        draw_balloons(sketch, arrange(tags, drawn))
    if tiny is not None:
        add_inset(sketch, window, tiny, paint, room.width)
    signs = subject.signs(window)
    beside = beside and tiny is None and at_saw(step) is None
    under = beside and bool(squared(step)) and below_figure(signs, room, figure_height(solids, step))
    if beside and not under:
        add_column(sketch, signs, *in_corner(sketch, on_paper(work, window), signs))
    if squared(step):
        corner = add_squaring(sketch, solids, step, room.width, column_size(signs)[1] if under else 0.0)
        if under:
            add_column(sketch, signs, *corner)
    if (mitring := at_saw(step)) is not None:
        add_saw_setup(sketch, derived.plan, mitring, room.width)
    if not beside:
        add_legend(sketch, signs, space[0] - 2 * EDGE)
    return sketch


def paint_scene(
    sketch: Sketch,
    work: Linework,
    window: Window,
    new: Sequence[str],
    placed: Sequence[PLACED] = (),
    held: Sequence[CLAMP_BODY] = (),
) -> None:
    """Standing parts pale with grey lines; new parts tinted, with dark edges and a wide outline in the accent; helps with broken edges;
    clamps grey."""
    others = {an_id for an_id, *_ in (*placed, *held)}
    strong, own = frozenset(new), tuple(one for one in work.shown if one not in others)
    tints = dict.fromkeys(new, ACCENT_TINT) | help_tints(placed) | clamp_tints(held)
    paint_faces(sketch, work, window, tints, STANDING_FILL, GENTLE)
    paint_lines(sketch, work.visible, window, STANDING, frozenset(own) - strong)
    paint_helps(sketch, work, window, placed)
    paint_clamps(sketch, work, window, held)
    paint_lines(sketch, work.visible, window, NEW_EDGE, strong)
    if not new:
        # Nothing is new: the whole is what matters.
        paint_lines(sketch, work.visible, window, NEW_EDGE, frozenset(own) if others else None)
        paint_outline(sketch, work, window, own, PICTURE_OUTLINE)
        return
    for part in new:
        paint_outline(sketch, work, window, (part,), NEW_OUTLINE, heal=0.0)


def _fitting_tags(derived: Derived, work: Linework, window: Window, scene: Scene) -> list[Tag]:
    """The name of each bought item that goes on, once, with its count."""
    groups: dict[str, list[Fitting]] = {}
    for fitting in derived.plan.fittings:
        if fitting.id in scene.fittings:
            groups.setdefault(fitting.item.id, []).append(fitting)
    tags: list[Tag] = []
    for group in groups.values():
        seen = max(group, key=lambda f: (round(work.outline(f.id).area, 1), -group.index(f)))
        point = inner_point(work.outline(seen.id))
        if point:
            tags.append(Tag(counted_item(group), window.at(*point), new=True, named=True))
    return tags


def _bounds(
    work: Linework, view: View, scene: Scene, offsets: Mapping[str, Vector]
) -> tuple[float, float, float, float]:
    """The work's bounds, grown to hold the fasteners drawn outside it."""
    points = [view.point(end) for fastener in scene.fasteners for end in fastener_reach(fastener, offsets)]
    boxes = [work.bounds, *((u, v, u, v) for u, v in points)]
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))
