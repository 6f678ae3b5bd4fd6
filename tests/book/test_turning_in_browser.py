"""The turning view of the tablet edition in a real browser, from a file: what is turned is what is drawn, and it never leaves the file."""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pytest
from PIL import Image, ImageChops, ImageDraw, ImageFilter
from tests.chromium import running
from tests.conftest import ROOT, drawn

from drawleaf.book.output.booklet import make_html
from drawleaf.book.output.turning import library_text
from drawleaf.draw.at_step.so_far import solids_so_far
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import View
from drawleaf.draw.turnable.turnable import turnable
from drawleaf.model.turnable import Turnable
from drawleaf.solids.build import Solids, build_solids

NAME = "key-ledge"
pytestmark = pytest.mark.skipif(library_text() is None, reason="no browser library: scripts/fetch-browser-library")

WATCH = "window.refused = []; document.addEventListener('securitypolicyviolation', (event) => refused.push(event.violatedDirective));"
OPEN = "document.querySelector(`svg[data-drawing='${arguments[0]}']`).closest('.drawing-frame').querySelector('.turn-open').click();"
DRAWN = "const done = arguments[arguments.length - 1]; requestAnimationFrame(() => requestAnimationFrame(() => done(true)));"


@dataclass(frozen=True)
class Opened:
    """A tablet edition in a browser, and what it was made of."""

    browser: object
    turnable: Turnable
    solids: Solids
    address: str

    def run(self, script: str, *values: object):
        return self.browser.execute_script(script, *values)  # type: ignore[attr-defined]

    def drawn(self) -> None:
        """Wait until what was moved is drawn."""
        self.browser.execute_async_script(DRAWN)  # type: ignore[attr-defined]

    def open(self, drawing: str) -> None:
        self.run(
            "location.hash = document.querySelector(`svg[data-drawing='${arguments[0]}']`).closest('.screen').id",
            drawing,
        )
        self.run(OPEN, drawing)
        self.drawn()


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Opened]:
    derived, drawings = drawn(NAME)
    solids = build_solids(derived.plan)
    made = turnable(derived, solids, drawings.steps, (*drawings.sheets.values(), *drawings.boards.values()))
    html = make_html(derived, drawings, for_print=False, plan_folder=ROOT / "plans" / NAME, turnable=made)
    file = tmp_path_factory.mktemp("turning") / "booklet.html"
    file.write_text(html, encoding="utf-8")
    for browser in running(820, 1180):
        browser.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": WATCH})
        browser.get(file.as_uri())
        yield Opened(browser, made, solids, file.as_uri())


def test_every_picture_of_a_step_and_the_whole_turn_without_an_error(page: Opened) -> None:
    """Opened, brought home, a part named, closed: no error, no request, nothing refused; the flat drawing is back."""
    wanted = [one.drawing for one in (page.turnable.whole, *page.turnable.steps)]
    assert page.run("return document.querySelectorAll('.turn-open').length") == len(wanted) > 5
    for drawing in wanted:
        page.open(drawing)
        said = page.run(
            "const view = Turning.open(); view.motion.to(1); view.next(1); view.moved(); return [view.svg.dataset.drawing, "
            "view.place.hidden, view.svg.hasAttribute('hidden'), document.querySelector('.turn-said').textContent, Turning.bodyName(view.stage.picked.data)]"
        )
        assert said[:3] == [drawing, False, True]
        assert said[4]
        assert said[3].startswith(said[4])
        page.drawn()
        page.run("Turning.open().close()")
    assert page.run("return document.querySelectorAll('svg.drawing[hidden], .turn-place:not([hidden])').length") == 0
    assert page.run("return performance.getEntriesByType('resource').length") == 0
    assert page.run("return window.refused") == []
    log = page.browser.get_log("browser")  # type: ignore[attr-defined]
    assert [one["message"] for one in log if one["level"] == "SEVERE"] == []


