"""A workshop gives what a compile gives, byte for byte, however it got there."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from tests.conftest import ROOT, TINY, outcome_of
from tests.small_plans import plan_from

from drawleaf.book.output.booklet import make_html
from drawleaf.cache import Fingerprints, Kept
from drawleaf.compiler import Choice, check_plan, read_and_resolve, work_out
from drawleaf.derive.derive import derive
from drawleaf.draw.audit import audit_drawings
from drawleaf.draw.drawings import Desk, draw_all
from drawleaf.solids.build import build_solids
from drawleaf.workshop import EDITIONS, Editions, PlanWorkshop

EDITS = {
    "seed tray": (
        ("width: 22", "width: 23"),
        ("name: Long board", "name: Side board"),
        ("right: end.mirrored.left, front: 0", "right: end.mirrored.left, front: 1/2"),
        ("screws: {count: 2", "screws: {count: 3"),
    ),
    "key-ledge": (
        ("width: 24", "width: 25"),
        ("left: 3/4, deep: 2-3/4", "left: 1, deep: 2-3/4"),
        ("# Key ledge", "# A comment\n# Key ledge"),
        ("Eye level", "Chest height"),
    ),
}
"""For each plan: a dimension of everything, words, one of a single part, a place in the file, a joint."""


def compiled_screen(folder: Path) -> str:
    """The screen edition as a compile makes it."""
    outcome, plan = read_and_resolve(folder, Choice())
    assert plan is not None
    outcome, solids = work_out(outcome, plan)
    assert outcome.derived is not None
    assert solids is not None
    drawings = draw_all(outcome.derived, solids, for_print=False)
    derived, _ = audit_drawings(outcome.derived, drawings)
    return make_html(derived, drawings, for_print=False, plan_folder=folder)


@pytest.mark.parametrize("plan", EDITS)
def test_after_each_edit_the_booklet_is_the_compiled_one(
    plan: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    """A tray of four parts here, an example plan too with ``--long``."""
    if plan == "key-ledge" and not request.config.getoption("--long"):
        pytest.skip("half a minute: with --long")
    folder = tmp_path / plan
    text = (ROOT / "docs" / "tutorial" / "stage-3.yaml").read_text(encoding="utf-8")
    if plan == "key-ledge":
        shutil.copytree(ROOT / "plans" / plan, folder)
        text = (folder / "plan.yaml").read_text(encoding="utf-8")
    folder.mkdir(exist_ok=True)
    source = folder / "plan.yaml"
    source.write_text(text, encoding="utf-8")
    workshop = PlanWorkshop(folder, Choice())
    workshop.take_up()
    assert workshop.booklet().html == compiled_screen(folder)
    for old, new in EDITS[plan]:
        assert old in text, old
        text = text.replace(old, new, 1)
        source.write_text(text, encoding="utf-8")
        workshop.take_up()
        workshop.draw(["step-05", "elevation-front", "part-01"])
        draft = workshop.draft()
        assert draft.html is not None, new
        whole = workshop.booklet()
        assert not whole.owed
        assert whole.html == compiled_screen(folder), new


@pytest.fixture
def tray(tmp_path: Path) -> Path:
    """The folder of a seed tray of four parts."""
    folder = tmp_path / "tray"
    folder.mkdir()
    (folder / "plan.yaml").write_bytes((ROOT / "docs" / "tutorial" / "stage-3.yaml").read_bytes())
    return folder


def test_a_draft_owes_what_it_has_not_drawn_anew(tray: Path) -> None:
    """What is drawn at once is what the booklet shows, and a draft owes it no more."""
    workshop = PlanWorkshop(tray, Choice())
    workshop.take_up()
    first = workshop.draft()
    assert "cover" in first.owed  # empty paper, for the time being
    assert first.html is not None
    assert "still to come" in first.html
    drawn = workshop.draw(["cover", "step-02", "part-02", "elevation-side", "exploded-1", "no-such"])
    assert {"cover", "step-02", "part-02", "elevation-side", "exploded-1"} == set(drawn)
    whole = workshop.booklet()
    assert not whole.owed
    assert whole.html is not None
    assert "still to come" not in whole.html
    drawings = whole.outcome.drawings
    assert drawings is not None
    told = {drawing.id: drawing for drawing in drawings.all()}
    assert {an_id: told[an_id] for an_id in drawn} == drawn
    source = tray / "plan.yaml"
    source.write_text(source.read_text().replace("width: 22", "width: 26"))
    workshop.take_up()
    workshop.draw(["elevation-front"])
    draft = workshop.draft()
    assert draft.owed
    assert not [one for one in draft.owed if one.startswith("elevation")]
    assert draft.html is not None
    assert "26" in draft.html


@pytest.fixture
def tiny(tmp_path: Path) -> Path:
    """The folder of a tiny plan."""
    folder = tmp_path / "tray"
    folder.mkdir()
    (folder / "plan.yaml").write_text(TINY, encoding="utf-8")
    return folder


def test_a_mistake_leaves_the_workshop_fit_for_work(tiny: Path) -> None:
    workshop = PlanWorkshop(tiny, Choice())
    wrong = TINY.replace("back: depth", "back: dpeth")
    assert wrong != TINY
    for text, sound in ((TINY, True), (wrong, False), ("{", False), (TINY, True)):
        (tiny / "plan.yaml").write_text(text)
        outcome = workshop.take_up()
        assert outcome.failed != sound
        assert (workshop.booklet().html is not None) == sound
        assert bool(workshop.draw(["cover"])) == sound


@pytest.mark.parametrize("name", ["key-ledge", "boot-bench"])
def test_a_check_without_tidy_layouts_says_the_same(name: str) -> None:
    quick, full = check_plan(ROOT / "plans" / name, Choice(), tidy=False), outcome_of(name)
    assert quick.diagnostics == full.diagnostics
    assert quick.derived is not None
    assert full.derived is not None
    assert quick.derived.checks == full.derived.checks
    assert quick.derived.shopping == full.derived.shopping


def test_a_kept_drawing_is_drawn_anew_in_another_english() -> None:
    plan = plan_from(
        """
