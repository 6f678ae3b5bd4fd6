"""What the fuzz led by coverage starts from, what it found, and that its edits are edits."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from fuzz.edits import misspelt, read
from fuzz.guided import CORPUS, HERE, editor
from fuzz.trying import Trials

FOUND = sorted((HERE / "found").glob("*.yaml"))
SEEDS = sorted(CORPUS.glob("*.yaml"))


@pytest.fixture(scope="module")
def trials(tmp_path_factory: pytest.TempPathFactory) -> Trials:
    return Trials(tmp_path_factory.mktemp("trials"))


@pytest.mark.parametrize("seed", SEEDS, ids=lambda file: file.stem)
def test_a_seed_is_good(seed: Path, trials: Trials) -> None:
    """Tiny and good, so that what is one edit away from it reaches deep into the compiler."""
    assert trials.trouble_with(seed.read_text(encoding="utf-8")) is None
    assert trials.passed


@pytest.mark.parametrize("found", FOUND, ids=lambda file: file.stem)
def test_what_was_found_stays_mended(found: Path, trials: Trials) -> None:
    """Each once ended in a traceback, a hang, a message without a place, or outputs that cannot be; whatever units and kit are asked for."""
    text = found.read_text(encoding="utf-8")
    for dice in range(6):
        assert trials.trouble_with(text, dice) is None


def test_edits_are_edits_and_mostly_yaml() -> None:
    """The same dice, the same edit; and the tree of what is written is that of a plan."""
    made, texts = editor(), [seed.read_text(encoding="utf-8") for seed in SEEDS]
    edited = [made.edited(texts[at % len(texts)], Random(at)) for at in range(120)]
    assert edited == [made.edited(texts[at % len(texts)], Random(at)) for at in range(120)]
    assert len(set(edited)) > 100
    assert sum(text is not None and read(text) is not None for text in edited) == len(edited)


def test_letters_are_changed_too() -> None:
    text = SEEDS[0].read_text(encoding="utf-8")
    assert len({misspelt(text, Random(at)) for at in range(50)}) > 45
