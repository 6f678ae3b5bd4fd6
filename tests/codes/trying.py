"""Runs a catalogue example until its code is told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from drawleaf.codes import Example
from drawleaf.codes.samples import SAMPLES
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.resources import product_folder, shared_folders
from drawleaf.source.library import load_library
from drawleaf.source.reader import read_plan

OURS = product_folder("shared")


@cache
def our_library():
    return load_library((OURS,))


def source_of(example: Example) -> str:
    """The plan that an example shows."""
    sample = SAMPLES[example.sample]
    if not example.right:
        return example.wrong or sample
    assert sample.count(example.right) == 1, f"{example.right!r} stands {sample.count(example.right)} times"
    return sample.replace(example.right, example.wrong)


def write(example: Example, folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "plan.yaml").write_text(source_of(example), encoding="utf-8")
    for name, content in example.files.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content if isinstance(content, bytes) else content.encode())


def told(example: Example, folder: Path) -> Iterator[Diagnostic]:
    """All that is said about an example, stage by stage; later stages are not run before they are asked for."""
    from drawleaf.checks import run_checks
    from drawleaf.derive.derive import derive
    from drawleaf.resolve.resolver import resolve
    from drawleaf.solids.build import build_solids
    from drawleaf.solids.proofs import prove

    write(example, folder)
    folders = shared_folders(folder)
    library, found = our_library() if folders == (OURS,) else load_library(folders)
    yield from found
    reading = read_plan(folder, library)
    yield from reading.diagnostics
    if reading.plan is None:
        return
    plan, found = resolve(replace(reading, diagnostics=()), edition=example.edition)
    yield from found
    if plan is None:
        return
    solids = build_solids(plan)
    found = prove(plan, solids)
    yield from found
    if any(one.is_error for one in found):
        return
    derived, found = derive(plan, solids)
    yield from found
    if not any(one.is_error for one in found):
        yield from run_checks(derived, solids)[1]
