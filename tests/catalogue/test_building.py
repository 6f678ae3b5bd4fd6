"""A catalogue built again and again: only what changed is made, for the reason that is told, and with the bytes that a compile gives."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest
from tests.conftest import ROOT, TINY

from drawleaf.catalogue.booklets import Booklet
from drawleaf.catalogue.building import Builder, Done, Task, What
from drawleaf.catalogue.crew import Alone
from drawleaf.catalogue.making import Job, Libraries, make
from drawleaf.catalogue.reading import read_catalogue
from drawleaf.catalogue.store import Store
from drawleaf.compiler import Choice, compile_plan
from drawleaf.source.library import load_library
from drawleaf.units import Units

HOOKED = TINY + "    hardware:\n      - {item: coat hook, on: end, face: left, at: {y: 4, z: 1-3/4}}\n"
FILE = "plans:\n  - {plan: plans/hooked}\n  - {plan: plans/plain, units: [as written, mm]}\n"
BOOKLETS = ["hooked", "plain", "plain-mm"]


LOADED: dict[tuple[bytes, ...], object] = {}


def load_once(folders: Sequence[Path], kit_file: Path | None = None):
    """A library, read once for all copies of the same files: reading one takes half a second."""
    texts = tuple(one.read_bytes() for folder in folders[1:] for one in sorted(folder.rglob("*.yaml")))
    if texts not in LOADED:
        LOADED[texts] = load_library(folders)
    return LOADED[texts]


def quicken(patch: pytest.MonkeyPatch) -> None:
    """Without the slow ends of a compile: the PDF is no PDF, fonts are empty, and a library is read once."""
    patch.setattr("drawleaf.book.output.pdf.make_pdf", lambda html, plan_folder=None: b"%PDF-" + html.encode())
    patch.setattr("drawleaf.book.page.fonts._subset", lambda file, characters: b"")
    patch.setattr("drawleaf.catalogue.making.load_library", load_once)


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    quicken(monkeypatch)


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two plans, their three booklets and the store, all made once."""
    place = tmp_path_factory.mktemp("catalogue")
    for name, text in (("plain", TINY), ("hooked", HOOKED)):
        (place / "plans" / name).mkdir(parents=True)
        (place / "plans" / name / "plan.yaml").write_text(text)
    shutil.copytree(ROOT / "shared" / "hardware", place / "shared" / "hardware")
    (place / "catalogue.yaml").write_text(FILE)
    with pytest.MonkeyPatch.context() as patch:
        quicken(patch)
        done = build(place)
    assert [(one.booklet.name, one.what, one.why) for one in done] == [
        (name, What.MAKE, "it is new") for name in BOOKLETS
    ]
    return place


@pytest.fixture
def place(built: Path, tmp_path: Path) -> Path:
    """A copy of it to change."""
    shutil.copytree(built, tmp_path / "copy")
    return tmp_path / "copy"


class Idle:
    """A crew that is asked for nothing."""

    def make(self, jobs: Sequence[Job]) -> Iterator:
        assert not jobs
        return iter(())


def tasks_of(place: Path, **given: bool) -> tuple[Builder, list[Task]]:
    builder = Builder(Store(place / "store"), **given)
    known = read_catalogue(place / "catalogue.yaml", builder.libraries)
    assert known.diagnostics == ()
    return builder, builder.tasks(known.booklets)


def build(place: Path, **given: bool) -> list[Done]:
    builder, tasks = tasks_of(place, **given)
    return list(builder.do(tasks, Alone(builder.store)))


def would(place: Path) -> dict[str, tuple[What, str]]:
    return {task.booklet.name: (task.what, task.why) for task in tasks_of(place)[1] if task.what is not What.STANDS}


def edit(file: Path, old: str, new: str) -> None:
    text = file.read_text()
    assert old in text
    file.write_text(text.replace(old, new))


def contents(place: Path) -> dict[str, bytes]:
    return {str(one.relative_to(place)): one.read_bytes() for one in place.rglob("*") if one.is_file()}


def test_nothing_changed_nothing_made(place: Path) -> None:
    before = contents(place / "build")
    builder, tasks = tasks_of(place)
    done = list(builder.do(tasks, Idle()))
    assert [one.what for one in done] == [What.STANDS] * 3
    assert contents(place / "build") == before


def test_the_same_bytes_as_a_compile(built: Path) -> None:
    """Also of an edition whose solids and drawings were partly taken over from the one before it."""
    files = compile_plan(built / "plans" / "plain", Choice(units=Units.MM)).files
    there = contents(built / "build" / "plain-mm")
    del there[".written.json"]
    assert there == files


def change_plan(place: Path) -> None:
    edit(place / "plans/plain/plan.yaml", "width: 22", "width: 23")


def change_hook(place: Path) -> None:
    edit(place / "shared/hardware/fittings.yaml", "held by two screws", "held by two strong screws")


def change_hinge(place: Path) -> None:
    edit(place / "shared/hardware/hinges.yaml", "supplied: yes", "supplied: no")


def comment_on_hook(place: Path) -> None:
    edit(place / "shared/hardware/fittings.yaml", "coat hook:\n", "# a comment\ncoat hook:\n")


def add_picture(place: Path) -> None:
    shutil.copy(ROOT / "plans/key-ledge/cover.jpg", place / "plans/plain/cover.jpg")


def add_stray_file(place: Path) -> None:
    (place / "plans/plain/shopping.txt").write_text("milk")


