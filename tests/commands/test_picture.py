"""``drawleaf picture``: what it says without its renderer, what it refuses, and a small picture where the renderer is there."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest
from PIL import Image
from typer.testing import CliRunner

from drawleaf.cli import app
from drawleaf.looks import mitsuba
from drawleaf.looks.photo import MARK
from drawleaf.resources import product_folder
from tiny_pictures import png

LEDGE = str(product_folder("shared").parent / "plans" / "key-ledge")


def said(*arguments: str) -> tuple[int, str]:
    done = CliRunner().invoke(app, ["picture", *arguments])
    return done.exit_code, done.output


def test_without_the_extra_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(mitsuba, "installed", lambda: False)
    code, output = said(LEDGE)
    assert code == 1
    assert "pip install 'drawleaf[pictures]'" in output


def test_it_refuses_what_is_no_picture_s_name_and_what_is_not_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(mitsuba, "installed", lambda: True)
    photo = tmp_path / "photo.png"
    photo.write_bytes(png())
    assert "ends in .png or .jpg" in said(LEDGE, "--out", str(tmp_path / "a.gif"))[1]
    assert "no such folder" in said(LEDGE, "--out", str(tmp_path / "none" / "a.png"))[1]
    code, output = said(LEDGE, "--out", str(photo))
    assert code == 1
    assert "left as it is" in output
    assert photo.read_bytes() == png()
    assert said(LEDGE, "--size", "20x20")[0] == 2
    for alone in ("--exploded", "--open"):
        code, output = said(LEDGE, "--step", "2", alone)
        assert code == 2
        assert "as it stands then" in output
    assert "no step “none”" in said(LEDGE, "--step", "none", "--out", str(tmp_path / "a.png"))[1]


@pytest.mark.skipif(importlib.util.find_spec("mitsuba") is None, reason="the extra drawleaf[pictures] is not installed")
def test_a_small_picture(tmp_path: Path) -> None:
    """The ledge hangs on a pale wall: the picture is of the size asked for, tells how it was made, and has pine in its middle."""
    out = tmp_path / "ledge.png"
    code, output = said(LEDGE, "--size", "96x72", "--samples", "2", "--out", str(out))
    assert code == 0, output
    assert "to go" in output or "tracing light 100 %" in output
    with Image.open(out) as picture:
        assert picture.size == (96, 72)
        assert MARK in picture.info["Comment"]
        pixels = picture.convert("RGB").resize((12, 9), Image.Resampling.BOX)
        r, _, b = pixels.getpixel((6, 4))  # type: ignore[misc]
        wall = pixels.getpixel((1, 1))
    assert r > 1.25 * b
    assert abs(wall[0] - wall[2]) < 40  # type: ignore[index]
