"""The scene of a picture: what stands in it, how it is coated, from where it is seen; and the file that comes of it. All without a renderer."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import numpy as np
import pytest

from drawleaf.compiler import Choice, read_and_resolve
from drawleaf.draw.turnable.openings import openings
from drawleaf.looks.atlas import baked, groups_of
from drawleaf.looks.camera import framed
from drawleaf.looks.coats import Coats, coated, coats_of, mean_color
from drawleaf.looks.cue import cue
from drawleaf.looks.opened import opened
from drawleaf.looks.photo import exposed, is_ours, written
from drawleaf.looks.piece import METALS, bodies_of, shifts_in_board
from drawleaf.looks.scene import Body, Plain, Wood, body_of, corners_of, moved, shift
from drawleaf.looks.take import finished, set_up
from drawleaf.looks.wish import Side, Wish
from drawleaf.model.catalogue import Catalogue
from drawleaf.model.looks import FinishLook
from drawleaf.model.plan import Plan
from drawleaf.resources import product_folder
from drawleaf.setting_out.hinging import way_home
from drawleaf.solids.build import build_solids
from drawleaf.solids.cutters import block
from drawleaf.solids.solid import Solid
from drawleaf.source.look_models import Sheen
from small_plans import plan_from


@pytest.fixture(scope="module")
def ledge() -> Plan:
    _, plan = read_and_resolve(product_folder("shared").parent / "plans" / "key-ledge", Choice())
    assert plan is not None
    return plan


def test_all_that_shows_is_there(ledge: Plan) -> None:
    """Five boards of oiled pine, five hooks, two wall screws, plugs over the screws of the brackets, filler over the brads."""
    bodies = bodies_of(ledge, build_solids(ledge), [one.id for one in (*ledge.parts, *ledge.fittings)])
    woods = [body.material for body in bodies if isinstance(body.material, Wood)]
    assert [wood.board.look.id for wood in woods] == ["pine"] * 5
    assert all(wood.coats.gloss > 0.2 for wood in woods)
    assert len({wood.board.seed for wood in woods}) == 5
    fasteners = sum(len(joint.fasteners) for joint in ledge.joints)
    plain = [body for body in bodies if isinstance(body.material, Plain)]
    assert len(plain) > 7 + fasteners / 2


def test_hardware_of_every_look_can_be_drawn() -> None:
    assert set(get_args(Sheen)) == set(METALS)


def test_parts_of_one_board_run_on(ledge: Plan) -> None:
    """Two parts of one ``match`` lie one after the other in their board, as they stand."""
    back, shelf = replace(ledge.parts[0], match="a"), replace(ledge.parts[1], match="a")
    shifts = shifts_in_board((back, shelf))
    long = back.size[0].mm
    assert sorted(shifts.values()) == pytest.approx([long / 2.0, 1.5 * long + 3.0])
    assert shifts_in_board(ledge.parts) == {}


def test_coats_follow_the_schedule(ledge: Plan, catalogue: Catalogue) -> None:
    """All parts of the ledge are oiled: darker, and warmer than bare. Paint hides all grain; a stain keeps it."""
    coats = coats_of(ledge)
    assert set(coats) == {part.id for part in ledge.parts}
    pine = catalogue.looks["pine"]
    wood = mean_color(pine)[None, :] * np.array([[0.8], [1.0], [1.2]], np.float32)
    oiled = coated(wood, pine, coats["ledge.back"].looks)
    assert (oiled < wood).all()
    assert oiled[1, 0] / oiled[1, 2] > wood[1, 0] / wood[1, 2]
    painted = coated(wood, pine, (FinishLook((230, 230, 220), 1.0),))
    assert np.ptp(painted, axis=0).max() < 1e-6
    stained = coated(wood, pine, (FinishLook((112, 80, 55), 0.72),))
    assert stained[0].sum() < stained[1].sum() < stained[2].sum()
    assert stained.mean() < 0.5 * wood.mean()


def test_gloss_is_that_of_the_last_coat() -> None:
    stain, varnish = FinishLook((90, 60, 40), 0.7, gloss=0.1), FinishLook(None, deepens=0.1, gloss=0.6)
    assert Coats((stain, varnish)).roughness < Coats((varnish, stain)).roughness < Coats().roughness


@pytest.mark.parametrize("yaw", [-27.0, 0.0, 153.0])
def test_the_piece_is_well_framed(yaw: float) -> None:
    """Its middle in the middle of the picture; as large as its frame lets it be; the camera level, so that uprights stay upright."""
    corners = np.array([[x, y, z] for x in (0.0, 900.0) for y in (0.0, 400.0) for z in (0.0, 700.0)])
    camera = framed(corners, yaw, (800, 600), hangs=False)
    film = camera.on_film(corners)
    low, high = film[:, :2].min(axis=0), film[:, :2].max(axis=0)
    assert np.allclose((low + high) / 2.0, [400.0, 300.0], atol=0.5)
    share = (high - low) / np.array([800.0, 600.0])
    assert share.max() > 0.7
    assert (share < 0.79).all()
    post = camera.on_film(np.array([[900.0, 0.0, 0.0], [900.0, 0.0, 700.0]]))
    assert abs(post[0, 0] - post[1, 0]) < 1e-6
    assert camera.eye[2] > 700.0


def test_the_side_is_chosen_and_can_be_told(ledge: Plan) -> None:
    solids = build_solids(ledge)
    chosen = set_up(finished(ledge, solids, Wish((320, 240))), Wish((320, 240)))
    assert chosen.side in (Side.FRONT_LEFT, Side.FRONT_RIGHT)
    told = set_up(finished(ledge, solids, Wish((320, 240))), Wish((320, 240), Side.FRONT))
    assert told.side is Side.FRONT
    assert told.scene.camera.yaw == 0.0


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> Body:
    return body_of(Solid(block(np.array(low), np.array(high))), METALS["steel"])


def mug_on(*bodies: Body, hangs: bool = False) -> list[list[float]]:
    """The low and the high corner of the mug that is set on some bodies."""
    points = [corners_of([body]) for body in cue(bodies, hangs=hangs)]
    return [[*one.min(axis=0), *one.max(axis=0)] for one in points]


def test_a_mug_stands_where_there_is_room_for_it() -> None:
    """On a shelf before a back that is higher; not over its front edge, not across a slot; beside a post; nowhere on a wall without a shelf."""
    back, shelf = box((0, 90, 0), (600, 108, 200)), box((0, -40, 60), (600, 90, 80))
    ((x0, y0, z0, x1, y1, z1),) = mug_on(back, shelf, hangs=True)
    assert z0 == pytest.approx(80.0, abs=0.5)
    assert z1 - z0 == pytest.approx(95.0, abs=0.5)
    assert -40.0 <= y0 < y1 <= 90.0
    assert 300.0 < x0 < x1 <= 600.0
    assert mug_on(back, box((0, 30, 60), (600, 90, 80)), hangs=True) == []
    ((_, _, floor, _, _, _),) = mug_on(box((0, 0, 0), (60, 60, 900)))
    assert floor == pytest.approx(0.0, abs=0.5)
    left, right = box((0, 0, 0), (400, 200, 30)), box((440, 0, 0), (620, 200, 30))
    ((x0, _, z0, x1, _, _),) = mug_on(left, right)
    assert z0 == pytest.approx(30.0, abs=0.5)
    assert x1 <= 400.0 or x0 >= 440.0
    turned = np.array([[0.0, 0.0, 1.0, 0.0], [0.0, 1.0, 0.0, 0.0], [-1.0, 0.0, 0.0, 600.0], [0.0, 0.0, 0.0, 1.0]])
    ((_, _, z0, _, _, _),) = mug_on(moved(box((0, 0, 0), (30, 300, 600)), shift((0.0, 0.0, 7.0)) @ turned))
    assert z0 == pytest.approx(607.0, abs=0.5)


def test_the_mug_is_in_the_picture(ledge: Plan) -> None:
    wish = Wish((320, 240), cue=True)
    scene = set_up(finished(ledge, build_solids(ledge), wish), wish).scene
    film = scene.camera.on_film(corners_of(scene.surroundings[-1:]))
    assert (film[:, :2] > 0.0).all()
    assert (film[:, 0] < 320.0).all()
    assert (film[:, 1] < 240.0).all()


def test_what_nobody_sees_is_not_worked_out(ledge: Plan) -> None:
    """With one chart seen the picture of the wood is that chart and a few texels; it is the same each time."""
    solids = build_solids(ledge)
    bodies = bodies_of(ledge, solids, [part.id for part in ledge.parts])
    (group,) = [one for one in groups_of(bodies, 3.0) if one.charts]
    seen = np.array(
        [max(range(len(group.charts)), key=lambda one: group.charts[one].count[0] * group.charts[one].count[1])]
    )
    picture, spots = baked(group, seen)
    again, _ = baked(group, seen)
    assert np.array_equal(picture, again)
    wide, high = group.charts[seen[0]].count
    assert picture.shape[0] * picture.shape[1] < 1.6 * wide * high + 2000
    assert spots.min() > 0.0
    assert spots.max() < 1.0


def test_a_file_says_how_it_was_made() -> None:
    """Both kinds of file carry it, and the same picture gives the same bytes. A JPEG is kept small enough."""
    light = np.random.default_rng(3).random((60, 80, 3)).astype(np.float32)
    for kind in ("png", "jpg"):
        data = written(exposed(light), kind, {"view": "front"})
        assert is_ours(data)
        assert b'"view": "front"' in data
        assert data == written(exposed(light), kind, {"view": "front"})
    assert len(written(exposed(light), "jpg", {}, 4000)) < len(written(exposed(light), "jpg", {}))
    assert not is_ours(b"\x89PNG of somebody else")


def test_highlights_are_drawn_together() -> None:
    """Twice full light is white at most, and brighter light never comes out darker."""
    steps = np.linspace(0.0, 3.0, 200, dtype=np.float32)[None, :, None] * np.ones((1, 1, 3), np.float32)
    bytes_ = exposed(steps)[0, :, 0].astype(int)
    assert (np.diff(bytes_) >= 0).all()
    assert bytes_[0] == 0
    assert bytes_[-1] >= 250


def test_a_drawer_comes_out_and_its_pull_with_it() -> None:
    """The drawer of the boot bench moves to the front by half its depth and more; its slides and the case stay."""
    _, plan = read_and_resolve(product_folder("shared").parent / "plans" / "boot-bench", Choice())
    assert plan is not None
    moves = opened(build_solids(plan))
    moved_parts = {part.id for part in plan.parts if part.id in moves}
    assert moved_parts == {part.id for part in plan.parts_in("drawer")}
    assert {one.id for one in plan.fittings if one.id in moves} == {"drawer.cup-pull-1"}
    way = next(iter(moves.values()))[:3, 3]
    assert way[1] < -100.0
    assert way[0] == way[2] == 0.0


def test_doors_and_lids_stand_ajar() -> None:
    """What hangs on a hinge is turned by as much as opens it well and not all the way, out to where it opens; the line it turns about stays."""
    plan = plan_from((product_folder("shared").parent / "tests" / "hardware" / "cupboard.yaml").read_text("utf-8"))
    solids = build_solids(plan)
    moves = opened(solids)
    swung = [one for one in openings(solids) if one.about is not None]
    assert len(swung) > 1
    for one in swung:
        for body in one.bodies:
            turn = moves[body]
            assert np.allclose(turn @ np.append(one.about, 1.0), np.append(one.about, 1.0))
            assert np.allclose(turn[:3, :3] @ np.array(one.axis), one.axis)
            assert 45.0 < np.degrees(np.arccos((np.trace(turn[:3, :3]) - 1.0) / 2.0)) < 80.0
        middle = np.array([solids.box(body) for body in one.bodies if solids.box(body) is not None]).mean(axis=(0, 1))
        home = way_home(plan, one.id)
        assert home is not None
        assert ((moves[one.bodies[0]] @ np.append(middle, 1.0))[:3] - middle) @ np.array(home) < 0.0


def test_an_exploded_picture_has_the_drawings_distances(ledge: Plan) -> None:
    from drawleaf.draw.piece.exploded import exploded_views
    from drawleaf.draw.piece.explosion import explode

    solids = build_solids(ledge)
    subject = finished(ledge, solids, Wish((320, 240), exploded=True))
    offsets = explode(solids, exploded_views(ledge)[0].units).offsets
    assert any(np.abs(offset).max() > 20.0 for offset in offsets.values())
    for part, offset in offsets.items():
        assert np.allclose(subject.moves[part][:3, 3], offset)


def test_a_step_shows_what_stands_after_it() -> None:
    """After the first step with a scene less stands than in the end, and nothing is oiled before its coat."""
    from drawleaf.compiler import work_out
    from drawleaf.looks.take import in_the_making

    outcome, plan = read_and_resolve(product_folder("shared").parent / "plans" / "key-ledge", Choice())
    assert plan is not None
    outcome, solids = work_out(outcome, plan, tidy=False)
    assert outcome.derived is not None
    assert solids is not None
    steps = [step for step in outcome.derived.steps if step.scene is not None]
    early, late = (in_the_making(outcome.derived, solids, step) for step in (steps[0], outcome.derived.steps[-1]))
    assert 0 < len(early.shown) <= len(late.shown)
    assert early.coats == {}
    assert late.coats != {}
