"""Every drawing of the example plans, in every choice of units, read back: nothing overlaps, nothing is small, nothing leaves its
frame."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
import shapely
from tests.conftest import PLANS, drawn, made_once, outcome_of, solids_of
from tests.draw.legibility import NS, faults, leader_faults, line_widths, styles_drawn_twice
from tests.draw.validity import svg_faults

from drawleaf.draw.at_step.bored import SCREWS
from drawleaf.draw.at_step.so_far import screws_bored
from drawleaf.draw.drawings import Desk
from drawleaf.draw.paper.style import ACCENT, ACCENT_TINT, CLAMP_FILL, NEW_OUTLINE, STANDING, STANDING_FILL
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.piece.exploded import item_tags
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import PICTORIAL, PICTORIAL_LEFT
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing, Drawings
from drawleaf.solids.build import Solids
from drawleaf.units import Units

EVERY = (*PLANS, "record-cabinet", "trestle-table", "step-stool", "tool-tote")
OWN = {name: Units.MM if name in ("trestle-table", "tool-tote") else Units.INCH for name in EVERY}
LARGE = ("record-cabinet", "trestle-table", "step-stool")
"""The most drawings: of these every third here, all of them with ``--long``."""
IN_BOTH = ("boot-bench", "trestle-table")
"""One that is thought in inches and one in millimeters, each with many sizes: here these alone are read in both units, whose lettering is the longest."""
EACH = pytest.mark.parametrize(("name", "units"), [(name, units) for name in EVERY for units in Units])
"""Each plan in its own units; of ``IN_BOTH`` every third drawing in both; all of every plan in every choice of units with ``--long``."""


@pytest.fixture
def looked_at(request: pytest.FixtureRequest) -> Callable[[str, Units], tuple[Drawing, ...]]:
    def found(name: str, units: Units) -> tuple[Drawing, ...]:
        wanted = units is OWN[name] or (units is Units.BOTH and name in IN_BOTH)
        if not wanted and not request.config.getoption("--long"):
            pytest.skip("the same drawings with other lettering: with --long")
        return _looked_at(name, units, 1 if request.config.getoption("--long") else 3)

    return found


@pytest.fixture
def plan(name: str, request: pytest.FixtureRequest) -> tuple[Derived, Drawings]:
    """An example plan with all its drawings."""
    if name in LARGE and not request.config.getoption("--long"):
        pytest.skip("some twenty seconds to draw it all: with --long")
    return drawn(name)


@cache
def _looked_at(name: str, units: Units, every: int) -> tuple[Drawing, ...]:
    """All drawings of a plan in its own units; in others, and of the large ones, every so manieth of those that show lengths (pictures of
    steps do not, see below), and of the large ones some pictures."""
    derived = outcome_of(name).derived
    if name in LARGE and every > 1:
        return made_once(f"some of {name} in {units}", lambda: some(in_units(derived, units), solids_of(name), every))
    derived, drawings = drawn(name)
    if units is derived.plan.lengths.units:
        larger = (one for found in drawings.parts_larger.values() for one in found)
        return (*drawings.all(), *drawings.steps_low.values(), *drawings.steps_narrow.values(), *larger)
    return made_once(
        f"measured {name} in {units}", lambda: with_lengths(in_units(derived, units), solids_of(name), every)
    )


def test_own_units_are_the_plans_own() -> None:
    assert {name: outcome_of(name).derived.plan.lengths.units for name in EVERY} == OWN


def in_units(derived: Derived, units: Units) -> Derived:
    return replace(derived, plan=replace(derived.plan, lengths=replace(derived.plan.lengths, units=units)))


def some(derived: Derived, solids: Solids, every: int) -> tuple[Drawing, ...]:
    """Every so manieth drawing of a large plan; pictures of its steps in its own units."""
    found = with_lengths(derived, solids, every)
    if derived.plan.lengths.units is Units.BOTH:
        return found
    desk = Desk(derived, solids)
    return (*found, *(one for step in derived.steps[::every] for one in desk.step(step)))


def with_lengths(derived: Derived, solids: Solids, every: int) -> tuple[Drawing, ...]:
    """Of each plan others of each kind: elevations, sections, details, templates, parts and layouts stand in this order."""
    desk = Desk(derived, solids)
    layouts = (*derived.layouts.sheets, *derived.layouts.boards)
    few = (*desk.elevations(), *desk.sections(), *desk.details()[0], *desk.templates())
    return (
        *few[::every],
        *(one for item in derived.cut_list.items[::every] for one in desk.part(item)),
        *(desk.layout(layout) for layout in layouts[::every]),
    )


def test_pictures_of_steps_show_no_lengths():
    """Which is why they need not be looked at in every choice of units. Every other step of the ledge: of all kinds of scenes some."""
    derived, drawings = drawn("key-ledge")
    desk = Desk(in_units(derived, Units.BOTH), solids_of("key-ledge"))
    steps = [step for step in derived.steps if step.scene][::2]
    assert {bool(step.scene and step.scene.standing) for step in steps} == {False, True}
    assert [desk.step(step)[0].svg for step in steps] == [drawings.steps[step.number].svg for step in steps]


@EACH
def test_lettering_and_frames(name, units, looked_at):
    found = {drawing.id: faults(drawing.svg) for drawing in looked_at(name, units)}
    assert {drawing: wrong for drawing, wrong in found.items() if wrong} == {}


@EACH
def test_leaders_do_not_cross(name, units, looked_at):
    found = {drawing.id: leader_faults(drawing.svg) for drawing in looked_at(name, units)}
    assert {drawing: wrong for drawing, wrong in found.items() if wrong} == {}


@pytest.mark.parametrize("name", PLANS)
def test_leaders_end_on_their_own_part(name):
    """Each exploded view's dots, against what of every part can be seen there."""
    derived, _ = drawn(name)
    solids = solids_of(name)
    shown = tuple(part.id for part in derived.plan.parts)
    for view in (PICTORIAL, PICTORIAL_LEFT):
        work = project(solids, view, shown)
        tags = item_tags(work, Window(1.0, (0.0, 0.0)), derived.cut_list, shown)
        assert tags
        for tag in tags:
            point = shapely.Point(tag.dot[0], -tag.dot[1])
            under = [part for part in shown if work.outline(part).contains(point)]
            assert [str(derived.cut_list.item_of(part).number) for part in under] == [tag.text]


