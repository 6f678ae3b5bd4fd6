"""The booklet for a screen: every place that it leads to is there, once, and nothing of it lies elsewhere."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from html.parser import HTMLParser

from fuzz.outputs_reader.outputs import Outputs


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.ids: Counter[str] = Counter()
        self.leads: list[str] = []
        self.sources: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name == "id" and value:
                self.ids[value] += 1
            elif name in ("href", "xlink:href") and value:
                self.leads.append(value)
            elif name == "src" and value:
                self.sources.append(value)


def _read(html: str) -> _Reader:
    reader = _Reader()
    reader.feed(html)
    return reader


def links_lead_somewhere(outputs: Outputs) -> Iterator[str]:
    if outputs.html is None:
        return
    found = _read(outputs.html)
    yield from (
        f"{lead} leads nowhere"
        for lead in sorted(set(found.leads))
        if lead.startswith("#") and lead[1:] not in found.ids
    )
    yield from (f"the place “{name}” is there {count} times" for name, count in found.ids.items() if count > 1)


def nothing_lies_elsewhere(outputs: Outputs) -> Iterator[str]:
    if outputs.html is None:
        return
    found = _read(outputs.html)
    yield from (f"{source[:60]} lies elsewhere" for source in found.sources if not source.startswith("data:"))


RULES = (links_lead_somewhere, nothing_lies_elsewhere)