def test_a_turned_step_has_the_outline_of_its_drawing(page: Opened) -> None:
    """Unturned, all that is seen of the bodies covers the same pixels as our own projection of them, within two."""
    derived, drawings = drawn(NAME)
    compared = 0
    for turning in page.turnable.steps:
        step = next(one for one in derived.steps if one.number == turning.step)
        pane = drawings.steps[step.number].panes[0]
        if pane.sight is None or not any(one.turn is not None for one in turning.standing):
            continue
        compared += 1
        page.open(turning.drawing)
        picture, frame = page.run(
            "const { stage, canvas } = Turning.open(); stage.marks.visible = false;"
            "stage.draw(canvas, canvas.clientWidth, canvas.clientHeight); return [canvas.toDataURL('image/png'), canvas.dataset.frame]"
        )
        page.run("Turning.open().close()")
        seen = Image.open(io.BytesIO(base64.b64decode(picture.partition(",")[2]))).getchannel("A")
        seen = seen.point(lambda alpha: 255 if alpha > 127 else 0)
        view = View("turned", turning.axes[2], turning.axes[1])
        now = solids_so_far(derived, page.solids, step, pane.shown)
        work = project(now, view, pane.shown, dict(pane.sight.offsets))
        ours = _filled(work, [float(value) for value in frame.split()], seen.size)
        assert ours.histogram()[255] > 0.05 * seen.size[0] * seen.size[1]
        apart = ImageChops.difference(seen, ours).filter(ImageFilter.MinFilter(3))
        assert apart.getbbox() is None, (turning.drawing, apart.histogram()[255])
    assert compared


def _filled(work, frame: list[float], size: tuple[int, int]) -> Image.Image:
    left, right, bottom, top = frame
    made = Image.new("L", size, 0)
    for part in work.shown:
        outline = work.outline(part)
        for area in getattr(outline, "geoms", [outline]):
            one = Image.new("L", size, 0)
            paint = ImageDraw.Draw(one)
            for ring, color in ((area.exterior, 255), *((inner, 0) for inner in area.interiors)):
                points = np.array(ring.coords)
                x = (points[:, 0] - left) / (right - left) * size[0]
                y = (top - points[:, 1]) / (top - bottom) * size[1]
                paint.polygon(list(zip(x.tolist(), y.tolist(), strict=True)), fill=color)
            made = ImageChops.lighter(made, one)
    return made


def test_what_moves_slowly_is_drawn_in_fewer_pixels_and_what_rests_is_sharp(page: Opened) -> None:
    """Pictures that take 100 ms each are too slow: from the fifth on they are coarser, never below a half. After a rest all pixels are drawn."""
    page.open(page.turnable.whole.drawing)
    ratios = page.run("""
      const view = Turning.open(), ratio = () => Turning.renderer().getPixelRatio(), full = ratio(), found = [];
      for (let at = 0; at < 12; at += 1) { view.pace(5e6 + at * 100); found.push(ratio() / full); }
      view.pace(5e6 + 2000);
      found.push(ratio() / full);
      for (let at = 1; at < 3; at += 1) { view.pace(5e6 + 2000 + at * 20); found.push(ratio() / full); }
      return found;
    """)
    assert ratios == pytest.approx([*[1] * 4, *[0.75] * 4, *[0.5625] * 4, 1, 0.5625, 0.5625])
    rested = page.browser.execute_async_script(  # type: ignore[attr-defined]
        "const done = arguments[0], view = Turning.open(), drawn = view.place.dataset.drawn;"
        "const look = () => view.place.dataset.drawn === drawn ? setTimeout(look, 20) : done(Turning.renderer().getPixelRatio() === Math.min(devicePixelRatio, 2)); look();"
    )
    page.run("Turning.open().close()")
    assert rested is True


def test_the_library_runs_when_the_first_picture_is_turned(page: Opened) -> None:
    page.browser.get(page.address)  # type: ignore[attr-defined]
    assert page.run("return typeof THREE") == "undefined"
    page.open(page.turnable.steps[0].drawing)
    assert page.run("return [typeof THREE, Turning.open() !== null]") == ["object", True]
    page.run("Turning.open().close()")


