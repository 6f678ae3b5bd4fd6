"""The preview as an author meets it, in a real browser."""

from __future__ import annotations

import shutil

import pytest
from selenium.webdriver.common.keys import Keys

from preview_served import Served, middles_of_faces, until

READY = "return document.querySelector('#pages iframe.shown') !== null"
STATUS = "return document.getElementById('status').textContent"
IN_FRAME = "const booklet = document.querySelector('#pages iframe.shown').contentDocument; "
VERSION = "return Number(document.documentElement.dataset.version || 0)"


@pytest.fixture
def page(browser, served: Served):
    browser.set_window_size(1280, 900)
    browser.get(served.address)
    until(lambda: browser.execute_script(READY), "the booklet")
    until(lambda: "Up to date" in browser.execute_script(STATUS), "a quiet state")
    # The page keeps what was shown last; a test that failed with the printed pages open does not narrow the next.
    browser.execute_script("document.querySelector('[data-show=tablet][aria-pressed=false]')?.click()")
    written = served.source.read_text(encoding="utf-8")
    yield browser
    # A test that failed between two edits does not hand its broken plan to the next.
    if not served.source.is_file() or served.source.read_text(encoding="utf-8") != written:
        served.source.write_text(written, encoding="utf-8")


def text_of(page, selector: str) -> str:
    return page.execute_script(IN_FRAME + "return booklet.querySelector(arguments[0])?.textContent || ''", selector)


def show_step(page, number: int) -> str:
    """Turn the booklet to a step; gives the id of its screen."""
    return page.execute_script(
        IN_FRAME + "const step = booklet.querySelector(`[data-step='${arguments[0]}']`);"
        "document.querySelector('#pages iframe.shown').contentWindow.location.hash = step.id; return step.id",
        number,
    )


def shown_screen(page) -> str:
    return page.execute_script(IN_FRAME + "return booklet.querySelector('.screen.shown').id")


def test_the_booklet_stands_on_the_page(page) -> None:
    assert "Trough" in text_of(page, "h1, .where")
    assert page.execute_script(IN_FRAME + "return booklet.querySelectorAll('svg.drawing').length") > 5


def test_a_saved_change_is_shown_at_the_same_place(page, served: Served) -> None:
    step = show_step(page, 5)
    page.execute_script(IN_FRAME + "booklet.body.style.minHeight = '3000px'")
    before = page.execute_script(VERSION)
    served.edit("length: 24 ", "length: 27 ")
    until(lambda: page.execute_script(VERSION) > before, "a new version")
    until(lambda: "Up to date" in page.execute_script(STATUS), "all of it")
    assert shown_screen(page) == step
    assert "27" in text_of(page, "#cut_list")
    served.edit("length: 27 ", "length: 24 ")
    until(lambda: "24" in text_of(page, "#cut_list"), "the old length")


def test_the_drawing_that_is_looked_at_comes_first(page, served: Served) -> None:
    """It is exchanged within the page, before the new page stands."""
    screen = page.execute_script(
        IN_FRAME + "return booklet.querySelector('svg[data-drawing^=elevation]').closest('.screen').id"
    )
    page.execute_script(f"document.querySelector('#pages iframe.shown').contentWindow.location.hash = '{screen}'")
    until(lambda: shown_screen(page) == screen, "the elevations")
    page.execute_async_script(
        "setTimeout(arguments[0], 400)"
    )  # the page tells what is looked at when it has come to rest
    page.execute_script(
        IN_FRAME + "window.seen = null; const version = document.documentElement.dataset.version;"
        "new MutationObserver(() => { window.seen ||= [version === document.documentElement.dataset.version,"
        "booklet.querySelector('svg[data-drawing=elevation-front]').textContent]; })"
        ".observe(document.documentElement, {attributeFilter: ['data-drawn', 'data-version']})"
    )
    served.edit("length: 24 ", "length: 29 ")
    before_the_page, drawing = until(lambda: page.execute_script("return window.seen"), "a drawing")  # type: ignore[misc]
    assert before_the_page
    assert "29" in drawing
    served.edit("length: 29 ", "length: 24 ")
    until(lambda: "24" in text_of(page, "#cut_list"), "the old length")