plan: {title: T, number: T-1, date: 2026-11-24, author: A, lengths: in, language: en-US}
stock: {board: {material: pine board, nominal: 3/4, actual: 3/4}}
assemblies:
  box:
    name: Box
    parts:
      side: {name: Side, stock: board, thickness: x, grain: z, left: 0, front: 0, deep: 5, bottom: 0, high: 10}
      shelf: {name: Shelf, stock: board, thickness: z, grain: x, left: side.right, wide: 12, front: 0, deep: 5, top: side.top}
    joints:
      - {rabbet: shelf, in: side, depth: 1/4, with: [glue]}
"""
    )
    solids, kept = build_solids(plan), Kept()
    american, _ = derive(plan, solids)
    british = replace(american, plan=replace(plan, about=replace(plan.about, language="en-GB")))
    desks = [Desk(derived, solids, for_print=False, kept=kept) for derived in (american, british, american)]
    titles = [desk.details()[0][0].title for desk in desks]
    assert ["rabbet" in title for title in titles] == [True, False, True]
    assert "rebate" in titles[1]


def test_kept_results_are_let_go_when_no_longer_asked_for() -> None:
    kept = Kept(rounds=2)
    for number in range(50):
        kept.next_round()
        assert kept.get("twice", number, lambda: number * 2) == number * 2  # noqa: B023
        assert len(kept) <= 3
    assert kept.get("twice", 49, lambda: -1) == 98
    assert kept.get("thrice", 49, lambda: -1) == -1


def test_fingerprints_tell_values_apart_and_pass_over_positions() -> None:

    from conftest import outcome_of
    from drawleaf.model.position import Position

    part = outcome_of("key-ledge").derived.plan.parts[0]
    of = Fingerprints().of
    assert of(part) == of(replace(part, position=Position("elsewhere", 9, 9)))
    assert of(part) != of(replace(part, name="Other"))
    assert of(part) != of(replace(part, body=part.body.shifted(part.body.center)))
    assert of((1, 2)) != of((12,))
    assert of(("a", "b")) != of(("ab",))
    assert of(1) != of("1")
    with pytest.raises(TypeError):
        of(object())


def test_an_edition_that_is_gone_back_to_is_as_it_was_left(tmp_path: Path) -> None:
    """Nothing is drawn anew, and the booklet is the compiled one; those left for longest are given up."""
    folder = tmp_path / "tray"
    folder.mkdir()
    text = (ROOT / "docs" / "tutorial" / "stage-3.yaml").read_text(encoding="utf-8")
    names = [f"wide{n}" for n in range(EDITIONS)]
    more = "".join(f"  {name}: {{dimensions: {{width: {30 + n}}}}}\n" for n, name in enumerate(names))
    (folder / "plan.yaml").write_text(f"{text.rstrip()}\neditions:\n{more}", encoding="utf-8")
    editions = Editions(folder)
    first = editions.of(Choice())
    first.take_up()
    html = first.booklet().html
    wide = editions.of(Choice(names[0]))
    wide.take_up()
    assert "30" in str(wide.booklet().html)
    again = editions.of(Choice())
    assert again is first
    again.take_up()
    draft = again.draft()
    assert not draft.owed
    assert again.booklet().html == html == compiled_screen(folder)
    for name in names:
        editions.of(Choice(name))
    assert editions.of(Choice()) is not first
