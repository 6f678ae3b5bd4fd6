"""The tablet edition in a real browser without a window, opened as a file, on a tablet, a phone and a desk: one browser and one page for all."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.chromium import running
from tests.conftest import PLANS, ROOT, drawn

from drawleaf.book.output.booklet import make_html

TABLET, PHONE, DESK = (820, 1180), (390, 844), (1440, 900)
LYING = (844, 390)
SIZES = (TABLET, PHONE, DESK)
WATCH = """
window.refused = []; window.locks = 0;
document.addEventListener('securitypolicyviolation', (event) => refused.push(event.violatedDirective));
Object.defineProperty(navigator, 'wakeLock', { value: { request: async () => { locks += 1; return { release: async () => { locks -= 1; } }; } } });
"""
"""Set up before the page's own scripts: what the policy refuses, and a wake lock that counts (a window that nobody sees gets none)."""
TOOLS = """
const shown = () => document.querySelector('.screen.shown');
const box = (one) => one.getBoundingClientRect();
const step = (number) => document.querySelector(`.step[data-step='${number}']`);
const turn = (screen) => booklet.go(booklet.screens.indexOf(screen));
const bars = [box(document.querySelector('.bar.top')).bottom, box(document.querySelector('.bar.bottom')).top];
"""


class Page:
    """The booklet in the browser, set to a size."""

    def __init__(self, browser: Any, address: str) -> None:
        self.browser, self.address = browser, address

    def run(self, script: str, *given: Any) -> Any:
        return self.browser.execute_script(TOOLS + script, *given)

    def command(self, name: str, **given: Any) -> Any:
        return self.browser.execute_cdp_cmd(name, given)

    def resize(self, size: tuple[int, int], *, dark: bool = False) -> None:
        width, height = size
        self.command(
            "Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=size != DESK
        )
        self.command("Emulation.setTouchEmulationEnabled", enabled=size != DESK)
        light = "dark" if dark else "light"
        self.command("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": light}])

    def rest(self) -> None:
        """Until what was told has been laid out and drawn."""
        self.browser.execute_async_script(
            "const done = arguments[0]; requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 30)))"
        )

    def turn_to(self, screen: str) -> None:
        self.run("turn(document.getElementById(arguments[0]))", screen)
        self.rest()

    def press(self, key: str) -> None:
        code = {"+": 187, "-": 189}.get(key) or {"PageDown": 34, "ArrowLeft": 37, "ArrowRight": 39, "Escape": 27}[key]
        for kind in ("rawKeyDown", "keyUp"):
            self.command("Input.dispatchKeyEvent", type=kind, key=key, windowsVirtualKeyCode=code)
        self.rest()

    def touch(self, *moments: list[tuple[float, float]]) -> None:
        """Fingers put down, moved and lifted."""
        for place, fingers in enumerate([*moments, []]):
            kind = "touchEnd" if not fingers else "touchMove" if place else "touchStart"
            points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(fingers)]
            self.command("Input.dispatchTouchEvent", type=kind, touchPoints=points)
        self.rest()

    def touch_twice(self, spot: tuple[float, float]) -> None:
        """Two taps a tenth of a second apart by their own time stamps, however busy the machine is."""
        begun = time.time()
        for after, kind in ((0.0, "touchStart"), (0.03, "touchEnd"), (0.1, "touchStart"), (0.13, "touchEnd")):
            points = [{"x": spot[0], "y": spot[1], "id": 0}] if kind == "touchStart" else []
            self.command("Input.dispatchTouchEvent", type=kind, touchPoints=points, timestamp=begun + after)
        self.rest()

    def reload(self, hash_: str = "") -> None:
        self.browser.get("about:blank")
        self.browser.get(self.address + hash_)
        self.rest()

    @property
    def shown(self) -> str:
        return self.run("return shown().id")


@pytest.fixture(scope="module")
def browser() -> Iterator:
    for one in running():
        one.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": WATCH})
        yield one


@pytest.fixture(scope="module")
def opened(browser: Any, tmp_path_factory: pytest.TempPathFactory) -> Page:
    derived, drawings = drawn("key-ledge")
    file = tmp_path_factory.mktemp("booklet") / "booklet.html"
    file.write_text(make_html(derived, drawings, for_print=False), encoding="utf-8")
    page = Page(browser, file.as_uri())
    page.resize(TABLET)
    page.reload()
    return page


