"""plan.json and the lists as CSV."""

import csv
import io
import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from drawleaf.book.output.data import cut_list_csv, plan_json, shopping_list_csv
from drawleaf.model.checks import CheckResult, Figure, Fine, Quantity, Sentence, Verdict
from drawleaf.model.derived import Derived
from drawleaf.units import Length

SAG = CheckResult(
    "shelf-sag",
    "Shelves and spans",
    Verdict.ADVICE,
    "Shelf",
    ("shelf",),
    (
        Figure("span", Length.of_mm(600)),
        Figure("sag", Fine(Length.of_mm(Fraction(127, 50)))),
        Figure("load", Quantity(1915.21029, "area load")),
        Figure("shelves", 3),
    ),
    Sentence("a sag of 1/144 of the span"),
    "common practice, no source",
    Sentence(
        "The shelf sags {sag} under {load}.",
        (("sag", Fine(Length.of_mm(Fraction(127, 50)))), ("load", Quantity(1915.21029, "area load"))),
    ),
    Sentence("Make it shorter."),
    None,
    waived="It holds hats.",
)


def rows(text: str) -> list[dict[str, str]]:
    assert text.count("\r\n") == len(text.splitlines())
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_cells_that_a_spreadsheet_would_run_are_guarded(derived: Derived):
    assert rows(cut_list_csv(derived))[1]["note"] == "'=cut last"
    assert rows(shopping_list_csv(derived))[1]["item"] == '\'@screws, "long"'


def test_cut_list_gives_sizes_as_printed_and_in_millimetres(derived: Derived):
    leg = rows(cut_list_csv(derived))[1]
    assert (leg["length"], leg["width"]) == ("11-25/32 in", "10 in")
    assert (leg["length_mm"], leg["thickness_mm"]) == ("299.244", "18.256")


def test_an_unknown_price_is_empty_and_a_known_one_plain(derived: Derived):
    first, second = rows(shopping_list_csv(derived))
    assert (first["each"], first["cost"], second["cost"]) == ("62.00", "62.00", "")
    assert first["detail"] == "full sheet; actual 23/32 in"


def test_plan_json_keeps_lengths_exact(derived: Derived):
    data = json.loads(plan_json(derived))
    leg = data["cut_list"][1]
    assert Fraction(leg["length"]["exact"]) == Fraction(377, 32) * Fraction(127, 5)
    assert leg["length"]["mm"] == 299.2438


def test_plan_json_has_what_the_checks_found(derived: Derived):
    """Words in the plan's units, lengths exact, quantities with their unit; the author's reason where it is accepted."""
    (sag,) = json.loads(plan_json(replace(derived, checks=(SAG,))))["checks"]
    assert (sag["check"], sag["verdict"], sag["waived"]) == ("shelf-sag", "advice", "It holds hats.")
    assert sag["words"] == "The shelf sags 0.10 in under 40 lb/sq ft."
    assert sag["held_against"] == "a sag of 1/144 of the span"
    figures = {one["name"]: one["value"] for one in sag["figures"]}
    assert figures == {
        "span": {"exact": "600", "mm": 600.0},
        "sag": {"exact": "127/50", "mm": 2.54},
        "load": {"value": 1915.2103, "unit": "N/m2"},
        "shelves": 3,
    }


def test_plan_json_refers_only_to_what_it_holds(derived: Derived):
    data = json.loads(plan_json(derived))
    parts = {part["id"] for part in data["parts"]}
    items = {item["item"] for item in data["cut_list"]}
    assert {part["item"] for part in data["parts"]} == items
    for step in data["steps"]:
        assert set(step["parts"]) <= parts
    for sheet in data["layouts"]["sheets"]:
        assert {placed["part"] for placed in sheet["placed"]} <= parts


def test_every_key_of_plan_json_is_documented(derived: Derived):
    words = (Path(__file__).parents[2] / "docs" / "plan-json.md").read_text(encoding="utf-8")
    data = json.loads(plan_json(replace(derived, checks=(SAG,))))

    def keys(value: object) -> set[str]:
        if isinstance(value, dict):
            return set(value).union(*map(keys, value.values()))
        return set().union(*map(keys, value)) if isinstance(value, list) else set()

    assert not {key for key in keys(data) if f"`{key}`" not in words}
