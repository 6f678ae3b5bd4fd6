"""Hardware from cut to fitted: recesses before the finish, hardware after it, doors after what is behind them."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from tests.hardware.conftest import derived

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.checks.context import Bench
from drawleaf.checks.stability import trials_of
from drawleaf.derive.derive import derive
from drawleaf.draw.template.subjects import template_subjects, templates_for
from drawleaf.model.place import Axis
from drawleaf.model.steps import Step
from drawleaf.solids.build import build_solids

NAMES = ("cupboard", "table", "doors")


def words(name: str, step: Step) -> str:
    """What the step says, as plain text."""
    made = derived(name)
    text = step_text(step, made, Formatter.of(made.plan))
    lines = [*text.setup, *text.actions, text.check or "", text.if_not or "", text.why or ""]
    return re.sub(r"<[^>]+>", "", "\n".join(str(line) for line in lines))


def step(name: str, step_id: str) -> Step:
    return next(one for one in derived(name).steps if step_id in (one.id, *one.also))


def numbers(name: str, *ids: str) -> list[int]:
    return [step(name, one).number for one in ids]


@pytest.mark.parametrize("name", NAMES)
def test_the_books_balance(name: str) -> None:
    """What is bought is used, and every cut is made in a step."""
    assert [line.name for line in derived(name).audit.lines if not line.agrees] == []


@pytest.mark.parametrize("name", NAMES)
def test_cuts_come_before_the_finish_and_hardware_after_it(name: str) -> None:
    steps = derived(name).steps
    coat = next(one.number for one in steps if any(operation.kind == "coat" for operation in one.operations))
    for one in steps:
        for operation in one.operations:
            if operation.features:
                assert one.number < coat, one.title
            if operation.fittings:
                assert one.number > coat, one.title


def test_the_order_of_hanging() -> None:
    """Feet, sleeves and magnets on the bare case, the shelf before the door, the catch behind it after the door, the stay after the lid."""
    order = (
        "fit-magnets",
        "fit-levellers",
        "press-sleeves",
        "set-shelf",
        "hang-left-door",
        "fit-catch",
        "hang-lid",
        "fit-stay",
    )
    found = numbers("cupboard", *order)
    assert found == sorted(found)
    found = numbers("table", "fit-castors", "fit-slides", "fasten-top", "hang-drawer", "fit-pull")
    assert found == sorted(found)


def test_what_moves_comes_the_way_its_hinges_ask() -> None:
    """Doors from the front, the lid and the top from above, the lift-off panel towards its magnets."""
    ways = {
        one.id: move.direction for name in NAMES for one in derived(name).steps if one.scene for move in one.scene.moves
    }
    assert ways["hang-left-door"] == ways["hang-right-door"] == ways["set-kick"] == (0.0, 1.0, 0.0)
    assert ways["hang-lid"] == ways["fasten-top"] == (0.0, 0.0, -1.0)


def test_a_catch_is_shown_without_the_door_before_it() -> None:
    scene = step("cupboard", "fit-catch").scene
    assert scene is not None
    assert "left_door.door" not in scene.standing
    scene = step("cupboard", "fit-stay").scene
    assert scene is not None
    assert "lid.lid" not in scene.standing


def test_cautions_where_hardware_can_hurt() -> None:
    assert "magnets" in {caution.id for caution in step("cupboard", "fit-magnets").cautions}
    for one in ("hang-lid", "fit-stay"):
        assert "finger trap" in {caution.id for caution in step("cupboard", one).cautions}


SAID = [
    ("cupboard", "cups-right-door", ("Bit 1 3/8 in", "hinge cups|13/16 in from the right edge")),
    ("cupboard", "recess-left-door", ("Depth 1/32 in", "open to the front face", "stands out by 3/64 in")),
    ("cupboard", "recess-block", ("17/64 in deep", "9/64 in deep")),
    ("cupboard", "bore-side", ("4 holes in the right side", "1 15/32 in from the front edge")),
    ("cupboard", "hang-left-door", ("middles 3 3/4 in and 13 5/8 in from the bottom end", "gap on the hinge side is 3/32 in")),
    ("cupboard", "hang-right-door", ("covers 21/32 in of the right side",)),
    ("cupboard", "hang-lid", ("Saw the hinge to 34 1/2 in",)),
    ("cupboard", "press-sleeves", ("32 in all",)),
    ("cupboard", "fit-magnets", ("two in all",)),
    ("cupboard", "fit-catch", ("14 17/32 in from the left end", "1/16 in behind the back")),
    ("table", "fit-brackets", ("two brackets in the corner", "3 in and 11 in from the front edge")),
    ("table", "fasten-top", ("four in all. Let each still turn", "halfway into each slot")),
    ("table", "fit-pull", ("two #8-32 x 1-1/2 in machine screws",)),
    ("table", "fit-slides", ("13 5/8 in up from the bottom end",)),
    ("doors", "bore-wall", ("4 holes in the wall D", "55 mm from the front edge", "on the right face: 37 mm from the front edge, 146 mm")),
    ("doors", "cups-four", ("20.5 mm from the right edge, 100 mm and 596 mm from the bottom end",)),
    ("doors", "hang-four", ("has 2 mm beside it",)),
    ("doors", "hang-three", ("80 mm, 348 mm and 616 mm from the bottom end",)),
    ("table", "notch-box-back", ("1/2 in from the bottom edge and 1 5/8 in from the left end",)),
]  # fmt: skip


@pytest.mark.parametrize(("name", "step_id", "said"), SAID, ids=[one[1] for one in SAID])
def test_a_step_says_its_figures(name: str, step_id: str, said: tuple[str, ...]) -> None:
    text = words(name, step(name, step_id)).replace("\N{FRACTION SLASH}", "/").replace("\N{NO-BREAK SPACE}", " ")
    text = text.replace("\N{THIN SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert [one for one in said if not re.search(one, text)] == [], text


@pytest.mark.parametrize("kit", ["full shop", "hand tools"])
@pytest.mark.parametrize("name", NAMES)
def test_every_kit_can_read_its_steps(name: str, kit: str) -> None:
    """Each step has words in each kit, and no hardware asks for a tool that the kit has not."""
    plan = derived(name).plan
    plan = replace(plan, making=replace(plan.making, kit=kit))
    made, _ = derive(plan, build_solids(plan), tidy=False)
    for one in made.steps:
        text = step_text(one, made, Formatter.of(plan))
        assert text.actions, one.id
        for operation in one.operations:
            if operation.fittings or one.id.startswith(("recess", "cups")):
                ways = (operation.method, *operation.others)
                assert any(not way.borrow for way in ways), (one.id, operation.method.borrow)


@pytest.mark.parametrize("name", NAMES)
def test_hardware_is_drawn_within_the_room_it_takes(name: str) -> None:
    """Each shape is a closed solid inside its fitting's body."""
    plan = derived(name).plan
    solids = build_solids(plan)
    for fitting in plan.fittings:
        if fitting.body is None:
            continue
        shape = solids.fitting(fitting.id)
        assert shape is not None, fitting.id
        assert shape.volume > 0.0, fitting.id
        low, high = shape.bounds
        for axis in Axis:
            span = fitting.body.span(axis)
            # A facet's corner stands a hair outside its circle: round bars have the area of the true circle.
            slack = 0.02 * max(span.extent.mm, 10.0)
            assert low[axis.index] >= span.low.mm - slack, fitting.id
            assert high[axis.index] <= span.high.mm + slack, fitting.id


