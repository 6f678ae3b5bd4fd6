"""The house: data flows one way, and no room imports one that comes after it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

SOURCE = Path(__file__).resolve().parent.parent / "src" / "drawleaf"

# Each room with the rooms that it may import. `units`, `kept`, `resources` and `outputs` are single files beside them.
MAY_IMPORT = {
    "units": set(),
    "model": {"units"},
    "resources": set(),
    "kept": {"units", "model"},
    "both_hands": set(),
    "raster": set(),
    "codes": {"model"},
    "outputs": set(),
    "source": {"units", "model", "resources", "raster"},
    "joinery": {"units", "model", "source"},
    "resolve": {"units", "model", "source", "joinery"},
    "solids": {"units", "model"},
    "derive": {"kept", "units", "model", "solids", "joinery"},
    "checks": {"units", "model", "joinery", "solids", "derive"},
    "draw": {"both_hands", "kept", "units", "model", "solids", "derive", "resources"},
    "book": {"raster", "units", "model", "draw", "derive", "checks", "resources"},
    "preview": {
        "compiler",
        "crew",
        "workshop",
        "units",
        "model",
        "source",
        "solids",
        "derive",
        "draw",
        "book",
        "resources",
    },
    "blame": {"model"},
    "crew": {"compiler", "workshop"},
    "workshop": {
        "kept",
        "crew",
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
    "commands": {
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
        "blame",
        "both_hands",
        "kept",
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
    "cli": {"both_hands", "compiler", "units", "model", "source", "outputs", "preview", "commands", "resources"},
}


def room_of(file: Path) -> str:
    return file.relative_to(SOURCE).parts[0].removesuffix(".py")


def imports_of(file: Path) -> set[str]:
    """The rooms that a file imports, lazily or not."""
    rooms = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: relative import; name the room"
            names = [
                f"{node.module}.{alias.name}" if node.module == "drawleaf" else node.module or ""
                for alias in node.names
            ]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        else:
            continue
        rooms |= {name.split(".")[1] for name in names if name.startswith("drawleaf.") and name.count(".")}
    return rooms - {"__version__"}


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


@pytest.mark.parametrize("room", ["model", "resolve", "joinery", "solids", "derive", "checks", "draw"])
def test_only_the_ends_read_and_write(room: str) -> None:
    """No room between source and book opens a file of the author's or the buyer's."""
    for file in (SOURCE / room).rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                assert called not in {"open", "write_text", "write_bytes", "read_text", "mkdir"}, (
                    f"{file}:{node.lineno}"
                )
