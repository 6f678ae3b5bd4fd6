"""The nearest of some known names to one that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher

_NEAR_ENOUGH = 0.55


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name most like ``name``, or None where none is near. Equal likeness goes to the first in alphabet."""
    wanted = _plain(name)
    best, likeness = None, 0.0
    for candidate in sorted(set(known)):
        same = SequenceMatcher(None, wanted, _plain(candidate)).ratio()
        if same > likeness:
            best, likeness = candidate, same
    return best if likeness >= _NEAR_ENOUGH else None


def did_you_mean(name: str, known: Iterable[str], *, otherwise: str = "") -> str:
    """``Did you mean “side”?``, or ``otherwise`` where nothing is near."""
    near = nearest(name, known)
    return f"Did you mean “{near}”?" if near else otherwise


def listed(names: Iterable[str], joiner: str = "or") -> str:
    """``a, b or c``, in the order given."""
    words = list(names)
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joiner} {words[-1]}"


def _plain(name: str) -> str:
    return name.lower().replace("-", "_").replace(" ", "_")
