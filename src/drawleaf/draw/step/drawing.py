"""A drawing for a step: what stands already in grey, what is new strong and tinted, the way it moves, what is driven where."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from drawleaf.draw.at_step.alike import one_of_alike
from drawleaf.draw.at_step.joined import pieces_at
from drawleaf.draw.at_step.nearby import nearby
from drawleaf.draw.at_step.so_far import solids_so_far
from drawleaf.draw.paper.balloons import Tag, arrange, clear_of, draw_balloons
from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.frame import EDGE, Room, fitted
from drawleaf.draw.paper.style import (
    ACCENT,
    ACCENT_TINT,
    MOTION,
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
from drawleaf.draw.step.clamp_marks import Press, draw_presses, press_boxes, presses
from drawleaf.draw.step.cutting_drawing import draw_cutting
from drawleaf.draw.step.fastener_marks import draw_fasteners, fastener_reach
from drawleaf.draw.step.glue_up_drawing import draw_glue_up, is_glue_up
from drawleaf.draw.step.help_marks import PLACED, help_bodies, help_offsets, help_tags, help_tints, paint_helps
from drawleaf.draw.step.inset import add_inset, sizes_in, worth_enlarging
from drawleaf.draw.step.legend import Entry, add_column, add_legend, column_size, entries
from drawleaf.draw.step.legend_place import below_figure, in_corner, stands_beside
from drawleaf.draw.step.saw_setup import add_saw_setup, at_saw
from drawleaf.draw.step.squaring import BESIDE, add_squaring, figure_height, squared
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.plan import Fitting
from drawleaf.model.steps import Pose, Scene, Step
from drawleaf.solids.build import Solids
from drawleaf.solids.travel import travel_distance

TALL: Room = Room(170.0, 82.0)
"""High enough to see the work, low enough that a step with its words stands on one page."""
LOW: Room = Room(170.0, 54.0)
"""For a step with many words, or one that shares its page."""
NARROW: Room = Room(74.0, 64.0)
"""To stand beside the words."""
_FIGURE = 40.0
_ARROWS_APART = 6.0
"""Millimetres on paper between two arrows."""
_CROWDED = 12
"""Above this many balloons, draw none: the tint alone shows the parts."""
_PULL = 0.16
"""How far a part that moves is drawn from its place, at most, as a share of the scene's size."""


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
    offsets = _offsets(solids, scene, shown) if apart is None else dict(apart)
    faces = worked_faces(step.operations, new)
    view = best_view(solids, shown, new or shown, offsets, faces, scene.fasteners, pose=scene.pose)
    placed = help_bodies(step)
    moved = {**offsets, **help_offsets(placed, offsets)}
    work = project(solids, view, shown, moved, {an_id: solid for an_id, _, solid in placed})
    subject = _Subject(
        derived, solids, step, scene, work, new, placed, offsets, tuple(presses(step, scene, solids, offsets)), alike
    )
    return tuple(_in_room(subject, _with_figures(room, step, scene)) for room in rooms)


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
    held: tuple[Press, ...]
    alike: int

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
    done = fitted(
        lambda wide, high, rough: _compose(subject, (wide, high), room, Sketch(rough=rough), beside=beside),
        *room,
    )
    svg, panes = write(done.sketch, done.width, done.height, title, alt), tuple(done.sketch.panes)
    return Drawing(
        f"step-{step.number:02d}", "step", title, svg, alt, done.width, done.height, None, panes, step.number
    )


def _with_figures(room: Room, step: Step, scene: Scene) -> Room:
    """A narrow room is higher where a figure or a close look stands below the picture."""
    below = bool(squared(step)) or at_saw(step) is not None or bool(scene.fittings and not scene.new)
    return Room(room.width, room.height + _FIGURE) if room.width <= NARROW.width and below else room


