"""Lines of notes are broken between words; a comma stays with the figure before it."""

from __future__ import annotations

import pytest

from drawleaf.draw.paper.lettering import inline_pieces, label
from drawleaf.draw.paper.wrapping import wrapped
from drawleaf.units import Length, LengthFormat

FORM = LengthFormat()


@pytest.mark.parametrize("width", range(24, 60, 2))
def test_no_line_begins_with_a_comma(width: int) -> None:
    line = (
        "Pilot holes, diameter ",
        *inline_pieces(FORM, Length.of_inches(4)),
        ", ",
        *inline_pieces(FORM, Length.of_inches(12)),
        " deep; countersunk on the bottom face",
        ", ",
        *inline_pieces(FORM, Length.of_inches(4)),
        " apart",
    )
    rows = wrapped([line], float(width))
    assert len(rows) > 1
    for row in rows:
        assert not (isinstance(row[0], str) and row[0].startswith((",", ";")))
        assert label([row]).width <= width or len(row) < 4
