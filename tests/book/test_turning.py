"""What the turning view puts into the page: data that are only data, scripts that are ours, and nothing where the library is missing."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from tests.conftest import ROOT, drawn, solids_of

from drawleaf.book.output import html_edition, turning
from drawleaf.book.output.html_edition import finish_for_screen
from drawleaf.book.output.turning import own_scripts, turning_data, with_turning
from drawleaf.draw.turnable.turnable import turnable
from drawleaf.model.derived import Derived
from drawleaf.model.turnable import Turnable

LIBRARY = "var THREE = {};"
PAGE = '<html><head><meta http-equiv="Content-Security-Policy" content="%POLICY%"><style>/*FONTS*/</style></head><body>{}</body></html>'
EVIL = "</script><img src=x onerror='alert(1)'>\" &"


@pytest.fixture(scope="module")
def made() -> tuple[Derived, Turnable]:
    derived, drawings = drawn("key-ledge")
    layouts = (*drawings.sheets.values(), *drawings.boards.values())
    return derived, turnable(derived, solids_of("key-ledge"), drawings.steps, layouts)


@pytest.fixture
def library(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(turning, "library_text", lambda: LIBRARY)
    monkeypatch.setattr(html_edition, "library_text", lambda: LIBRARY)
    monkeypatch.setattr(html_edition, "font_faces_for_screen", lambda _text: "")
    html_edition._own_scripts.cache_clear()
    yield
    html_edition._own_scripts.cache_clear()


class Seen(HTMLParser):
    """Which elements stand in a page, and what is written in the data block."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.block, self.inside = "", False
        self.told: dict[str, str | None] = {}
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.inside = tag == "script" and ("id", turning.DATA_ID) in attrs
        if self.inside:
            self.told = dict(attrs)

    def handle_endtag(self, tag: str) -> None:
        self.inside = False

    def handle_data(self, data: str) -> None:
        self.block += data if self.inside else ""


@pytest.mark.usefixtures("library")
def test_a_name_of_the_authors_is_only_text(made: tuple[Derived, Turnable]) -> None:
    derived, what = made
    items = tuple(
        replace(item, parts=tuple(replace(part, name=EVIL) for part in item.parts)) for item in derived.cut_list.items
    )
    parts = tuple(replace(part, name=EVIL) for part in derived.plan.parts)
    hostile = replace(derived, plan=replace(derived.plan, parts=parts), cut_list=replace(derived.cut_list, items=items))
    seen = Seen(with_turning(PAGE.format("<p>words</p>"), hostile, what))
    assert "img" not in seen.tags
    assert seen.tags.count("script") == 2 + len(own_scripts())
    bodies = json.loads(seen.block)["bodies"]
    assert [one["name"] for one in bodies if "number" in one] == [EVIL] * len(parts)
    sheets = json.loads(str(seen.told["data-sheets"]))
    assert all(piece[5].endswith(f" {EVIL}") for pieces in sheets.values() for piece in pieces)
    assert len(sheets) == len(what.layouts) > 0


@pytest.mark.usefixtures("library")
def test_the_policy_knows_each_script_and_style(made: tuple[Derived, Turnable]) -> None:
    page = finish_for_screen(with_turning(PAGE.format("<p>words</p>"), *made))
    policy = re.search(r'content="([^"]+)"', page)
    assert policy
    for kind in ("script", "style"):
        texts = re.findall(rf"<{kind}>(.*?)</{kind}>", page, re.DOTALL)
        assert texts
        assert LIBRARY not in texts  # it does not run when the page is opened, and may run later
        texts += [LIBRARY] if kind == "script" else []
        for text in texts:
            assert f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'" in policy[1]
    assert "unsafe" not in policy[1]


def test_without_the_library_the_page_is_as_it_was(
    made: tuple[Derived, Turnable], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(turning, "library_text", lambda: None)
    assert with_turning(PAGE, *made) == PAGE


@pytest.mark.usefixtures("library")
def test_a_frame_without_a_body_is_left_alone(made: tuple[Derived, Turnable]) -> None:
    assert with_turning("<p>an author's own frame</p>", *made) == "<p>an author's own frame</p>"


def test_numbers_in_the_data_lead_somewhere(made: tuple[Derived, Turnable]) -> None:
    """Bodies, shapes and surfaces are named by number; each number is one of them, and each part has its size as the cut list prints it."""
    derived, what = made
    data = turning_data(derived, what)
    for scene in (data["whole"], *data["steps"]):
        assert all(0 <= one["body"] < len(data["bodies"]) for one in scene["standing"])
        assert all(0 <= one["shape"] < len(data["shapes"]) for one in scene["standing"])
        assert all(one[5] < len(data["bodies"]) and one[0] in data["items"] for one in scene["driven"])
    codes = {code for shape in data["shapes"] for _, code, _ in shape[-1]}
    assert max(codes) <= turning.NAMELESS + len(data["cuts"])
    for item in derived.cut_list.items:
        said = " × ".join(derived.plan.lengths.text(side) for side in (item.length, item.width, item.thickness))
        assert {one["size"] for one in data["bodies"] if one.get("number") == item.number} == {said}
    assert {one["id"] for one in data["bodies"] if "number" in one} == {part.id for part in derived.plan.parts}


def test_the_library_is_no_more_than_what_is_used() -> None:
    """Each name of three.js that our scripts use is gathered, and no other."""
    folder = ROOT / "templates" / "js" / "turn"
    assert sorted(turning.SCRIPTS) == sorted(file.name for file in folder.glob("*.js"))
    used = {name for text in own_scripts() for name in re.findall(r"\bTHREE\.(\w+)", text)}
    listed = (ROOT / "scripts" / "three-used.js").read_text(encoding="utf-8").partition("{")[2]
    assert sorted(used) == sorted(re.findall(r"\b[A-Z]\w+", listed))