def _compose(subject: _Subject, space: tuple[float, float], room: Room, sketch: Sketch, *, beside: bool) -> Sketch:
    """The scene within so much ``space``, with fasteners and arrows, on the sketch; what stands round it takes the rest of the ``room``:
    balloons, further figures, and the legend below or ``beside`` it."""
    derived, solids, step, scene = subject.derived, subject.solids, subject.step, subject.scene
    work, new, placed, offsets = subject.work, subject.new, subject.placed, subject.offsets
    view, window = work.view, subject.window(*space)

    def paint(on: Sketch, at: Window) -> None:
        show(on, work, at, offsets, but=frozenset(an_id for an_id, _, _ in placed))
        paint_scene(on, work, at, new, placed)
        draw_fasteners(on, view, at, scene.fasteners, offsets)

    paint(sketch, window)
    draw_presses(sketch, view, window, subject.held)
    arrows = _draw_moves(sketch, solids, work, window, _arrivals(solids, step, scene), offsets)
    avoid = shapely.union_all(arrows).buffer(3.0 / window.factor) if arrows else None
    tags = item_tags(work, window, derived.cut_list, new, frozenset(new), avoid)
    tags += _fitting_tags(derived, work, window, scene)
    tags += help_tags(work, window, placed)
    if len(tags) <= _CROWDED:
        drawn = on_paper(work, window)
        draw_balloons(sketch, clear_of(arrange(tags, drawn), press_boxes(view, window, subject.held), drawn))
    tiny = worth_enlarging(work, window, sizes_in(view, solids, new, offsets))
    if tiny:
        add_inset(sketch, window, tiny, paint, room.width)
    signs = subject.signs(window)
    beside = beside and not tiny and at_saw(step) is None
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
    sketch: Sketch, work: Linework, window: Window, new: Sequence[str], placed: Sequence[PLACED] = ()
) -> None:
    """Standing parts pale with grey lines; new parts tinted, with dark edges and a wide outline in the accent; helps with broken edges."""
    strong, own = frozenset(new), tuple(one for one in work.shown if one not in {an_id for an_id, _, _ in placed})
    paint_faces(sketch, work, window, dict.fromkeys(new, ACCENT_TINT) | help_tints(placed), STANDING_FILL, GENTLE)
    paint_lines(sketch, work.visible, window, STANDING, frozenset(own) - strong)
    paint_helps(sketch, work, window, placed)
    paint_lines(sketch, work.visible, window, NEW_EDGE, strong)
    if not new:
        # Nothing is new: the whole is what matters.
        paint_lines(sketch, work.visible, window, NEW_EDGE, frozenset(own) if placed else None)
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


def _groups(solids: Solids, scene: Scene) -> list[tuple[Vector, tuple[str, ...]]]:
    """Parts that arrive together: the same way, and joined to one another."""
    groups: list[tuple[Vector, list[str]]] = []
    joined = {frozenset((joint.insert, joint.receiver)) for joint in solids.plan.joints}
    for move in scene.moves:
        touching = [
            group
            for group in groups
            if group[0] == move.direction and any(frozenset((p, move.part)) in joined for p in group[1])
        ]
        parts = [part for group in touching for part in group[1]]
        groups = [group for group in groups if group not in touching]
        groups.append((move.direction, [*parts, move.part]))
    return [(direction, tuple(parts)) for direction, parts in groups]


def _arrivals(solids: Solids, step: Step, scene: Scene) -> list[tuple[Vector, tuple[str, ...]]]:
    """What gets an arrow: each part by itself where they come one after the other, else what arrives together."""
    return [(move.direction, (move.part,)) for move in scene.moves] if one_by_one(step) else _groups(solids, scene)


def one_by_one(step: Step) -> bool:
    """Whether its parts come home one after the other, and not all at once."""
    return sum(operation.kind == "join" for operation in step.operations) > 1


def _offsets(solids: Solids, scene: Scene, shown: Sequence[str]) -> dict[str, Vector]:
    """Parts that arrive are drawn a little back along their way, no further than needed to be clear."""
    size = _scene_size(solids, shown)
    moving = {move.part for move in scene.moves}
    standing = [part for part in shown if part not in moving]
    offsets: dict[str, Vector] = {}
    for direction, parts in _groups(solids, scene):
        back = (-direction[0] + 0.0, -direction[1] + 0.0, -direction[2] + 0.0)
        far = _pull(solids, parts, standing, back, size)
        offsets.update(dict.fromkeys(parts, (back[0] * far, back[1] * far, back[2] * far)))
    return offsets


