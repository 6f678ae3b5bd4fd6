"""A drawing of each distinct part: face view, edge view and, where something is cut there, end view; finished size; every cut and
hole dimensioned from a stated edge; grain; which side is which when installed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from drawleaf.draw.at_step.bored import bored_for, screws_through
from drawleaf.draw.at_step.later_cuts import uncut
from drawleaf.draw.paper.clashes import clashes
from drawleaf.draw.paper.frame import Framed, at_scale, cropped, extent, framed
from drawleaf.draw.paper.lettering import Rich
from drawleaf.draw.paper.obstacles import obstacles
from drawleaf.draw.paper.scales import REDUCTIONS, scale_for, scale_text
from drawleaf.draw.paper.svg import Sketch, write
from drawleaf.draw.part.dimensions import mark_dimensions, place_all_dimensions
from drawleaf.draw.part.keys import keyed, paint_crosses, place_keys
from drawleaf.draw.part.marks.all_marks import marks
from drawleaf.draw.part.marks.kinds import Mark
from drawleaf.draw.part.marks.screws import fitting_marks, later_notes, screw_marks
from drawleaf.draw.part.names import grain_mark, middle_of_assembly, name_face, name_sides
from drawleaf.draw.part.notes import first_note, like_notes, twin_notes, with_origins, write_notes
from drawleaf.draw.part.page import EDGE, VIEW_GAP, WIDTH, Page, Views, paint_views
from drawleaf.draw.picture.breaking import Strip, broken
from drawleaf.draw.picture.lay import Lay, lay_out
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.english import counted
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import CutItem
from drawleaf.model.plan import BoxCut, EdgeProfile, Part
from drawleaf.solids.build import Solids

_PLAIN, _HEIGHT, _TALL = 56.0, 92.0, 120.0
"""How high a plain part may be, one with little cut into it, and one with much: three, two or one with a plain one share a page."""
_LARGEST = 2
"""Even small parts are drawn at half size at most, so that a page holds several."""
_LEGIBLE, _BROKEN_HIGH, _BROKEN_ROOMS = 26.0, 60.0, (132.0, 118.0, 104.0, 92.0, 80.0)
"""A worked part lower than the first on paper (mm) is drawn larger with a break where it can be; it is then no higher than the second
and as long as the frame leaves room for."""


_CROWDED_HIGH, _TALLEST = 90.0, 199.0
"""How high a part is drawn with a break at most, and how high its drawing is, where it is too crowded when it is smaller."""
_BESIDE, _NOTES_GAP = 106.0, 7.0
"""Views no wider than this (mm) have their notes beside them; the air between the two."""
_HANGING = 3.0
"""Millimetres by which values may hang below the views."""


@dataclass(frozen=True, slots=True)
class _Setting:
    """How the dimensions are set: ``usual``, or for a part that is too crowded so."""

    usual: bool
    on_one_line: bool


_SETTINGS = (_Setting(True, False), _Setting(False, False), _Setting(False, True))


@dataclass(frozen=True, slots=True)
class _Subject:
    """What is drawn: a row of the cut list, its views, the marks with their letters, and the notes."""

    derived: Derived
    item: CutItem
    views: Views
    found: Sequence[Mark]
    keys: Sequence[str]
    notes: Sequence[Rich]


def draw_part(derived: Derived, solids: Solids, item: CutItem, *, for_print: bool = True) -> tuple[Drawing, ...]:
    """The part drawing of one row of the cut list. ``for_print``: and again larger, for a page that has more room, each larger than the last."""
    subject = _subject(derived, solids, item)
    tallest = (_PLAIN, _HEIGHT, _HEIGHT, _TALL)[min(3, len(subject.found))]
    best = _at_best_scale(subject, tallest)
    plain = _plain(subject)
    ways = (best, *_larger_ways(subject, best)) if for_print and not plain else (best,)
    title, alt = f"{item.number}  {item.name}", _alt(derived, item, subject.notes)
    return tuple(
        Drawing(
            f"part-{item.number:02d}",
            "part",
            title,
            write(way.done.sketch, way.done.width, way.done.height, title, alt),
            alt,
            way.done.width,
            way.done.height,
            scale_text(way.reduction),
            number=item.number,
            plain=plain,
        )
        for way in ways
    )


def _plain(subject: _Subject) -> bool:
    """Whether the part is a bare board: nothing is cut into it, now or later, and its ends and edges are square."""
    part = subject.item.part
    bare = not part.features and part.section is None and part.tilt is None and subject.item.mirror_of is None
    return bare and not subject.found and len(subject.notes) == 1


def _subject(derived: Derived, solids: Solids, item: CutItem) -> _Subject:
    x, y, z = derived.overall
    part = drawn_part(derived, item)
    worked = [fitting.face for fitting in derived.plan.fittings if part.id in fitting.parts[:1]]
    lay = lay_out(part, (x / 2, y / 2, z / 2), worked)
    found = with_origins(lay, [*marks(derived, lay), *screw_marks(derived, item, lay), *fitting_marks(derived, lay)])
    later = later_notes(derived, item)
    lettered, keys = keyed(found)
    alike = [*twin_notes(derived, item), *like_notes(derived, item, found)]
    notes = [first_note(item, lay, found, bool(later)), *alike, *lettered, *later]
    return _Subject(derived, item, _views(solids, lay), found, keys, notes)


def drawn_part(derived: Derived, item: CutItem) -> Part:
    """The copy that stands for all, standing upright, with the holes that its screws go through."""
    plan, part = derived.plan, item.part
    return replace(uncut(bored_for(plan, part, screws_through(plan, part))), tilt=None)


@dataclass(frozen=True, slots=True)
class _Way:
    """A part drawn at a scale, and in how many places it is too crowded to be read."""

    done: Framed
    reduction: int
    crowded: int


def _at_best_scale(subject: _Subject, tallest: float) -> _Way:
    """The part drawn whole at the largest scale at which it fits; larger with a break where its work would be too small to read. Where
    words would still stand upon one another, larger again, or with both units of a value on one line: the first that is clear."""
    best: _Way | None = None
    for way in _ways(subject, tallest):
        if best is None or way.crowded < best.crowded:
            best = way
        if not way.crowded:
            break
    assert best is not None
    return best


def _ways(subject: _Subject, tallest: float) -> Iterator[_Way]:
    """Ways to draw a part, best first."""
    lay = subject.views.lay
    length, high = lay.reach(lay.right).mm, lay.reach(lay.up).mm
    most = max(scale_for(length, high, WIDTH - 2 * EDGE - 12.0, 110.0), _LARGEST)
    for setting in _SETTINGS:
        if not setting.usual:
            tallest = max(tallest, _TALLEST)
        whole, reduction = at_scale(
            lambda scale, setting=setting: _compose(subject, Strip(length, 1.0 / scale), setting).sketch,
            most,
            WIDTH,
            tallest,
        )
        highest = _BROKEN_HIGH if setting.usual else _CROWDED_HIGH
        if subject.found and (high / reduction < _LEGIBLE or not setting.usual):
            yield from _broken_ways(subject, setting, reduction, highest, tallest)
        yield _Way(whole, reduction, _compose(subject, Strip(length, 1.0 / reduction), setting).crowded)


def _larger_ways(subject: _Subject, usual: _Way) -> Iterator[_Way]:
    """The part drawn whole at the larger scales at which a page holds it, no more crowded than as ``usual``."""
    lay = subject.views.lay
    length = lay.reach(lay.right).mm
    for reduction in sorted((scale for scale in REDUCTIONS if _LARGEST <= scale < usual.reduction), reverse=True):
        tried = _compose(subject, Strip(length, 1.0 / reduction), _SETTINGS[0])
        done = framed(tried.sketch, WIDTH)
        if done.needs <= WIDTH and done.height <= _TALLEST and tried.crowded <= usual.crowded:
            yield _Way(cropped(done.sketch), reduction, tried.crowded)


def _broken_ways(
    subject: _Subject, setting: _Setting, reduction: int, highest: float, tallest: float
) -> Iterator[_Way]:
    """The part drawn larger than at 1 : ``reduction``, with a break."""
    lay = subject.views.lay
    high = lay.reach(lay.up).mm
    scales = (scale for scale in REDUCTIONS if _LARGEST <= scale < reduction)
    for larger, room in ((scale, room) for scale in scales for room in _BROKEN_ROOMS):
        strip = broken(lay, 1.0 / larger, room) if high / larger <= highest else None
        if strip is None:
            continue
        tried = _compose(subject, strip, setting)
        done = framed(tried.sketch, WIDTH)
        if done.needs <= WIDTH and done.height <= tallest:
            yield _Way(done, larger, tried.crowded)


def _views(solids: Solids, lay: Lay) -> Views:
    part = lay.part
    alone = solids.alone(part)
    end = project(alone, lay.beside, (part.id,)) if _worked_along(part, lay) else None
    return Views(lay, project(alone, lay.view, (part.id,)), project(alone, lay.below, (part.id,)), end)


def _worked_along(part: Part, lay: Lay) -> bool:
    """Whether something runs along the part, so that only its end shows the shape of it."""
    if part.section is not None:
        return True
    for feature in part.features:
        through = isinstance(feature, BoxCut) and {part.thickness.low, part.thickness.high} <= set(feature.open)
        whole_length = isinstance(feature, BoxCut) and feature.box.extent(lay.right.axis) == lay.reach(lay.right)
        if whole_length and not through:
            return True
        if isinstance(feature, EdgeProfile) and lay.right.axis not in {face.axis for face in feature.edge}:
            return True
    return False


@dataclass(frozen=True, slots=True)
class _Tried:
    """A drawing composed, in how many places it is too crowded to be read, and whether its notes stand beside the views."""

    sketch: Sketch
    crowded: int
    beside: bool


def _compose(subject: _Subject, strip: Strip, setting: _Setting) -> _Tried:
    """The whole drawing at a scale, its notes beside narrow views or below them, whichever is lower."""
    beside = _composed(subject, strip, setting, narrow=True)
    if not beside.beside:
        return beside
    below = _composed(subject, strip, setting, narrow=False)
    lower = extent(below.sketch)[3] < extent(beside.sketch)[3] and below.crowded <= beside.crowded
    return below if lower else beside


def _composed(subject: _Subject, strip: Strip, setting: _Setting, *, narrow: bool) -> _Tried:
    form, views, part = subject.derived.plan.lengths, subject.views, subject.item.part
    lay, factor = views.lay, strip.factor
    some = mark_dimensions(form, lay, subject.found, strip, setting.on_one_line)
    thick = part.body.extent(part.thickness).mm * factor
    left = EDGE + some.room("left")
    right_room = some.room("right")
    end_room = (thick + VIEW_GAP) if views.end else 0.0
    width = left + strip.paper_length + end_room + right_room + EDGE
    beside = narrow and width <= _BESIDE
    left += 0.0 if beside else max(0.0, (WIDTH - width) / 2)
    top = EDGE + some.room("top")
    page = Page(form, Sketch(), lay, factor, strip, left, top, middle_of_assembly(subject.derived, part))
    paint_views(page, views, part, thick)
    place_all_dimensions(page, some, part, thick, bool(views.end))
    low = page.bottom + VIEW_GAP + thick + some.room("bottom")
    lowest = extent(page.sketch)[3]
    paint_crosses(page, subject.found)
    taken = obstacles(page.sketch)
    place_keys(page, taken, subject.found, subject.keys)
    name_face(page, taken, part)
    grain_mark(page, taken, part)
    name_sides(page, taken, part)
    # Values that stand lower than all else hang below the part: the notes keep clear of them, but it is no good place.
    hanging = max(0, ceil((lowest - low - _HANGING) / _HANGING))
    if beside:
        # Values may stand out to the left of the views: the notes have the less room.
        outermost, _, right, _ = extent(page.sketch)
        after = right + _NOTES_GAP
        write_notes(page.sketch, subject.notes, (after, page.top), WIDTH - after + min(0.0, outermost))
    else:
        write_notes(page.sketch, subject.notes, (EDGE, max(low, lowest) + 1.5), WIDTH)
    return _Tried(page.sketch, clashes(page.sketch) + hanging, beside)


def _alt(derived: Derived, item: CutItem, notes: Sequence[Rich]) -> str:
    form = derived.plan.lengths
    size = " by ".join(form.text(length) for length in (item.length, item.width, item.thickness))
    said = [f"Drawing of part number {item.number}, {item.name}: {size}, {counted(item.quantity, 'piece')}."]
    said += ["".join(str(piece) for piece in note).rstrip(".") + "." for note in notes]
    return " ".join(said)
