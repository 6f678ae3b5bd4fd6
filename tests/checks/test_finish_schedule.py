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


LID = """
stock:
  oak: {{material: construction lumber, size: 2x4}}
  thin: {{material: red oak board, size: 1x6}}
assemblies:
  lid:
    parts:
      rail: {{stock: oak, thickness: z, full_width: y, grain: x, left: 0, right: 400, front: 0, bottom: 0, mirror: {{y: 200}}}}
      board: {{stock: thin, thickness: z, grain: x, left: 0, right: 400, front: rail.back, back: rail.mirrored.front, bottom: 9, glue_up: {{strips: 3}}}}
    joints:
      - {{groove: board, in: rail, depth: 8, clearance: 3}}
finish:
{schedule}
"""


def test_the_mend_for_panels_works_as_it_is_printed(checked) -> None:
    """A stain that is kept for the whole lid comes too late for its panel; the two lines that the message gives make it right."""
    whole = "  - {apply: gel stain walnut, to: lid, before_assembly: no}\n"
    late = [one for one in checked(LID.format(schedule=whole)).diagnostics if one.code == "finish-schedule"]
    assert len(late) == 1
    line = late[0].mend.split("“")[1].split("”")[0]
    but = late[0].mend.split("“")[2].split("”")[0]
    mended = f"  {line}\n" + whole.replace("}", f", {but}}}")
    assert "finish-schedule" not in {one.code for one in checked(LID.format(schedule=mended)).diagnostics}, mended
