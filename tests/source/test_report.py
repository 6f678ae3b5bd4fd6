"""Diagnostics as printed: the line quoted, the marks under exactly what is meant."""

from __future__ import annotations

import unicodedata

import pytest

from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.position import Position
from drawleaf.source.report import WIDEST, in_order, render, render_all, summary


def one(position: Position | None, **more) -> Diagnostic:
    return Diagnostic("unknown-key", "unknown key “lft”", position, **more)


def test_the_whole_of_it() -> None:
    texts = {"plan.yaml": "a: 1\nside: {lft: 0}\n"}
    found = one(
        Position("plan.yaml", 2, 8, 3),
        cause="“side” takes no such key.",
        mend="Did you mean “left”?",
        related=((Position("plan.yaml", 1, 1, 1), "another one"),),
    )
    assert render(found, texts) == "\n".join(
        [
            "plan.yaml, line 2, to mend: Unknown key “lft” (unknown-key)",
            "    side: {lft: 0}",
            "           ═══",
            "    Cause: “side” takes no such key.",
            "    Mend:  Did you mean “left”?",
            "    See:   plan.yaml, line 1, another one",
            "    a: 1",
            "    ═",
        ]
    )


def marked(line: str, column: int, length: int) -> str:
    """What the marks stand under, by terminal columns."""
    quoted, marks = render(one(Position("f", 1, column, length)), {"f": line}).split("\n")[1:3]
    start, count = len(marks) - len(marks.lstrip()), marks.count("═")
    cells: list[str] = []
    for character in quoted:
        wide = unicodedata.east_asian_width(character) in "WF"
        if unicodedata.combining(character):
            cells[-1] += character
        else:
            cells += [character, ""] if wide else [character]
    return "".join(cells[start : start + count])


@pytest.mark.parametrize(
    ("line", "column", "length", "meant"),
    [
        ("side: {lft: 0}", 8, 3, "lft"),
        ("\tside: 1", 2, 4, "side"),
        ("a\tside: 1", 3, 4, "side"),
        ("木材: {lft: 0}", 6, 3, "lft"),
        ("a: 木材 b", 4, 2, "木材"),
        ("e\u0301a: lft", 6, 3, "lft"),
        ("½ lft", 3, 3, "lft"),
        ("x" * 300 + " lft " + "y" * 300, 302, 3, "lft"),
        (" " * 120 + "lft: 1", 121, 3, "lft"),
        ("ab", 2, 1, "b"),
    ],
)
def test_marks_stand_under_what_is_meant(line: str, column: int, length: int, meant: str) -> None:
    assert marked(line, column, length) == meant


def test_long_lines_are_cropped_around_what_is_meant() -> None:
    line = "x" * 300 + " lft " + "y" * 300
    quoted = render(one(Position("f", 1, 302, 3)), {"f": line}).split("\n")[1]
    assert len(quoted) <= WIDEST + len("    ") + 2
    assert quoted.count("…") == 2
    quoted, marks = render(one(Position("f", 1, 1, 300)), {"f": line}).split("\n")[1:3]
    assert len(quoted) <= WIDEST + len("    ") + 2
    assert len(marks) <= len(quoted)


@pytest.mark.parametrize("place", [Position("g", 1, 1, 1), Position("f", 9, 1, 1), None, Position("f", 2, 1, 1)])
def test_without_a_line_to_quote(place: Position | None) -> None:
    assert len(render(one(place), {"f": "a\n\nb"}).split("\n")) == 1


def test_a_place_past_the_end_of_its_line() -> None:
    assert render(one(Position("f", 1, 99, 5)), {"f": "abc"}).split("\n")[2] == "       ═"


def test_color_only_where_asked() -> None:
    texts = {"f": "lft: 1"}
    place = Position("f", 1, 1, 3)
    plain, colored = render(one(place), texts), render(one(place), texts, color=True)
    assert "\x1b" not in plain
    assert "\x1b[1;31m" in colored
    assert "\x1b[1;33m" in render(one(place, severity=Severity.ADVICE), texts, color=True)
    import re

    assert re.sub(r"\x1b\[[0-9;]*m", "", colored) == plain


def test_nothing_from_a_source_steers_the_terminal() -> None:
    found = Diagnostic("x", "bad \x1b[2J", Position("f", 1, 1, 1), cause="\x07", mend="\x9b1m")
    printed = render(found, {"f": "a\x1b[31mb"})
    assert not any(unicodedata.category(c) == "Cc" for c in printed.replace("\n", ""))


def test_order_and_repeats() -> None:
    late, early, nowhere = one(Position("f", 2, 1)), one(Position("f", 1, 5)), one(None)
    advice = one(Position("a", 9, 9), severity=Severity.ADVICE)
    everything = [nowhere, late, early, late, advice]
    assert in_order(everything) == (advice, early, late, nowhere)
    assert render_all(everything, {}).count("Unknown key") == 4


@pytest.mark.parametrize(
    ("errors", "advice", "words"),
    [(0, 0, "nothing to mend"), (1, 0, "1 error"), (3, 1, "3 errors, 1 piece of advice"), (0, 2, "2 pieces of advice")],
)
def test_summary(errors: int, advice: int, words: str) -> None:
    found = [one(Position("f", n + 1, 1)) for n in range(errors)]
    found += [one(Position("g", n + 1, 1), severity=Severity.ADVICE) for n in range(advice)]
    assert summary(found + found) == words
