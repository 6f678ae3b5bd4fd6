"""What an operation says holds for all that it makes: unequal joints of a family never share the figures of the first."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from tests.book.test_wording import plain, texts
from tests.conftest import ROOT
from tests.small_plans import derived_from

from drawleaf.derive.agreement import agrees
from drawleaf.derive.audit import make_audit
from drawleaf.derive.operations.drafts import by_setting
from drawleaf.model.derived import Derived
from drawleaf.model.settings import LapSettings
from drawleaf.model.steps import Operation
from drawleaf.units import Length

HOLDS = "Cuts, holes and edges made in a step, and those that are as its settings say"
HEAD = "plan: {title: Pair, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}\n"


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
    source: Callable[[int, int, int, int], str]
    pattern: str
    true: Callable[[int, int, int, int], set[tuple[float, ...]]]


def mortised(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  post: {{material: beech board, size: 45x95}}
  rail: {{material: beech board, size: 27x90}}
assemblies:
  frame:
    parts:
      post: {{stock: post, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 700, mirror: {{x: 300}}}}
      rail: {{stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: {c}, top: 690}}
      low: {{stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: {d}, bottom: 100}}
    joints:
      - {{mortise_and_tenon: rail, in: post, depth: {15 + a}, thickness: 8, clearance: 0, with: [glue]}}
      - {{mortise_and_tenon: low, in: post, depth: {15 + b}, thickness: 8, clearance: 0, with: [glue]}}
"""


def housed(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  ply: {{material: birch plywood, nominal: 18, actual: 18}}
  thin: {{material: birch plywood, nominal: 12, actual: 12}}
assemblies:
  rack:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 300, bottom: 0, top: 700, mirror: {{x: 250}}}}
      floor: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 25}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 25, back: 275, bottom: 200, lean: {{front: {10 + c} deg}}}}
      upper: {{stock: thin, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 25, back: 275, bottom: 450, lean: {{front: {10 + d} deg}}}}
    joints:
      - {{dado: floor, in: side, depth: 6, with: [glue]}}
      - {{housing: shelf, in: side, depth: {3 + a}, with: [glue]}}
      - {{housing: upper, in: side, depth: {3 + b}, with: [glue]}}
"""


def cornered(family: str) -> Callable[[int, int, int, int], str]:
    def source(a: int, b: int, c: int, d: int) -> str:
        return f"""
stock:
  thin: {{material: birch plywood, nominal: 12, actual: {12 + a}}}
  thick: {{material: birch plywood, nominal: 18, actual: {12 + b}}}
assemblies:
  box:
    parts:
      side: {{stock: thin, thickness: x, grain: y, left: 0, front: 0, deep: 300, bottom: 0, high: 120, mirror: {{x: 200}}}}
      end: {{stock: thick, thickness: y, grain: x, left: 0, right: 400, front: 0, bottom: 0, high: 120, mirror: {{y: 150}}}}
    joints:
      - {{{family}: side, in: [end, end.mirrored], with: [glue]}}
"""

    return source


def grooved(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  ply: {{material: birch plywood, nominal: 18, actual: 18}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 300, bottom: 0, top: 700, mirror: {{x: 250}}}}
      floor: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: {20 + c}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: {200 + d}}}
    joints:
      - {{dado: floor, in: side, depth: {3 + a}, with: [glue]}}
      - {{dado: shelf, in: side, depth: {3 + b}, with: [glue]}}
"""