def test_a_piece_tips_over_its_castors_and_not_over_its_sides() -> None:
    """Castors 3 in behind the front make the base that much shallower, and the check of tipping reckons with that."""
    made = derived("table")
    _, front, deep = trials_of(Bench(made, build_solids(made.plan)))
    assert (front, deep) == pytest.approx((3 * 25.4, (17 - 4 - 3) * 25.4))


def test_a_hinge_cup_has_a_full_size_template() -> None:
    """The cup's middle is 21.5 mm from the edge for a boring of 4 mm; the step that bores it names the template; like doors share one."""
    made = derived("doors")
    subjects = template_subjects(made)
    cups = [subject for subject in subjects if "hinge cup" in subject.title]
    assert len(cups) == 2
    first = cups[0]
    assert [(hole.across.mm, hole.diameter.mm) for hole in first.holes] == [(21.5, 35.0), (27.5, 2.0), (27.5, 2.0)]
    assert abs(first.holes[1].up - first.holes[2].up).mm == pytest.approx(48.0)
    assert templates_for(made)[step("doors", "cups-one").number] == (subjects.index(first) + 1,)


def test_the_template_of_a_bar_pull_shows_its_holes() -> None:
    subject = next(one for one in template_subjects(derived("table")) if "bar pull" in one.title)
    left, right = subject.holes
    assert abs(right.across - left.across).mm == pytest.approx(128.0)


def test_a_metric_shop_is_asked_for_metric_hardware() -> None:
    bought = {row.name: row.detail for row in derived("doors").shopping.rows}
    assert "50 mm butt hinges" in bought
    assert "3.5 x 16 mm" in bought["50 mm butt hinges"]
