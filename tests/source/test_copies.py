"""An assembly that is made several times: its copies by name and place, what differs, and what is refused."""

from __future__ import annotations

import pytest
from tests.small_plans import derived_from, outcome_from, plan_from

from drawleaf.compiler import Choice
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.units import Length

CRATES = """
plan: {title: Crates, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
dimensions: {pitch: 8}
stock:
  board: {material: pine board, size: 1x6}
assemblies:
  crate:
    at: {x: 1}
    loose: yes
    repeat: REPEAT
    dimensions: {tall: 12}
    parts:
      end: {stock: board, thickness: x, grain: z, left: 0, front: 0, back: 5, bottom: 0, top: tall, mirror: {x: 4}}
      low: {stock: board, thickness: z, grain: x, between: end, front: 0, deep: 5, bottom: 0}
    joints:
      - {butt: low, to: end, with: [glue, {screws: {count: 2}}]}
"""
TRAY = "  tray: {loose: yes, parts: {floor: {stock: board, thickness: z, grain: x, left: 20, wide: 9, front: 0, deep: 5, bottom: 0}}}\n"


def crates(repeat: str) -> str:
    return CRATES.replace("REPEAT", repeat)


def told(repeat: str, text: str = CRATES) -> list[Diagnostic]:
    return [one for one in outcome_from(text.replace("REPEAT", repeat)).diagnostics if one.is_error]


def test_copies_stand_in_a_row() -> None:
    """Three with the same distance between them, by names that follow from the first's; its `at` counts for all."""
    plan = plan_from(crates("{along: x, count: 3, spacing: pitch + 2}"))
    assert [(one.id, one.name) for one in plan.assemblies] == [
        ("crate", "Crate 1"),
        ("crate_2", "Crate 2"),
        ("crate_3", "Crate 3"),
    ]
    lefts = [plan.part(f"{name}.end").seen.x.low for name in ("crate", "crate_2", "crate_3")]
    assert lefts == [Length.of_inches(inches) for inches in (1, 11, 21)]
    assert plan.part("crate_3.low").seen.x.low == plan.part("crate_3.end").seen.x.high


def test_copies_stand_where_a_list_says_and_differ_as_lists_say() -> None:
    """Places, names and heights, one for each; the first is moved as well where its place is not 0."""
    plan = plan_from(
        crates("{along: x, at: [2, 12], names: [Low crate, High crate], dimensions: {tall: [9, pitch * 2]}}")
    )
    assert [one.name for one in plan.assemblies] == ["Low crate", "High crate"]
    first, second = (plan.part(f"{name}.end").seen for name in ("crate", "crate_2"))
    assert (first.x.low, first.z.high) == (Length.of_inches(3), Length.of_inches(9))
    assert (second.x.low, second.z.high) == (Length.of_inches(13), Length.of_inches(16))


def test_each_copy_is_joined_to_the_one_before() -> None:
    """Three crates side by side have two joints between them, each with the copy's own side first."""
    joints = "[{butt: end.original, to: previous.end.mirrored, with: [{screws: {count: 2}}]}]"
    text = crates(f"{{along: x, count: 3, spacing: pitch, joints: {joints}}}").replace("    loose: yes\n", "")
    joined = [(one.insert, one.receiver) for one in plan_from(text).joints]
    between = [(one, other) for one, other in joined if one.split(".")[0] != other.split(".")[0]]
    assert between == [("crate_2.end", "crate.end.mirrored"), ("crate_3.end", "crate_2.end.mirrored")]


def test_copies_are_one_job() -> None:
    """Made three times, told once: the booklet has as many steps at the bench as for one that stands alone."""
    alone, three = (
        derived_from(crates(repeat)) for repeat in ("{along: x, at: [0]}", "{along: x, count: 3, spacing: 10}")
    )
    told = " ".join(f"{one.stage}: {one.title}" for one in three.steps).lower()
    assert "crate 1" in told
    assert "the crate 1" not in told
    glued = [[one.title for one in derived.steps if one.title.startswith("Glue")] for derived in (alone, three)]
    assert len(glued[0]) == len(glued[1]) == 1


def test_inner_assemblies_repeat_inside_every_copy() -> None:
    """A rack of two, made twice: four crates, each beside its own first."""
    inner = (
        CRATES.split("assemblies:\n")[1]
        .replace("\n", "\n      ")
        .replace("REPEAT", "{along: x, count: 2, spacing: 10}")
    )
    text = (
        CRATES.split("  crate:\n")[0]
        + "  rack:\n    repeat: {along: z, count: 2, spacing: 20}\n    assemblies:\n      "
        + inner
    )
    ids = [one.id for one in plan_from(text).assemblies]
    assert ids == ["rack", "rack.crate", "rack.crate_2", "rack_2", "rack_2.crate", "rack_2.crate_2"]


