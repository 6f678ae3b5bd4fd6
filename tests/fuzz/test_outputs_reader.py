"""The reader of outputs is content with every example, and notices each way in which an output can be wrong."""

from __future__ import annotations

import copy
import json
import pickle
from collections.abc import Callable
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest
from tests.conftest import ROOT, drawn, drawn_source, made_once

from drawleaf.book.output.booklet import make_html
from drawleaf.book.output.data import cut_list_csv, plan_json, shopping_list_csv
from drawleaf.compiler import Choice, check_plan
from fuzz.outputs_reader import RULES, Outputs, faults, faults_in, of_files
from fuzz.trying import data_files

EXAMPLES = sorted(source.parent for source in ROOT.glob("plans/*/plan.yaml"))
MORE = sorted(source.parent for source in ROOT.glob("tests/plans/*/plan.yaml"))
WHOLE = "boot-bench"


def files_of(name: str, *, pages: bool = False) -> dict[str, bytes]:
    """What a compile writes of an example, but for the PDF, and the pages only where asked for."""
    derived, drawings = drawn(name)
    files = {
        "plan.json": plan_json(derived).encode(),
        "cut-list.csv": cut_list_csv(derived).encode(),
        "shopping-list.csv": shopping_list_csv(derived).encode(),
        **{f"drawings/{drawing.id}.svg": drawing.svg.encode() for drawing in drawings.all()},
    }
    if pages:
        html = made_once(f"screen {name}", lambda: make_html(derived, drawings, for_print=False))
        files[f"{name}.html"] = html.encode()
    return files


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda folder: folder.name)
def test_no_fault_in_an_example(folder: Path) -> None:
    assert faults_in(files_of(folder.name, pages=folder.name == WHOLE)) == []


@pytest.mark.parametrize("folder", MORE, ids=lambda folder: folder.name)
def test_no_fault_in_other_plans(folder: Path) -> None:
    """A plan that the checks stop is told as stopped, and what it says is true all the same."""
    outcome = check_plan(folder, Choice())
    assert outcome.derived is not None
    assert faults_in(data_files(outcome.derived)) == []


