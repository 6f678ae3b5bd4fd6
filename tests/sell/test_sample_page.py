"""The sample of the tablet edition: chosen screens, marked, with nothing of the others inside."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from tests.sell.booklets import TITLES, compiled_folder, pdf
from typer.testing import CliRunner

from drawleaf.book.output.turning_share import scenes_of
from drawleaf.cli import app
from drawleaf.sell.page_parts import Edit, edited, page_parts
from drawleaf.sell.sample import SampleError
from drawleaf.sell.sample_page import make_page_sample, screen_ids
from drawleaf.sell.sample_screens import screens_on

IDS = ("cover", "glance", "contents", "tools", "exploded", "step-saw", "step-bore", "step-glue")


def screen(number: int, name: str) -> str:
    step = f' data-step="{number - 4}"' if name.startswith("step-") else ""
    figures = "".join(
        f'<figure><svg data-drawing="{name}-{at}" viewBox="0 0 9 9"><path d="M{number} {at}"/><br></svg></figure>'
        for at in (1, 2)
    )
    return (
        f'<section class="chapter screen" id="{name}"{step}><h2>Title{number}</h2><p>Secret{number}, as a &lt;section class="screen"&gt;'
        f'<a href="#{IDS[(number + 1) % len(IDS)]}">on to {number + 1}</a>{figures}</section>\n'
    )  # the paragraph is left open, as HTML allows


def shape(code: int) -> list[object]:
    return [[0, 0, code], [1, 1, 1], f"points{code}", "corners", "edges", None, [[12, 0, 0], [2, code, 1]]]


def scene(step: int, drawing: str, *bodies: int) -> dict[str, object]:
    """A step in which each body stands in the shape of its number, and the first is screwed to the last, and meets it, and one that may not be shown."""
    first, last = bodies[0], bodies[-1]
    return {
        "drawing": drawing, "step": step, "standing": [{"body": body, "shape": body, "at": [0, 0, 0]} for body in bodies],
        "driven": [[f"screw-{step}", [0, 0, 0], [1, 0, 0], 30, 4, last, 0, 1]], "pressing": [], "meetings": [[first, 0, last, 1, 0], [first, None, 3 - last, 1, 0]],
    }  # fmt: skip


TURNABLE = {
    "shapes": [shape(7), shape(8), shape(9)],
    "cuts": ["Groove", "Mortise", "Bevel"],
    "bodies": [{"id": f"body{number}", "name": f"Hidden{number}"} for number in range(3)],
    "items": {"screw-1": "A screw", "screw-3": "A bolt"},
    "whole": scene(0, "exploded-1", 0, 1, 2),
    "steps": [scene(1, "step-saw-1", 0, 2), scene(3, "step-glue-1", 0, 1)],
    "openings": [{"bodies": [1]}],
}
HEAD = '<!DOCTYPE html><html><head><title>Peg box</title></head><body class="x" data-booklet="P:A"><a href="#contents">Contents</a>'
PAGE = (
    f'{HEAD}<main id="booklet">Loose words'
    + "".join(screen(number, name) for number, name in enumerate(IDS[:5]))
    + '<section class="chapter steps" id="steps"><p>All steps</p>'
    + "".join(screen(number, name) for number, name in enumerate(IDS[5:], start=5))
    + '</section></main><script type="application/json" id="turnable" data-drawings="exploded-1 step-saw-1 step-glue-1" '
    + f'data-whole="exploded-1" data-sheets="{{&quot;sheet-1&quot;: []}}">{json.dumps(TURNABLE)}</script><script>"</main>"</script></body></html>'
)


def test_the_usual_sample_has_its_screens_and_nothing_of_the_others() -> None:
    made = make_page_sample(PAGE)
    assert screen_ids(PAGE) == IDS
    assert screen_ids(made) == ("cover", "glance", "tools", "exploded", "step-saw", "step-bore")
    for number, name in enumerate(IDS):
        kept = name not in ("contents", "step-glue")
        for words in (f"Secret{number}", f"Title{number}", f'd="M{number} 1"', f'id="{name}"'):
            assert words in PAGE
            assert (words in made) is kept
    assert "Loose words" not in made
    assert "All steps" not in made
    assert made.startswith("<!DOCTYPE html><html><head><title>Peg box. Sample: 6 of 8 screens</title>")


def test_what_is_kept_keeps_its_bytes_and_is_marked() -> None:
    made = make_page_sample(PAGE, ["step-bore"])
    inner = screen(6, "step-bore").removesuffix("</section>\n").replace('<a href="#step-glue">on to 7</a>', "on to 7")
    assert f'{inner}<p class="soft sample">Sample: 1 of 8 screens</p>\n</section>' in made


def test_of_the_exploded_views_the_usual_sample_has_one_and_an_author_who_names_them_all() -> None:
    assert 'data-drawing="exploded-2"' not in make_page_sample(PAGE)
    assert 'data-drawing="exploded-2"' in make_page_sample(PAGE, ["exploded"])


def test_links_that_lead_out_are_words_and_a_button_that_leads_out_goes() -> None:
    made = make_page_sample(PAGE)
    assert re.findall(r'href="#([^"]+)"', made) == ["glance", "exploded", "step-saw", "step-bore"]
    assert "on to 2" in made  # at a glance, to the contents, which are not inside
    assert "Contents" not in made


def test_the_turning_view_has_the_steps_of_the_sample_and_no_body_of_others() -> None:
    """Step 1 shows bodies 0 and 2: they are 0 and 1 now, in shapes of the same numbers, and the cut of the second is the second name."""
    made = make_page_sample(PAGE)
    held = re.search(r'<script type="application/json" id="turnable"([^>]*)>(.*?)</script>', made)
    assert held is not None
    assert held[1] == ' data-drawings="step-saw-1" data-whole="" data-sheets="{}"'
    data = json.loads(held[2])
    assert [body["id"] for body in data["bodies"]] == ["body0", "body2"]
    assert (data["cuts"], data["items"], data["whole"]) == (["Groove", "Bevel"], {"screw-1": "A screw"}, None)
    assert [one[2] for one in data["shapes"]] == ["points7", "points9"]
    assert [one[-1][1][1] for one in data["shapes"]] == [7, 8]
    (step,) = data["steps"]
    assert [(one["body"], one["shape"]) for one in step["standing"]] == [(0, 0), (1, 1)]
    assert (step["driven"][0][5], step["meetings"]) == (1, [[0, 0, 1, 1, 0]])
    assert "Hidden1" not in made


def test_a_step_that_shows_where_each_part_goes_does_not_turn_in_a_sample() -> None:
    """It would give the whole piece away: each joint could be measured in it."""
    going = {"body": 0, "shape": 0, "at": [0, 0, 0], "turn": 0, "lying": {"shape": 1, "stock": 2}}
    at_saw = TURNABLE["steps"][0] | {"standing": [going]}  # type: ignore[index]
    assert scenes_of(TURNABLE | {"steps": [at_saw]}, ["step-saw-1"]) is None
    assert scenes_of(TURNABLE, ["step-saw-1"]) is not None


def test_without_a_step_that_turns_no_data_of_the_turning_view_is_left() -> None:
    made = make_page_sample(PAGE, ["cover", "exploded"])
    assert 'id="turnable"' not in made
    assert "Hidden" not in made


def test_ticks_of_a_sample_are_its_own_and_steps_are_counted_as_in_the_plan() -> None:
    assert '<body class="x" data-booklet="P:A:sample" data-steps="3">' in make_page_sample(PAGE)


@pytest.mark.parametrize("screens", [(), ("no-such",), IDS])
def test_screens_that_make_no_sample_are_told(screens: tuple[str, ...]) -> None:
    with pytest.raises(SampleError, match=r"none of those screens|whole booklet"):
        make_page_sample(PAGE, screens)
    with pytest.raises(SampleError, match="no screens"):
        make_page_sample("<html><body>words</body></html>")


def test_screens_follow_the_pages() -> None:
    """The small booklet has a page a title. Without its own place the first stands on page 1; what is not whole on chosen pages stays out."""
    ids = [f"p{number}" for number in range(len(TITLES))]
    assert screens_on(pdf(), {1, 3}, ids) == ("p0", "p2")
    assert (
        screens_on(pdf(), {2}, ["p1", "p4", "p6"]) == ()
    )  # the next begins on page 5: this one may run as far as page 4
    assert screens_on(pdf(), {2, 3, 4, 7}, ["p1", "p4", "p6"]) == ("p1", "p6")


def test_the_places_of_elements_are_those_in_the_text() -> None:
    text = '<div id="a">\n<p>one<p class="x y">two<br></div><script>"<p>"</script>'
    div, script = page_parts(text).parts
    assert (text[div.start : div.end], div.id) == ('<div id="a">\n<p>one<p class="x y">two<br></div>', "a")
    first, *_ = div.parts
    second = next(part for part in div.all() if "x" in part.classes)
    assert text[second.start : second.end] == '<p class="x y">two<br>'
    assert first.end == div.inner_end
    assert text[script.inner : script.inner_end] == '"<p>"'
    assert edited("abcdef", [Edit(1, 4, "-"), Edit(2, 3, "lost"), Edit(6, 6, "!")]) == "a-ef!"


def test_a_page_without_screens_is_told_as_it_is(tmp_path: Path) -> None:
    """With pages chosen there is a sample of the PDF alone; with none the page itself is at fault."""
    folder = compiled_folder(tmp_path / "peg-box")
    given = ["sample", str(folder), "--out", str(folder / "taste.pdf")]
    chosen = CliRunner().invoke(app, [*given, "--pages", "1"])
    assert (chosen.exit_code, "lies wholly on these pages" in chosen.stderr) == (0, True)
    result = CliRunner().invoke(app, given)
    assert (result.exit_code, "the HTML edition has no screens" in result.stderr) == (1, True)
    assert not (folder / "taste.html").exists()


@pytest.mark.parametrize("command", ["sample", "shelf", "copies"])
def test_a_damaged_page_is_told_and_not_thrown(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    folder = compiled_folder(tmp_path / "peg-box")
    (folder / "peg-box.html").write_bytes(b"<p>\xff\xfe")
    (tmp_path / "buyers.csv").write_text("name,order\nAda,A-17\n", encoding="utf-8")
    result = CliRunner().invoke(
        app, [command, str(folder), *(["--buyers", "buyers.csv"] if command == "copies" else [])]
    )
    assert result.exit_code == 1
    assert "peg-box.html is damaged: compile the plan anew" in result.stderr


def test_the_page_is_never_written_over_the_pdf(tmp_path: Path) -> None:
    folder = compiled_folder(tmp_path / "peg-box")
    result = CliRunner().invoke(app, ["sample", str(folder), "--out", str(tmp_path / "taste.html")])
    assert result.exit_code == 2
    assert not (tmp_path / "taste.html").exists()