def test_keys_turn_name_and_leave(page: Opened) -> None:
    """All of it without a finger: the arrows turn the picture and not the page, N names part after part, Escape goes back to the button."""
    from selenium.webdriver.common.keys import Keys

    drawing = next(one.drawing for one in page.turnable.steps if any(any(body.off) for body in one.standing))
    page.open(drawing)
    canvas = page.browser.switch_to.active_element  # type: ignore[attr-defined]
    assert canvas.tag_name == "canvas"
    screen = page.run("return document.querySelector('.screen.shown').id")
    canvas.send_keys(Keys.ARROW_RIGHT, Keys.ARROW_UP)
    around, over = page.run("return [Turning.open().stage.around, Turning.open().stage.over]")
    assert around > 0
    assert over < 0
    assert page.run("return document.querySelector('.screen.shown').id") == screen
    canvas.send_keys("n")
    picked = page.run("return Turning.open().place.dataset.picked")
    body = page.run("return Turning.data().bodies.find((one) => one.id === arguments[0])", picked)
    said = page.run(
        "const said = document.querySelector('.turn-said'); return [said.textContent, said.getAttribute('aria-live')]"
    )
    assert said[0].startswith(f"{body['number']} {body['name']}, {body['size']}")
    assert said[1] == "polite"
    joined = page.run(
        "const view = Turning.open(), [part, face, other, onto, into] = view.stage.turning.meetings[0], { bodies } = Turning.data(), lower = (of, side) => bodies[of].faces[side].toLowerCase();"
        "view.pick(view.stage.bodies.find((one) => one.one.body === part));"
        "return [document.querySelector('.turn-said').textContent, `Its ${lower(part, face)} ${into ? 'goes into' : 'lies against'} the ${lower(other, onto)} of ${bodies[other].number} ${bodies[other].name}.`]"
    )
    assert joined[1] in joined[0]
    canvas.send_keys(Keys.ESCAPE)
    assert page.run("return Turning.open() === null && document.activeElement.classList.contains('turn-open')")


def test_a_tap_names_the_part_and_its_face(page: Opened) -> None:
    """In the view from the front right above, the middle of what is seen of a top face is that face."""
    page.open(page.turnable.whole.drawing)
    found = page.run("""
      const { stage, canvas } = Turning.open(), names = new Set();
      for (let x = -0.9; x < 1; x += 0.1) for (let y = -0.9; y < 1; y += 0.1) {
        const hit = stage.hit(x, y);
        if (!hit) continue;
        const body = hit.object.userData.body, name = Turning.surfaceName(body.shape, body.data, hit.faceIndex);
        const [code] = hit.face.normal.toArray().map((value, axis) => [Math.abs(value), axis, value]).sort((a, b) => b[0] - a[0]);
        if (code[0] > 0.999) names.add(`${['left right', 'front back', 'bottom top'][code[1]].split(' ')[Number(code[2] > 0)]}: ${name}`);
      }
      return [...names];
    """)
    assert len(found) >= 3
    touched = page.run("""
      const view = Turning.open(), body = view.stage.bodies[0];
      view.pick(body, 0);
      const here = view.stage.touched, seen = here.parent === body.group && here.geometry.getAttribute('position').count === body.shape.surfaces[0][0] * 3;
      view.pick(body);
      return [seen, view.stage.touched];
    """)
    page.run("Turning.open().close()")
    assert touched == [True, None]
    for one in found:
        way, _, name = one.partition(": ")
        assert not name or name.lower().startswith(way) or name.split()[-1] not in ("face", "edge", "end"), one


def test_numbers_stand_on_what_is_new_and_figures_on_what_stands_alone(page: Opened) -> None:
    """As in the drawing, each new part bears its number; a part alone bears the lengths of its three sides."""
    turning = next(one for one in page.turnable.steps if any(body.turn is not None for body in one.standing))
    page.open(turning.drawing)
    said = page.run(
        "const bodies = Turning.data().bodies; return [[...document.querySelectorAll('.turn-number')].map((one) => Number(one.textContent)),"
        "Turning.open().stage.bodies.filter((one) => one.one.new).map((one) => one.data.number)]"
    )
    assert said[0] == said[1] != []
    page.open(page.turnable.whole.drawing)
    page.run(
        "Turning.open().next(1); [...document.querySelectorAll('.turn-panel button')].find((one) => one.textContent === 'This part alone').click()"
    )
    page.drawn()
    alone = page.run(
        "return [[...document.querySelectorAll('.turn-figure')].map((one) => one.textContent), Turning.open().stage.picked.data.sides]"
    )
    assert alone[0] == alone[1]
    assert len(alone[0]) == 3
    page.run("Turning.open().close()")