def test_a_mistake_is_told_with_nothing_to_open_and_the_last_good_version_stays(page, served: Served) -> None:
    step = show_step(page, 3)
    quiet = page.find_element("id", "tab-mend").text
    first = page.find_element("id", "first")
    assert not first.is_displayed()
    served.edit("left: end.right", "left: edn.right")
    until(lambda: "to mend" in page.execute_script(STATUS), "the mistake")
    assert first.is_displayed()
    assert not page.find_element("id", "side").is_displayed()
    assert "left: edn.right" in first.find_element("css selector", "pre").text
    mark = first.find_element("css selector", "mark")
    assert mark.text == "edn.right"
    assert mark.value_of_css_property("text-decoration-style") == "double"
    assert first.find_element("css selector", "h3").text.endswith("(unknown-name)")
    assert "Did you mean “end”?" in first.text
    assert "Cause: " in first.text
    assert "plan.yaml, line " in first.find_element("css selector", ".where").text
    assert page.find_element("id", "tab-mend").text == "To mend (1)"
    assert shown_screen(page) == step
    page.find_element("id", "tab-mend").click()  # the panel tells it too, and then it is not told twice
    panel = page.find_element("id", "panel-mend")
    assert panel.find_element("css selector", "mark").text == "edn.right"
    assert not first.is_displayed()
    served.edit("left: edn.right", "left: end.right")
    until(lambda: "Up to date" in page.execute_script(STATUS), "mended")
    assert not panel.is_displayed()
    assert not first.is_displayed()
    assert page.find_element("id", "tab-mend").text == quiet
    assert shown_screen(page) == step


def test_two_mistakes_are_told_as_one_and_one_more(page, served: Served) -> None:
    served.edit("left: end.right", "left: edn.right")
    served.edit("length: 24 ", "length: 24 nonsense ")
    # Each edit is told by itself, so a button found after the first may be gone before it is read: both in one script.
    both = "return document.querySelectorAll('#panel-mend .remark.error').length >= 2"
    pressed = "const more = document.querySelector('#first button'); if (!more) return ''; more.click(); return more.textContent"
    until(lambda: page.execute_script(both), "both mistakes")
    assert "more to mend" in str(until(lambda: page.execute_script(pressed), "more to mend"))
    assert page.find_element("id", "panel-mend").is_displayed()
    served.edit("length: 24 nonsense ", "length: 24 ")
    served.edit("left: edn.right", "left: end.right")
    until(lambda: "Up to date" in page.execute_script(STATUS), "mended")


def test_what_is_told_already_stays_as_it_stands(page, served: Served) -> None:
    """A word that the author has marked, or a button in focus, is not taken away each time the preview works."""
    served.edit("left: end.right", "left: edn.right")
    until(lambda: "to mend" in page.execute_script(STATUS), "the mistake")
    page.execute_script(
        "window.exchanged = 0; new MutationObserver((all) => { exchanged += all.filter((one) => one.removedNodes.length).length; })"
        ".observe(document.getElementById('first'), {childList: true})"
    )
    served.edit("left: edn.right", "left: ned.right")
    until(lambda: "ned.right" in page.find_element("id", "first").text, "the other mistake")
    assert page.execute_script("return exchanged") == 1
    served.edit("left: ned.right", "left: end.right")
    until(lambda: "Up to date" in page.execute_script(STATUS), "mended")


def test_one_toolbar_in_the_booklets_letters_with_the_plans_own_name(page, served: Served) -> None:
    named = page.find_element("id", "named").text
    assert "Trough" in named
    assert "revision A" in named
    assert "Trough" in page.title
    assert (
        page.execute_script(IN_FRAME + "return getComputedStyle(booklet.querySelector('.bar.top')).display") == "none"
    )
    assert (
        page.execute_script("return document.fonts.check('17px Letters') && [...document.fonts][0].status") == "loaded"
    )
    page.find_element("css selector", "[data-press=contents]").click()
    until(lambda: shown_screen(page) == "contents", "the contents")
    page.find_element("css selector", "[data-press=find-open]").click()
    assert page.execute_script(IN_FRAME + "return booklet.getElementById('finder').open")
    page.execute_script(IN_FRAME + "booklet.getElementById('finder').close()")