def own_template(place: Path) -> None:
    (place / "plans/plain/templates/steps").mkdir(parents=True)
    shutil.copy(ROOT / "templates/steps/anchor-to-wall.j2", place / "plans/plain/templates/steps/anchor-to-wall.j2")


@pytest.mark.parametrize(
    ("change", "made", "why"),
    [
        (change_plan, ["plain", "plain-mm"], "plan.yaml changed"),
        (change_hook, ["hooked"], "“coat hook” in hardware changed"),
        (change_hinge, [], ""),
        (comment_on_hook, [], ""),
        (add_picture, ["plain", "plain-mm"], "cover.jpg changed"),
        (add_stray_file, [], ""),
        (own_template, ["plain", "plain-mm"], "the templates changed"),
    ],
    ids=lambda one: one.__name__ if callable(one) else "",
)
def test_what_changed_is_made_and_nothing_else(
    place: Path, change: Callable[[Path], None], made: list[str], why: str
) -> None:
    change(place)
    assert would(place) == dict.fromkeys(made, (What.MAKE, why))


def test_an_edit_that_is_taken_back_comes_from_the_store(place: Path) -> None:
    before = contents(place / "build")
    edit(place / "plans/plain/plan.yaml", "Seed tray", "Leaf tray")
    assert [one.booklet.name for one in build(place) if one.what is What.MAKE] == ["plain", "plain-mm"]
    assert contents(place / "build") != before
    edit(place / "plans/plain/plan.yaml", "Leaf tray", "Seed tray")
    builder, tasks = tasks_of(place)
    done = {one.booklet.name: one.what for one in builder.do(tasks, Idle())}
    assert done == {"hooked": What.STANDS, "plain": What.PUT, "plain-mm": What.PUT}
    assert contents(place / "build") == before


def test_booklets_that_are_gone_come_from_the_store(place: Path) -> None:
    before = contents(place / "build")
    shutil.rmtree(place / "build")
    builder, tasks = tasks_of(place)
    assert {one.what for one in builder.do(tasks, Idle())} == {What.PUT}
    assert contents(place / "build") == before


def test_a_store_that_is_thrown_away_does_no_harm(place: Path) -> None:
    """Everything is made again, and stands as it did; a broken store is as none."""
    shutil.rmtree(place / "store")
    assert set(would(place).values()) == {(What.MAKE, "it is new")}
    (place / "store" / "cache.db").write_bytes(b"no database" * 1000)
    assert set(would(place).values()) == {(What.MAKE, "it is new")}


def test_a_store_that_lies_is_found_out(place: Path) -> None:
    """Files of the store that are not what they were are made again."""
    shutil.rmtree(place / "build")
    big = list((place / "store").rglob("*.val"))
    assert big
    for one in big:
        one.write_bytes(one.read_bytes()[:-1] + b"!")
    made = Builder(Store(place / "store")).store
    task = next(one for one in tasks_of(place)[1] if one.booklet.name == "plain")
    assert task.what is What.PUT
    assert task.trace is not None
    assert made.files(task.trace.files) is None


def test_what_the_author_changed_is_not_overwritten(place: Path) -> None:
    page = place / "build/plain/cut-list.csv"
    page.write_text("mine")
    edit(place / "plans/plain/plan.yaml", "width: 22", "width: 23")
    what, why = would(place)["plain"]
    assert what is What.FAILED
    assert "“cut-list.csv” in it was changed since it was written" in why
    builder, tasks = tasks_of(place)
    (done,) = builder.do([one for one in tasks if one.booklet.name == "plain"], Idle())
    assert done.what is What.FAILED
    assert page.read_text() == "mine"


def test_a_plan_with_errors_stops_no_other(place: Path) -> None:
    edit(place / "plans/hooked/plan.yaml", "coat hook", "no such hook")
    edit(place / "plans/plain/plan.yaml", "Seed tray", "Leaf tray")
    done = {one.booklet.name: one for one in build(place)}
    assert {name: one.what for name, one in done.items()} == {
        "hooked": What.FAILED,
        "plain": What.MAKE,
        "plain-mm": What.MAKE,
    }
    assert "no such hook" in done["hooked"].why
    assert (place / "build/hooked/plan.json").exists()


def test_what_is_saved_while_it_is_made_is_not_remembered(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A booklet of a source that is edited meanwhile may be of either: it is made again the next time."""
    source = place / "plans/plain/plan.yaml"

    def meanwhile(html: str, plan_folder: Path | None = None) -> bytes:
        source.write_text(source.read_text() + "\n")
        return b"%PDF-"

    monkeypatch.setattr("drawleaf.book.output.pdf.make_pdf", meanwhile)
    made = make(Job(place / "plans/plain", Choice()), Libraries())
    assert made.files
    assert made.states is None


def test_anew_makes_everything(place: Path) -> None:
    _, tasks = tasks_of(place, anew=True)
    assert {(one.what, one.why) for one in tasks} == {(What.MAKE, "everything is made anew")}


def test_a_booklet_is_known_by_what_was_chosen() -> None:
    """Not by where it lies: a project that moves is not made again."""
    here, there = Booklet(Path("/a/tray"), Choice(), Path("/out/x")), Booklet(Path("/b/tray"), Choice(), Path("/y"))
    assert here.key == there.key
    assert here.key != Booklet(Path("/a/tray"), Choice(paper="a4"), Path("/out/x")).key
