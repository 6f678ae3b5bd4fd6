"""Where the elements of an HTML page stand in its text, so that some can be cut out and all others keep their bytes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = frozenset(
    ["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param", "source", "track", "wbr"]
)  # HTML Living Standard, 13.1.2


@dataclass(eq=False, slots=True)
class Part:
    """An element of a page: from ``start`` to ``end`` of the text, what it holds from ``inner`` to ``inner_end``."""

    tag: str
    attributes: dict[str, str]
    start: int
    inner: int
    inner_end: int = 0
    end: int = 0
    parts: list[Part] = field(default_factory=list)

    @property
    def id(self) -> str:
        """Its id, empty where it has none."""
        return self.attributes.get("id", "")

    @property
    def classes(self) -> frozenset[str]:
        """The names of its classes."""
        return frozenset(self.attributes.get("class", "").split())

    def all(self) -> Iterator[Part]:
        """Itself and all that is inside it, in order."""
        yield self
        for part in self.parts:
            yield from part.all()


class _Reader(HTMLParser):
    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.text = text
        # The library counts a line at each line feed alone.
        self.lines = [0, *(at + 1 for at, sign in enumerate(text) if sign == "\n")]
        self.root = Part("", {}, 0, 0, len(text), len(text))
        self.open = [self.root]

    def here(self) -> int:
        line, column = self.getpos()
        return self.lines[line - 1] + column

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        part = self.put(tag, attrs)
        if tag not in VOID:
            self.open.append(part)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.put(tag, attrs)

    def put(self, tag: str, attrs: list[tuple[str, str | None]]) -> Part:
        start = self.here()
        inner = start + len(self.get_starttag_text() or "")
        part = Part(tag, {name: value or "" for name, value in attrs}, start, inner, inner, inner)
        self.open[-1].parts.append(part)
        return part

    def handle_endtag(self, tag: str) -> None:
        start = self.here()
        if not any(part.tag == tag for part in self.open[1:]):
            return
        end = self.text.index(">", start) + 1
        while (part := self.open.pop()).tag != tag:
            part.inner_end = part.end = start  # it was left open, and ends where what holds it does
        part.inner_end, part.end = start, end


def page_parts(text: str) -> Part:
    """The page as a tree of its elements; the root stands for the text as a whole."""
    reader = _Reader(text)
    reader.feed(text)
    reader.close()
    for part in reader.open[1:]:
        part.inner_end = part.end = len(text)
    return reader.root


@dataclass(frozen=True, slots=True, order=True)
class Edit:
    """What stands from ``start`` to ``end`` gives way to ``text``."""

    start: int
    end: int
    text: str = ""


def edited(text: str, edits: Iterable[Edit]) -> str:
    """The text with all edits made. One that lies within what another takes out is dropped."""
    kept: list[str] = []
    at = 0
    for edit in sorted(edits, key=lambda one: (one.start, -one.end)):
        if edit.start < at:
            continue
        kept += (text[at : edit.start], edit.text)
        at = edit.end
    return "".join((*kept, text[at:]))