def test_printed_pages_stand_beside_the_tablet_edition_and_follow_it(page, served: Served) -> None:
    page.find_element("css selector", "[data-show=both]").click()
    sheets = "return [...document.querySelectorAll('#sheets figure')].map((one) => one.textContent)"
    found = until(lambda: page.execute_script(sheets), "the printed pages")
    assert found == [f"Page {number}" for number in range(1, len(found) + 1)]  # type: ignore[arg-type]
    assert len(found) > 8  # type: ignore[arg-type]
    step = show_step(page, 2)
    read = f"return Number(document.querySelector('#sheets .read[data-screen={step}]')?.dataset.page || 0)"
    number = until(lambda: page.execute_script(read), "the page of the step")
    picture = f"const one = document.querySelector('#sheets [data-page=\"{number}\"] img');"
    until(lambda: page.execute_script(picture + "return one.complete && one.naturalWidth"), "its picture")
    wide, high = page.execute_script(picture + "return [one.naturalWidth, one.naturalHeight]")
    assert wide == 1000
    assert high in (1294, 1295)  # Letter
    assert page.execute_script(
        picture + "const b = one.getBoundingClientRect(); return b.top < innerHeight && b.bottom > 0"
    )
    show_step(page, 1)
    page.execute_script(picture + "one.click()")
    there = "return Number(document.querySelector('#sheets .read').dataset.page)"
    until(lambda: page.execute_script(there) == number and shown_screen(page) != "cover", "what the page shows")
    served.edit("length: 24 ", "length: 25 ")
    told = page.find_element("id", "paper-told")
    until(lambda: told.text == "Printing anew…", "word that the pages are old")
    page.find_element("css selector", "[data-show=tablet]").click()  # nobody waits for them now
    assert not page.find_element("id", "paper").is_displayed()
    served.edit("length: 25 ", "length: 24 ")
    until(lambda: "24" in text_of(page, "#cut_list"), "the old length")


def test_yaml_that_cannot_be_read_and_a_missing_file(page, served: Served) -> None:
    whole = served.source.read_text(encoding="utf-8")
    served.source.write_text(whole + "\n: : {[", encoding="utf-8")
    until(lambda: "to mend" in page.execute_script(STATUS), "the mistake")
    assert page.find_element("id", "edition").is_displayed()  # what was on offer stays
    served.source.unlink()
    until(lambda: "plan.yaml" in page.find_element("id", "first").text, "the missing file")
    served.source.write_text(whole, encoding="utf-8")
    until(lambda: "Up to date" in page.execute_script(STATUS), "mended")


def test_script_in_the_source_is_only_text(page, served: Served) -> None:
    served.edit("left: end.right", "left: '<img src=x onerror=alert(1)>'")
    until(lambda: "to mend" in page.execute_script(STATUS), "the mistake")
    first = page.find_element("id", "first")
    assert not first.find_elements("css selector", "img")
    assert "<img src=x" in first.text
    served.edit("left: '<img src=x onerror=alert(1)>'", "left: end.right")
    until(lambda: "Up to date" in page.execute_script(STATUS), "mended")


def click(page, selector: str) -> None:
    page.execute_script(
        IN_FRAME + "const one = booklet.querySelector(arguments[0]);"
        "one.dispatchEvent(new MouseEvent('click', {bubbles: true, cancelable: true}))",
        selector,
    )


def source_shown(page, title: str) -> str:
    panel = page.find_element("id", "panel-source")
    until(lambda: panel.is_displayed() and title in panel.text, title)
    return "\n".join(mark.text for mark in panel.find_elements("css selector", "mark"))


def line_of(served: Served, words: str) -> int:
    lines = served.source.read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if words in line)


def places(page) -> str:
    return page.find_element("id", "source").text


def test_a_click_on_a_part_shows_its_line(page, served: Served) -> None:
    number = page.execute_script(
        IN_FRAME
        + "return [...booklet.querySelectorAll('[id^=cut-]')].find(row => row.textContent.includes('Floor')).id"
    )
    click(page, f"#{number} strong")
    assert "floor" in source_shown(page, "Floor")
    assert f"plan.yaml, line {line_of(served, 'floor: {name: Floor')}" in places(page)


def test_a_click_on_a_dimension_shows_its_line(page, served: Served) -> None:
    show_step(page, 1)
    page.execute_script(
        IN_FRAME + "const text = [...booklet.querySelectorAll('svg[data-drawing^=elevation] text')]"
        ".find(one => one.textContent === '24'); text.dispatchEvent(new MouseEvent('click', {bubbles: true}))"
    )
    source_shown(page, "24")
    assert f"plan.yaml, line {line_of(served, 'length: 24')}" in places(page)


