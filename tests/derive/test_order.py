"""The order of assembly: against brute force on random boxes, the conventional order where there is a choice, circles refused."""

from __future__ import annotations

from functools import cache
from itertools import combinations, permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from drawleaf.derive.assembly.order import Arrival, Stuck, Unit, build_order

Vector = tuple[float, float, float]
WAYS: tuple[Vector, ...] = tuple(
    tuple(float(sign) if axis == one else 0.0 for one in range(3))  # type: ignore[misc]
    for axis in range(3)
    for sign in (-1, 1)
)
Cells = frozenset[tuple[int, int, int]]


def leaves(moving: Cells, standing: Cells, way: Vector) -> bool:
    """Whether a lump of cells can be pushed out of a 4 x 4 x 4 room along ``way``, one cell at a time, without meeting another."""
    step = tuple(int(part) for part in way)
    for distance in range(1, 5):
        moved = {(x + step[0] * distance, y + step[1] * distance, z + step[2] * distance) for x, y, z in moving}
        if moved & standing:
            return False
    return True


def free_among(lumps: dict[str, Cells]):
    def free(moving: tuple[str, ...], standing: tuple[str, ...]) -> tuple[Vector, ...]:
        mine = frozenset().union(*(lumps[name] for name in moving))
        theirs = frozenset().union(*(lumps[name] for name in standing))
        return tuple(way for way in WAYS if leaves(mine, theirs, way))

    return free


def can_be_built(lumps: dict[str, Cells]) -> bool:
    """Whether the lumps come apart at all: into two groups, one of which leaves the other along a line, and each of these again."""
    free = free_among(lumps)

    @cache
    def apart(names: frozenset[str]) -> bool:
        if len(names) == 1:
            return True
        first, *others = sorted(names)
        for size in range(len(others)):
            for some in combinations(others, size):
                group = frozenset({first, *some})
                rest = names - group
                if free(tuple(group), tuple(rest)) and apart(group) and apart(rest):
                    return True
        return False

    return apart(frozenset(lumps))


def one_by_one(lumps: dict[str, Cells]) -> bool:
    """Whether an order of single moves works, tried one by one."""
    free = free_among(lumps)
    return any(
        all(free((name,), order[:place]) for place, name in enumerate(order) if place) for order in permutations(lumps)
    )


@st.composite
def rooms(draw: st.DrawFn) -> dict[str, Cells]:
    """A room of cells shared out among a few lumps, some of them hooked round one another."""
    count = draw(st.integers(2, 5))
    cells = list(product(range(3), range(3), range(2)))
    owners = draw(st.lists(st.integers(0, count), min_size=len(cells), max_size=len(cells)))
    lumps = {
        f"p{one}": frozenset(c for c, owner in zip(cells, owners, strict=True) if owner == one) for one in range(count)
    }
    return {name: lump for name, lump in lumps.items() if lump}


def units_of(names) -> tuple[Unit, ...]:
    return tuple(Unit(name, (name,), (place,)) for place, name in enumerate(names))


def always(_moving: tuple[str, ...], _standing: tuple[str, ...]) -> bool:
    return True


@given(rooms())
@settings(max_examples=150, deadline=None)
def test_finds_an_order_exactly_where_brute_force_does(lumps: dict[str, Cells]) -> None:
    if len(lumps) < 2:
        return
    free = free_among(lumps)
    found = build_order(units_of(lumps), free, always, {})
    if isinstance(found, Stuck):
        assert not can_be_built(lumps)
        return
    assert sorted(part for arrival in found for part in arrival.unit.parts) == sorted(lumps)
    if one_by_one(lumps):
        assert not any(arrival.unit.members for arrival in found)
    follow(found, free)


def follow(found: tuple[Arrival, ...], free) -> None:
    """Each arrival's way is free when it is made; sub-assemblies are followed in the same way."""
    standing: list[str] = []
    for arrival in found:
        if arrival.unit.members:
            inner = build_order(arrival.unit.members, free, always, {})
            assert not isinstance(inner, Stuck)
            follow(inner, free)
        if standing:
            assert arrival.direction is not None
            back = tuple(-part or 0.0 for part in arrival.direction)
            assert back in free(arrival.unit.parts, tuple(standing))
        standing += arrival.unit.parts


