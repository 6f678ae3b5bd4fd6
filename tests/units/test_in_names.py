"""Sizes in names are figures of their own."""

from __future__ import annotations

import pytest

from drawleaf.units import Mixed
from drawleaf.units.in_names import sizes_in

QUARTER, HALF = Mixed(False, 1, 1, 4), Mixed(False, 0, 1, 2)


@pytest.mark.parametrize(
    ("name", "pieces"),
    [
        ("#8 x 1-1/4 in wood screw", ("#8 × ", QUARTER, " in wood screw")),
        ("1/2 in shelf pin", (HALF, " in shelf pin")),
        ("18 gauge x 2 in brad", ("18 gauge × 2 in brad",)),
        ("Beech board, 27x120, 2000 mm", ("Beech board, 27\u00a0×\u00a0120, 2000 mm",)),
        ("Pine board, 1x4, 48 in", ("Pine board, 1x4, 48 in",)),
        ("box x ray", ("box x ray",)),
        ("and/or 2/4, 5/4 boards, 1/2/3", ("and/or 2/4, 5/4 boards, 1/2/3",)),
        ("", ("",)),
    ],
)
def test_a_name_is_cut_at_its_fractions(name: str, pieces: tuple[str | Mixed, ...]) -> None:
    assert sizes_in(name) == pieces
