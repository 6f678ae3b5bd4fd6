"""What a reader is told of the piece that he turns, in a real browser: which face of what goes where, of leaning parts and of bought hardware too; and by
keys and ears alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, radians, sin

import pytest
from selenium.webdriver.common.keys import Keys
from tests.book.turning_page import DRAWN, OPEN, turning_page
from tests.chromium import running

from drawleaf.book.output.turning import library_text
from drawleaf.model.turnable import Turnable, Turning

pytestmark = pytest.mark.skipif(library_text() is None, reason="no browser library: scripts/fetch-browser-library")

TRESTLE = """\
plan: {title: Saw trestle, number: T-3, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  leg: {material: construction lumber, size: 2x4}
  rail: {material: construction lumber, size: 2x4}
assemblies:
  trestle:
    parts:
      leg: {name: Leg, stock: leg, thickness: x, full_width: y, grain: z, left: 100, front: 0, bottom: 0, top: 600, lean: {right: 12 deg}, pivot: top, level_ends: {bottom: 0, top: 600}, mirror: {x: 400}}
      rail: {name: Rail, stock: rail, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, front: 26, top: 560}
    joints:
      - {butt: rail, to: leg, with: [glue, {dowels: {count: 2}}]}
    hardware:
      - {item: coat hook, on: rail, face: front, at: {x: 400, z: 515}}
checks: {waive: [{check: tip-over, reason: It stands against a wall.}]}
"""
PANEL = """\
plan: {title: Board, number: T-4, date: 2026-11-30, author: A. Maker, lengths: mm}
stock: {board: {material: pine board, size: 1x6}}
assemblies:
  top:
    parts:
      panel: {name: Panel, stock: board, thickness: z, grain: x, left: 0, right: 300, front: 0, back: 240, bottom: 0, glue_up: {widest_strip: 90}}
"""
SAID = "return document.querySelector('.turn-said').firstChild.textContent"
FACES = "return [...document.querySelectorAll('.turn-face')].map((one) => one.textContent)"


@dataclass(frozen=True)
class Page:
    """The trestle in a browser."""

    browser: object
    made: Turnable

    def run(self, script: str, *values: object):
        return self.browser.execute_script(script, *values)  # type: ignore[attr-defined]

    def open(self, turning: Turning) -> None:
        self.run(OPEN, turning.drawing)
        self.drawn()

    def drawn(self) -> None:
        """Wait until what was moved is drawn."""
        self.browser.execute_async_script(DRAWN)  # type: ignore[attr-defined]

    def pick(self, an_id: str) -> str:
        """What is said of the body of that id."""
        self.run(
            "const view = Turning.open(); view.pick(view.stage.bodies.find((one) => one.data.id === arguments[0]));",
            an_id,
        )
        self.drawn()
        return self.run(SAID)


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    file, made = turning_page(TRESTLE, tmp_path_factory.mktemp("told"))
    for browser in running(820, 1180):
        browser.get(file.as_uri())
        yield Page(browser, made)


def joining(made: Turnable) -> Turning:
    return next(one for one in made.steps if not one.stocks and any(body.turn is not None for body in one.standing))


def test_a_leaning_part_has_its_faces_named_where_they_look(page: Page) -> None:
    """Faces are those of the leg as it is made: its left face is seen from the left, leaning, and the name stands on the wood."""
    page.open(joining(page.made))
    page.pick("trestle.leg")
    page.run("const view = Turning.open(); view.motion.to(1); view.moved();")
    page.drawn()
    first = facing(page)
    assert {"Front edge"} <= set(page.run(FACES)) <= first
    on_wood = """
      const { stage } = Turning.open(), { body, at } = Turning.open().labels.wanted(Turning.open()).find((one) => one.words === arguments[0]);
      const place = at.clone().applyMatrix4(body.group.matrixWorld), seen = place.clone().project(stage.camera), hit = stage.hit(seen.x, seen.y);
      return [hit && hit.object.userData.body === body, hit && hit.point.distanceTo(place)];
    """
    on, off = page.run(on_wood, "Front edge")
    assert on is True
    assert off < 0.5  # mm
    page.run("const { stage } = Turning.open(); stage.turn(2.6, 0); Turning.open().moved();")
    page.drawn()
    assert {"Back edge"} <= set(page.run(FACES)) <= facing(page)
    assert {"Front edge", "Back edge"} <= facing(page) ^ first
    page.run("Turning.open().close()")


def facing(page: Page) -> set[str]:
    """The faces of the leg that look at the viewer, by its lean as the source has it: 12 degrees to the right."""
    toward = page.run(
        "const of = Turning.open().stage.turners[0].inner.matrixWorld.elements; return [of[2], of[6], of[10]]"
    )
    s, c = sin(radians(12)), cos(radians(12))
    out = {"Left face": (-c, 0, s), "Right face": (c, 0, -s), "Front edge": (0, -1, 0), "Back edge": (0, 1, 0), "Top end": (s, 0, c), "Bottom end": (-s, 0, -c)}  # fmt: skip
    return {name for name, way in out.items() if sum(a * b for a, b in zip(way, toward, strict=True)) > 0.12}


def test_both_faces_of_a_joint_are_told_of_either_part(page: Page) -> None:
    """The end of the rail lies against the inner face of the leg, however that leans; asked of the leg, the same is said the other way round."""
    page.open(joining(page.made))
    rail, leg = page.pick("trestle.rail"), page.pick("trestle.leg")
    page.run("Turning.open().close()")
    assert "Its left end lies against the right face of 1 Left leg." in rail
    assert "Its right end lies against the left face of 2 Right leg." in rail
    assert "Its right face lies against the left end of 3 Rail." in leg


def test_bought_hardware_tells_the_face_that_it_sits_on(page: Page) -> None:
    """The hook bears its name; picked, the face of the rail that it sits on is named beside it, and said."""
    fitted = next(one for one in page.made.steps if any(body.id.startswith("trestle.coat") for body in one.standing))
    hook = next(body.id for body in fitted.standing if body.id.startswith("trestle.coat"))
    page.open(fitted)
    assert page.run(FACES) == ["Coat hook"]
    assert "It sits on the front face of 3 Rail." in page.pick(hook)
    assert set(page.run(FACES)) == {"Coat hook", "Front face"}
    assert "Its front face carries Coat hook." in page.pick("trestle.rail")
    page.run("Turning.open().close()")


def test_a_part_that_stands_alone_bears_its_lengths_as_it_is_made(page: Page) -> None:
    page.open(page.made.whole)
    page.run(
        "const view = Turning.open(); for (const body of view.stage.bodies) view.stage.hide(body, body.data.id !== 'trestle.leg'); view.moved();"
    )
    page.drawn()
    figures = page.run("return [...document.querySelectorAll('.turn-figure')].map((one) => one.textContent)")
    sides = page.run("return Turning.open().stage.bodies.find((one) => !one.hidden).data.sides")
    page.run("Turning.open().close()")
    assert figures == sides
    assert len(figures) == 3


def test_shift_and_arrows_move_the_picture_and_do_not_turn_it(page: Page) -> None:
    """To the right: the picture's window goes right by a share of its width, the piece to the left; back again, all is as it was."""
    page.open(joining(page.made))
    canvas = page.browser.switch_to.active_element  # type: ignore[attr-defined]
    state = "const { stage } = Turning.open(); return [stage.pan.x, stage.pan.y, stage.around, stage.over, stage.zoom]"
    frame = "return Turning.open().canvas.dataset.frame.split(' ').map(Number)"
    left, right, low, high = page.run(frame)
    canvas.send_keys(Keys.SHIFT, Keys.ARROW_RIGHT, Keys.ARROW_UP, Keys.NULL)
    page.drawn()
    x, y, *rest = page.run(state)
    assert x > 0
    assert y > 0
    assert rest == [0, 0, 1]
    assert page.run(frame) == pytest.approx([left + x, right + x, low + y, high + y], abs=0.01)
    canvas.send_keys(Keys.SHIFT, Keys.ARROW_LEFT, Keys.ARROW_DOWN, Keys.NULL)
    page.drawn()
    assert page.run(frame) == pytest.approx([left, right, low, high], abs=0.01)
    page.run("Turning.open().close()")


def test_each_control_is_reached_by_tab_and_has_a_name(page: Page) -> None:
    """From the picture on, Tab goes through all that can be pressed or slid; a screen reader has a name and a role for each."""
    page.open(page.made.whole)
    reached = []
    page.browser.switch_to.active_element.send_keys("n")  # type: ignore[attr-defined]
    for _ in range(20):
        label = page.run("return document.activeElement.closest('.turn-place') && (document.activeElement.outerHTML)")
        if label is None:
            break
        reached.append(label)
        page.browser.switch_to.active_element.send_keys(Keys.TAB)  # type: ignore[attr-defined]
    there = page.run(
        "return [...document.querySelectorAll('.turn-place canvas, .turn-place button, .turn-place input, .turn-place select, .turn-place a')]"
        ".filter((one) => one.checkVisibility()).map((one) => one.outerHTML)"
    )
    tree = spoken(page)
    page.run("Turning.open().close()")
    assert sorted(reached) == sorted(there)
    assert len(reached) > 7
    controls = [one for one in tree if one[0] in ("button", "slider", "combobox", "link", "application")]
    assert len([one for one in controls if one[0] != "button" or not one[1].startswith("Turn this")]) == len(reached)
    assert all(name.strip() for _, name in controls)
    names = {name for _, name in controls}
    assert {
        "Play",
        "Flat drawing",
        "As drawn",
        "Take apart",
        "Cut the piece open",
        "This part alone",
        "Hide this part",
        "Show all",
    } <= names


def test_what_is_picked_is_spoken(page: Page) -> None:
    """The line below the picture is a live region: it holds the part, its size and the face as keys name them. Words over the picture are not read twice."""
    page.open(joining(page.made))
    canvas = page.browser.switch_to.active_element  # type: ignore[attr-defined]
    nodes = page.browser.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]  # type: ignore[attr-defined]
    live = [
        node
        for node in nodes
        if {"name": "live", "value": {"type": "token", "value": "polite"}} in node.get("properties", [])
    ]
    picture = [node for node in nodes if node.get("role", {}).get("value") == "application"]
    assert len(live) == len(picture) == 1
    assert picture[0]["name"]["value"].startswith("Step ")
    assert "arrow keys turn it" in picture[0]["name"]["value"]
    canvas.send_keys("n", "f")
    said = page.run(SAID)
    face = page.run("return Turning.open().place.dataset.face")
    tree = spoken(page)
    heard = "".join(name for role, name in tree if role == "StaticText")
    numbers = page.run("return document.querySelectorAll('.turn-labels span').length")
    page.run("Turning.open().close()")
    assert face
    assert f". {face}." in said
    assert said.strip() in heard
    assert numbers > 0
    assert heard.count(face) == said.count(face)