@pytest.fixture
def page(opened: Page) -> Page:
    """At the cover, on a tablet by day, nothing kept. A test that leaves a frame open does not spoil the next."""
    opened.resize(TABLET)
    opened.run(
        "for (const one of document.querySelectorAll('dialog[open]')) one.close();"
        "for (const one of document.querySelectorAll('[data-tick]:checked')) one.click();"
        "turn(document.getElementById('cover'));"
    )
    opened.rest()
    return opened


def test_nothing_is_refused_and_no_script_fails(page: Page) -> None:
    assert page.run("return refused") == []
    assert [one for one in page.browser.get_log("browser") if one["level"] == "SEVERE"] == []


def test_left_and_right_turn_the_screens(page: Page) -> None:
    assert page.shown == "cover"
    page.press("ArrowRight")
    second = page.shown
    assert second != "cover"
    page.press("ArrowLeft")
    page.press("ArrowLeft")  # before the cover is nothing
    assert page.shown == "cover"
    assert page.run("return document.getElementById('back').disabled")
    page.run("document.getElementById('next').click()")
    assert page.shown == second


def test_the_browsers_own_keys_are_left_to_the_reader(page: Page) -> None:
    """PageDown scrolls a long screen, and no line of the words is jumped over; where something is typed, arrows move in it."""
    page.turn_to("step-" + page.run("return step(2).id.slice(5)"))
    before, hidden = page.run(
        "const sight = shown().querySelector('.sight'); return [scrollY, Math.max(bars[0], sight ? box(sight).bottom : 0)]"
    )
    here = page.shown
    page.press("PageDown")
    page.browser.execute_async_script("setTimeout(arguments[0], 500)")
    moved, room = page.run("return [scrollY - arguments[0], bars[1] - arguments[1]]", before, hidden)
    assert page.shown == here
    assert 0 < moved <= room
    page.run("document.getElementById('find-open').click()")
    page.press("ArrowRight")
    assert page.shown == here


@pytest.mark.parametrize("size", [*SIZES, LYING], ids=["tablet", "phone", "desk", "phone lying"])
def test_a_step_is_one_screen_whose_picture_stays_in_sight(page: Page, size: tuple[int, int]) -> None:
    """With the picture in sight there is room for words beside or below it; scrolled to the end, the picture is where it was."""
    page.resize(size)
    steps = page.run(
        """
        const found = [];
        for (const one of document.querySelectorAll('.step')) {
          const sight = one.querySelector('.sight'), words = one.querySelector('.doing');
          if (!sight) continue;
          turn(one);
          const share = box(sight).height / (bars[1] - bars[0]);
          window.scrollTo(0, document.documentElement.scrollHeight);
          const after = box(sight), last = box(words.lastElementChild);
          found.push({ step: one.id, share, top: after.top - bars[0], bottom: bars[1] - after.bottom, beside: box(words).left >= after.right,
            last: last.bottom - bars[1], covered: last.top < after.bottom && last.left < after.right - 4 });
        }
        return found;
        """
    )
    assert len(steps) > 5
    for said in steps:
        assert said["top"] >= -1, said
        assert said["bottom"] >= -1, said
        assert said["last"] <= 1, said
        assert said["beside"] == (size in (DESK, LYING)), said
        assert said["beside"] or said["share"] <= 0.5, said
        assert said["beside"] or not said["covered"], said


@pytest.mark.parametrize("size", SIZES, ids=["tablet", "phone", "desk"])
def test_nothing_is_too_small_to_hit_to_read_or_too_wide(page: Page, size: tuple[int, int]) -> None:
    """On every screen: links and buttons of 44 px, lettering of drawings, the figures of its fractions too, of 10.5 px, nothing wider than the screen."""
    page.resize(size)
    found = page.run(
        """
        const said = [], show = (one, on) => { one.classList.toggle('shown', on); if (on) one.removeAttribute('hidden'); else one.setAttribute('hidden', 'until-found'); };
        const before = shown();
        for (const screen of document.querySelectorAll('.screen')) {
          show(shown(), false); show(screen, true);
          for (const one of screen.querySelectorAll('details')) one.open = true;
          if (document.documentElement.scrollWidth > arguments[0]) said.push(`${screen.id} is wider than the screen`);
          for (const one of screen.querySelectorAll('a, button, summary, label')) {
            const { width, height } = box(one);
            if (width && (width < 43.9 || height < 43.9)) said.push(`${screen.id}: ${one.textContent.trim() || one.className} ${Math.round(width)} x ${Math.round(height)}`);
          }
          for (const svg of screen.querySelectorAll('svg.drawing')) {
            const factor = box(svg).width && Math.abs(svg.getScreenCTM().a);
            const sizes = [...svg.querySelectorAll('text')].map((one) => factor * (one.getAttribute('font-size') || 100));
            if (factor && Math.min(...sizes) < 10.5) said.push(`${svg.dataset.drawing}: lettering of ${Math.min(...sizes).toFixed(1)} px`);
          }
        }
        show(shown(), false); show(before, true);
        return said;
        """,
        size[0],
    )
    assert found == []