def test_a_sub_assembly_is_found_where_no_part_leaves_alone() -> None:
    """Blocking as a table of facts: a and b hold each other on all sides but the left, where both are free of c and d."""

    def free(moving: tuple[str, ...], standing: tuple[str, ...]) -> tuple[Vector, ...]:
        pairs = {frozenset((one, other)) for one in moving for other in standing}
        within = {frozenset("ab"): (WAYS[4],), frozenset("cd"): (WAYS[5],)}
        ways = set(WAYS)
        for pair in pairs:
            ways &= set(within.get(pair, (WAYS[0],) if "a" in moving or "b" in moving else (WAYS[1],)))
        return tuple(way for way in WAYS if way in ways)

    found = build_order(units_of("abcd"), free, always, {})
    assert not isinstance(found, Stuck)
    groups = [sorted(arrival.unit.parts) for arrival in found if arrival.unit.members]
    assert groups
    assert all(group in (["a", "b"], ["c", "d"]) for group in groups)


def test_two_hooked_lumps_are_stuck() -> None:
    """A ball in a box without a lid that is really closed: neither comes out."""
    inside = frozenset({(1, 1, 1)})
    box = frozenset(product(range(3), repeat=3)) - inside
    found = build_order(units_of(["box", "ball"]), free_among({"box": box, "ball": inside}), always, {})
    assert isinstance(found, Stuck)
    assert {unit.id for unit in found.units} == {"box", "ball"}


def test_the_authors_order_decides_where_all_is_free() -> None:
    joined = {name: frozenset(set("dbca") - {name}) for name in "dbca"}
    found = build_order(units_of("dbca"), lambda moving, standing: WAYS, always, joined)
    assert not isinstance(found, Stuck)
    assert [arrival.unit.id for arrival in found] == list("dbca")


def test_what_stands_stays_in_one_piece() -> None:
    """The third part joins the first two, so it comes second although the author named it last."""
    joined = {"left": frozenset({"rail"}), "right": frozenset({"rail"}), "rail": frozenset({"left", "right"})}
    found = build_order(units_of(["left", "right", "rail"]), lambda m, s: WAYS, always, joined)
    assert not isinstance(found, Stuck)
    assert [arrival.unit.id for arrival in found] == ["left", "rail", "right"]


def test_a_screw_out_of_reach_changes_the_order() -> None:
    """The shelf cannot be screwed on with the lid in place: the lid comes after it."""

    def reach(moving: tuple[str, ...], standing: tuple[str, ...]) -> bool:
        return not ("shelf" in moving and "lid" in standing)

    found = build_order(units_of(["box", "lid", "shelf"]), lambda m, s: WAYS, reach, {})
    assert not isinstance(found, Stuck)
    assert [arrival.unit.id for arrival in found] == ["box", "shelf", "lid"]


def test_a_case_is_not_put_over_its_drawer() -> None:
    """No joint ties the drawer to the case, so without the case drawer and front stay in one piece; the case comes first all the same."""
    joined = {"case": frozenset[str](), "box": frozenset({"front"}), "front": frozenset({"box"})}
    found = build_order(units_of(["case", "box", "front"]), lambda m, s: WAYS, always, joined)
    assert not isinstance(found, Stuck)
    assert [arrival.unit.id for arrival in found] == ["case", "box", "front"]


def test_a_tilt_is_taken_only_by_those_who_may() -> None:
    def free(moving: tuple[str, ...], standing: tuple[str, ...]) -> tuple[Vector, ...]:
        return () if "case" in standing or "case" in moving else WAYS

    def tilt(moving: tuple[str, ...], standing: tuple[str, ...]) -> Vector:
        return (0.0, -1.0, 0.0)

    case, shelf = Unit("case", ("case",), (0,)), Unit("shelf", ("shelf",), (1,))
    assert isinstance(build_order((case, shelf), free, always, {}, tilt), Stuck)
    may = Unit("shelf", ("shelf",), (1,), may_tilt=True)
    assert build_order((case, may), free, always, {}, tilt) == (
        Arrival(case, None),
        Arrival(may, (0.0, 1.0, 0.0), True),
    )
