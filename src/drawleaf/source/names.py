"""The nearest of some known names to one that is not known."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import SequenceMatcher
from fractions import Fraction

from drawleaf.english import listed

_NEAR_ENOUGH, _NEAR_ENOUGH_IF_SHORT = 0.6, 0.55
_SHORT = 6
_AS_GOOD_AS_SURE = 0.8
_MOST_NAMED = 6
_MOST_SIZES = 24
_MOST_LISTED = 12
_SIZE = re.compile(r" \d[^ ]*( (in|mm))?$")


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name most like ``name``, or None where none is near. Equal likeness goes to the first in alphabet."""
    return _nearest(name, known)[0]


def did_you_mean(name: str, known: Iterable[str], *, otherwise: str = "") -> str:
    """``Did you mean “side”?``, or ``otherwise`` where nothing is near; without that the few names that there are.

    A misspelt name has one that is almost the same; a name cut short or half remembered (``dowel``, ``drawer slides 12``) those that share
    its words; one of a row of sizes (``wood screw 8 x 7``) its whole row.
    """
    names = sorted(set(known))
    if row := _row_of_sizes(name, names):
        return row
    near, likeness = _nearest(name, names)
    if near is not None and likeness >= _AS_GOOD_AS_SURE:
        return f"Did you mean “{near}”?"
    if alike := _sharing_words(name, names):
        return f"Did you mean {listed([f'“{one}”' for one in alike], 'or')}?"
    if near:
        return f"Did you mean “{near}”?"
    listing = [f"“{one}”" for one in names]
    return otherwise or (f"Write {listed(listing, 'or')}." if 0 < len(names) <= _MOST_LISTED else "")


def without_sizes(names: Iterable[str]) -> list[str]:
    """Rows of sizes told by what they are sizes of, in alphabet: ``dowel 1/4 x 1-1/2`` and ``dowel 3/8 x 2`` are both ``dowel``."""
    return sorted({re.split(r" \d", one)[0] for one in names})


def _nearest(name: str, known: Iterable[str]) -> tuple[str | None, float]:
    wanted = _plain(name)
    best, likeness = None, 0.0
    for candidate in sorted(set(known)):
        same = SequenceMatcher(None, wanted, _plain(candidate)).ratio()
        if same > likeness:
            best, likeness = candidate, same
    enough = _NEAR_ENOUGH_IF_SHORT if len(wanted) < _SHORT else _NEAR_ENOUGH
    return (best, likeness) if likeness >= enough else (None, 0.0)


def _sharing_words(name: str, names: list[str]) -> list[str]:
    """The few names that share most words with ``name``: all of its words, or two at least."""
    wanted = _words(name)
    shares = {one: len(wanted & _words(one)) for one in names}
    most = max(shares.values(), default=0)
    if most == 0 or most < min(2, len(wanted)):
        return []
    alike = [one for one in names if shares[one] == most]
    kinds = sorted({_SIZE.sub("", one) for one in alike})
    return alike if len(alike) <= _MOST_NAMED else [f"{kind} …" for kind in kinds] if len(kinds) <= _MOST_NAMED else []


def _row_of_sizes(name: str, names: list[str]) -> str:
    """The sizes that there are of a thing whose name ends in a size; empty where it is no such thing."""
    cut = _SIZE.search(name)
    for start in (name, name[: cut.start()] if cut else ""):
        sizes = [one[len(start) + 1 :] for one in names if start and one.startswith(f"{start} ")]
        if len(sizes) > 1 and len(sizes) <= _MOST_SIZES and all(size[0].isdigit() for size in sizes):
            return f"After “{start}” stands {listed(sorted(sizes, key=_by_figures), 'or')}."
    return ""


def _by_figures(size: str) -> tuple[list[Fraction], str]:
    """``10 x 1-1/2`` by its figures, so that sizes are in their order."""
    figures = [re.findall(r"\d+/[1-9]\d*|\d+", piece) for piece in size.split(" ")]
    return [sum(map(Fraction, figure), Fraction(0)) for figure in figures if figure], size


def _words(name: str) -> frozenset[str]:
    return frozenset(word for word in re.split(r"[\s_.-]+", name.lower()) if word)


def _plain(name: str) -> str:
    return name.lower().replace("-", "_").replace(" ", "_")