def test_a_click_on_a_fraction_is_read_whole(page, served: Served) -> None:
    page.execute_script(
        IN_FRAME + "const texts = [...booklet.querySelectorAll('svg[data-drawing^=part] text')];"
        "const at = texts.findIndex((one, i) => one.textContent === '5' && texts[i + 1]?.textContent === '1' && texts[i + 2]?.textContent === '2');"
        "texts[at + 2].dispatchEvent(new MouseEvent('click', {bubbles: true}))"
    )
    source_shown(page, "5-1/2")
    assert "inside_wide" in places(page)


def test_a_click_on_a_step_shows_its_lines(page, served: Served) -> None:
    step = page.execute_script(
        IN_FRAME
        + "return [...booklet.querySelectorAll('.step')].find(one => one.querySelector('.step-title').textContent"
        ".toLowerCase().includes('floor')).id"
    )
    click(page, f"#{step} .step-title")
    assert "plan.yaml, line " in (source_shown(page, "Step"), places(page))[1]


PLACE = (
    IN_FRAME
    + "const [drawing, place] = arguments; const svg = booklet.querySelector(`svg[data-drawing='${drawing}']`);"
    "const frame = document.querySelector('#pages iframe.shown'), at = svg.createSVGPoint(); [at.x, at.y] = place;"
    "const to = () => at.matrixTransform(svg.getScreenCTM()), box = frame.getBoundingClientRect();"
)
TURN_TO = PLACE + "frame.contentWindow.location.hash = svg.closest('.screen').id"
SCROLL_TO = PLACE + "frame.contentWindow.scrollBy(0, to().y - frame.contentWindow.innerHeight / 2)"
MIDDLE = PLACE + "return [box.left + to().x, box.top + to().y]"
"""Where on the screen a place of a drawing stands, once it is turned to."""


@pytest.fixture(scope="module")
def bare(served: Served) -> dict[str, dict[str, tuple[float, float]]]:
    """For some drawings the middle of what is seen of each part, as the drawing's own regions have it: no line, no lettering near."""
    return middles_of_faces(served.folder)


def point_at(page, drawing: str, place: tuple[float, float], *, press: bool) -> None:
    """Move the real pointer there, and press."""
    for script in (TURN_TO, SCROLL_TO):
        page.execute_script(script, drawing, list(place))
        page.execute_async_script("setTimeout(arguments[0], 100)")  # the page has followed
    x, y = page.execute_script(MIDDLE, drawing, list(place))
    events = ["mouseMoved", "mousePressed", "mouseReleased"] if press else ["mouseMoved"]
    for kind in events:
        button = {} if kind == "mouseMoved" else {"button": "left", "clickCount": 1}
        page.execute_cdp_cmd("Input.dispatchMouseEvent", {"type": kind, "x": x, "y": y, **button})


@pytest.mark.parametrize("drawing", ["cover", "exploded-1", "elevation-front", "elevation-top", "section-a", "a step"])
def test_a_click_on_a_bare_face_shows_its_part(page, served: Served, bare, drawing: str) -> None:
    """Wherever a part is seen in a drawing, tinted, white or hatched, the pointer tells its name and a click the line that made it."""
    if drawing == "a step":
        drawing = max(one for one in bare if one.startswith("step"))
    assert bare[drawing], f"{drawing} shows no part"
    for part, place in bare[drawing].items():
        page.execute_script("document.getElementById('source').replaceChildren()")
        point_at(page, drawing, place, press=False)
        tip = page.find_element("id", "tip")
        until(lambda tip=tip: tip.is_displayed() and tip.text, f"the name of {part} in {drawing}")
        name = tip.text
        point_at(page, drawing, place, press=True)
        source_shown(page, name)
        assert f"plan.yaml, line {line_of(served, f'      {part}: {{')}" in places(page)


def test_a_click_on_bare_paper_enlarges_the_drawing(page, bare) -> None:
    point_at(page, "elevation-front", (0.5, 0.5), press=True)
    until(lambda: page.execute_script(IN_FRAME + "return booklet.getElementById('zoom').open"), "the drawing enlarged")
    x, y = page.execute_script(MIDDLE, "elevation-front", list(next(iter(bare["elevation-front"].values()))))
    for kind in ("mousePressed", "mouseReleased"):
        page.execute_cdp_cmd(
            "Input.dispatchMouseEvent", {"type": kind, "x": x, "y": y, "button": "left", "clickCount": 1}
        )
    source_shown(page, "")
    assert page.execute_script(IN_FRAME + "return booklet.getElementById('zoom').open")
    page.execute_script(IN_FRAME + "booklet.getElementById('zoom').close()")


