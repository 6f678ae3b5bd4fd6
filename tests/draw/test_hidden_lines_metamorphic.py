"""Changes that must not change a drawing, or change it in a known way."""

from __future__ import annotations

import numpy as np
import pytest

from drawleaf.draw.sight import view as views
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.model.place import Face
from drawleaf.solids.build import build_solids
from outside.line_scenes import POSES, scene
from solids_scene import cut, edge, hole, part, plan

IDS = ["left", "right", "shelf", "top"]


def case(shift: float = 0.0, mirrored: bool = False):
    """A case with a dadoed shelf; ``shift`` moves it whole, ``mirrored`` about x = 100."""

    def x(a: float, b: float) -> tuple[float, float]:
        return (200 - b + shift, 200 - a + shift) if mirrored else (a + shift, b + shift)

    inner, other = (Face.LEFT, Face.RIGHT) if mirrored else (Face.RIGHT, Face.LEFT)
    pin_at = (182 if mirrored else 18) + shift
    depth = (0 + shift, 100 + shift)
    return plan(
        part("left", (*x(0, 18), *depth, 0, 150), cut((*x(12, 18), *depth, 60, 78), inner, Face.FRONT, Face.BACK), hole(inner, (pin_at, 30 + shift, 20), 7, 9)),
        part("right", (*x(182, 200), *depth, 0, 150), cut((*x(182, 188), *depth, 60, 78), other, Face.FRONT, Face.BACK)),
        part("shelf", (*x(12, 188), *depth, 60, 78)),
        part("top", (*x(-10, 210), -10 + shift, 100 + shift, 150, 168), edge("round-over", Face.FRONT, Face.TOP, 8)),
    )  # fmt: skip


def lines_of(solids, view, ids=IDS, offsets=None):
    return project(solids, view, ids, offsets).visible


def total(lines) -> float:
    return sum(line.length for line in lines)


@pytest.mark.parametrize("view", [views.PICTORIAL, views.ISOMETRIC, views.FRONT, views.PICTORIAL_BACK])
def test_part_order_does_not_matter(view):
    solids = build_solids(case())
    assert total(lines_of(solids, view)) == pytest.approx(total(lines_of(solids, view, IDS[::-1])), rel=1e-5)


@pytest.mark.parametrize("view", [views.PICTORIAL, views.ISOMETRIC, views.RIGHT])
def test_place_does_not_matter(view):
    near, far = lines_of(build_solids(case()), view), lines_of(build_solids(case(shift=100000.0)), view)
    assert total(near) == pytest.approx(total(far), rel=1e-7)
    assert len(near) == len(far)


def test_the_mirrored_case_is_the_mirrored_drawing():
    """Seen from the left instead of the right."""
    plain = lines_of(build_solids(case()), views.PICTORIAL)
    mirrored = lines_of(build_solids(case(mirrored=True)), views.PICTORIAL_LEFT)
    assert total(plain) == pytest.approx(total(mirrored), rel=1e-9)
    turned = sorted(round(200 * views.PICTORIAL.axes[0][0] - u, 3) for line in mirrored for u in line.points[:, 0])
    assert sorted({round(u, 3) for line in plain for u in line.points[:, 0]}) == pytest.approx(
        sorted(set(turned)), abs=2e-3
    )


@pytest.mark.parametrize("view", [views.PICTORIAL, views.ISOMETRIC])
def test_a_hair_of_play_changes_nothing(view):
    solids = build_solids(case())
    random = np.random.default_rng(3)
    jitter = {one: tuple(random.uniform(-1e-4, 1e-4, 3)) for one in IDS}
    still, moved = lines_of(solids, view), lines_of(solids, view, offsets=jitter)
    assert total(still) == pytest.approx(total(moved), rel=1e-4)


@pytest.mark.parametrize("view", [views.PICTORIAL, views.PICTORIAL_LEFT])
def test_growing_scene_from_the_store_is_the_scene_made_anew(view):
    """Steps drawn one after another, from one store, are what each would be by itself."""
    shared = build_solids(case())
    lines_of(shared, view)
    for count in range(1, len(IDS) + 1):
        offsets = {IDS[count - 1]: (0.0, -120.0, 0.0)}
        for moved in (None, offsets):
            kept, fresh = (
                lines_of(shared, view, IDS[:count], moved),
                lines_of(build_solids(case()), view, IDS[:count], moved),
            )
            assert [line.part for line in kept] == [line.part for line in fresh]
            for one, other in zip(kept, fresh, strict=True):
                assert one.points.tobytes() == other.points.tobytes()


def test_a_turned_grid_of_the_same_wood_has_the_same_lines():
    """One block, and the same block as eight that touch, seen without their seams: the same outline."""
    whole = build_solids(plan(part("a", (0, 20, 0, 20, 0, 20))))
    eight = [part(f"p{i}", (10 * (i & 1), 10 * (i & 1) + 10, 5 * (i & 2), 5 * (i & 2) + 10, 2.5 * (i & 4), 2.5 * (i & 4) + 10)) for i in range(8)]  # fmt: skip
    parts = build_solids(plan(*eight))
    ids = [one.id for one in eight]
    seams = 6 * 20 * (2 / 3) ** 0.5
    assert total(lines_of(parts, views.ISOMETRIC, ids)) == pytest.approx(
        total(lines_of(whole, views.ISOMETRIC, ["a"])) + seams, abs=2e-3
    )


@pytest.mark.parametrize("view", [views.PICTORIAL, views.ISOMETRIC, views.FRONT])
def test_a_cabinet_reordered_or_jostled_has_the_same_lines(view):
    one = scene("cabinet")
    still = total(project(one.store, view, (), None, one.bodies).visible)
    turned_about = dict(reversed(one.bodies.items()))
    assert total(project(one.store, view, (), None, turned_about).visible) == pytest.approx(still, rel=1e-5)
    random = np.random.default_rng(8)
    jitter = {name: tuple(random.uniform(-1e-4, 1e-4, 3)) for name in one.bodies}
    assert total(project(one.store, view, (), jitter, one.bodies).visible) == pytest.approx(still, rel=1e-4)


@pytest.mark.parametrize("pose", POSES)
def test_growing_cabinet_from_the_store_is_the_same_to_the_last_bit(pose):
    one = scene("cabinet")
    offsets = one.apart if pose == "exploded" else None
    shared, names = build_solids(plan()), list(one.bodies)
    for count in range(5, len(names) + 1, 10):
        shown = {name: one.bodies[name] for name in names[:count]}
        kept = project(shared, views.PICTORIAL, (), offsets, shown).visible
        fresh = project(build_solids(plan()), views.PICTORIAL, (), offsets, shown).visible
        assert [line.points.tobytes() for line in kept] == [line.points.tobytes() for line in fresh]
