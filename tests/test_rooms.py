"""The house: data flows one way, and no room imports one that comes after it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parent.parent / "src" / "drawleaf"

# Each room with the rooms that it may import. `cache`, `resources` and `outputs` are single files beside them.
MAY_IMPORT = {
    "units": set(),
    "language": {"english", "units"},
    "model": {"english", "language", "units"},
    "resources": set(),
    "graphs": set(),
    "english": set(),
    "cache": {"units", "model"},
    "second_process": set(),
    "raster": set(),
    "folder_files": set(),
    "note_pictures": {"folder_files"},
    "codes": {"model", "joinery"},
    "outputs": set(),
    "joinery": {"units", "language", "model"},
    "source": {"english", "units", "language", "model", "joinery", "resources", "raster", "note_pictures"},
    "resolve": {"english", "graphs", "units", "language", "model", "source", "joinery"},
    "solids": {"units", "model"},
    "setting_out": {"units", "language", "model", "joinery", "solids"},
    "derive": {"english", "graphs", "cache", "units", "language", "model", "solids", "joinery", "setting_out"},
    "checks": {"english", "graphs", "units", "language", "model", "joinery", "solids", "setting_out", "derive"},
    "draw": {
        "english",
        "graphs",
        "language",
        "second_process",
        "cache",
        "units",
        "model",
        "joinery",
        "solids",
        "setting_out",
        "derive",
        "resources",
    },
    "book": {
        "english",
        "raster",
        "folder_files",
        "note_pictures",
        "units",
        "language",
        "model",
        "joinery",
        "draw",
        "setting_out",
        "derive",
        "checks",
        "resources",
    },
    "looks": {"english", "units", "model", "solids", "derive", "draw"},
    "preview": {
        "compiler",
        "workers",
        "workshop",
        "units",
        "model",
        "source",
        "solids",
        "setting_out",
        "derive",
        "draw",
        "book",
        "resources",
    },
    "places": {"model"},
    "other_ways": {"units", "model", "source", "resolve", "solids", "derive", "checks"},
    "workers": {"compiler", "second_process"},
    "workshop": {
        "cache",
        "workers",
        "compiler",
        "units",
        "model",
        "source",
        "resolve",
        "solids",
        "derive",
        "checks",
        "draw",
        "book",
        "resources",
    },
    "catalogue": {
        "cache",
        "compiler",
        "folder_files",
        "model",
        "outputs",
        "raster",
        "resources",
        "solids",
        "source",
        "units",
    },
    "sell": {"english", "units", "language", "outputs", "book", "model", "resources"},
    "commands": {
        "catalogue",
        "looks",
        "sell",
        "book",
        "english",
        "codes",
        "compiler",
        "workshop",
        "preview",
        "units",
        "model",
        "source",
        "resolve",
        "solids",
        "resources",
        "outputs",
    },
    "compiler": {
        "places",
        "other_ways",
        "second_process",
        "cache",
        "units",
        "model",
        "source",
        "resolve",
        "solids",
        "derive",
        "checks",
        "draw",
        "book",
        "resources",
    },
    "cli": {"second_process", "compiler", "units", "model", "source", "outputs", "preview", "commands", "resources"},
}

# The sub-rooms of the large rooms, low to high: one may import those before it. The files beside them use all.
SUB_ROOMS = {
    "resolve": ("names", "parts", "joints", "machining", "fittings"),
    "derive": ("shop", "cut_list", "layout", "assembly", "operations", "buying"),
    "draw": ("paper", "sight", "at_step", "picture", "part", "template", "piece", "joint", "step", "turnable"),
    "book": ("words", "page", "chapters", "output"),
}


def room_of(file: Path) -> str:
    return file.relative_to(SOURCE).parts[0].removesuffix(".py")


def modules_of(file: Path) -> set[str]:
    """The modules of ours that a file imports, lazily or not, without `drawleaf.` before them."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: relative import; name the room"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        else:
            continue
        found |= {name.removeprefix("drawleaf.") for name in names if name.startswith("drawleaf.")}
    return found - {"__version__"}


def imports_of(file: Path) -> set[str]:
    """The rooms that a file imports."""
    return {name.partition(".")[0] for name in modules_of(file)}


FILES = sorted(SOURCE.rglob("*.py"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(SOURCE)))
def test_no_import_runs_backwards(file: Path) -> None:
    room = room_of(file)
    if room == "__init__":
        return
    backwards = imports_of(file) - MAY_IMPORT[room] - {room}
    assert not backwards, f"{room} must not import {', '.join(sorted(backwards))}"


def test_every_room_is_known() -> None:
    assert {room_of(file) for file in FILES} - {"__init__"} <= set(MAY_IMPORT)


def backwards_in(room: str) -> list[str]:
    """Imports of a room that run from a sub-room to a later one, or to a file beside the sub-rooms."""
    order = SUB_ROOMS[room]
    found = []
    for file in sorted((SOURCE / room).rglob("*.py")):
        own, *rest = file.relative_to(SOURCE / room).parts
        if not rest:
            continue
        for module in modules_of(file):
            top, _, inner = module.partition(".")
            target = inner.partition(".")[0]
            if top == room and target not in order[: order.index(own) + 1]:
                found.append(f"{own}/{'/'.join(rest)} -> {module}")
    return found


@pytest.mark.parametrize("room", sorted(SUB_ROOMS))
def test_no_import_runs_backwards_between_sub_rooms(room: str) -> None:
    """draw/paper knows nothing of draw/step; a file in a sub-room never imports one that stands beside the sub-rooms."""
    folders = {one.name for one in (SOURCE / room).iterdir() if (one / "__init__.py").exists()}
    assert folders == set(SUB_ROOMS[room])
    assert not backwards_in(room)


def test_every_folder_says_what_it_is_for() -> None:
    for file in sorted(SOURCE.rglob("__init__.py")):
        assert ast.get_docstring(ast.parse(file.read_text(encoding="utf-8"))), f"{file}: say what the folder is for"


@pytest.mark.parametrize("room", ["model", "resolve", "joinery", "solids", "setting_out", "derive", "checks", "draw"])
def test_only_the_ends_read_and_write(room: str) -> None:
    """No room between source and book opens a file of the author's or the buyer's."""
    for file in (SOURCE / room).rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                assert called not in {"open", "write_text", "write_bytes", "read_text", "mkdir"}, (
                    f"{file}:{node.lineno}"
                )
