"""Steps in words: complete, short, with real figures, and asking for no tool that is not listed."""

from __future__ import annotations

import html
import re
from dataclasses import replace

import pytest
from markupsafe import Markup
from tests.conftest import MORE_KITS, PLANS, outcome_of, with_kit

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import StepText, WordingError, note_words, step_text
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step
from drawleaf.units import LengthFormat, Units

MOST_ACTIONS, MOST_ROWS = 7, 12
ROWS = ("crosscut", "screw-holes", "dowel-holes", "mortise", "angle-ends")
"""Kinds of work whose marks or stops are a list, a short line each: of these a step may have more."""
CASES = [(name, kit) for name in PLANS for kit in MORE_KITS]

# Words that name a tool, with the tools of which the step must list one.
TOOL_WORDS = {
    "caliper": ("caliper",),
    "chisel": ("chisel",),
    "straightedge": ("straightedge",),
    "bar clamp": ("bar clamps",),
    "clamp": ("clamps", "bar clamps", "mitre saw"),
    "square end": ("combination square", "mitre saw", "mitre box", "circular saw", "table saw"),
    "stud finder": ("stud finder",),
    "the level": ("level",),
    "router": ("router", "router plane"),
    "depth stop": ("depth stop", "plough plane", "rabbet plane"),
    "jig": ("shelf-pin jig", "pocket-hole jig"),
    "scrape": ("scraper",),
    "putty knife": ("putty knife",),
    "plane": (
        "block plane",
        "plough plane",
        "rabbet plane",
        "router plane",
        "scraper",
        "circular saw",
        "table saw",
        "drill",
    ),
    "drill": ("drill", "hand drill"),
    "metal can": ("metal can with lid",),
    "pliers": ("pliers",),
    "support board": ("support board",),
    "sacrificial board": ("sacrificial board",),
    "block": ("sanding block", "stop block", "push block"),
    "mallet": ("mallet",),
}


def texts(derived: Derived) -> list[tuple[Step, StepText]]:
    formatter = Formatter.of(derived.plan)
    return [(step, step_text(step, derived, formatter)) for step in derived.steps]


def plain(text: Markup | None) -> str:
    """As read: balloons in brackets, no tags, plain spaces."""
    marked = re.sub(r'<span class="balloon">(\d+)</span>', r"[\1]", str(text or ""))
    words = html.unescape(re.sub(r"<[^>]+>", "", marked))
    return words.replace("\u00a0", " ").replace("\u2009", " ")


def transcript(derived: Derived) -> str:
    """All steps as a reader has them."""
    lines: list[str] = []
    for step, text in texts(derived):
        lines += [f"{step.number}. {plain(text.title)}  ({step.id})"]
        lines += [f"   set: {plain(line)}" for line in text.setup]
        for place, line in enumerate(text.actions, start=1):
            words, *rows = line.split("<tr>")
            lines += [f"   {place}. {plain(Markup(words)).rstrip()}"]
            lines += [f"      | {plain(Markup(row.replace('</th>', ' | ')))}" for row in rows]
        lines += [f"   check: {plain(text.check)}", f"   if not: {plain(text.if_not)}"]
        lines += [f"   why: {plain(text.why)}"] if text.why else []
        lines += [f"   or: {plain(line)}" for line in text.another_way]
        lines.append("")
    return "\n".join(lines)


@pytest.mark.parametrize("name", PLANS)
def test_all_steps_as_read(name: str, golden) -> None:
    derived = outcome_of(name).derived
    assert derived is not None
    golden(f"steps-{name}.txt", transcript(derived))


def test_the_metric_steps_as_read(golden) -> None:
    derived = outcome_of("key-ledge", "metric").derived
    assert derived is not None
    golden("steps-key-ledge-metric.txt", transcript(derived))


@pytest.mark.parametrize(("name", "kit"), CASES)
class TestEveryStep:
    """What holds for each step of each plan in each kit."""

    def test_has_actions_a_check_and_a_way_out(self, name: str, kit: str) -> None:
        for step, text in texts(with_kit(name, kit)[0]):
            most = MOST_ROWS if step.operations[0].kind in ROWS else MOST_ACTIONS
            assert 2 <= len(text.actions) <= most, (step.id, text.actions)
            assert text.check, step.id
            assert text.if_not, step.id

    def test_is_made_of_sentences(self, name: str, kit: str) -> None:
        for step, text in texts(with_kit(name, kit)[0]):
            for line in (*text.actions, text.check, text.if_not):
                words = plain(line)
                assert words[0].isupper() or words[0].isdigit(), (step.id, words)
                assert words.endswith("."), (step.id, words)
                assert not re.search(r"\b(in in|None|the the|\.\.)\b|  |\{|\}", words), (step.id, words)
                assert not re.search(r"\u2212|\b0 (in|mm)\b", words), (step.id, words)

    def test_names_parts_with_their_balloons(self, name: str, kit: str) -> None:
        for step, text in texts(with_kit(name, kit)[0]):
            if step.operations[0].kind in ("join", "join-front", "join-body", "channel", "crosscut", "rip", "bore"):
                assert any('class="balloon"' in line for line in text.actions), step.id

    def test_asks_for_no_tool_that_is_not_listed(self, name: str, kit: str) -> None:
        for step, text in texts(with_kit(name, kit)[0]):
            listed = {tool.id for tool in step.tools}
            words = " ".join(plain(line) for line in (*text.actions, text.check, text.if_not)).lower()
            for word, tools in TOOL_WORDS.items():
                if re.search(rf"\b{word}", words):
                    assert listed.intersection(tools), (step.id, word, sorted(listed))


