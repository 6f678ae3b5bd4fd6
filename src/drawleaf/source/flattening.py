"""An assembly that takes a component, written out as one that holds all parts and lines of the component itself."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from drawleaf.source.likeness_names import LINES, NAMING, WORDS
from drawleaf.source.models import ComponentSource

Entry = dict[str, Any]


def flattened(entry: Entry, components: Mapping[str, ComponentSource]) -> Entry:
    """The entry with the component's parts and lines before its own. Its parameters become dimensions, under names that no plan uses."""
    component = components.get(str(entry.get("component")))
    if component is None:
        return entry
    held = component.model_dump(by_alias=True, exclude_unset=True, exclude_none=True)
    given = entry.get("with", {})
    inside = _Inside(component, given if isinstance(given, dict) else {})
    whole = {key: value for key, value in entry.items() if key not in ("component", "with")}
    own = entry.get("dimensions", {})
    whole["dimensions"] = {**inside.dimensions(), **(own if isinstance(own, dict) else {})}
    parts = entry.get("parts", {})
    whole["parts"] = {**inside.changed(held["parts"], ""), **(parts if isinstance(parts, dict) else {})}
    for key in LINES:
        lines = [*inside.changed(held.get(key, []), key), *(entry.get(key) or [])]
        if lines:
            whole[key] = lines
    return whole


class _Inside:
    """Rewrites what a component says so that it can stand in a plan."""

    def __init__(self, component: ComponentSource, given: Mapping[str, Any]) -> None:
        self.component, self.given = component, given
        names = [*component.parameters, *component.dimensions]
        pattern = "|".join(sorted((re.escape(name) for name in names), key=len, reverse=True))
        self.values = re.compile(rf"(?<![\w.])({pattern})(?![\w.])") if names else None
        self.stocks = re.compile(r"(?<![\w.])stock\.([a-z][a-z0-9_]*)(?=\.)")

    def dimensions(self) -> dict[str, str]:
        """The component's parameters as given, or as they are if not, and its dimensions."""
        found = {f"given_{name}": str(text) for name, text in self.given.items() if name in self.component.parameters}
        for name, text in (*self.component.parameters.items(), *self.component.dimensions.items()):
            if text is not None:
                found.setdefault(f"given_{name}", self._sum(text))
        return found

    def changed(self, value: Any, key: str) -> Any:
        """The same with the plan's stocks, and with the parameters by their new names."""
        if isinstance(value, dict):
            return {name: self.changed(inner, name) for name, inner in value.items()}
        if isinstance(value, list):
            return [self.changed(inner, key) for inner in value]
        if key == "stock":
            return str(self.given.get(value, value))
        return value if key in WORDS or key in NAMING or not isinstance(value, str) else self._sum(value)

    def _sum(self, text: str) -> str:
        stocks: Callable[[re.Match[str]], str] = lambda one: f"stock.{self.given.get(one[1], one[1])}"  # noqa: E731
        text = self.stocks.sub(stocks, text)
        return text if self.values is None else self.values.sub(r"given_\1", text)
