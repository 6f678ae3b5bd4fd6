"""Where holes are marked, place by place: as sentences, or as a small table where there are many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from drawleaf.english import capitalized

TABLE_FROM = 3
"""So many places stand in a table; fewer are told."""


@dataclass(frozen=True, slots=True)
class MarkRow:
    """Holes on one side of parts that are alike: ``the back edge`` of which parts, how far from which edges, and how deep."""

    side: str
    parts: Markup
    measures: Markup
    deep: Markup = Markup("")
    remark: str = ""

    def __html__(self) -> str:
        deep = Markup(", {} deep").format(self.deep) if self.deep else ""
        return Markup("{} of {}: {}{}").format(self.side, self.parts, self.measures, deep)


def same_depth(rows: Sequence[MarkRow]) -> Markup:
    """The depth that all of them have; empty where they differ, or go through."""
    return rows[0].deep if len({row.deep for row in rows}) == 1 else Markup("")


def table_of(rows: Sequence[MarkRow]) -> Markup:
    """A row for each, without the depth where all share it. Markup without line breaks, that stands within an action."""
    shared = same_depth(rows)
    lines = [
        Markup('<tr><th scope="row">{} of {}</th><td>{}{}{}</td></tr>').format(
            capitalized(row.side.removeprefix("the ")),
            row.parts,
            row.measures,
            Markup(", {} deep").format(row.deep) if row.deep and not shared else "",
            f". {row.remark}" if row.remark else "",
        )
        for row in rows
    ]
    return Markup('<table class="marks"><tbody>{}</tbody></table>').format(Markup("").join(lines))
