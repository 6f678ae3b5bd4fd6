"""Editions laid over a plan, each changed value pointed at where the edition writes it."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf.model.diagnostic import Severity
from drawleaf.source.editions import apply_edition
from drawleaf.source.library import load_library
from drawleaf.source.reader import Reading, read_plan
from tiny_pictures import png

LIBRARY, _ = load_library([])

PLAN = """\
plan: {title: Bench, number: B-1, date: 2026-11-20, author: A, units: in}
dimensions: {width: 42, depth: 15}
counts: {hooks: 5}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  oak: {material: red oak board, size: 1x4}
assemblies:
  case:
    assemblies:
      drawer: {}
  top:
    assemblies:
      lid: {}
      drawer: {}
editions:
"""


def read(folder: Path, editions: str) -> Reading:
    (folder / "plan.yaml").write_text(PLAN + editions)
    return read_plan(folder, LIBRARY)


def place(reading: Reading, *path: str) -> tuple[int, int]:
    where = reading.positions.of(reading.file, path)
    return where.line, where.column


def test_changes_keep_their_own_places(tmp_path: Path) -> None:
    wide = "  wide: {title: Wide, units: mm, paper: a4, round_to: 1 mm, tools: hand tools, dimensions: {width: 48}, counts: {hooks: 8}}\n"
    base = read(tmp_path, wide)
    assert not base.diagnostics
    changed = apply_edition(base, "wide")
    plan = changed.plan
    assert plan is not None
    assert plan.dimensions == {"width": "48", "depth": "15"}
    assert plan.counts == {"hooks": "8"}
    assert (plan.plan.title, plan.plan.units, plan.plan.paper, plan.plan.round_to) == ("Wide", "mm", "a4", "1 mm")
    assert plan.shop.tools == "hand tools"
    assert (plan.plan.number, plan.plan.path, plan.plan.source_file) == ("B-1", ("plan",), base.file)
    assert changed.edition == "wide"
    line = PLAN.count("\n") + 1
    assert place(base, "dimensions", "width") == (2, 21)
    assert place(changed, "dimensions", "width") == (line, wide.index("48") + 1)
    assert place(changed, "dimensions", "depth") == (2, 32)
    assert place(changed, "counts", "hooks") == (line, wide.index("8}}") + 1)
    assert place(changed, "plan", "round_to") == (line, wide.index("1 mm") + 1)
    assert place(changed, "shop", "tools") == (line, wide.index("hand tools") + 1)
    assert place(changed, "plan", "title") == (line, wide.index("Wide") + 1)
    # The plan as read is as it was.
    assert base.plan is not None
    assert base.plan.dimensions["width"] == "42"


def test_stock_changes_leave_the_rest(tmp_path: Path) -> None:
    base = read(tmp_path, "  metric: {stock: {ply: {nominal: 18 mm, actual: 17.8 mm}, oak: {nominal: 20 mm}}}\n")
    assert not base.diagnostics
    plan = apply_edition(base, "metric").plan
    assert plan is not None
    ply, oak = plan.stock["ply"], plan.stock["oak"]
    assert (ply.material, ply.nominal, ply.actual) == ("birch plywood", "18 mm", "17.8 mm")
    # A nominal thickness takes the place of a nominal size.
    assert (oak.nominal, oak.size) == ("20 mm", None)
    assert ply.path == ("stock", "ply")


def test_a_thickness_measured_on_other_stock_is_advised(tmp_path: Path) -> None:
    base = read(tmp_path, "  metric: {stock: {ply: {nominal: 18 mm}}}\n")
    assert [(one.code, one.severity) for one in base.diagnostics] == [("stale-thickness", Severity.ADVICE)]
    assert base.diagnostics[0].related[0][0].line == 5


def test_assemblies_left_out(tmp_path: Path) -> None:
    base = read(tmp_path, "  plain: {without: [lid, case.drawer]}\n")
    assert not base.diagnostics
    changed = apply_edition(base, "plain")
    assert list(changed.without) == ["top.lid", "case.drawer"]
    assert changed.without["top.lid"].column == "  plain: {without: [lid".index("lid") + 1
    assert base.without == {}


@pytest.mark.parametrize(
    ("edition", "code", "column", "words"),
    [
        ("a: {dimensions: {widht: 3}}", "unknown-name", 20, "“width”"),
        ("a: {dimensions: {hooks: 3}}", "unknown-name", 20, "under “counts”"),
        ("a: {counts: {width: 3}}", "unknown-name", 16, "under “dimensions”"),
        ("a: {counts: {xyz: 3}}", "unknown-name", 16, "Define it"),
        ("a: {stock: {plie: {actual: 3/4}}}", "unknown-name", 15, "“ply”"),
        ("a: {without: [cse]}", "unknown-assembly", 17, "“case”"),
        ("a: {without: [drawer]}", "unknown-assembly", 17, "case.drawer or top.drawer"),
        ("a b: {units: mm}", "odd-name", 3, "letters, digits"),
        ("../a: {units: mm}", "odd-name", 3, "letters, digits"),
        ("a: {dimensions: {width: 3-1}}", "ambiguous", 27, "3 - 1"),
        ("a: {unit: mm}", "unknown-key", 7, "“units”"),
    ],
)
def test_mistakes_are_told_when_the_plan_is_read(
    tmp_path: Path, edition: str, code: str, column: int, words: str
) -> None:
    reading = read(tmp_path, f"  {edition}\n")
    assert [one.code for one in reading.diagnostics] == [code]
    found = reading.diagnostics[0]
    assert found.position is not None
    assert (found.position.line, found.position.column) == (PLAN.count("\n") + 1, column)
    assert words in found.mend


def test_an_unknown_edition(tmp_path: Path) -> None:
    base = read(tmp_path, "  wide: {units: mm}\n")
    found = apply_edition(base, "wiide").diagnostics
    assert [one.code for one in found] == ["unknown-edition"]
    assert "“wide”" in found[0].mend
    assert found[0].position is not None
    assert found[0].position.line == PLAN.count("\n")
    assert apply_edition(base, None) is base


def test_an_edition_has_words_of_its_own_where_the_plan_s_would_name_what_it_leaves_out(tmp_path: Path) -> None:
    reading = apply_edition(
        read(
            tmp_path,
            "  plain: {without: [top], summary: A case alone., hard_parts: [], care: [Keep it dry.], skill: beginner}",
        ),
        "plain",
    )
    assert reading.plan is not None
    head = reading.plan.plan
    assert (head.summary, head.hard_parts, head.care, head.skill) == ("A case alone.", [], ["Keep it dry."], "beginner")
    assert head.title == "Bench"


def test_lines_go_to_the_assembly_that_is_meant_and_to_no_other_of_that_name(tmp_path: Path) -> None:
    editions = "  bored: {assemblies: {lid: {dimensions: {hole: 1}}}}\n  told: {assemblies: {drawer: {}}}\n"
    (tmp_path / "plan.yaml").write_text(PLAN.replace("  top:\n", "  lid: {}\n  top:\n") + editions)
    base = read_plan(tmp_path, LIBRARY)
    assert [(one.message, one.mend) for one in base.diagnostics] == [
        ("More than one assembly is named “drawer”", "Write case.drawer or top.drawer.")
    ]
    plan = apply_edition(base, "bored").plan
    assert plan is not None
    assert plan.assemblies["lid"].dimensions == {"hole": "1"}
    assert plan.assemblies["top"].assemblies["lid"].dimensions == {}


def test_the_cover_s_picture_goes_with_what_it_shows(tmp_path: Path) -> None:
    """An edition in other units shows the same piece; a wider one has the drawing, or a picture of its own."""
    (tmp_path / "a.png").write_bytes(png())
    (tmp_path / "b.png").write_bytes(png())
    editions = "  metric: {units: mm, paper: a4}\n  wide: {dimensions: {width: 48}}\n  own: {dimensions: {width: 48}, cover: {picture: b.png}}\n"
    reading = read(tmp_path, editions + "cover: {picture: a.png}\n")
    assert reading.diagnostics == ()
    covers = {}
    for name in (None, "metric", "wide", "own"):
        plan = apply_edition(reading, name).plan
        assert plan is not None
        covers[name] = plan.cover.picture if plan.cover else None
    assert covers == {None: "a.png", "metric": "a.png", "wide": None, "own": "b.png"}


def test_a_picture_called_cover_goes_on_the_cover_by_itself(tmp_path: Path) -> None:
    """Nothing is written in the plan; another picture that is named goes first."""
    (tmp_path / "cover.png").write_bytes(png())
    (tmp_path / "b.png").write_bytes(png())
    for line, picture in (("", "cover.png"), ("cover: {picture: b.png}\n", "b.png")):
        plan = read(tmp_path, "  metric: {units: mm}\n" + line).plan
        assert plan is not None
        assert plan.cover is not None
        assert plan.cover.picture == picture
    (tmp_path / "cover.png").write_bytes(b"no picture")
    assert [one.code for one in read(tmp_path, "  metric: {units: mm}\n").diagnostics] == ["not-a-picture"]


def test_a_cover_without_its_picture_is_told(tmp_path: Path) -> None:
    reading = read(tmp_path, "  metric: {units: mm}\ncover: {picture: gone.png}\n")
    assert [one.code for one in reading.diagnostics] == ["no-such-file"]
