"""Figures of the tablet edition and its turning view, in Chromium slowed down sixfold to a phone's processor; and of the glTF file, by the Khronos validator.

The turning is drawn by the processor here, which a phone leaves to its graphics chip: the frames are a lower bound.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from drawleaf.compiler import Choice, compile_plan

ROOT = Path(__file__).resolve().parent.parent
PLAN = "boot-bench"
SLOWED = 6
"""How many times slower than this computer's a phone's processor is taken to be."""
VALIDATOR = "gltf-validator@2.0.0-dev.3.10"
_VALIDATE = """
const fs = require('fs');
require('gltf-validator').validateBytes(new Uint8Array(fs.readFileSync(process.argv[2]))).then((said) => console.log(JSON.stringify(said.issues)));
"""
_SEEN = """
const [step] = arguments, box = document.getElementById(step).getBoundingClientRect();
const [paint] = performance.getEntriesByName('first-contentful-paint');
return box.height > 0 && paint ? paint.startTime / 1000 : null;
"""
_FRAMES = """
const done = arguments[arguments.length - 1], view = Turning.open(), begun = performance.now();
let frames = 0;
const next = () => {
  view.stage.turn(0.02, 0);
  view.moved();
  frames += 1;
  const gone = (performance.now() - begun) / 1000;
  if (gone < 4) requestAnimationFrame(next); else done(frames / gone);
};
requestAnimationFrame(next);
"""
_SCRIPT = """
const done = arguments[arguments.length - 1], view = Turning.open(), { canvas } = view, spent = [];
const next = () => {
  const begun = performance.now();
  view.stage.turn(0.02, 0);
  view.stage.draw(canvas, canvas.clientWidth, canvas.clientHeight);
  view.labels.draw(view, canvas.clientWidth, canvas.clientHeight);
  spent.push(performance.now() - begun);
  if (spent.length < 40) requestAnimationFrame(next); else done(spent.sort((a, b) => a - b)[20]);
};
requestAnimationFrame(next);
"""
"""What our own scripts and the library take of a picture, without the drawing itself: the middle of 40."""


@contextmanager
def browser() -> Iterator[Any]:
    """Headless Chromium by its driver, as large as a phone."""
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service

    chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    options = webdriver.ChromeOptions()
    options.binary_location = chromium
    for argument in ("--headless=new", "--no-sandbox", "--disable-dev-shm-usage", "--enable-unsafe-swiftshader"):
        options.add_argument(argument)
    options.add_argument("--window-size=390,844")
    running = webdriver.Chrome(options=options, service=Service(shutil.which("chromedriver")))
    running.set_script_timeout(120)
    try:
        yield running
    finally:
        running.quit()


def in_browser(file: Path, first: str, largest: str) -> dict[str, float]:
    """``first`` is the id of the first step with a picture; ``largest`` the drawing with most bodies."""
    with browser() as running:
        running.get("about:blank")
        running.execute_cdp_cmd("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        running.get(f"{file.as_uri()}#{first}")
        seen = None
        while seen is None:
            time.sleep(0.05)
            seen = running.execute_script(_SEEN, first)
        running.execute_script(
            "const svg = document.querySelector(`svg[data-drawing='${arguments[0]}']`);"
            "location.hash = svg.closest('.screen').id; svg.closest('.drawing-frame').querySelector('.turn-open').click()",
            largest,
        )
        time.sleep(2.0)
        frames = running.execute_async_script(_FRAMES)
        script = running.execute_async_script(_SCRIPT)
        heap = running.execute_script("return performance.memory.usedJSHeapSize") / 1e6
    return {
        "first_step_seconds_throttled": seen,
        "frames_per_second_throttled": frames,
        "turning_script_ms_throttled": script,
        "turning_heap_mb": heap,
    }


def glb_errors(file: Path) -> float | None:
    """Errors and warnings of the Khronos validator; None where there is no node to run it."""
    npm, node = shutil.which("npm"), shutil.which("node")
    if npm is None or node is None:
        return None
    with tempfile.TemporaryDirectory() as place:
        install = [npm, "install", "--silent", "--no-save", "--prefix", place, VALIDATOR]
        subprocess.run(install, check=True, cwd=place, capture_output=True)
        script = Path(place) / "validate.js"
        script.write_text(_VALIDATE, encoding="utf-8")
        said = subprocess.run([node, script, file], check=True, cwd=place, capture_output=True, text=True).stdout
    issues = json.loads(said)
    return float(issues["numErrors"] + issues["numWarnings"])


def measure() -> dict[str, float]:
    """``html_mb_boot_bench``, ``first_step_seconds_throttled``, ``frames_per_second_throttled``, ``turning_script_ms_throttled``,
    ``turning_heap_mb``, ``glb_errors``."""
    outcome = compile_plan(ROOT / "plans" / PLAN, Choice())
    assert outcome.derived is not None
    assert outcome.drawings is not None
    page = outcome.files[f"{PLAN}.html"]
    steps = {step.number: step for step in outcome.derived.steps}
    drawn = [steps[number] for number in outcome.drawings.steps]
    largest = max(drawn, key=lambda step: len(step.scene.standing) + len(step.scene.new) if step.scene else 0)
    with tempfile.TemporaryDirectory() as place:
        files = {name: Path(place) / name for name in (f"{PLAN}.html", f"{PLAN}.glb")}
        for name, file in files.items():
            file.write_bytes(outcome.files[name])
        figures = {"html_mb_boot_bench": len(page) / 1e6}
        figures |= in_browser(files[f"{PLAN}.html"], f"step-{drawn[0].id}", f"step-{largest.number:02d}")
        errors = glb_errors(files[f"{PLAN}.glb"])
    return figures if errors is None else {**figures, "glb_errors": errors}


if __name__ == "__main__":
    sys.stdout.write(f"{measure()}\n")
