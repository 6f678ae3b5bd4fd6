"""Outputs appear whole or not at all."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from drawleaf import outputs


def contents(folder: Path) -> dict[str, bytes]:
    """All files but the list of what was written."""
    files = {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
    return {name: content for name, content in files.items() if name != outputs.LIST}


def test_a_set_replaces_all_that_was_there(tmp_path: Path) -> None:
    target = tmp_path / "build" / "bench"
    outputs.write_set(target, {"a.txt": b"1", "deep/b.txt": b"2"})
    outputs.write_set(target, {"c.txt": b"3"})
    assert contents(target) == {"c.txt": b"3"}
    assert [entry.name for entry in target.parent.iterdir()] == ["bench"]


@pytest.mark.parametrize("can_swap", [True, False])
def test_a_failed_write_leaves_the_last_good_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, can_swap: bool
) -> None:
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"good"})
    if not can_swap:
        monkeypatch.setattr(outputs, "_swap", lambda one, other: False)

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        outputs.write_set(target, {"a.txt": b"new"})
    assert contents(target) == {"a.txt": b"good"}
    assert [entry.name for entry in tmp_path.iterdir()] == ["bench"]


def test_without_a_swap_the_set_is_still_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(outputs, "_swap", lambda one, other: False)
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"1"})
    outputs.write_set(target, {"a.txt": b"2"})
    assert contents(target) == {"a.txt": b"2"}


def test_a_set_moved_aside_by_a_stopped_run_comes_back(tmp_path: Path) -> None:
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"1"})
    target.rename(tmp_path / ".bench.old")
    outputs.recover(target)
    assert contents(target) == {"a.txt": b"1"}


# What others have put there.


def refused(folder: Path, files: dict[str, bytes]) -> str:
    """Why nothing is written there; fails where something is."""
    before = {one: one.read_bytes() for one in folder.rglob("*") if one.is_file()}
    with pytest.raises(outputs.OutputRefusedError) as raised:
        outputs.write_set(folder, files)
    assert {one: one.read_bytes() for one in folder.rglob("*") if one.is_file()} == before
    assert [one.name for one in folder.parent.iterdir()] == [folder.name]
    return str(raised.value)


@pytest.mark.parametrize("can_swap", [True, False])
@pytest.mark.parametrize("can_link", [True, False])
def test_files_of_others_stay(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, can_swap: bool, can_link: bool) -> None:
    if not can_swap:
        monkeypatch.setattr(outputs, "_swap", lambda one, other: False)
    if not can_link:
        monkeypatch.setattr(os, "link", lambda *_: (_ for _ in ()).throw(OSError(1, "no links here")))
    target = tmp_path / "bench"
    outputs.write_set(target, {"plan.json": b"1", "drawings/a.svg": b"1", "drawings/b.svg": b"1"})
    mine = {"listing.docx": b"words", "photos/cover.jpg": b"photo", "drawings/my own.svg": b"mine", ".hidden": b"h"}
    for name, content in mine.items():
        (target / name).parent.mkdir(exist_ok=True)
        (target / name).write_bytes(content)
    (target / "empty").mkdir()
    (target / "a link").symlink_to("nowhere")
    for turn in (b"2", b"3"):
        outputs.write_set(target, {"plan.json": turn, "drawings/a.svg": turn})
        assert contents(target) == {"plan.json": turn, "drawings/a.svg": turn, **mine}
    assert (target / "empty").is_dir()
    assert os.readlink(target / "a link") == "nowhere"
    assert [entry.name for entry in tmp_path.iterdir()] == ["bench"]


def test_a_file_of_anothers_is_the_same_file_afterwards(tmp_path: Path) -> None:
    """An editor that has it open goes on writing into it."""
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"1"})
    (target / "mine.txt").write_bytes(b"one ")
    with (target / "mine.txt").open("ab") as still_open:
        outputs.write_set(target, {"a.txt": b"2"})
        still_open.write(b"two")
    assert contents(target) == {"a.txt": b"2", "mine.txt": b"one two"}


def test_a_changed_file_is_not_overwritten(tmp_path: Path) -> None:
    target = tmp_path / "bench"
    outputs.write_set(target, {"bench.html": b"1", "drawings/a.svg": b"1"})
    (target / "drawings" / "a.svg").write_bytes(b"mine")
    assert "“drawings/a.svg” in it was changed since" in refused(target, {"bench.html": b"2"})
    assert outputs.refusal(target)
    (target / "drawings" / "a.svg").unlink()
    outputs.write_set(target, {"bench.html": b"2"})
    assert contents(target) == {"bench.html": b"2"}
    (target / "bench.html").unlink()
    (target / "bench.html").symlink_to("elsewhere")
    assert "“bench.html” in it was changed" in refused(target, {"bench.html": b"3"})


def test_a_new_file_does_not_take_the_name_of_anothers(tmp_path: Path) -> None:
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"1"})
    (target / "drawings").write_bytes(b"a list of drawings")
    assert "“drawings” in it is not of the last compile" in refused(target, {"drawings/a.svg": b"2"})
    (target / "drawings").unlink()
    (target / "b.txt").write_bytes(b"mine")
    assert "“b.txt” in it is not" in refused(target, {"b.txt": b"2"})
    (target / "b.txt").unlink()
    (target / "c.txt").mkdir()
    assert "“c.txt” in it is not" in refused(target, {"c.txt": b"2"})


@pytest.mark.parametrize(
    "listed", [None, b"", b"[]", b"{}", b'{"files": 3}', b'{"files": ["a.txt"]}', b"\xff", b"[" * 100_000]
)
def test_a_folder_without_a_sound_list_is_nobodys_booklet(tmp_path: Path, listed: bytes | None) -> None:
    """Also one with a plan.json, as other programs write such files."""
    target = tmp_path / "bench"
    target.mkdir()
    (target / "plan.json").write_bytes(b"{}")
    if listed is not None:
        (target / outputs.LIST).write_bytes(listed)
    assert "no compile has written" in refused(target, {"plan.json": b"2"})


def test_a_list_cannot_name_files_elsewhere(tmp_path: Path) -> None:
    (tmp_path / "house").mkdir()
    target = tmp_path / "house" / "bench"
    outputs.write_set(target, {"a.txt": b"1"})
    (tmp_path / "mine.txt").write_bytes(b"")
    digest = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    (target / outputs.LIST).write_text(json.dumps({"files": {"../../mine.txt": digest, "/etc/hostname": digest}}))
    outputs.write_set(target, {"b.txt": b"2"})
    assert (tmp_path / "mine.txt").exists()
    assert contents(target) == {"a.txt": b"1", "b.txt": b"2"}


def test_what_comes_in_the_last_moment_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An author saves into the old folder after it was looked through and before its place is taken."""
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"1", "b.txt": b"1"})
    put = outputs._put_in_place

    def late(fresh: Path, folder: Path) -> None:
        (folder / "late.txt").write_bytes(b"mine")
        (folder / "a.txt").write_bytes(b"changed")
        put(fresh, folder)

    monkeypatch.setattr(outputs, "_put_in_place", late)
    outputs.write_set(target, {"a.txt": b"2"})
    assert contents(target) == {"a.txt": b"2", "late.txt": b"mine", "a (before).txt": b"changed"}