def test_no_fault_in_the_smallest_whole_folder(tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(
        (ROOT / "tests/fuzz/corpus/shelf.yaml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    derived, drawings = drawn_source(tmp_path)
    files = data_files(derived) | {f"drawings/{one.id}.svg": one.svg.encode() for one in drawings.all()}
    assert faults_in(files) == []


def test_it_knows_nothing_of_the_compiler() -> None:
    """What reckons with drawleaf's own sums would repeat drawleaf's own mistakes."""
    for file in (ROOT / "tests" / "fuzz" / "outputs_reader").glob("*.py"):
        assert "drawleaf" not in file.read_text(encoding="utf-8").replace("Nothing here imports drawleaf", "")


@cache
def _whole() -> Outputs:
    return of_files(files_of(WHOLE, pages=True))


@cache
def _pickled() -> bytes:
    return pickle.dumps(_whole().plan)


def length(mm: float) -> dict:
    return {"exact": str(mm), "mm": mm}


def first(rows: list, **having) -> dict:
    return next(row for row in rows if all(row[key] == value for key, value in having.items()))


def with_bores(plan: dict) -> dict:
    return next(part for part in plan["parts"] if part["bores"])


def with_recess(plan: dict) -> dict:
    return next(part for part in plan["parts"] if part["recesses"])


def screwed(plan: dict) -> dict:
    return next(joint for joint in plan["joints"] if len(joint["driven"]) > 1 and joint["driven"][0]["shank"])


def waiting(plan: dict) -> dict:
    return next(step for step in plan["steps"] if step["wait_hours"])


def sheet(plan: dict) -> dict:
    return plan["layouts"]["sheets"][0]


def put(holder: dict | list, key: str | int, value: object) -> None:
    holder[key] = value  # type: ignore[index]


def second_layer(plan: dict) -> None:
    """The second piece of a sheet lies on the first."""
    one, other = sheet(plan)["placed"][:2]
    other["x"], other["y"] = one["x"], one["y"]


def same_place(plan: dict) -> None:
    """Two parts that nothing joins stand in one place."""
    free = [part for part in plan["parts"] if not part["leans"] and not part["features"]]
    free[-1]["body"] = copy.deepcopy(free[0]["body"])


def no_glue(plan: dict) -> None:
    for step in plan["steps"]:
        step["supplies"] = []


WRONG: list[tuple[str, str, Callable[[dict], object]]] = [
    ("decimals_are_their_fractions", "a decimal", lambda p: put(p["parts"][0]["length"], "mm", 1.0)),
    ("sizes_are_sizes", "a part of no length", lambda p: put(p["parts"][0], "length", length(0))),
    ("sizes_are_sizes", "a part of negative width", lambda p: put(p["parts"][0], "width", length(-5))),
    ("sizes_are_sizes", "a joint of negative depth", lambda p: put(p["joints"][0], "depth", length(-1))),
    ("sizes_are_sizes", "a part as long as a road", lambda p: put(p["parts"][0], "length", length(99999999))),
    ("counts_are_counts", "none of a screw", lambda p: put(p["hardware"][0], "count", 0)),
    ("counts_are_counts", "half a packet", lambda p: put(p["hardware"][0], "packs", 0.5)),
    ("counts_are_counts", "negative minutes", lambda p: put(p["steps"][0], "minutes", -1)),
    ("words_are_words", "a value of Python", lambda p: put(p["shopping"]["rows"][0], "detail", "Fraction(1, 2)")),
    ("words_are_words", "a step without a title", lambda p: put(p["steps"][0], "title", " ")),
    ("dates_are_in_the_calendar", "no date", lambda p: put(p["plan"], "date", "2026-13-41")),
    ("dates_are_in_the_calendar", "prices of no month", lambda p: put(p["shopping"], "prices_of", "soon")),
    ("the_whole_is_as_large_as_its_parts", "a piece too small", lambda p: put(p, "overall_mm", [1.0, 1.0, 1.0])),
    ("the_whole_is_as_large_as_its_parts", "a piece of no mass", lambda p: put(p, "mass_kg", 0)),
    ("the_whole_is_as_large_as_its_parts", "a piece of lead", lambda p: put(p, "mass_kg", 1e5)),
    ("ids_are_unique", "two parts of one id", lambda p: p["parts"].append(p["parts"][0])),
    ("ids_are_unique", "two operations of one id", lambda p: p["steps"][0]["operations"].append(p["steps"][1]["operations"][0])),
    ("parts_that_are_named_exist", "a step with a part of no one", lambda p: p["steps"][0]["parts"].append("no.part")),
    ("parts_that_are_named_exist", "a joint of no part", lambda p: put(p["joints"][0], "into", "no.part")),
    ("parts_that_are_named_exist", "a layout of no part", lambda p: put(sheet(p)["placed"][0], "part", "no.part")),
    ("every_part_has_work", "a part that nobody makes", lambda p: p["parts"].append({**p["parts"][0], "id": "idle"})),
    ("steps_that_are_named_exist", "a tool for no step", lambda p: p["tools"][0]["steps"].append(999)),
    ("steps_that_are_named_exist", "a check of no step", lambda p: put(p["checks"][0], "steps", ["no-step"])),
    ("what_a_step_uses_is_on_a_list", "screws off the list", lambda p: p["steps"][0]["hardware"].append({"item": "no screw", "count": 1})),
    ("what_a_step_uses_is_on_a_list", "glue off the list", lambda p: p["steps"][0]["supplies"].append("no glue")),
    ("what_a_step_uses_is_on_a_list", "a tool off the list", lambda p: p["steps"][0]["tools"].append("no tool")),
    ("what_a_step_uses_is_on_a_list", "a tool for a step without it", lambda p: first(p["tools"], tool=p["steps"][0]["tools"][0])["steps"].append(len(p["steps"]))),
    ("what_is_bought_is_used", "screws that go nowhere", lambda p: put(p["hardware"][0], "count", 999)),
    ("cut_list_rows_fit_their_parts", "a row of other sizes", lambda p: put(p["cut_list"][0], "width", length(1))),
    ("cut_list_rows_fit_their_parts", "a row of no part", lambda p: put(p["cut_list"][0], "parts", ["no.part"])),
    ("cut_list_rows_fit_their_parts", "a wrong quantity", lambda p: put(p["cut_list"][0], "quantity", 9)),
    ("cut_list_rows_fit_their_parts", "a row of other stock", lambda p: put(p["cut_list"][0], "stock", "gold")),
    ("cut_list_rows_fit_their_parts", "a mirror of itself", lambda p: put(p["cut_list"][0], "mirror_of", p["cut_list"][0]["item"])),
    ("cut_list_rows_fit_their_parts", "a part off the list", lambda p: p["cut_list"].pop()),
    ("parts_are_as_large_as_their_bodies", "a body of other size", lambda p: put(p["parts"][0]["body"]["x"], 1, length(9999))),
    ("cut_list_file_is_that_of_the_plan", "sizes unlike the file's", lambda p: put(p["cut_list"][0]["cut_at_first"], 0, length(1))),
    ("cut_list_rows_fit_their_parts", "a blank smaller than its part", lambda p: put(p["cut_list"][0]["cut_at_first"], 0, length(1))),
    ("money_adds_up", "a wrong total", lambda p: put(p["shopping"], "total", "1.00")),
    ("money_adds_up", "a wrong cost", lambda p: put(p["shopping"]["rows"][0], "cost", "0.50")),
    ("money_adds_up", "an unpriced row not told", lambda p: put(p["shopping"], "unpriced", 7)),
    ("shopping_file_is_that_of_the_plan", "a quantity unlike the file's", lambda p: put(p["shopping"]["rows"][0], "quantity", 77)),
    ("hardware_adds_up", "a count that is not its uses", lambda p: put(p["hardware"][0]["uses"][0], "count", 99)),
    ("hardware_adds_up", "a joint that counts wrong", lambda p: put(screwed(p)["fasteners"][0], "count", 99)),
    ("hardware_adds_up", "fittings that nobody buys", lambda p: put(p["hardware_places"][0], "count", 999)),
    ("enough_is_bought", "too little glue", lambda p: put(p["consumables"][0], "buy", 0)),
    ("enough_is_bought", "too little finish", lambda p: put(p["finishes"][0], "litres", 999.0)),
    ("no_more_is_finished_than_there_is", "a field of finish", lambda p: put(p["finishes"][0], "area_m2", 999.0)),
    ("the_audit_agrees", "an audit that fails", lambda p: put(p["audit"][0], "agrees", False)),
    ("pieces_lie_on_their_sheet", "a piece that sticks out", lambda p: put(sheet(p)["placed"][0], "x", length(2400))),
    ("pieces_lie_on_their_sheet", "an offcut that sticks out", lambda p: put(sheet(p)["offcuts"][0], "length", length(9000))),
    ("pieces_lie_beside_one_another", "a piece on another", second_layer),
    ("cuts_go_beside_the_pieces", "a cut off the sheet", lambda p: put(sheet(p)["cuts"][0], "end", [length(9000), length(0)])),
    ("cuts_go_beside_the_pieces", "a cut set to nothing", lambda p: put(sheet(p)["cuts"][0], "setting", length(0))),
    ("cuts_go_beside_the_pieces", "cuts out of order", lambda p: put(sheet(p)["cuts"][0], "order", 5)),
    ("cuts_go_beside_the_pieces", "a slanting cut", lambda p: (put(sheet(p)["cuts"][0], "start", [length(0), length(0)]), put(sheet(p)["cuts"][0], "end", [length(9), length(9)]))),
    ("cuts_go_beside_the_pieces", "a cut through a piece", lambda p: (put(sheet(p)["cuts"][0], "start", [length(40), length(0)]), put(sheet(p)["cuts"][0], "end", [length(40), length(1200)]))),
    ("the_used_share_is_that_of_the_pieces", "a share of more than all", lambda p: put(sheet(p), "used", {"exact": "2", "value": 2.0})),
    ("every_part_lies_once_and_is_large_enough", "a part laid out twice", lambda p: sheet(p)["placed"].append(sheet(p)["placed"][0])),
    ("every_part_lies_once_and_is_large_enough", "a piece too short", lambda p: put(sheet(p)["placed"][0], "length", length(10))),
    ("every_part_lies_once_and_is_large_enough", "a piece of another number", lambda p: put(sheet(p)["placed"][0], "item", 77)),
    ("two_parts_are_not_in_one_place", "two parts in one place", same_place),
    ("two_parts_are_not_in_one_place", "a dado that was not cut", lambda p: [part.update(recesses=[], features=[]) for part in p["parts"] if not part["bores"] or part["recesses"]]),
    ("recesses_are_within_their_part", "a recess beyond its part", lambda p: put(with_recess(p)["recesses"][0]["body"]["x"], 1, length(9999))),
    ("recesses_are_within_their_part", "a part cut away whole", lambda p: with_recess(p)["recesses"].append({"kind": "notch", "into": "top", "body": with_recess(p)["body"]})),
    ("holes_are_within_their_part", "a hole wider than its part", lambda p: put(with_bores(p)["bores"][0], "diameter", length(5000))),
    ("holes_are_within_their_part", "a hole beside its part", lambda p: put(with_bores(p)["bores"][0]["at"], "x", length(-99))),
    ("holes_are_within_their_part", "a hole deeper than its part", lambda p: put(with_bores(p)["bores"][0], "depth", length(5000))),
    ("holes_are_within_their_part", "a hole that goes nowhere", lambda p: put(with_bores(p)["bores"][0], "direction", [0, 0, 0])),
    ("two_holes_are_not_one", "a hole bored twice", lambda p: with_bores(p)["bores"].append(with_bores(p)["bores"][0])),
    ("screws_go_into_their_wood", "a screw too long", lambda p: put(screwed(p)["driven"][0], "length", length(5000))),
    ("two_fasteners_are_not_in_one_place", "a screw in a screw", lambda p: put(screwed(p)["driven"], 1, screwed(p)["driven"][0])),
    ("fittings_have_a_part", "a pull on nothing", lambda p: put(p["hardware_places"][0], "parts", [])),
    ("steps_are_numbered", "a number left out", lambda p: put(p["steps"][-1], "number", 99)),
    ("steps_are_numbered", "no steps", lambda p: put(p, "steps", [])),
    ("a_step_takes_as_long_as_its_operations", "minutes from nowhere", lambda p: put(p["steps"][0], "minutes", 999)),
    ("a_step_takes_as_long_as_its_operations", "a wait from nowhere", lambda p: put(p["steps"][0], "wait_hours", 9)),
    ("a_step_takes_as_long_as_its_operations", "a step of no work", lambda p: put(p["steps"][0], "operations", [])),
    ("hours_are_the_sum_of_the_steps", "hours from nowhere", lambda p: put(p["schedule"], "active_hours", 999)),
    ("hours_are_the_sum_of_the_steps", "waits from nowhere", lambda p: put(p["schedule"], "waiting_hours", 999)),
    ("hours_are_the_sum_of_the_steps", "a year of days", lambda p: put(p["schedule"], "days", 365)),
    ("only_what_dries_is_waited_for", "a wait for nothing", no_glue),
    ("only_what_dries_is_waited_for", "a wait of a month", lambda p: put(waiting(p), "wait_hours", 720)),
    ("work_comes_after_what_it_needs", "work too early", lambda p: put(p["steps"][0]["operations"][0], "after", [p["steps"][-1]["operations"][0]["id"]])),
]  # fmt: skip


def noticed(rule: str, outputs: Outputs) -> list[str]:
    (found,) = [one for one in RULES if one.__name__ == rule]
    return list(found(outputs))


@pytest.mark.parametrize(("rule", "what", "spoil"), WRONG, ids=[f"{rule}-{what}" for rule, what, _ in WRONG])
def test_a_wrong_plan_is_noticed(rule: str, what: str, spoil: Callable[[dict], object]) -> None:
    whole = _whole()
    plan = pickle.loads(_pickled())
    spoil(plan)
    assert noticed(rule, Outputs(plan, whole.cut_list, whole.shopping, {}, None)), what


def text_moved(svg: ElementTree.Element) -> None:
    next(svg.iter("{http://www.w3.org/2000/svg}text")).set("x", "9999")


def path_moved(svg: ElementTree.Element) -> None:
    path = next(svg.iter("{http://www.w3.org/2000/svg}path"))
    path.set("d", path.get("d", "") + "L-500 3")


DRAWN_WRONG: list[tuple[str, str, Callable[[ElementTree.Element], object]]] = [
    ("drawings_have_a_paper", "a drawing of no size", lambda svg: svg.set("viewBox", "0 0 0 10")),
    ("drawings_have_a_paper", "an empty drawing", lambda svg: [svg.remove(one) for one in list(svg) if not one.tag.endswith(("title", "desc"))]),
    ("figures_are_numbers", "a line to nowhere", lambda svg: svg.set("d", "M0 0LNaN 3")),
    ("words_are_on_the_paper", "words off the page", text_moved),
    ("lines_are_on_the_paper", "a line off the page", path_moved),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "what", "spoil"), DRAWN_WRONG, ids=[what for _, what, _ in DRAWN_WRONG])
def test_a_wrong_drawing_is_noticed(rule: str, what: str, spoil: Callable[[ElementTree.Element], object]) -> None:
    whole = _whole()
    svg = copy.deepcopy(whole.drawings["step-01"])
    spoil(svg)
    assert noticed(rule, Outputs(whole.plan, None, None, {"step-01": svg}, None)), what


def test_a_drawing_of_what_is_not_there_is_noticed() -> None:
    whole = _whole()
    drawings = {"step-99": whole.drawings["step-01"]}
    assert noticed("drawings_are_of_what_there_is", Outputs(whole.plan, None, None, drawings, None))


@pytest.mark.parametrize(
    ("rule", "spoil"),
    [
        ("links_lead_somewhere", lambda html: html.replace("</body>", '<a href="#nowhere">Step 99</a></body>')),
        ("links_lead_somewhere", lambda html: html.replace("</body>", '<p id="x"></p><p id="x"></p></body>')),
        ("nothing_lies_elsewhere", lambda html: html.replace("</body>", '<img src="https://a.example/b.png"></body>')),
    ],
)
def test_a_wrong_page_is_noticed(rule: str, spoil: Callable[[str], str]) -> None:
    whole = _whole()
    assert whole.html is not None
    assert noticed(rule, Outputs(whole.plan, None, None, {}, spoil(whole.html)))


def test_a_formula_in_a_list_is_noticed() -> None:
    whole = _whole()
    assert whole.cut_list is not None
    for sign in "=+-@\t\r\n＝＋－＠":
        rows = [{**whole.cut_list[0], "note": f"{sign}1+1"}]
        assert noticed("no_cell_is_a_formula", Outputs(whole.plan, rows, None, {}, None)), sign


def test_files_that_cannot_be_read_are_a_fault() -> None:
    files = files_of("key-ledge")
    data = json.loads(files["plan.json"])
    data["mass_kg"] = float("nan")
    for name, content in {
        "plan.json": json.dumps(data).encode(),
        "drawings/cover.svg": b"<svg",
        "cut-list.csv": b"a,b\r\n1\r\n",
    }.items():
        assert faults_in(files | {name: content})[0].startswith("unreadable"), name


def test_every_rule_was_shown_to_fail() -> None:
    shown = {rule for rule, *_ in (*WRONG, *DRAWN_WRONG)}
    shown |= {"drawings_are_of_what_there_is", "links_lead_somewhere", "nothing_lies_elsewhere", "no_cell_is_a_formula"}
    assert {rule.__name__ for rule in RULES} == shown
    assert faults(_whole()) == []
