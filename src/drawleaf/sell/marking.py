"""What a booklet marks as changed since a revision that was sold, and the line of its history."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawleaf.english import capitalized
from drawleaf.language import Words
from drawleaf.model.revised import Revised
from drawleaf.sell.change import Change, Kind, Subject
from drawleaf.sell.comparing import compare, laid_otherwise, other_boards
from drawleaf.sell.pairing import pair_up
from drawleaf.sell.piece import Compiled
from drawleaf.sell.remaking import Fate, verdict

NAMED = 6
"""So many things of a kind are named in the line of the history; of more it says how many."""


def revised(old: Compiled, new: Compiled) -> Revised:
    """What is new or other in ``new``: its parts, steps, layouts and hardware."""
    changes, pairs = compare(old, new), pair_up(old.parts, new.parts)
    parts = {part.id for part in pairs.added}
    parts |= {
        after.id
        for before, after in pairs.pairs
        if before.name != after.name or verdict(before, after).fate is not Fate.FITS
    }
    hardware = {
        item for item, row in new.hardware.items() if item not in old.hardware or old.hardware[item].count != row.count
    }
    stocks = {*other_boards(old, new), *laid_otherwise(old, new, pairs)}
    steps = {one.new_step.id for one in changes if one.new_step is not None}
    return Revised(
        old.revision,
        frozenset(parts),
        frozenset(steps),
        frozenset(stocks),
        frozenset(hardware),
        _line(old, new, changes),
    )


def _line(old: Compiled, new: Compiled, changes: Sequence[Change]) -> str:
    """``Since revision A: changed: Front, Shelf; new: #8 x 1-3/4 in wood screw.``"""
    words = Words(new.language)
    told = [
        f"{words.put(kind.value)}: {names}"
        for kind in (Kind.CHANGED, Kind.ADDED, Kind.DROPPED)
        if (
            names := _names(
                one for one in changes if one.kind is kind and one.subject in (Subject.PART, Subject.HARDWARE)
            )
        )
    ]
    if any(one.safety for one in changes):
        told.insert(0, words.put("a change of the cautions"))
    if not told:
        told = [words.put("words and drawings") if changes else words.put("nothing of the piece")]
    return capitalized(words.tell("since revision {}: {}.", old.revision, "; ".join(told)))


def _names(changes: Iterable[Change]) -> str:
    names = list(dict.fromkeys(name for one in changes for name in one.names))
    more = len(names) - NAMED
    return ", ".join(names[:NAMED]) + (f" (+{more})" if more > 0 else "")