def test_what_is_shown_of_a_bad_plan_goes_back_to_the_last_good_version(page, served: Served) -> None:
    """Parts that run into one another are drawn before that is found out: then the old drawing comes back."""
    page.execute_script(TURN_TO, "elevation-front", [0, 0])
    page.execute_async_script("setTimeout(arguments[0], 400)")
    drawn = IN_FRAME + "return booklet.querySelector('svg[data-drawing=elevation-front]').innerHTML"
    before = page.execute_script(drawn)
    served.edit("left: end.right", "left: 1/4")
    until(lambda: "to mend" in page.execute_script(STATUS), "the mistake")
    assert page.execute_script(drawn) == before
    served.edit("left: 1/4", "left: end.right")
    until(lambda: "Up to date" in page.execute_script(STATUS), "mended")


def test_a_folder_that_goes_and_comes_back_is_followed(page, served: Served) -> None:
    """Another tool may put a new folder in its place; a shared folder may be begun beside it."""
    aside = served.folder.with_name("aside")
    shutil.copytree(served.folder, aside)
    shutil.rmtree(served.folder)
    until(lambda: "to mend" in page.execute_script(STATUS), "the folder missing")
    aside.rename(served.folder)
    until(lambda: "Up to date" in page.execute_script(STATUS), "the folder back")
    served.edit("length: 24 ", "length: 26 ")
    until(lambda: "26" in text_of(page, "#cut_list"), "a change in the new folder")
    served.edit("length: 26 ", "length: 24 ")
    until(lambda: "24" in text_of(page, "#cut_list"), "the old length")
    shared = served.folder.with_name("shared")
    shared.mkdir()
    (shared / "prices.yaml").write_text("nonsense: [\n", encoding="utf-8")
    until(lambda: "prices.yaml" in page.find_element("id", "first").text, "the shared folder")
    shutil.rmtree(shared)
    until(lambda: "Up to date" in page.execute_script(STATUS), "without it")


def test_by_keyboard_a_drawing_tells_all_its_parts(page) -> None:
    page.execute_script(TURN_TO, "exploded-1", [0, 0])
    until(lambda: shown_screen(page) == "exploded", "the exploded view")
    page.find_element("css selector", "body").send_keys("s")
    source_shown(page, "Exploded view")
    for part in ("end", "floor", "front", "back"):
        assert f".{part}" in places(page)


def test_the_turning_view_comes_apart_and_tells_source(page, served: Served) -> None:
    from drawleaf.preview.page import library_folder

    if library_folder() is None:
        pytest.skip("three.js is not fetched; scripts/fetch-browser-library fetches it")
    page.find_element("id", "tab-turning").click()
    scene = page.find_element("id", "scene")
    until(lambda: scene.get_attribute("data-bodies") == "5", "five parts")
    assert page.execute_script("return document.querySelector('#scene canvas').width") > 100
    whole = _colours(page)
    assert len(whole) > 3, "the canvas shows nothing"
    slider = page.find_element("id", "apart")
    slider.send_keys(Keys.END)
    until(lambda: scene.get_attribute("data-apart") == "100", "apart")
    apart = _picture(page)
    scene.send_keys(Keys.ARROW_LEFT, Keys.ARROW_LEFT)
    assert _picture(page) != apart
    scene.send_keys("n")
    until(lambda: page.find_element("id", "picked").text, "a part picked")
    button = until(lambda: page.find_elements("css selector", "#picked button"), "its button")
    button[0].click()
    picked = scene.get_attribute("data-picked")
    assert picked.startswith("trough.")
    source_shown(page, "")


def _picture(page) -> str:
    return page.find_element("id", "scene").screenshot_as_base64


def _colours(page) -> set[tuple[int, ...]]:
    """The colours of the turning view, as the screen shows it."""
    return set(
        map(
            tuple,
            page.execute_async_script(
                "const done = arguments[1]; const image = new Image(); image.onload = () => {"
                "const canvas = document.createElement('canvas'); canvas.width = image.width; canvas.height = image.height;"
                "const brush = canvas.getContext('2d'); brush.drawImage(image, 0, 0);"
                "const data = brush.getImageData(0, 0, image.width, image.height).data; const found = new Set();"
                "for (let i = 0; i < data.length; i += 16) found.add([data[i] >> 4, data[i + 1] >> 4, data[i + 2] >> 4].join());"
                "done([...found].map(one => one.split(',').map(Number))) }; image.src = 'data:image/png;base64,' + arguments[0]",
                _picture(page),
            ),
        )
    )


