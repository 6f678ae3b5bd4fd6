"""A compile's files, read: the plan as data, the two lists, the drawings, the pages."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

Data = dict[str, Any]
AXES = ("x", "y", "z")
SLACK = 0.01
"""Millimetres; lengths are exact, so that this is for what was turned or rounded."""


class UnreadableError(Exception):
    """A file that is no JSON, CSV or XML as its standard has it."""


@dataclass(frozen=True)
class Outputs:
    """``cut_list`` and ``shopping`` are the rows of the CSV files, None where there was none; ``drawings`` by name without ending."""

    plan: Data
    cut_list: list[dict[str, str]] | None
    shopping: list[dict[str, str]] | None
    drawings: dict[str, ElementTree.Element]
    html: str | None

    @cached_property
    def parts(self) -> dict[str, Data]:
        return {part["id"]: part for part in self.plan["parts"]}

    @cached_property
    def layouts(self) -> list[Data]:
        return [*self.plan["layouts"]["sheets"], *self.plan["layouts"]["boards"]]


def of_folder(folder: Path) -> Outputs:
    """Those in a folder that a compile wrote."""
    return of_files(
        {file.relative_to(folder).as_posix(): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
    )


def of_files(files: Mapping[str, bytes]) -> Outputs:
    """Those of a compile that wrote nothing yet. Raises UnreadableError."""
    html = next((content.decode("utf-8") for name, content in files.items() if name.endswith(".html")), None)
    try:
        plan = json.loads(files["plan.json"].decode("utf-8"), parse_constant=_refused)
        drawings = {
            Path(name).stem: ElementTree.fromstring(content) for name, content in files.items() if name.endswith(".svg")
        }
    except (ValueError, ElementTree.ParseError) as error:
        raise UnreadableError(str(error)) from error
    return Outputs(plan, _rows(files.get("cut-list.csv")), _rows(files.get("shopping-list.csv")), drawings, html)


def _refused(word: str) -> None:
    raise ValueError(f"{word} is no number")


def _rows(content: bytes | None) -> list[dict[str, str]] | None:
    if content is None:
        return None
    text = content.decode("utf-8")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    if any(len(row) != len(rows[0]) for row in rows):
        raise UnreadableError("a row of a list has too few or too many cells")
    return [dict(zip(rows[0], row, strict=True)) for row in rows[1:]]


def exact(length: Data) -> Fraction:
    """Millimetres."""
    return Fraction(length["exact"])


def mm(length: Data) -> float:
    return float(Fraction(length["exact"]))


def spot(point: Data) -> tuple[float, float, float]:
    x, y, z = (mm(point[axis]) for axis in AXES)
    return x, y, z