@pytest.mark.parametrize(
    ("repeat", "code", "at"),
    [
        ("{along: x, count: 3}", "repeat-incomplete", "repeat"),
        ("{along: x, at: [0, 9], count: 2}", "repeat-two-ways", "repeat"),
        ("{along: x, count: pitch, spacing: 9}", "wrong-kind", "pitch"),
        ("{along: x, count: pitch / 3, spacing: 9}", "wrong-kind", "pitch"),
        ("{along: x, count: pitch / 3 in, spacing: 9}", "not-whole", "pitch"),
        ("{along: x, count: tall / 3 in, spacing: 9}", "repeat-what", "tall"),
        ("{along: x, count: 1 + pitsch / 3 in, spacing: 9}", "repeat-what", "pitsch"),
        ("{along: x, count: 1 - 2, spacing: 9}", "negative-count", "1"),
        ("{along: x, count: 201, spacing: 9}", "copies-out-of-range", "repeat"),
        ("{along: x, at: [0, 9], names: [Only]}", "repeat-what", "names"),
        ("{along: x, at: [0, 9], dimensions: {tall: [1, 2, 3]}}", "repeat-what", "tall: ["),
        ("{along: x, at: [0, pitch +]}", "value-missing", "+"),
        ("{along: x, at: [0, pitsch]}", "unknown-name", "pitsch"),
        (
            "{along: x, at: [0, 9], joints: [{butt: low, to: previous.ende, with: [glue]}]}",
            "unknown-part",
            "previous.ende",
        ),
        ("{along: w, at: [0, 9]}", "wrong-word", "w,"),
        ("{along: x, count: 2, spacing: 9}\n    mirrored: {x: 9}\n    like: tray", "repeat-what", "repeat"),
    ],
)
def test_what_is_no_row_is_told_once_where_it_is_written(repeat: str, code: str, at: str) -> None:
    """One mistake is one message, however many copies it would have been made in."""
    (one,) = told(repeat, CRATES + (TRAY if "tray" in repeat else ""))
    line = crates(repeat).splitlines()[one.position.line - 1]
    assert (one.code, line[one.position.column - 1 :].startswith(at)) == (code, True), (one, line)
    assert one.mend


def test_a_name_that_a_copy_would_have_is_taken() -> None:
    text = CRATES + "  crate_2: {like: crate, at: {x: 40}}\n"
    (one,) = told("{along: x, count: 2, spacing: 9}", text)
    assert (one.code, "“crate_2”" in one.mend) == ("repeat-what", True)
    assert told("{along: x, count: 1, spacing: 9}", text) == []


EDITIONS = """
counts: {several: "floor(pitch / 3 in)"}
editions:
  tall: {assemblies: {crate: {dimensions: {tall: 14}, machining: [{in: crate.low, bore: {face: top, at: {middle_of: crate.low}, diameter: 1}}]}}}
  one_low: {assemblies: {crate: {dimensions: {tall: 14}}, crate_2: {dimensions: {tall: 10}}}}
  wide: {dimensions: {pitch: 8.5}}
"""


def test_a_sum_says_how_many() -> None:
    """The count is worked out from the plan's counts and dimensions; an edition that does not change it may change what it comes from."""
    text = crates("{along: x, count: several + 1, spacing: pitch + 2}") + EDITIONS
    assert [one.id for one in plan_from(text).assemblies] == ["crate", "crate_2", "crate_3"]
    assert len(plan_from(text, Choice("wide")).assemblies) == 3


def test_an_edition_makes_no_more_of_them() -> None:
    """Each copy has its name in the plan: another count is told where the edition changes it, and the mend compiles."""
    text = crates("{along: x, count: several, spacing: 9}") + EDITIONS
    (one,) = told("", text.replace("8.5", "9"))
    assert (one.code, "“without: [crate_3]”" in one.mend) == ("repeat-what", True)
    assert text.replace("8.5", "9").splitlines()[one.position.line - 1].startswith("  wide:")
    mended = text.replace("count: several", "count: 3").replace("wide: {", "wide: {without: [crate_3], ")
    assert told("", mended) == []


def test_what_an_edition_changes_in_the_first_it_changes_in_all() -> None:
    """Every copy is higher and bored in its own floor; one that the edition names is as it says there."""
    text = crates("{along: x, count: 3, spacing: pitch + 2}") + EDITIONS
    tall = plan_from(text, Choice("tall"))
    names = ("crate", "crate_2", "crate_3")
    assert [tall.part(f"{name}.end").seen.z.high for name in names] == [Length.of_inches(14)] * 3
    assert all(tall.part(f"{name}.low").features for name in names)
    mixed = plan_from(text, Choice("one_low"))
    assert [mixed.part(f"{name}.end").seen.z.high for name in names] == [Length.of_inches(n) for n in (14, 10, 14)]


def test_what_a_list_says_of_each_an_edition_changes_in_the_first_alone() -> None:
    text = crates("{along: x, at: [0, 10], dimensions: {tall: [9, 16]}}") + EDITIONS
    tall = plan_from(text, Choice("tall"))
    assert [tall.part(f"{name}.end").seen.z.high for name in ("crate", "crate_2")] == [
        Length.of_inches(n) for n in (14, 16)
    ]