def test_cutting_open_leaves_what_lies_behind_the_plane(page: Opened) -> None:
    """What a tap finds lies behind the cut, however deep it is set; the slider is there only while something is cut."""
    page.open(page.turnable.whole.drawing)
    nearest = """
      const { stage } = Turning.open(); let low = Infinity;
      for (let x = -0.95; x < 1; x += 0.05) for (let y = -0.95; y < 1; y += 0.05) {
        const hit = stage.hit(x, y);
        if (hit) low = Math.min(low, stage.turners[0].inner.worldToLocal(hit.point.clone()).y);
      }
      return low;
    """
    whole = page.run(nearest)
    choose = "const one = document.querySelector('.turn-panel select'); one.value = arguments[0]; one.dispatchEvent(new Event('change'));"
    page.run(choose, "2")
    page.drawn()
    middle = page.run(nearest)
    assert middle > whole + 10
    assert page.run("return document.querySelectorAll('.turn-slide:not([hidden])').length") == 2
    reach = (
        nearest.replace("Math.min(low,", "Math.max(low,")
        .replace("low = Infinity", "low = -Infinity")
        .replace(").y", ").x")
    )
    page.run(choose, "0")
    page.drawn()
    assert page.run(nearest) == pytest.approx(whole, abs=1e-6)
    right = page.run(reach)
    page.run(choose, "1")
    page.drawn()
    assert page.run(reach) < right - 10  # the side that the picture shows is the one that goes
    page.run("Turning.open().close()")


def test_a_piece_on_a_board_leads_to_the_part_in_the_piece(page: Opened) -> None:
    laid = page.turnable.layouts[0]
    assert not laid.drawing.startswith("step-")
    (left, top, right, bottom), part = laid.pieces[0]
    page.run(
        "location.hash = document.querySelector(`svg[data-drawing='${arguments[0]}']`).closest('.screen').id",
        laid.drawing,
    )
    page.run(
        "const svg = document.querySelector(`svg[data-drawing='${arguments[0]}']`);"
        "const at = new DOMPoint(arguments[1], arguments[2]).matrixTransform(svg.getScreenCTM());"
        "svg.dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true, clientX: at.x, clientY: at.y }))",
        laid.drawing, (left + right) / 2, (top + bottom) / 2,
    )  # fmt: skip
    page.drawn()
    assert page.run("return [Turning.open().svg.dataset.drawing, Turning.open().place.dataset.picked]") == [
        page.turnable.whole.drawing,
        part,
    ]
    assert page.run("return document.getElementById('zoom').open") is False
    back = page.run("return [...document.querySelectorAll('.turn-said button')].map((one) => one.textContent)")
    assert back
    page.run("document.querySelector('.turn-said button').click()")
    assert page.run("return document.querySelectorAll('.turn-mark').length") >= 1
    page.run("Turning.open().close()")


def test_a_piece_that_is_tapped_at_the_saw_goes_into_the_piece_and_back(page: Opened) -> None:
    """In the step's own flat drawing: it comes to its place in its own shape, the others lie where they are cut; the button takes it back."""
    saw = next(one for one in page.turnable.steps if one.stocks)
    laid = next(one for one in page.turnable.layouts if one.drawing == saw.drawing)
    going = next(one for one in saw.standing if one.turn is not None)
    assert going.lying is not None
    left, top, right, bottom = next(box for box, part in laid.pieces if part == going.id)
    svg = f"svg[data-drawing='{saw.drawing}']"
    page.run("location.hash = document.querySelector(arguments[0]).closest('.screen').id", svg)
    page.browser.execute_async_script(  # type: ignore[attr-defined]
        "const [css, x, y, done] = arguments, svg = document.querySelector(css), at = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM());"
        "svg.dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true, clientX: at.x, clientY: at.y }));"
        "const there = () => Turning.open().stage.picked.come < 1 ? setTimeout(there, 20) : done(true); there();",
        svg, (left + right) / 2, (top + bottom) / 2,
    )  # fmt: skip
    page.drawn()
    state = (
        "const { stage, place } = Turning.open(), one = stage.picked; return [place.dataset.picked, one.group.position.toArray(), one.group.quaternion.w, "
        "one.mesh.visible, one.lying.blank.visible, stage.bodies.filter((body) => body.lying && body.come).length, "
        "one.group.localToWorld(one.lying.about.clone()).applyMatrix4(stage.turners[0].inner.matrixWorld.clone().invert()).toArray()]"
    )
    picked, at, turn, own, blank, gone, _ = page.run(state)
    assert (picked, own, blank, gone) == (going.id, True, False, 1)
    assert at == pytest.approx(going.at, abs=1e-3)
    assert turn == pytest.approx(1.0)
    said = page.run("return document.querySelector('.turn-said').textContent")
    assert f"Cut from {going.lying.stock}." in said
    page.browser.execute_async_script(  # type: ignore[attr-defined]
        "const done = arguments[0], one = Turning.open().stage.picked; [...document.querySelectorAll('.turn-said button')].find((act) => act.textContent.startsWith('Back')).click();"
        "const back = () => one.come > 0 ? setTimeout(back, 20) : done(true); back();"
    )
    page.drawn()
    _, _, _, own, blank, gone, middle = page.run(state)
    assert (own, blank, gone) == (False, True, 0)
    assert middle == pytest.approx(going.lying.middle, abs=1e-2)
    page.run("Turning.open().close()")