def test_each_action_has_a_tick_that_is_kept_and_the_contents_tell_how_far(page: Page) -> None:
    count = page.run("turn(step(1)); return step(1).querySelectorAll('.actions > li').length")
    assert page.run("return step(1).querySelectorAll('.actions [data-tick]').length") == count
    assert page.run("return document.querySelectorAll('.now').length") == 0
    page.run("step(1).querySelector('.actions .said').click()")  # a tap on the words ticks too
    assert page.run("return step(1).querySelector('.actions input').checked")
    assert page.run("return step(1).querySelector('.now') === step(1).querySelectorAll('.actions > li')[1]")
    assert page.run("return document.getElementById('done').textContent") == f"1 of {count + 1} ticked"
    line = "return document.querySelector(`.step-line a[href='#${step(1).id}'] .so-far-line`).textContent"
    assert page.run(line) == f"1 of {count + 1}"
    page.reload()
    assert page.shown == page.run("return step(1).id")  # the place is kept as well
    assert page.run("return document.querySelectorAll('[data-tick]:checked').length") == 1
    page.run("for (const one of step(1).querySelectorAll('[data-tick]:not(:checked)')) one.click()")
    assert page.run(line) == "✓"
    assert page.run("return document.getElementById('so-far').textContent").startswith("1 of ")
    assert page.run("return parseFloat(document.querySelector('#progress span').style.width)") > 0
    assert page.run("return document.querySelector('#so-far a').hash === '#' + step(2).id")


def test_ticks_belong_to_a_revision(page: Page) -> None:
    keys = page.run("return Object.keys(localStorage)")
    assert page.run("return 'drawleaf:' + document.body.dataset.booklet") in keys


def test_a_link_out_of_a_step_leads_back_again(page: Page) -> None:
    leaving = 'document.querySelector(\'.step .doing a[href^="#"]:not([href^="#step-"])\')'
    number = page.run(f"turn({leaving}.closest('.step')); return shown().dataset.step")
    page.run(f"{leaving}.click()")
    page.rest()
    assert page.shown != page.run("return step(arguments[0]).id", number)
    button = "document.getElementById('return')"
    assert page.run(f"return [{button}.hidden, {button}.textContent]") == [False, f"Return to step {number}"]
    page.run(f"{button}.click()")
    assert page.shown == page.run("return step(arguments[0]).id", number)
    assert page.run(f"return {button}.hidden")


def test_words_on_other_screens_are_found_and_gone_to(page: Page) -> None:
    title = page.run("return step(3).dataset.name")
    page.run("document.getElementById('find-open').click()")
    page.browser.find_element("id", "sought").send_keys(title.upper())
    first = page.browser.find_element("css selector", "#found button")
    assert first.text.startswith(f"Step 3: {title}")
    assert page.run("return document.querySelectorAll('#found mark').length") > 0
    page.run("document.querySelector('#found button').click()")
    page.rest()
    assert page.shown == page.run("return step(3).id")
    assert page.run("const b = box(document.querySelector('.pointed')); return b.top >= bars[0] && b.bottom <= bars[1]")
    page.run("document.getElementById('find-open').click()")
    page.browser.find_element("id", "sought").clear()
    page.browser.find_element("id", "sought").send_keys("zebrawood")
    assert page.run("return document.getElementById('found-told').textContent") == "Nothing found."


def test_a_figure_is_found_as_it_is_typed(page: Page) -> None:
    """Printed with a fraction slash and a thin space, typed as on a keyboard."""
    length = page.run(
        "const cell = [...document.querySelectorAll('#cut_list .num')].map((one) => one.textContent.trim()).find((one) => /\\d\\s+\\d+.\\d+/.test(one));"
        "return cell.normalize('NFKD').replace(/\\u2044/g, '/').replace(/\\s+/g, '-')"
    )
    page.run("document.getElementById('find-open').click()")
    page.browser.find_element("id", "sought").clear()
    page.browser.find_element("id", "sought").send_keys(length)
    assert "Cut list" in page.run("return document.getElementById('found').textContent")