# Runs that are killed, and runs at the same time.

SLOW = """
import os, pathlib, sys
from drawleaf import outputs
def stopped(_descriptor):
    print("at work", flush=True)
    sys.stdin.readline()
os.fsync = stopped
outputs.write_set(pathlib.Path(sys.argv[1]), {"a.txt": b"slow"})
"""


@pytest.fixture
def slow(tmp_path: Path):
    """A run that has begun to write and waits for a line."""
    run = subprocess.Popen(
        [sys.executable, "-c", SLOW, str(tmp_path / "bench")], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert run.stdout
    assert run.stdout.readline() == "at work\n"
    yield run
    run.kill()
    run.communicate()


def test_the_litter_of_a_dead_run_goes_with_the_next(tmp_path: Path, slow: subprocess.Popen[str]) -> None:
    assert len(list(tmp_path.glob(".bench.*.new"))) == 1
    slow.kill()
    slow.wait()
    outputs.write_set(tmp_path / "bench", {"a.txt": b"1"})
    assert [entry.name for entry in tmp_path.iterdir()] == ["bench"]


def test_a_run_at_work_is_waited_for(
    tmp_path: Path, slow: subprocess.Popen[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(outputs, "PATIENCE_SECONDS", 0.1)
    with pytest.raises(OSError, match="another run is writing there"):
        outputs.write_set(tmp_path / "bench", {"a.txt": b"quick"})
    assert len(list(tmp_path.glob(".bench.*.new"))) == 1, "what a living run writes is left alone"
    slow.communicate("go on\n")
    assert contents(tmp_path / "bench") == {"a.txt": b"slow"}
    outputs.write_set(tmp_path / "bench", {"a.txt": b"quick"})
    assert contents(tmp_path / "bench") == {"a.txt": b"quick"}


def test_killed_at_any_moment_the_set_is_whole(tmp_path: Path) -> None:
    """A writer that replaces the set over and over is killed twenty times; what is left is always one whole set."""
    target = tmp_path / "bench"
    program = (
        "import itertools, pathlib, sys; from drawleaf.outputs import write_set\n"
        "for n in itertools.count():\n"
        "    write_set(pathlib.Path(sys.argv[1]), {f'{i}.txt': str(n).encode() for i in range(5)})\n"
        "    print(flush=True)\n"
    )
    for turn in range(20):
        writer = subprocess.Popen([sys.executable, "-c", program, str(target)], stdout=subprocess.PIPE)
        assert writer.stdout
        assert writer.stdout.readline()
        time.sleep(0.003 * turn)
        writer.kill()
        writer.communicate()
        files = contents(target)
        assert len(files) == 5
        assert len(set(files.values())) == 1
