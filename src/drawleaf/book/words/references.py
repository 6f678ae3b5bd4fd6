"""Sources as a buyer reads them: what was consulted, without the author's own note on how he knows it."""

from __future__ import annotations

import re

_HOW = r"(?:from memory|read in|seen in)[^();]*"
_NOTE = re.compile(rf"\s*\((?:[a-z]+ )?{_HOW}\)|,? {_HOW}(?=\)|;|$)")


def told(source: str) -> str:
    """The source without ``(from memory)`` and its like, which tell an author what to look up again."""
    return _NOTE.sub("", source)
