"""Which woods take stain in blotches."""

from __future__ import annotations

from tests.conftest import ROOT

from drawleaf.source.library import load_library

BLOTCHY = ("pine", "spruce", "fir", "cherry", "maple", "birch", "beech", "poplar")
EVEN = ("oak", "walnut", "ash")


def test_each_stock_of_a_wood_that_blotches_is_known_to() -> None:
    """However it is sold: as boards, as rough lumber, as a glued panel, as plywood. Edge banding and rods are not stained by themselves."""
    materials = load_library([ROOT / "shared"])[0].catalogue.materials
    sold = ("board", "lumber", "panel", "timber", "plywood")
    known = {id_: one.blotches for id_, one in materials.items() if id_.split()[-1] in sold}
    wrong = [id_ for id_, blotches in known.items() if blotches is not any(wood in id_.split() for wood in BLOTCHY)]
    assert [id_ for id_ in wrong if id_ != "construction lumber"] == []
    assert known["construction lumber"], "it is pine, spruce or fir"
    assert {wood for wood in (*BLOTCHY, *EVEN) if not any(wood in id_.split() for id_ in known)} == set()