def test_the_browsers_own_search_reaches_screens_that_are_not_shown(page: Page) -> None:
    assert page.run("return step(4).getAttribute('hidden')") == "until-found"
    page.run("step(4).dispatchEvent(new Event('beforematch', { bubbles: true }))")
    assert page.shown == page.run("return step(4).id")


def test_a_swipe_turns_the_screen_and_scrolling_does_not(page: Page) -> None:
    page.run("turn(step(2))")
    page.rest()
    down = page.run("return Math.min(bars[1] - 40, box(shown().querySelector('.actions')).top + 20)")
    page.touch([(600, down)], [(420, down + 6)], [(250, down + 10)])
    assert page.shown == page.run("return step(3).id")
    page.touch([(250, 700)], [(420, 700)], [(600, 705)])
    assert page.shown == page.run("return step(2).id")
    page.touch([(600, 900)], [(560, 700)], [(520, 500)])
    assert page.shown == page.run("return step(2).id")


ENLARGED = """
const svg = document.querySelector('#zoom svg');
const [, x, y, scale] = /translate\\(([-\\d.]+)px, ([-\\d.]+)px\\) scale\\(([\\d.]+)\\)/.exec(svg.style.transform) || [0, 0, 0, 1];
return [Number(scale), Number(x), Number(y)];
"""


def enlarge(page: Page) -> tuple[float, float]:
    """Enlarge a step's picture; gives where the frame's own corner is."""
    page.run("turn(step(2))")
    page.rest()
    page.run("shown().querySelector('.enlarge').click()")
    page.rest()
    left, top = page.run("const f = box(document.querySelector('.zoom-field')); return [f.left, f.top]")
    return left, top


def under(state: list[float], corner: tuple[float, float], place: tuple[float, float]) -> tuple[float, float]:
    """The point of the drawing that lies under a place of the screen."""
    scale, x, y = state
    return (place[0] - corner[0] - x) / scale, (place[1] - corner[1] - y) / scale


def test_a_drawing_enlarges_where_the_finger_is_is_dragged_and_goes_back(page: Page) -> None:
    corner = enlarge(page)
    spot = (300.0, 640.0)
    plain = page.run(ENLARGED)
    assert plain[0] == 1
    page.touch_twice(spot)
    twice = page.run(ENLARGED)
    assert twice[0] == 3
    assert under(twice, corner, spot) == pytest.approx(under(plain, corner, spot), abs=1)
    page.touch([(500, 700)], [(460, 690)], [(400, 650)])
    dragged = page.run(ENLARGED)
    assert (dragged[1] - twice[1], dragged[2] - twice[2]) == pytest.approx((-100, -50), abs=2)
    page.touch([(350, 600), (450, 600)], [(300, 600), (500, 600)])
    pinched = page.run(ENLARGED)
    assert pinched[0] == pytest.approx(6, abs=0.2)
    assert under(pinched, corner, (400, 600)) == pytest.approx(under(dragged, corner, (400, 600)), abs=2)
    page.touch_twice((350, 600))
    assert page.run(ENLARGED)[0] == 1
    page.press("Escape")
    assert page.run("return [document.getElementById('zoom').open, !!step(2).querySelector('.sight svg'), step(2).querySelector('svg.drawing').style.transform]") == [False, True, ""]  # fmt: skip


def test_wheel_and_keys_enlarge_as_well(page: Page) -> None:
    page.resize(DESK)
    corner = enlarge(page)
    spot = (900.0, 500.0)
    page.command("Input.dispatchMouseEvent", type="mouseWheel", x=spot[0], y=spot[1], deltaX=0, deltaY=-160)
    page.rest()
    wheeled = page.run(ENLARGED)
    assert wheeled[0] > 1.3
    assert under(wheeled, corner, spot) == pytest.approx((spot[0] - corner[0], spot[1] - corner[1]), abs=1)
    page.press("+")
    assert page.run(ENLARGED)[0] == pytest.approx(1.5 * wheeled[0], rel=0.01)
    page.press("ArrowRight")
    page.press("Escape")
    assert page.shown == page.run("return step(2).id")


def test_a_pinch_in_the_page_opens_the_drawing(page: Page) -> None:
    page.run("turn(step(2))")
    page.rest()
    x, y = page.run("const b = box(shown().querySelector('.sight svg')); return [b.left + b.width / 2, b.top + b.height / 2]")  # fmt: skip
    page.touch([(x - 30, y), (x + 30, y)], [(x - 40, y), (x + 40, y)], [(x - 80, y), (x + 80, y)])
    assert page.run("return document.getElementById('zoom').open")
    assert page.run(ENLARGED)[0] >= 2