def test_what_rests_among_itself_is_drawn_at_once_and_looks_the_same(page: Opened) -> None:
    """A step with screws, part by part and as one: the same picture, in a few calls to the graphics chip; a tap still finds the part."""
    turning = max(page.turnable.steps, key=lambda one: len(one.driven))
    assert len(turning.driven) > 3
    page.open(turning.drawing)
    shoot = (
        "const { stage, canvas } = Turning.open(), shoot = () => { stage.draw(canvas, canvas.clientWidth, canvas.clientHeight);"
        "return [canvas.toDataURL('image/png'), Turning.renderer().info.render.calls, (stage.hit(0, 0) || stage.hit(0.1, 0.1) || {}).object?.userData.body.data.id || ''] };"
        "stage.pick(stage.bodies.at(-1)); return [shoot(), shoot(), (stage.pick(null), shoot())]"
    )
    apart, as_one, again = page.run(shoot)
    assert apart[1] > len(turning.standing) + 2 * len(turning.driven)
    assert as_one[1] <= 12
    assert again[1] == apart[1]  # what changes is drawn part by part
    assert as_one[2] == apart[2]
    pictures = [
        Image.open(io.BytesIO(base64.b64decode(one[0].partition(",")[2]))).convert("RGB") for one in (apart, as_one)
    ]
    difference = np.asarray(ImageChops.difference(*pictures)).max(axis=2)
    assert len(np.unique(np.asarray(pictures[0]).reshape(-1, 3), axis=0)) > 10
    assert (difference > 24).mean() < 0.001
    page.run("Turning.open().close()")


def test_what_is_turned_stays_in_the_picture(page: Opened) -> None:
    """All the way round, of a step in its place and of one at the saw: no corner of a body leaves the frame; afterwards it is as drawn."""
    moved = next(one for one in page.turnable.steps if any(any(body.off) for body in one.standing))
    saw = next(one for one in page.turnable.steps if one.stocks)
    corners = (
        "const { stage, canvas } = Turning.open(); let far = 0;"
        "for (const body of stage.bodies) for (const x of ['min', 'max']) for (const y of ['min', 'max']) for (const z of ['min', 'max']) {"
        "const { box } = body.lying && body.lying.blank.visible ? body.lying.blank.userData.shape : body.shape;"
        "const own = new THREE.Vector3(box[x].x, box[y].y, box[z].z), mesh = body.lying && body.lying.blank.visible ? body.lying.blank : body.mesh;"
        "const at = own.applyMatrix4(mesh.matrixWorld).project(stage.camera); far = Math.max(far, Math.abs(at.x), Math.abs(at.y)); }"
        "return [far, canvas.dataset.frame]"
    )
    for turning in (moved, saw):
        page.open(turning.drawing)
        first = page.run(corners)[1]
        for _ in range(5):
            page.run("const view = Turning.open(); view.stage.turn(1.1, 0.15); view.moved();")
            page.drawn()
            assert page.run(corners)[0] <= 1.0
        page.run("Turning.open().again()")
        page.drawn()
        assert page.run(corners)[1] == first
        page.run("Turning.open().close()")