def test_figures_follow_the_units() -> None:
    metric = outcome_of("boot-bench", "metric").derived
    both = outcome_of("boot-bench", "both").derived
    assert metric is not None
    assert both is not None
    assert not re.search(r"\d in\b(?! (?:birch|coarse|fine|flat|brad|pan|side|shelf|wall|sheet))", _actions(metric))
    assert " in (" in _actions(both)


def _actions(derived: Derived) -> str:
    return "\n".join(plain(line) for _, text in texts(derived) for line in text.actions)


def test_a_bit_is_not_rounded_to_the_nearest_32nd() -> None:
    """A number 8 clearance hole is 11/64 in; the booklet prints lengths to 1/32."""
    ledge = outcome_of("key-ledge").derived
    assert ledge is not None
    assert "Clearance hole 11/64 in" in transcript(ledge)


def test_an_authors_template_stands_in_for_ours(tmp_path) -> None:
    folder = tmp_path / "templates" / "steps"
    folder.mkdir(parents=True)
    (folder / "dry-fit.j2").write_text("do: Try it first.\ncheck: It fits.\n")
    ledge = outcome_of("key-ledge").derived
    assert ledge is not None
    step = next(step for step in ledge.steps if step.id == "dry-fit-ledge")
    text = step_text(step, ledge, Formatter.of(ledge.plan), tmp_path)
    assert [plain(line) for line in text.actions] == ["Try it first."]


def test_a_line_that_is_no_part_of_a_step_is_told(tmp_path) -> None:
    folder = tmp_path / "templates" / "steps"
    folder.mkdir(parents=True)
    (folder / "dry-fit.j2").write_text("doo: Try it first.\n")
    ledge = outcome_of("key-ledge").derived
    assert ledge is not None
    step = next(step for step in ledge.steps if step.id == "dry-fit-ledge")
    with pytest.raises(WordingError, match="doo: Try it first"):
        step_text(step, ledge, Formatter.of(ledge.plan), tmp_path)


def test_names_are_escaped() -> None:
    ledge = outcome_of("key-ledge").derived
    assert ledge is not None
    step = replace(ledge.steps[0], title="Cut <the> boards")
    assert step_text(step, ledge, Formatter.of(ledge.plan)).title == "Cut &lt;the&gt; boards"


@pytest.mark.parametrize(
    ("units", "words"), [(Units.INCH, "every 8 in,"), (Units.MM, "every 200 mm,"), (Units.BOTH, "every 8 in (200 mm),")]
)
def test_figures_of_a_way_of_working_follow_the_booklets_units(units: Units, words: str) -> None:
    note = "It takes a clamp about every {8 in, 200 mm}, left on."
    assert words in note_words(note, LengthFormat(units))


def test_no_note_of_a_way_has_figures_of_one_unit_only() -> None:
    """Outside braces no inches and no millimetres: they would be wrong in half of the booklets."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    for work in derived.plan.catalogue.methods.values():
        for way in work.ways:
            bare = re.sub(r"\{[^}]*\}", "", way.note)
            assert not re.search(r"\d ?(in|mm)\b", bare), (way.name, way.note)


def test_a_board_set_back_from_the_edge_is_not_clamped_level() -> None:
    """The kick board stands two inches behind the edge of the sides: no straightedge can lie across that joint."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    said = {step.id: " ".join(plain(line) for line in (*text.actions, text.check)) for step, text in texts(derived)}
    assert "straightedge" not in said["assemble-case-kick"]
    assert "level" not in said["assemble-case-kick"]
    assert "faces level" in said["assemble-case-front-rail"]
    assert "no glue" in said["assemble-case-bottom"]  # the slide spacer, among joints that take glue


@pytest.mark.parametrize(("name", "kit"), CASES)
def test_tape_that_a_step_asks_for_lies_ready(name: str, kit: str) -> None:
    for step, text in texts(with_kit(name, kit)[0]):
        words = " ".join(plain(line) for line in text.actions).lower()
        ready = {item.name.lower() for item in step.supplies} | {tool.id for tool in step.tools}
        if re.search(r"masking tape|flag of tape|tape round the bit", words):
            assert ready & {"masking tape", "masking tape flag"}, step.id
