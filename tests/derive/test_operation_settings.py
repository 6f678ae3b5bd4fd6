"""What an operation says holds for all that it makes: unequal joints of a family never share the figures of the first."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from tests.book.test_wording import plain, texts
from tests.conftest import ROOT, examples
from tests.derive.unequal_pairs import (
    BRIDLED,
    DOVETAILED,
    DOWELLED,
    FINGERED,
    GROOVED,
    HOUSED,
    LAPPED,
    MORTISED,
    PANELLED,
    PEGGED,
    PEGS,
    RABBETED,
    RODDED,
    SLID,
    SPLINED,
    TAILED,
    TONGUED,
    TOPPED,
    written,
)
from tests.small_plans import derived_from

from drawleaf.derive.agreement import agrees
from drawleaf.derive.audit import make_audit
from drawleaf.derive.operations.drafts import by_setting
from drawleaf.model.derived import Derived
from drawleaf.model.settings import LapSettings
from drawleaf.model.steps import Operation
from drawleaf.units import Length

HOLDS = "Cuts, holes and edges made in a step, and those that are as its settings say"


def told_in(derived: Derived, kind: str) -> str:
    """All that the steps with operations of that kind print: settings and actions, a line each."""
    return "\n".join(
        plain(line)
        for step, text in texts(derived)
        if any(operation.kind == kind for operation in step.operations)
        for line in (*text.setup, *text.actions)
    )


def figures(told: str, pattern: str) -> set[tuple[float, ...]]:
    """The figures that a pattern finds, without their units."""
    return {
        tuple(float(one) for one in (found if isinstance(found, tuple) else (found,)))
        for found in re.findall(pattern, told)
    }


@dataclass(frozen=True)
class Pair:
    """Two joints of one family whose figures differ: the source that makes them of two figures each, what is printed of them, and what
    of the two figures must stand there."""

    kind: str
    source: str
    pattern: str
    true: Callable[[int, int, int, int], set[tuple[float, ...]]]


def two(least: float) -> Callable[[int, int, int, int], set[tuple[float, ...]]]:
    """The figures of both joints, on top of the least."""
    return lambda a, b, c, d: {(least + a,), (least + b,)}


def one_bit(sizes: Sequence[int]) -> Callable[[int, int, int, int], set[tuple[float, ...]]]:
    return lambda a, b, c, d: {(sizes[a % 3],), (sizes[b % 3],)}


PAIRS = {
    "mortise": Pair("mortise", MORTISED, r"Depth (\d+)", two(17)),
    "tenon": Pair("tenon", MORTISED, r"mm thick, (\d+) mm long", two(15)),
    "mortise from the front": Pair(
        "mortise",
        MORTISED,
        r"8 mm apart, ([\d.]+) mm from",
        lambda a, b, c, d: {(min(one + 9.5, 95 - one - 17.5),) for one in (c, d)},
    ),
    "housing": Pair(
        "housing",
        HOUSED,
        r"Sloping housing (\d+) mm wide, (\d+) mm deep, at ([\d.]+)°",
        lambda a, b, c, d: {(18, 3 + a, 10 + c), (12, 3 + b, 10 + d)},
    ),
    "fingers": Pair("fingers", FINGERED, r", (\d+) mm in from it", two(12)),
    "dado": Pair("channel", GROOVED, r"Housing 18 mm wide, (\d+) mm deep", two(3)),
    "tails": Pair("tails", TAILED, r"round the ends, (\d+) mm from the end", two(12)),
    "tongue": Pair("tongue", TONGUED, r"thick, (\d+) mm long", two(4)),
    "breadboard": Pair("breadboard-tongue", TOPPED, r"tenons (\d+) mm long", two(30)),
    "bridle": Pair("fork", BRIDLED, r"It is (\d+) mm wide", two(6)),
    "sliding dovetail": Pair(
        "sliding-socket",
        SLID,
        r"([\d.]+) mm wide at the face, 18 mm at its floor, (\d+) mm deep",
        lambda a, b, c, d: {(18 - (4 + one) / 2, 4 + one) for one in (a, b)},
    ),
    "sliding tail": Pair("sliding-tail", SLID, r"Tail (\d+) mm long", two(4)),
    "socket": Pair("bore", RODDED, r"(\d+) mm deep", two(8)),
    "spline": Pair("spline-slots", SPLINED, r"Slots 3 mm wide, (\d+) mm deep", two(6)),
    "pegs": Pair("peg-holes", PEGGED, r"Bit (\d+) mm", one_bit(PEGS)),
    "dowels": Pair("dowel-holes", DOWELLED, r"Bit (\d+) mm", one_bit((6, 8, 10))),
    "rabbet": Pair("channel", RABBETED, r"R[ae]b[a-z]+ 6 mm wide, (\d+) mm deep", two(4)),
    "groove": Pair("channel", PANELLED, r"Groove 6 mm wide, (\d+) mm deep", two(4)),
    "lap": Pair("lap", LAPPED, r"Lap (\d+) mm deep", two(8)),
}


@pytest.mark.parametrize("name", PAIRS)
@settings(
    max_examples=examples(1, 6),
    deadline=None,
    derandomize=True,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
@given(
    deep=st.permutations(range(1, 7)).map(lambda some: some[:2]),
    aside=st.permutations(range(10)).map(lambda some: some[:2]),
)
def test_unequal_joints_each_have_their_own_figures(name: str, deep: list[int], aside: list[int]) -> None:
    pair, drawn = PAIRS[name], (*deep, *aside)
    derived = derived_from(written(pair.source, *drawn))
    told = told_in(derived, pair.kind)
    assert figures(told, pair.pattern) == pair.true(*drawn), told
    assert [line.name for line in derived.audit.lines if not line.agrees] == []


def test_two_housings_of_one_side_are_two_steps_with_their_own_words() -> None:
    derived = derived_from(written(HOUSED, 3, 6, 10, 0))
    titles = [step.title for step in derived.steps if step.operations[0].kind == "housing"]
    assert titles == [
        "Cut the sloping housings for the shelf in the sides",
        "Cut the sloping housings for the upper in the sides",
    ]


def test_tails_are_as_long_as_the_part_they_go_into_is_thick() -> None:
    derived = derived_from(written(DOVETAILED, 1, 5, 0, 0))
    assert figures(told_in(derived, "tails"), r"round the ends, (\d+) mm from the end") == {(17,)}


def test_what_shares_its_settings_stands_together_in_the_order_it_comes() -> None:
    found = [("a", 3), ("b", 5), ("c", 3)]
    groups = by_setting(found, lambda one: LapSettings(Length.of_mm(one[1])))
    assert [(told.depth.mm, [name for name, _ in some]) for told, some in groups] == [(3, ["a", "c"]), (5, ["b"])]
    apart = by_setting(found, lambda one: LapSettings(Length.of_mm(one[1])), apart=lambda one: one[0])
    assert [[name for name, _ in some] for _, some in apart] == [["a"], ["b"], ["c"]]


def spoilt(operation: Operation, **changed: object) -> Operation:
    return replace(operation, settings=replace(operation.settings, **changed))  # type: ignore[arg-type]


def test_the_audit_finds_an_operation_that_speaks_for_its_first_member() -> None:
    derived = derived_from(written(MORTISED, 1, 6, 5, 30))
    step = next(step for step in derived.steps if step.operations[0].kind == "mortise")
    first, second = step.operations
    merged = replace(
        first,
        parts=tuple(dict.fromkeys((*first.parts, *second.parts))),
        features=(*first.features, *second.features),
    )
    steps = tuple(replace(one, operations=(merged,)) if one is step else one for one in derived.steps)
    audit, _ = make_audit(
        derived.plan,
        derived.cut_list,
        derived.layouts,
        derived.hardware,
        derived.tools,
        steps,
        derived.schedule,
        derived.consumables,
    )
    assert HOLDS in [line.name for line in audit.lines if not line.agrees]


SETTINGS = [
    ("mortise", MORTISED, "depth"),
    ("mortise", MORTISED, "offset"),
    ("mortise", MORTISED, "apart"),
    ("tenon", MORTISED, "length"),
    ("housing", HOUSED, "width"),
    ("housing", HOUSED, "depth"),
    ("housing", HOUSED, "angle"),
    ("fingers", FINGERED, "depth"),
    ("sockets", DOVETAILED, "depth"),
    ("channel", GROOVED, "depth"),
    ("channel", GROOVED, "width"),
    ("channel", GROOVED, "offset"),
    ("lap", LAPPED, "depth"),
    ("tails", TAILED, "depth"),
    ("tails", TAILED, "slope"),
    ("sockets", TAILED, "slope"),
    ("fork", BRIDLED, "thickness"),
    ("tongue", TONGUED, "length"),
    ("breadboard-tongue", TOPPED, "length"),
    *(("sliding-socket", SLID, field) for field in ("neck", "wide", "depth")),
    *(("sliding-tail", SLID, field) for field in ("neck", "wide", "depth")),
    ("bore", RODDED, "depth"),
    ("peg-holes", TOPPED, "bit"),
    ("spline-slots", SPLINED, "thickness"),
    ("spline-slots", SPLINED, "depth"),
    ("mitre-ends", SPLINED, "mitre"),
    ("mitre-ends", SPLINED, "tilt"),
]


@cache
def usual(source: str) -> Derived:
    """Each pair with the same four figures, worked out once for all its fields."""
    return derived_from(written(source, 2, 5, 3, 7))


@pytest.mark.parametrize(("kind", "source", "field"), SETTINGS, ids=[f"{kind}-{field}" for kind, _, field in SETTINGS])
def test_a_setting_that_is_off_by_a_millimetre_or_degree_is_found(kind: str, source: str, field: str) -> None:
    derived = usual(source)
    operation = next(one for step in derived.steps for one in step.operations if one.kind == kind)
    held = [agrees(operation.settings, derived.plan.part(part), feature) for part, feature in operation.features]
    assert held
    assert all(held)
    value = getattr(operation.settings, field)
    step = Length.of_mm(1) if isinstance(value, Length) else 1
    for other in (value + step, value - step):
        wrong = spoilt(operation, **{field: other})
        assert not all(agrees(wrong.settings, derived.plan.part(part), one) for part, one in wrong.features), other


def test_no_template_asks_a_flag_as_a_word() -> None:
    asked = {file.name: file.read_text(encoding="utf-8") for file in (ROOT / "templates" / "steps").glob("*.j2")}
    assert asked
    assert [
        name for name, text in asked.items() if "'yes'" in text or re.search(r"word\('\w+'\) [!=]= 'no'", text)
    ] == []