@pytest.mark.parametrize("name", EVERY)
def test_line_widths_keep_the_ratio(plan):
    """Widths come from the series of ISO 128-2 (from memory); wide to narrow is 2 : 1, orthographic and pictorial."""
    for drawing in plan[1].all():
        widths = line_widths(drawing.svg)
        assert set(widths.values()) <= {0.18, 0.25, 0.35, 0.5, 0.7}, drawing.id
        for wide, narrow in (
            ("visible", "narrow"),
            ("visible", "dimension"),
            ("visible", "hidden"),
            ("outline", "edge"),
            ("new-outline", "new-edge"),
        ):
            if {wide, narrow} <= set(widths):
                assert widths[wide] / widths[narrow] == pytest.approx(2.0, rel=0.04), (drawing.id, wide, narrow)


@pytest.mark.parametrize("name", EVERY)
def test_files_stand_by_themselves(plan):
    """Well-formed XML of five elements; nothing is fetched, run or styled from outside; title and description are there."""
    for drawing in plan[1].all():
        root = ET.fromstring(drawing.svg)
        assert {node.tag.removeprefix(NS) for node in root.iter()} <= {"svg", "title", "desc", "path", "text"}
        for node in root.iter():
            for key, value in node.attrib.items():
                assert "href" not in key
                assert "url(" not in value
                assert not key.startswith("on")
        assert root.findtext(f"{NS}title")
        assert root.findtext(f"{NS}desc") == drawing.alt


@pytest.mark.parametrize("name", EVERY)
def test_alternative_texts_say_what_is_shown(plan):
    derived, drawings = plan
    form = derived.plan.lengths
    for item in derived.cut_list.items:
        alt = drawings.parts[item.number].alt
        assert item.name in alt
        assert all(form.text(length) in alt for length in (item.length, item.width, item.thickness))
    for step in derived.steps:
        if step.number in drawings.steps:
            assert step.title in drawings.steps[step.number].alt
    for drawing in (*drawings.elevations, *drawings.sections, *drawings.details):
        assert drawing.scale is not None
        assert drawing.scale in drawing.alt
    assert all(len(drawing.alt) > 40 for drawing in drawings.all())


@pytest.mark.parametrize("name", EVERY)
def test_every_joint_is_in_a_detail(plan):
    derived, drawings = plan
    fastened = {joint.line for joint in derived.plan.joints if joint.fasteners}
    wanted = {j.id for j in derived.plan.joints if j.depth or j.fasteners or j.line not in fastened}
    assert wanted == set(drawings.detail_of)
    assert set(drawings.detail_of.values()) == {drawing.id for drawing in drawings.details}


