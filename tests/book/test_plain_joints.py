"""A joint that a section would show as two boards and a screw is a row of a table."""

from __future__ import annotations

from tests.conftest import ROOT, drawn

from drawleaf.book.chapters import elevations
from drawleaf.book.chapters.context import Book


def test_square_butts_stand_in_a_table_and_what_is_cut_is_drawn() -> None:
    derived, drawings = drawn("key-ledge")
    book = Book.of(derived, drawings, for_print=True, plan_folder=ROOT / "plans" / "key-ledge")
    found = elevations.gather(book)
    assert found is not None
    rows = {row.detail.id: row for row in found["plain"]}
    figures = {one.id for page in found["pages"] for column in page for one in column}
    assert rows.keys() | figures == {one.id for one in drawings.details}
    assert not rows.keys() & figures
    for joint in derived.plan.joints:
        detail = drawings.detail_of.get(joint.id)
        if detail in rows:
            assert not joint.depth
            assert not any(one.plug or one.slotted for one in joint.fasteners)
    (screwed,) = [row for row in rows.values() if "screw" in row.held]
    assert "glue" in screwed.held
    assert screwed.clearance
    assert screwed.pilot
    # A name may begin with a figure: "6 18 gauge brads" would be no count.
    (nailed,) = [row for row in rows.values() if "brads" in row.held]
    assert nailed.held.striptags().replace("\u00a0", " ").startswith("6 × 18 gauge")