def spoken(page: Page) -> list[tuple[str, str]]:
    """The role and name of all that a screen reader meets, in order."""
    nodes = page.browser.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]  # type: ignore[attr-defined]
    return [(node["role"]["value"], node.get("name", {}).get("value", "")) for node in nodes if not node["ignored"]]


def test_strips_of_a_panel_are_told_by_their_numbers(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Counted from the back, as the drawing has them; each says which of its edges goes against which strip, and no size: that of the panel is none of theirs."""
    file, made = turning_page(PANEL, tmp_path_factory.mktemp("strips"))
    scene = next(one for one in made.steps if all(body.strip for body in one.standing))
    for browser in running(820, 1180):
        browser.get(file.as_uri())
        strips = Page(browser, made)
        strips.open(scene)
        numbers = strips.run("return [...document.querySelectorAll('.turn-number')].map((one) => one.textContent)")
        strips.run("const view = Turning.open(); view.next(1); view.next(1);")
        said = strips.run(SAID)
    assert numbers == ["1", "2", "3"]
    assert said.startswith("Strip 2 of 1 Panel, Pine board. New in this step.")
    assert (
        "Its back edge lies against the front edge of strip 1. Its front edge lies against the back edge of strip 3."
        in said
    )


def test_words_over_the_picture_stay_in_it_and_clear_of_one_another(page: Page) -> None:
    """Where the piece is moved to the edge, the hook's long name is brought in from there, and no two words of faces and sides cover each other."""
    fitted = next(one for one in page.made.steps if any(body.id.startswith("trestle.coat") for body in one.standing))
    page.open(fitted)
    hook = next(body.id for body in fitted.standing if body.id.startswith("trestle.coat"))
    page.pick(hook)
    boxes = page.run("""
      const view = Turning.open();
      view.stage.bodies.find((one) => one.data.id === arguments[0]).data.name = 'Coat hook with three arms and a long name';
      view.stage.pan.x = view.stage.size * 0.45;
      view.stage.draw(view.canvas, view.canvas.clientWidth, view.canvas.clientHeight);
      view.labels.draw(view, view.canvas.clientWidth, view.canvas.clientHeight);
      const { left, right } = view.canvas.getBoundingClientRect();
      return [...document.querySelectorAll('.turn-face, .turn-side')].map((one) => {
        const box = one.getBoundingClientRect();
        return [one.textContent, box.left - left, right - box.right, box.left, box.top, box.right, box.bottom];
      });
    """, hook)  # fmt: skip
    page.run("Turning.open().close()")
    assert any(words.startswith("Coat hook with") for words, *_ in boxes)
    assert all(before > -1 and after > -1 for _, before, after, *_ in boxes)
    for place, (one, _, _, left, top, right, bottom) in enumerate(boxes):
        for other, _, _, from_left, from_top, to_right, to_bottom in boxes[place + 1 :]:
            apart = right <= from_left or to_right <= left or bottom <= from_top + 2 or to_bottom <= top + 2
            assert apart, (one, other)
