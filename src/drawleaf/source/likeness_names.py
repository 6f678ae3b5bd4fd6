"""An assembly that is like another means itself where the other means itself."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, get_args

from drawleaf.joinery import FAMILIES
from drawleaf.source.nodes import FaceName

NAMING = {
    *(one.facts.key for one in FAMILIES),
    *("in", "to", "after", "before", "through", "on", "carries", "other_half_on", "backing", "from"),
    *("spacer", "batten"),
}
"""Keys whose values name parts and assemblies."""
LINES = ("joints", "machining", "hardware")
"""Keys of an assembly that hold lists of lines."""
FACES = get_args(FaceName)
WORDS = ("name", "note", "stock", "item")
"""Keys whose values name no part, whatever word stands there."""


def names_parts(text: str, key: str) -> bool:
    """Whether a key's value names a part or an assembly. “on: front” is a side, though an assembly may be called so."""
    return key in NAMING and not (key == "on" and text in FACES)


def with_own_name(entry: Any, old: str, new: str) -> Any:
    """A copy of an assembly's entry in which its own name, alone or before the name of a part, is the new one."""
    inside = re.compile(rf"(?<![\w.]){re.escape(old)}(?=\.[a-z])")
    alone = re.compile(rf"(?<![\w.]){re.escape(old)}(?![\w])")

    def change(text: str, key: str) -> str:
        if key in WORDS:
            return text
        return (alone if names_parts(text, key) else inside).sub(new, text)

    return _renamed(entry, "", change)


def _renamed(value: Any, key: str, change: Callable[[str, str], str]) -> Any:
    if isinstance(value, dict):
        return {name: _renamed(inner, name, change) for name, inner in value.items()}
    if isinstance(value, list):
        return [_renamed(inner, key, change) for inner in value]
    return change(value, key) if isinstance(value, str) else value