def test_scales_are_of_the_list(looked_at):
    """ISO 5455 (from memory)."""
    for name in EVERY:
        scales = {drawing.scale for drawing in looked_at(name, OWN[name]) if drawing.scale}
        assert scales <= {"1 : 1", "1 : 2", "1 : 5", "1 : 10", "1 : 20", "1 : 50"}


def test_what_is_new_shows_in_grey():
    """The tint is darker than what stands, and the outline wider, so that a grey print says the same."""
    assert luminance(STANDING_FILL) - luminance(ACCENT_TINT) > 12
    assert luminance(ACCENT_TINT) - luminance(CLAMP_FILL) > 12
    assert luminance(ACCENT) < 120
    assert NEW_OUTLINE.width >= 2 * STANDING.width


def luminance(color: str) -> float:
    """ITU-R BT.601 luma of ``#rrggbb``, 0 to 255 (weights from memory)."""
    red, green, blue = (int(color[i : i + 2], 16) for i in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue


@EACH
def test_one_path_for_each_line_style(name, units, looked_at):
    assert [drawing.id for drawing in looked_at(name, units) if styles_drawn_twice(drawing.svg)] == []


@EACH
def test_drawings_fit_their_place_on_the_page(name, units, looked_at):
    too_wide = [(d.id, d.width_mm) for d in looked_at(name, units) if d.width_mm > 170.0 or d.height_mm > 200.0]
    assert too_wide == []


@pytest.mark.parametrize("name", EVERY)
def test_every_part_and_step_is_drawn(plan):
    derived, drawings = plan
    assert set(drawings.parts) == {item.number for item in derived.cut_list.items}
    assert set(drawings.steps) == {step.number for step in derived.steps if step.scene}
    assert len({drawing.id for drawing in drawings.all()}) == len(drawings.all())


@pytest.mark.parametrize("name", EVERY)
def test_a_drawing_has_the_number_by_which_the_booklet_refers_to_it(plan) -> None:
    _, drawings = plan
    steps = (drawings.steps, drawings.steps_low, drawings.steps_narrow)
    for by_number in (drawings.parts, drawings.sheets, drawings.boards, *steps):
        assert {number: drawing.number for number, drawing in by_number.items()} == {n: n for n in by_number}
    for drawing in (*drawings.details, *drawings.templates):
        assert drawing.title.startswith(f"{drawing.kind.capitalize()} {drawing.number}: ")
    assert {drawing for served in drawings.templates_for.values() for drawing in served} <= set(drawings.templates)
    assert {drawing.number for drawing in (drawings.cover, *drawings.elevations, *drawings.sections)} == {None}


@EACH
def test_every_drawing_is_valid_svg(name: str, units: Units, looked_at) -> None:
    found = {drawing.id: svg_faults(drawing.svg) for drawing in looked_at(name, units)}
    assert {an_id: wrong for an_id, wrong in found.items() if wrong} == {}


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ('role="img"', 'role="list"'),
        ('class="', 'id="'),
        ('class="', 'kind="'),
        ('stroke-linecap="round"', 'stroke-linecap="sharp"'),
        ('stroke-width="0.25"', 'stroke-width="thin"'),
        (' d="M', ' d="N'),
        ("<path", "<curve"),
        ("<title>", "<title><text>not here</text>"),
    ],
)
def test_the_validator_can_fail(right: str, wrong: str) -> None:
    svg = next(drawing.svg for drawing in drawn("key-ledge")[1].all() if drawing.kind == "part")
    assert right in svg
    assert svg_faults(svg.replace(right, wrong, 1))


@pytest.mark.parametrize("name", EVERY)
def test_every_cut_list_number_is_in_an_exploded_view(plan):
    derived, drawings = plan
    shown = {word for drawing in drawings.exploded for word in _texts(drawing.svg)}
    assert {str(item.number) for item in derived.cut_list.items} <= shown


def _texts(svg: str) -> list[str]:
    return [line.split(">")[1].split("<")[0] for line in svg.splitlines() if line.startswith("<text")]


@pytest.mark.parametrize("name", EVERY)
def test_every_clearance_hole_is_shown_in_the_step_that_bores_it(name: str) -> None:
    """Each screw of a joint has its circle on its own part, in one step; pocket screws and brads have none."""
    derived = outcome_of(name).derived
    shown = [
        screw for step in derived.steps if step.scene for part in step.scene.new for screw in screws_bored(step, part)
    ]
    screws = [f for joint in derived.plan.joints for f in joint.fasteners if f.item.kind in SCREWS]
    assert sorted(map(repr, shown)) == sorted(map(repr, screws))