def _pull(solids: Solids, parts: Sequence[str], standing: Sequence[str], back: Vector, size: float) -> float:
    most = _PULL * size
    if sorted(abs(c) for c in back) != [0.0, 0.0, 1.0]:
        return most
    need = travel_distance(solids, parts, standing, back, touching=False)
    return min(most, need + 0.06 * size) if need > 0 else 0.08 * size


def _scene_size(solids: Solids, shown: Sequence[str]) -> float:
    bounds = [box for box in map(solids.box, shown) if box is not None]
    low, high = np.min([b[0] for b in bounds], axis=0), np.max([b[1] for b in bounds], axis=0)
    return float(np.linalg.norm(high - low))


def _bounds(
    work: Linework, view: View, scene: Scene, offsets: Mapping[str, Vector]
) -> tuple[float, float, float, float]:
    """The work's bounds, grown to hold the fasteners drawn outside it."""
    points = [view.point(end) for fastener in scene.fasteners for end in fastener_reach(fastener, offsets)]
    boxes = [work.bounds, *((u, v, u, v) for u, v in points)]
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def _draw_moves(
    sketch: Sketch,
    solids: Solids,
    work: Linework,
    window: Window,
    groups: Sequence[tuple[Vector, tuple[str, ...]]],
    offsets: Mapping[str, Vector],
) -> list[shapely.LineString]:
    """A bold arrow for each thing that arrives, along the last of its way. Gives the arrows in the view's plane."""
    drawn: list[shapely.LineString] = []
    for direction, parts in groups:
        lines = [
            line
            for place in _arrow_places(solids, parts, direction)
            if (line := _arrow_line(work.view, window, place, offsets[parts[0]])) is not None
        ]
        if not lines:
            continue
        clear = _ARROWS_APART / window.factor
        apart = [one for one in lines if all(one.distance(other) >= clear for other in drawn)] or lines
        others = [work.outline(part) for _, group in groups for part in group if part not in parts]
        line = next((one for one in apart if not any(one.intersects(other) for other in others)), apart[0])
        tail, head = (window.at(*point) for point in line.coords)
        reach = float(np.hypot(head[0] - tail[0], head[1] - tail[1]))
        unit = ((head[0] - tail[0]) / reach, (head[1] - tail[1]) / reach)
        sketch.line(MOTION, tail, (head[0] - unit[0] * 2.5, head[1] - unit[1] * 2.5))
        arrow(sketch, head, tail, length=3.6, half=1.5, color=ACCENT)
        drawn.append(line)
    return drawn


def _arrow_line(view: View, window: Window, place: np.ndarray, offset: Vector) -> shapely.LineString | None:
    """From where a thing is drawn towards its place, 9 to 16 mm on paper; None where it comes straight at the viewer."""
    at, to = (np.array(view.point(_triple(point))) for point in (place + np.array(offset), place))
    length = float(np.hypot(*(to - at))) * window.factor
    if length < 1e-6:
        return None
    return shapely.LineString([at, at + (to - at) * (min(max(length, 9.0), 16.0) / length)])


def _arrow_places(solids: Solids, parts: Sequence[str], direction: Vector) -> list[np.ndarray]:
    """Where an arrow may begin, best first: the middle of what moves, to either side along its longest edge across the way, or a
    little before or behind its middle."""
    bounds = [box for box in map(solids.box, parts) if box is not None]
    if not bounds:
        return []
    low, high = np.min([b[0] for b in bounds], axis=0), np.max([b[1] for b in bounds], axis=0)
    way = np.abs(np.array(direction)) > 0.5
    size = (high - low) * ~way
    across = np.eye(3)[int(size.argmax())] * float(size.max())
    steps = [share * edge for edge in (across, (high - low) * way) for share in (-0.3, 0.3)]
    return [(low + high) / 2 + step for step in (np.zeros(3), *steps)]


def _triple(values: np.ndarray) -> Vector:
    return (float(values[0]), float(values[1]), float(values[2]))