def test_by_keyboard_alone(page) -> None:
    show_step(page, 2)
    body = page.find_element("css selector", "body")
    body.send_keys("s")
    source_shown(page, "Step 2")
    body.send_keys(Keys.ESCAPE)
    assert not page.find_element("id", "side").is_displayed()
    page.find_element("id", "tab-mend").send_keys(Keys.ENTER)
    assert page.find_element("id", "panel-mend").is_displayed()
    page.find_element("id", "tab-mend").send_keys(Keys.ARROW_RIGHT)
    assert page.switch_to.active_element.get_attribute("id") == "tab-source"


@pytest.mark.parametrize(("wide", "high"), [(768, 1024), (1024, 768)])
def test_at_tablet_width(page, wide: int, high: int) -> None:
    page.set_window_size(wide, high)
    page.find_element("id", "tab-source").click()
    assert page.execute_script("return document.documentElement.scrollWidth <= innerWidth")
    frame = page.execute_script("return document.getElementById('pages').getBoundingClientRect().toJSON()")
    assert frame["width"] >= 400
    assert frame["height"] >= 300
    for button in page.find_elements("css selector", "header button"):
        if button.is_displayed():
            assert button.size["height"] >= 38


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_legible_by_day_and_night(page, scheme: str) -> None:
    page.execute_cdp_cmd(
        "Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": scheme}]}
    )
    colors = page.execute_script(
        "const style = getComputedStyle(document.body), status = getComputedStyle(document.getElementById('status'));"
        "return [style.backgroundColor, style.color, status.color]"
    )
    paper, ink, soft = (_luminance(color) for color in colors)
    assert (paper > 0.5) == (scheme == "light")
    for text in (ink, soft):
        light, dark = max(text, paper), min(text, paper)
        assert (light + 0.05) / (dark + 0.05) >= 4.5  # WCAG 2.1, 1.4.3
    page.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


def _luminance(color: str) -> float:
    """Relative luminance by WCAG 2.1."""
    shares = [int(one) / 255 for one in color.removeprefix("rgb(").removesuffix(")").split(",")]
    red, green, blue = (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_editions_are_chosen_on_the_page(page) -> None:
    step = show_step(page, 4)
    until(lambda: shown_screen(page) == step, "the step")
    before = page.execute_script(VERSION)
    page.execute_script(
        "const box = document.getElementById('edition'); box.value = 'long'; box.dispatchEvent(new Event('change'))"
    )
    until(lambda: page.execute_script(VERSION) > before and "36" in text_of(page, "#cut_list"), "the long edition")
    assert shown_screen(page) == step
    page.execute_script(
        "const box = document.getElementById('edition'); box.value = ''; box.dispatchEvent(new Event('change'))"
    )
    until(lambda: "36" not in text_of(page, "#cut_list"), "the plan as written")


def test_an_edition_written_meanwhile_is_offered(page, served: Served) -> None:
    offered = "return [...document.getElementById('edition').options].map(one => one.value)"
    assert "huge" not in page.execute_script(offered)
    served.edit("editions:\n", "editions:\n  huge: {dimensions: {length: 60}}\n")
    until(lambda: "huge" in page.execute_script(offered), "the new edition")
    served.edit("editions:\n  huge: {dimensions: {length: 60}}\n", "editions:\n")
    until(lambda: "huge" not in page.execute_script(offered), "the edition gone")


def test_the_source_that_is_shown_follows_a_save(page, served: Served, bare) -> None:
    point_at(page, "exploded-1", bare["exploded-1"]["floor"], press=True)
    source_shown(page, "Floor")
    was = line_of(served, "floor: {name: Floor")
    assert f"plan.yaml, line {was}" in places(page)
    served.edit("dimensions:\n", "# one line more\ndimensions:\n")
    until(lambda: f"plan.yaml, line {was + 1}" in places(page), "the line where it now stands")
    page.switch_to.frame(page.find_element("css selector", "#pages iframe.shown"))
    page.find_element("css selector", "body").send_keys(Keys.ESCAPE)
    page.switch_to.default_content()
    assert not page.find_element("id", "side").is_displayed()
    served.edit("# one line more\n", "")
    until(lambda: "Up to date" in page.execute_script(STATUS), "as before")


def test_the_browser_had_nothing_to_complain_of(page) -> None:
    """No error in the page, and nothing that its content policy had to stop."""
    log = [entry["message"] for entry in page.get_log("browser") if entry["level"] == "SEVERE"]
    assert not log
