"""A headless Chromium with the system's own driver, for tests that look at pages as a reader does."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest


def running(wide: int = 1280, high: int = 900) -> Iterator:
    """A browser of that many pixels, that runs until the generator is closed; the test is skipped where there is none."""
    chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    driver = shutil.which("chromedriver")
    if chromium is None or driver is None:
        pytest.skip("no Chromium with its driver on this system; scripts/system-libraries installs them on Debian")
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service

    options = webdriver.ChromeOptions()
    options.binary_location = chromium
    for argument in ("--headless=new", "--no-sandbox", "--disable-dev-shm-usage", "--enable-unsafe-swiftshader"):
        options.add_argument(argument)
    options.add_argument(f"--window-size={wide},{high}")
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    browser = webdriver.Chrome(options=options, service=Service(driver))
    browser.set_script_timeout(30)
    yield browser
    browser.quit()
