"""Every family of hardware goes all the way: catalogue, cuts, step, wording, shape, page of the docs."""

from __future__ import annotations

import re

import pytest
import yaml
from tests.hardware.conftest import ROOT, library

from drawleaf.derive.operations.fitting_kinds import step_of
from drawleaf.model.hardware_family import HARDWARE_FAMILIES, HardwareFamily
from drawleaf.resolve.fittings.families import FAMILIES
from drawleaf.source.machining_models import MachiningEntry
from drawleaf.source.models import FittingEntry

PAGE = (ROOT / "docs" / "hardware.md").read_text(encoding="utf-8")


def lines_of(page: str) -> list[str]:
    """Every line of hardware on the page: from its brace to the brace that closes it."""
    found = []
    for start in (one.start() for one in re.finditer(r"\{item: ", page)):
        depth = 0
        for end in range(start, len(page)):
            depth += {"{": 1, "}": -1}.get(page[end], 0)
            if not depth:
                found.append(page[start : end + 1])
                break
    return [line for line in found if "..." not in line]


LINES = lines_of(PAGE)


@pytest.mark.parametrize("line", LINES)
def test_every_line_of_the_page_can_be_written(line: str) -> None:
    """It is a line of the source language, and its item is in the catalogue."""
    entry = FittingEntry.model_validate(_read(line))
    assert entry.item in library().catalogue.hardware


def test_recesses_and_sleeves_of_the_page_can_be_written() -> None:
    works = [line for line in PAGE.splitlines() if line.startswith("  - {in: ")]
    assert len(works) >= 3
    for line in works:
        MachiningEntry.model_validate(_read(line.strip().removeprefix("- ")))


def _read(text: str) -> object:
    """The reader keeps every scalar as it was written."""
    return yaml.load(text, Loader=yaml.BaseLoader)


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.key)
def test_a_family_has_items_a_step_and_its_words(family: HardwareFamily) -> None:
    items = [item for item in library().catalogue.hardware.values() if item.kind == family.key]
    assert items
    for item in items:
        assert item.family is family
        assert item.price is not None, item.id
        stem = re.sub(r"[\d/-]+ (in|mm)$", "", item.id).strip()
        assert stem in PAGE, f"docs/hardware.md does not tell of {item.id}"
        for screw in item.screws:
            assert screw.item in library().catalogue.hardware, (item.id, screw.item)
    if family.held_back:
        templates, way = (family.brings.template, family.brings.for_lid), family.brings.way
    else:
        assert family.step is not None
        templates, way = (step_of(items[0]).template,), family.step.way
    assert all((ROOT / "templates" / "steps" / f"{one}.j2").exists() for one in templates if one)
    assert way in library().catalogue.methods


def test_every_caution_of_a_family_is_worded() -> None:
    known = library().catalogue.cautions
    asked = [one for family in HARDWARE_FAMILIES for one in (*family.cautions, *family.brings.lid_cautions)]
    assert asked
    assert [one for one in asked if one not in known] == []


def test_the_page_says_what_there_is_to_say() -> None:
    assert len(LINES) > 15