def tones(page: Page) -> tuple[float, float, str]:
    """How light the page is, how light the ground of a drawing (0 to 255), and the filter on it."""
    return page.run(
        "const tone = (one) => getComputedStyle(one).backgroundColor.match(/\\d+/g).slice(0, 3).reduce((a, b) => a + +b, 0) / 3;"
        "return [tone(document.documentElement), tone(step(1).querySelector('.drawing-frame')), getComputedStyle(step(1).querySelector('svg.drawing')).filter]"
    )


def test_night_makes_page_and_drawings_dark_by_the_device_or_by_choice_and_is_kept(page: Page) -> None:
    assert tones(page) == [255, 255, "none"]
    page.resize(TABLET, dark=True)
    by_device = tones(page)
    assert by_device[0] < 60
    assert by_device[1] < 60
    assert by_device[2].startswith("invert")
    page.run("document.querySelector('input[name=light][value=day]').click()")
    assert tones(page) == [255, 255, "none"]
    page.resize(TABLET)
    page.run("document.querySelector('input[name=light][value=night]').click()")
    page.reload()
    assert tones(page) == by_device
    page.run("document.querySelector('input[name=light][value=\"\"]').click()")
    assert tones(page) == [255, 255, "none"]


def test_the_screen_is_kept_awake_while_the_switch_is_on(page: Page) -> None:
    page.run("document.getElementById('awake').click()")
    page.rest()
    assert page.run("return locks") == 1
    page.reload()
    assert page.run("return [locks, document.getElementById('awake').checked]") == [1, True]
    page.run("document.getElementById('awake').click()")
    page.rest()
    assert page.run("return locks") == 0


def test_without_scripts_it_is_a_plain_page(page: Page) -> None:
    """All of it in one, with nothing that does nothing."""
    page.command("Emulation.setScriptExecutionDisabled", value=True)
    try:
        page.browser.get("about:blank")
        page.browser.get(page.address)
        document = page.command("DOM.getDocument")["root"]["nodeId"]

        def high(selector: str) -> list[float]:
            nodes = page.command("DOM.querySelectorAll", nodeId=document, selector=selector)["nodeIds"]
            found = []
            for node in nodes:
                try:
                    found.append(page.command("DOM.getBoxModel", nodeId=node)["model"]["height"])
                except Exception:  # it has no box
                    found.append(0.0)
            return found

        assert min(high(".screen")) > 40
        assert min(high(".needed")) > 0
        assert set(high(".bar.bottom, #find-open, #screen-open, dialog")) == {0.0}
    finally:
        page.command("Emulation.setScriptExecutionDisabled", value=False)
        page.reload()


def test_words_in_a_list_lie_on_its_own_ground(page: Page) -> None:
    """Details of the shopping list are words in a row, not drawings on paper of their own."""
    assert page.run(
        "const all = [...document.querySelectorAll('.list span.detail')].map(getComputedStyle);"
        "return all.length > 0 && all.every((one) => one.paddingTop === '0px' && one.backgroundColor === 'rgba(0, 0, 0, 0)')"
    )


def test_a_narrow_drawing_is_not_blown_up(page: Page) -> None:
    """A drawing of 60 mm over the whole width of a tablet would show lines as thick as fingers."""
    assert page.run(
        "const narrow = [...document.querySelectorAll('.drawing-frame svg.upto-60')], all = [...document.querySelectorAll('svg.drawing')];"
        "return narrow.every((one) => parseFloat(getComputedStyle(one).maxWidth) <= 420) && all.every((one) => one.classList.contains('upto-60') === one.dataset.width <= 60)"
    )


@pytest.mark.parametrize("name", ["tool-tote", *(name for name in PLANS if name != "key-ledge")])
def test_another_plan_fits_all_screens(browser: Any, name: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """A small one in millimeters here, whose drawings are at hand; larger ones with ``--long``."""
    if name != "tool-tote" and not request.config.getoption("--long"):
        pytest.skip("as many screens again as all others: with --long")
    derived, drawings = drawn(name)
    file = tmp_path / "booklet.html"
    file.write_text(make_html(derived, drawings, for_print=False, plan_folder=ROOT / "plans" / name), encoding="utf-8")
    page = Page(browser, file.as_uri())
    page.resize(TABLET)
    page.reload()
    assert page.run("return refused") == []
    for size in SIZES:
        test_nothing_is_too_small_to_hit_to_read_or_too_wide(page, size)