def lapped(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  one: {{material: birch plywood, nominal: 18, actual: {16 + 2 * a}}}
  two: {{material: birch plywood, nominal: 18, actual: {16 + 2 * b}}}
assemblies:
  grid:
    parts:
      post: {{stock: one, thickness: y, grain: z, left: 0, wide: 60, front: 0, bottom: 0, top: 500}}
      cross: {{stock: one, thickness: y, grain: x, left: 0, right: 250, front: 0, bottom: 100, high: 60}}
      stile: {{stock: two, thickness: y, grain: z, left: 300, wide: 70, front: 0, bottom: 0, top: 500}}
      bar: {{stock: two, thickness: y, grain: x, left: 150, right: 600, front: 0, bottom: 350, high: 70}}
    joints:
      - {{half_lap: cross, in: post, with: [glue]}}
      - {{half_lap: bar, in: stile, with: [glue]}}
"""


def tailed(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  side: {{material: birch plywood, nominal: 12, actual: 12}}
  one: {{material: birch plywood, nominal: 18, actual: {12 + a}}}
  two: {{material: birch plywood, nominal: 18, actual: {12 + b}}}
assemblies:
  box:
    parts:
      side: {{stock: side, thickness: x, grain: y, left: 0, front: 0, deep: 300, bottom: 0, high: 120, mirror: {{x: 200}}}}
      front: {{stock: one, thickness: y, grain: x, left: 0, right: 400, front: 0, bottom: 0, high: 120}}
      back: {{stock: two, thickness: y, grain: x, left: 0, right: 400, back: 300, bottom: 0, high: 120}}
    joints:
      - {{dovetail: side, in: [front, back], with: [glue]}}
"""


def tongued(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  wood: {{material: beech board, size: 20x120}}
assemblies:
  panel:
    parts:
      low: {{stock: wood, thickness: y, grain: x, left: 0, right: 400, front: 0, high: 90, bottom: 0}}
      middle: {{stock: wood, thickness: y, grain: x, left: 0, right: 400, front: 0, high: 90, bottom: low.top}}
      high: {{stock: wood, thickness: y, grain: x, left: 0, right: 400, front: 0, high: 90, bottom: middle.top}}
    joints:
      - {{tongue: middle, in: low, depth: {4 + a}, thickness: 9, with: [glue]}}
      - {{tongue: high, in: middle, depth: {4 + b}, thickness: 9, with: [glue]}}
"""


def topped(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  wood: {{material: beech board, size: 27x120}}
assemblies:
  tops:
    parts:
      one: {{stock: wood, thickness: z, grain: x, left: 80, right: 600, front: 0, back: 400, bottom: 0, glue_up: {{widest_strip: 110}}}}
      end: {{stock: wood, thickness: z, grain: y, left: 0, wide: 80, front: 0, back: 400, bottom: 0}}
      two: {{stock: wood, thickness: z, grain: x, left: 80, right: 600, front: 500, back: 900, bottom: 0, glue_up: {{widest_strip: 110}}}}
      other: {{stock: wood, thickness: z, grain: y, left: 0, wide: 80, front: 500, back: 900, bottom: 0}}
    joints:
      - {{breadboard: one, in: end, depth: {30 + a}, haunch: 10, with: [pegs]}}
      - {{breadboard: two, in: other, depth: {30 + b}, haunch: 10, with: [pegs]}}
"""


def bridled(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  wood: {{material: beech board, size: 27x60}}
assemblies:
  frame:
    parts:
      stile: {{stock: wood, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, high: 400}}
      rail: {{stock: wood, thickness: y, full_width: z, grain: x, left: 0, right: 300, front: 0, top: 400}}
      other: {{stock: wood, thickness: y, full_width: x, grain: z, left: 400, front: 0, bottom: 0, high: 400}}
      bar: {{stock: wood, thickness: y, full_width: z, grain: x, left: 400, right: 700, front: 0, top: 400}}
    joints:
      - {{bridle: rail, in: stile, thickness: {6 + a}, with: [glue]}}
      - {{bridle: bar, in: other, thickness: {6 + b}, with: [glue]}}
"""


def slid(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  board: {{material: beech board, size: 20x140}}
assemblies:
  rack:
    parts:
      side: {{stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 600, mirror: {{x: 300}}}}
      shelf: {{stock: board, thickness: z, full_width: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: {100 + c}}}
      upper: {{stock: board, thickness: z, full_width: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: {400 + d}}}
    joints:
      - {{sliding_dovetail: shelf, in: side, depth: {4 + a}, with: [glue]}}
      - {{sliding_dovetail: upper, in: side, depth: {4 + b}, with: [glue]}}
"""


def rodded(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  board: {{material: beech board, size: 20x140}}
  rod: {{material: hardwood dowel rod, size: 25 rod}}
assemblies:
  rail:
    parts:
      side: {{stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 600, mirror: {{x: 300}}}}
      bar: {{stock: rod, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 50, deep: 25, bottom: 100}}
      rung: {{stock: rod, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 50, deep: 25, bottom: 400}}
    joints:
      - {{round_tenon: bar, in: side, depth: {8 + a}, with: [glue]}}
      - {{round_tenon: rung, in: side, depth: {8 + b}, with: [glue]}}
"""


def splined(a: int, b: int, c: int, d: int) -> str:
    return f"""
stock:
  wood: {{material: beech board, size: 20x60}}
  thin: {{material: birch plywood, nominal: 3, actual: 3}}
assemblies:
  frames:
    parts:
      one: {{stock: wood, thickness: y, full_width: z, grain: x, left: 0, right: 300, front: 0, bottom: 0}}
      post: {{stock: wood, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 300}}
      two: {{stock: wood, thickness: y, full_width: z, grain: x, left: 400, right: 700, front: 0, bottom: 0}}
      stile: {{stock: wood, thickness: y, full_width: x, grain: z, left: 400, front: 0, bottom: 0, top: 300}}
    joints:
      - {{mitre: one, in: post, spline: {{stock: thin, depth: {6 + a}}}, with: [glue]}}
      - {{mitre: two, in: stile, spline: {{stock: thin, depth: {6 + b}}}, with: [glue]}}
"""


PEGS, DOWELS = (6, 8, 10), ("6 x 30", "8 x 30", "10 x 40")


def pinned(kind: str) -> Callable[[int, int, int, int], str]:
    """Two rails in posts, held by pegs or by dowels of two sizes: which of the three sizes goes by the remainder of the figure."""

    def held(figure: int) -> str:
        if kind == "pegs":
            return f"depth: 40, thickness: 8, with: [glue, {{pegs: {{item: peg {PEGS[figure % 3]} x 100 mm}}}}]"
        return f"with: [glue, {{dowels: {{item: dowel {DOWELS[figure % 3]} mm, count: 2}}}}]"

    def source(a: int, b: int, c: int, d: int) -> str:
        family = "mortise_and_tenon" if kind == "pegs" else "butt"
        word = "in" if kind == "pegs" else "to"
        return f"""
stock:
  post: {{material: beech board, size: 45x95}}
  rail: {{material: beech board, size: 27x90}}
assemblies:
  frame:
    parts:
      post: {{stock: post, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 700, mirror: {{x: 300}}}}
      rail: {{stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: 9, top: 600}}
      low: {{stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: 9, bottom: 100}}
    joints:
      - {{{family}: rail, {word}: post, {held(a)}}}
      - {{{family}: low, {word}: post, {held(b)}}}
"""

    return source


def one_bit(sizes: Sequence[int]) -> Callable[[int, int, int, int], set[tuple[float, ...]]]:
    return lambda a, b, c, d: {(sizes[a % 3],), (sizes[b % 3],)}


def backed(family: str) -> Callable[[int, int, int, int], str]:
    """Two cases, each with a back in a channel of its own depth."""

    def case(name: str, at: int, deep: int) -> str:
        return f"""
  {name}:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: {at}, front: 0, deep: 300, bottom: 0, top: 700, mirror: {{x: {at + 250}}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 200, bottom: 330}}
      back: {{stock: thin, thickness: y, grain: x, left: side.right, right: side.mirrored.left, {"back: 300" if family == "rabbet" else "front: 250"}, bottom: 0, top: 700}}
    joints:
      - {{butt: shelf, to: side, with: [glue, screws]}}
      - {{{family}: back, in: side, depth: {deep}}}
"""

    def source(a: int, b: int, c: int, d: int) -> str:
        return f"""
stock:
  ply: {{material: birch plywood, nominal: 18, actual: 18}}
  thin: {{material: birch plywood, nominal: 6, actual: 6}}
assemblies:{case("one", 0, 4 + a)}{case("two", 600, 4 + b)}"""

    return source


PAIRS = {
    "mortise": Pair("mortise", mortised, r"Depth (\d+)", lambda a, b, c, d: {(17 + a,), (17 + b,)}),
    "tenon": Pair("tenon", mortised, r"mm thick, (\d+) mm long", lambda a, b, c, d: {(15 + a,), (15 + b,)}),
    "mortise from the front": Pair(
        "mortise",
        mortised,
        r"8 mm apart, ([\d.]+) mm from",
        lambda a, b, c, d: {(min(one + 9.5, 95 - one - 17.5),) for one in (c, d)},
    ),
    "housing": Pair(
        "housing",
        housed,
        r"Sloping housing (\d+) mm wide, (\d+) mm deep, at ([\d.]+)°",
        lambda a, b, c, d: {(18, 3 + a, 10 + c), (12, 3 + b, 10 + d)},
    ),
    "fingers": Pair(
        "fingers", cornered("box_joint"), r", (\d+) mm in from it", lambda a, b, c, d: {(12 + a,), (12 + b,)}
    ),
    "dado": Pair("channel", grooved, r"Housing 18 mm wide, (\d+) mm deep", lambda a, b, c, d: {(3 + a,), (3 + b,)}),
    "tails": Pair("tails", tailed, r"round the ends, (\d+) mm from the end", lambda a, b, c, d: {(12 + a,), (12 + b,)}),
    "tongue": Pair("tongue", tongued, r"thick, (\d+) mm long", lambda a, b, c, d: {(4 + a,), (4 + b,)}),
    "breadboard": Pair("breadboard-tongue", topped, r"tenons (\d+) mm long", lambda a, b, c, d: {(30 + a,), (30 + b,)}),
    "bridle": Pair("fork", bridled, r"end[^,]*, (\d+) mm wide", lambda a, b, c, d: {(6 + a,), (6 + b,)}),
    "sliding dovetail": Pair(
        "sliding-socket",
        slid,
        r"([\d.]+) mm wide at the face, 18 mm at its floor, (\d+) mm deep",
        lambda a, b, c, d: {(18 - (4 + one) / 2, 4 + one) for one in (a, b)},
    ),
    "sliding tail": Pair("sliding-tail", slid, r"Tail (\d+) mm long", lambda a, b, c, d: {(4 + a,), (4 + b,)}),
    "socket": Pair("bore", rodded, r"(\d+) mm deep", lambda a, b, c, d: {(8 + a,), (8 + b,)}),
    "spline": Pair("spline-slots", splined, r"Slots 3 mm wide, (\d+) mm deep", lambda a, b, c, d: {(6 + a,), (6 + b,)}),
    "pegs": Pair("peg-holes", pinned("pegs"), r"Bit (\d+) mm", one_bit(PEGS)),
    "dowels": Pair("dowel-holes", pinned("dowels"), r"Bit (\d+) mm", one_bit((6, 8, 10))),
    "rabbet": Pair(
        "channel", backed("rabbet"), r"R[ae]b[a-z]+ 6 mm wide, (\d+) mm deep", lambda a, b, c, d: {(4 + a,), (4 + b,)}
    ),
    "groove": Pair(
        "channel", backed("groove"), r"Groove 6 mm wide, (\d+) mm deep", lambda a, b, c, d: {(4 + a,), (4 + b,)}
    ),
    "lap": Pair("lap", lapped, r"Lap (\d+) mm deep", lambda a, b, c, d: {(8 + a,), (8 + b,)}),
}


@pytest.mark.parametrize("name", PAIRS)
@settings(
    max_examples=3,
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
    derived = derived_from(HEAD + pair.source(*drawn))
    told = told_in(derived, pair.kind)
    assert figures(told, pair.pattern) == pair.true(*drawn), told
    assert [line.name for line in derived.audit.lines if not line.agrees] == []


def test_two_housings_of_one_side_are_two_steps_with_their_own_words() -> None:
    derived = derived_from(HEAD + housed(3, 6, 10, 0))
    titles = [step.title for step in derived.steps if step.operations[0].kind == "housing"]
    assert titles == [
        "Cut the sloping housings for the shelf in the sides",
        "Cut the sloping housings for the upper in the sides",
    ]


def test_tails_are_as_long_as_the_part_they_go_into_is_thick() -> None:
    derived = derived_from(HEAD + cornered("dovetail")(1, 5, 0, 0))
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
    derived = derived_from(HEAD + mortised(1, 6, 5, 30))
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


@pytest.mark.parametrize(
    ("kind", "source", "field"),
    [
        ("mortise", mortised, "depth"),
        ("mortise", mortised, "offset"),
        ("mortise", mortised, "apart"),
        ("tenon", mortised, "length"),
        ("housing", housed, "width"),
        ("housing", housed, "depth"),
        ("housing", housed, "angle"),
        ("fingers", cornered("box_joint"), "depth"),
        ("sockets", cornered("dovetail"), "depth"),
        ("channel", grooved, "depth"),
        ("channel", grooved, "width"),
        ("channel", grooved, "offset"),
        ("lap", lapped, "depth"),
        ("tails", tailed, "depth"),
        ("tails", tailed, "slope"),
        ("sockets", tailed, "slope"),
        ("fork", bridled, "thickness"),
        ("tongue", tongued, "length"),
        ("breadboard-tongue", topped, "length"),
        ("bore", rodded, "depth"),
        ("peg-holes", topped, "bit"),
        ("spline-slots", splined, "thickness"),
        ("spline-slots", splined, "depth"),
        ("mitre-ends", splined, "mitre"),
        ("mitre-ends", splined, "tilt"),
    ],
)
def test_a_setting_that_is_off_by_a_millimetre_or_degree_is_found(
    kind: str, source: Callable[[int, int, int, int], str], field: str
) -> None:
    derived = derived_from(HEAD + source(2, 5, 3, 7))
    operation = next(one for step in derived.steps for one in step.operations if one.kind == kind)
    held = [agrees(operation.settings, derived.plan.part(part), feature) for part, feature in operation.features]
    assert held
    assert all(held)
    value = getattr(operation.settings, field)
    wrong = spoilt(operation, **{field: value + (Length.of_mm(1) if isinstance(value, Length) else 1)})
    assert not all(agrees(wrong.settings, derived.plan.part(part), one) for part, one in wrong.features)


def test_no_template_asks_a_flag_as_a_word() -> None:
    asked = {file.name: file.read_text(encoding="utf-8") for file in (ROOT / "templates" / "steps").glob("*.j2")}
    assert asked
    assert [
        name for name, text in asked.items() if "'yes'" in text or re.search(r"word\('\w+'\) [!=]= 'no'", text)
    ] == []
