"""The tablet edition in a real browser without a window: ticks that stay, keys, enlarging, night, and nothing wider than the screen."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import shutil
import subprocess
from html import unescape
from pathlib import Path

import pytest
from tests.conftest import PLANS, ROOT, drawn

from drawleaf.book.output.booklet import make_html

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
pytestmark = pytest.mark.skipif(BROWSER is None, reason="no chromium on this computer")

WATCH = "window.refused = []; document.addEventListener('securitypolicyviolation', (e) => refused.push(e.violatedDirective));"
FRAME = """
(() => {
  const said = [];
  const expect = (holds, words) => { if (!holds) said.push(words); };
  const press = (key) => document.dispatchEvent(new KeyboardEvent('keydown', {key, bubbles: true, cancelable: true}));
  const shown = () => [...document.querySelectorAll('.screen.shown')];
  const done = () => {
    const out = document.createElement('pre');
    out.id = 'said';
    out.textContent = JSON.stringify(said);
    document.body.append(out);
  };
  %s
})();
"""


def complaints(html: str, folder: Path, check: str, width: int = 820) -> list[str]:
    """What a check written in JavaScript complains of. It runs after the booklet's own script, with that script's rights."""
    late = FRAME % check
    for script in (WATCH, late):
        digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
        html = html.replace("script-src ", f"script-src 'sha256-{digest}' ", 1)
    html = html.replace("</title>", f"</title><script>{WATCH}</script>", 1).replace(
        "</body>", f"<script>{late}</script></body>", 1
    )
    file = folder / "booklet.html"
    file.write_text(html, encoding="utf-8")
    assert BROWSER
    command = [
        BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--dump-dom", "--virtual-time-budget=8000",
        f"--window-size={width},1180", f"--user-data-dir={folder / 'profile'}", file.as_uri(),
    ]  # fmt: skip
    page = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True).stdout
    found = re.search(r'<pre id="said">(.*?)</pre>', page, re.DOTALL)
    assert found, page[-2000:]
    return json.loads(unescape(found[1]))


@pytest.fixture
def html(derived, drawings, plain_words) -> str:
    return make_html(derived, drawings, for_print=False)


def test_the_check_can_fail(html: str, tmp_path: Path):
    assert complaints(html, tmp_path, "expect(1 > 2, 'one is not more than two'); done();") == [
        "one is not more than two"
    ]


def test_keys_turn_the_screens(html: str, tmp_path: Path):
    check = """
    const screens = [...document.querySelectorAll('.screen')];
    const here = () => screens.indexOf(shown()[0]);
    expect(shown().length === 1 && here() === 0, 'it opens at the cover');
    press('ArrowRight'); expect(shown().length === 1 && here() === 1, 'right turns one on');
    press('ArrowLeft'); expect(here() === 0, 'left turns one back');
    press('ArrowLeft'); expect(here() === 0, 'before the cover is nothing');
    press('End'); expect(here() === screens.length - 1, 'end goes to the last');
    press('ArrowRight'); expect(here() === screens.length - 1, 'after the last is nothing');
    expect(document.getElementById('next').disabled, 'next is off at the end');
    press('Home'); expect(here() === 0, 'home goes to the cover');
    document.getElementById('next').click(); expect(here() === 1, 'the button turns too');
    done();
    """
    assert complaints(html, tmp_path, check) == []


def test_ticks_and_the_place_stay_when_the_page_is_opened_again(html: str, tmp_path: Path):
    check = """
    const boxes = [...document.querySelectorAll('input[data-tick]')];
    if (!sessionStorage.getItem('again')) {
      sessionStorage.setItem('again', 'yes');
      boxes[2].click();
      press('ArrowRight'); press('ArrowRight');
      history.replaceState(null, '', location.pathname);
      location.reload();
      return;
    }
    expect(boxes.length > 4, 'there are boxes');
    expect(boxes[2].checked, 'the tick is kept');
    expect(boxes.filter((box) => box.checked).length === 1, 'no other is ticked');
    expect(shown()[0] === document.querySelectorAll('.screen')[2], 'the place is kept');
    done();
    """
    assert complaints(html, tmp_path, check) == []


def test_a_drawing_enlarges_and_goes_back(html: str, tmp_path: Path):
    check = """
    const button = document.querySelector('.enlarge');
    const frame = button.parentElement, drawing = frame.querySelector('svg');
    const zoom = document.getElementById('zoom');
    button.click();
    expect(zoom.open && zoom.contains(drawing), 'it opens with the drawing');
    const before = drawing.style.width;
    press('+'); expect(parseFloat(drawing.style.width) > parseFloat(before), 'plus makes it larger');
    press('-'); expect(drawing.style.width === before, 'minus makes it smaller again');
    document.getElementById('shut').click();
    setTimeout(() => {
      expect(!zoom.open, 'it closes');
      expect(frame.contains(drawing), 'the drawing is back in its place');
      expect(!drawing.style.width, 'and in its size');
      done();
    }, 300);
    """
    assert complaints(html, tmp_path, check) == []


def test_night_is_dark_and_stays_chosen(html: str, tmp_path: Path):
    check = """
    const light = document.getElementById('light');
    const tone = () => [document.body, document.documentElement].map((one) => getComputedStyle(one).backgroundColor).find((color) => color !== 'rgba(0, 0, 0, 0)').match(/\\d+/g).slice(0, 3).reduce((a, b) => a + +b, 0) / 3;
    if (!sessionStorage.getItem('again')) {
      sessionStorage.setItem('again', 'yes');
      if (tone() < 128) { said.push('it begins light'); }
      light.click();
      if (tone() > 80) { said.push('night is dark'); }
      if (light.textContent !== 'Day') { said.push('the button offers the day'); }
      if (said.length) { done(); return; }
      location.reload();
      return;
    }
    expect(tone() < 80, 'night is kept');
    done();
    """
    assert complaints(html, tmp_path, check) == []


@pytest.mark.parametrize("name", PLANS)
def test_an_example_plan_fits_a_tablet(name: str, tmp_path: Path):
    derived, drawings = drawn(name)
    html = make_html(derived, drawings, for_print=False, plan_folder=ROOT / "plans" / name)
    check = """
    expect(refused.length === 0, 'the policy refuses ' + refused.join(', '));
    for (const screen of document.querySelectorAll('.screen')) {
      document.querySelectorAll('.screen.shown').forEach((one) => one.classList.remove('shown'));
      screen.classList.add('shown');
      expect(document.documentElement.scrollWidth <= innerWidth, screen.id + ' is wider than the screen');
      for (const target of screen.querySelectorAll('button, label.tick')) {
        const box = target.getBoundingClientRect();
        expect(!box.width || (box.height >= 40 && box.width >= 40), screen.id + ': a target too small, ' + target.className + ' ' + Math.round(box.width) + ' x ' + Math.round(box.height));
      }
    }
    done();
    """
    for width in (820, 560):
        assert sorted(set(complaints(html, tmp_path, check, width))) == []


def test_words_in_a_list_lie_on_its_own_ground(html: str, tmp_path: Path):
    """Details of the shopping list are words in a row, not drawings on light paper: at night they would be light boxes."""
    check = """
    const details = [...document.querySelectorAll('.list span.detail')];
    expect(details.length > 0, 'there are details');
    for (const one of details) {
      const style = getComputedStyle(one);
      expect(style.paddingTop === '0px' && style.backgroundColor === 'rgba(0, 0, 0, 0)', 'bare: ' + one.textContent);
    }
    done();
    """
    assert complaints(html, tmp_path, check) == []


def test_a_narrow_drawing_is_not_blown_up(html: str, tmp_path: Path):
    """A drawing of 60 mm over the whole width of a tablet would show lines as thick as fingers."""
    check = """
    const narrow = [...document.querySelectorAll('.drawing-frame svg.upto-60')];
    for (const one of narrow) expect(parseFloat(getComputedStyle(one).maxWidth) <= 420, one.dataset.drawing);
    const all = [...document.querySelectorAll('svg.drawing')];
    expect(all.some((one) => one.classList.contains('upto-60') || one.classList.contains('upto-100')), 'some are narrow');
    expect(all.every((one) => one.classList.contains('upto-60') === (one.dataset.width <= 60)), 'by their width on paper');
    done();
    """
    assert complaints(html, tmp_path, check) == []