def test_names_of_faces_and_sides_stand_where_the_viewer_sees_them(page: Opened) -> None:
    """Seen from the front right and above, and then from behind: the names of the part's faces and of the piece's sides are those that look this way."""
    turning = next(one for one in page.turnable.steps if any(any(body.off) for body in one.standing))
    page.open(turning.drawing)
    page.run("const view = Turning.open(); view.motion.to(1); view.next(1); view.moved();")
    names = "return [...document.querySelectorAll(arguments[0])].map((one) => one.textContent).sort()"
    looks = (
        "const { stage } = Turning.open(), way = (...of) => new THREE.Vector3(...of).transformDirection(stage.turners[0].inner.matrixWorld).z;"
        "return [way(-1, 0, 0), way(1, 0, 0), way(0, -1, 0), way(0, 1, 0), way(0, 0, -1), way(0, 0, 1)]"
    )
    all_faces = page.run("return Turning.open().stage.picked.data.faces")
    assert len(set(all_faces)) == 6
    seen = []
    for around in (0.0, 3.1):
        page.run("const view = Turning.open(); view.stage.turn(arguments[0], 0); view.moved();", around)
        page.drawn()
        toward = page.run(looks)
        near = {name for name, way in zip(("Left", "Right", "Front", "Back"), toward, strict=False) if way > 0.12}
        assert set(page.run(names, ".turn-side")) == near
        shown = set(page.run(names, ".turn-face"))
        assert shown <= {name for name, way in zip(all_faces, toward, strict=True) if way > 0.12}
        seen.append((near, shown))
    assert seen[0][0].isdisjoint(seen[1][0])
    assert seen[0][1]
    assert (
        page.run("return document.querySelector('.turn-labels').getAttribute('aria-hidden')") == "true"
    )  # the line below says it
    page.run("Turning.open().close()")


def test_keys_go_from_face_to_face_and_each_is_told(page: Opened) -> None:
    """F names each face of the part once, in the line that is spoken, and lays a tint over it; Shift and F go back."""
    from selenium.webdriver.common.keys import Keys

    turning = next(one for one in page.turnable.steps if any(any(body.off) for body in one.standing))
    page.open(turning.drawing)
    canvas = page.browser.switch_to.active_element  # type: ignore[attr-defined]
    canvas.send_keys("n")
    new = {one.id for one in turning.standing if one.new}
    assert page.run("return Turning.open().place.dataset.picked") in new  # what is new comes first
    told = []
    for _ in range(7):
        canvas.send_keys("f")
        face, said = page.run(
            "return [Turning.open().place.dataset.face, document.querySelector('.turn-said').textContent]"
        )
        assert f". {face}." in said
        assert page.run("return Boolean(Turning.open().stage.touched)")
        told.append(face)
    faces = page.run("return Turning.open().stage.picked.data.faces")
    assert set(told) & set(faces)
    assert len(set(told[:6])) == 6
    canvas.send_keys(Keys.SHIFT, "f")
    assert page.run("return Turning.open().place.dataset.face") == told[-2]
    assert page.run("return Turning.open().canvas.getAttribute('role')") == "application"
    page.run("Turning.open().close()")


def test_ticks_stay_beside_it(page: Opened) -> None:
    page.run("document.querySelectorAll('input[data-tick]')[1].click()")
    page.open(page.turnable.steps[0].drawing)
    page.run("Turning.open().close()")
    page.browser.get(page.address)  # type: ignore[attr-defined]
    assert page.run("return document.querySelectorAll('input[data-tick]')[1].checked")


def test_without_webgl_the_flat_drawing_stays(page: Opened) -> None:
    page.browser.get(page.address)  # type: ignore[attr-defined]
    page.run("HTMLCanvasElement.prototype.getContext = () => null; window.kept = Turning.renderer")
    drawing = page.turnable.steps[0].drawing
    page.run(
        "location.hash = document.querySelector(`svg[data-drawing='${arguments[0]}']`).closest('.screen').id", drawing
    )
    page.run(OPEN, drawing)
    assert page.run("return Turning.open()") is None
    assert page.run("return document.querySelectorAll('svg.drawing[hidden], .turn-place:not([hidden])').length") == 0


def test_the_library_bears_its_licence() -> None:
    text = library_text()
    assert text is not None
    assert "The MIT License" in text[:200]
    assert "three.js authors" in text[:300]
