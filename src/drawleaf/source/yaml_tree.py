"""YAML as a plain tree of dicts, lists and the exact text of every scalar, with the position of every key and value.

Built from the safe parser's events, so no tag makes an object. ``3-1/2``, ``15.5`` and ``2026-11-20`` stay text; only
unquoted ``true``, ``false`` and ``null`` (YAML 1.2, section 10.2) become bool and None.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path as FilePath
from typing import Any

import yaml

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.positions import Path, Positions, Spot
from drawleaf.source.text_files import check_characters, forbidden_in, lines_of
from drawleaf.source.yaml_problems import empty_value, explain_problem, tab_diagnostics, within

Tree = dict[str, Any] | list[Any] | str | bool | None

DEEPEST = 60
MOST_NODES = 100_000
MOST_ALIASES = 20
LONGEST_TEXT = 20_000

_WORDS: dict[str, bool | None] = {
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
    **dict.fromkeys(("null", "Null", "NULL", "~", ""), None),
}
# The C parser gives the same events several times faster, where the package was built with it.
_PARSER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read_yaml(path: FilePath | str, text: str) -> tuple[Tree, Positions, tuple[Diagnostic, ...]]:
    """The tree in ``text`` (one YAML document), where its nodes stand, and what is wrong with it.

    ``path`` is the file's name as positions give it. The tree is None where the text cannot be read at all.
    """
    file = path.as_posix() if isinstance(path, FilePath) else path
    if bad := check_characters(file, text):
        return None, Positions({file: {}}), bad
    tabs = tab_diagnostics(file, lines_of(text))
    builder = _Builder(file, lines_of(text))
    try:
        for event in _events(text):
            builder.take(event)
    except yaml.MarkedYAMLError as error:
        # A tab in the indent is why the parser gave up: one report is enough.
        trouble = tabs or (explain_problem(file, lines_of(text), error),)
        return None, builder.positions, (*builder.found, *trouble)
    except _GiveUpError as reason:
        return None, builder.positions, (*tabs, *builder.found, reason.diagnostic)
    return builder.root, builder.positions, (*tabs, *builder.found)


def _events(text: str) -> Iterator[Any]:
    parser = _PARSER(text)
    try:
        while parser.check_event():
            yield parser.get_event()
    finally:
        parser.dispose()


class _GiveUpError(Exception):
    """What is wrong is too much to read on."""

    def __init__(self, diagnostic: Diagnostic) -> None:
        super().__init__(diagnostic.message)
        self.diagnostic = diagnostic


@dataclass(slots=True)
class _Open:
    """A mapping or list whose end has not come yet. ``held`` is the key that waits for its value."""

    path: Path
    holds: dict[str, Any] | list[Any]
    start: Any
    key: Position | None
    held: tuple[str, Position] | None = None
    repeated: bool = False
    anchor: str | None = None
    flow: bool = False


@dataclass(slots=True)
class _Builder:
    """Makes the tree from parser events, without recursion, so that depth cannot exhaust the stack."""

    file: str
    lines: list[str]
    root: Any = None
    spots: dict[Path, Spot] = field(default_factory=dict)
    found: list[Diagnostic] = field(default_factory=list)
    open: list[_Open] = field(default_factory=list)
    anchors: dict[str, tuple[Path, Any]] = field(default_factory=dict)
    documents: int = 0
    nodes: int = 0
    aliases: int = 0

    @property
    def positions(self) -> Positions:
        return Positions({self.file: self.spots})

    def take(self, event: Any) -> None:
        """One event of the parser."""
        match event:
            case yaml.ScalarEvent():
                self._count()
                self._refuse_tag(event)
                self._refuse_text(event)
                self._scalar(event)
            case yaml.MappingStartEvent():
                self._begin(event, {})
            case yaml.SequenceStartEvent():
                self._begin(event, [])
            case yaml.MappingEndEvent() | yaml.SequenceEndEvent():
                self._end(event)
            case yaml.AliasEvent():
                self._alias(event)
            case yaml.DocumentStartEvent():
                self.documents += 1
                if self.documents > 1:
                    self._give_up("second-document", event, "a second document starts here", _ONE_DOCUMENT)

    def _count(self, more: int = 1) -> None:
        self.nodes += more
        if self.nodes > MOST_NODES:
            message = f"this file holds more than {MOST_NODES:,} entries"
            raise _GiveUpError(
                Diagnostic("file-too-large", message, Position(self.file, 1, 1), "", "Split it, or drop aliases.")
            )

    def _give_up(self, code: str, event: Any, message: str, mend: str, cause: str = "") -> None:
        raise _GiveUpError(Diagnostic(code, message, self._span(event.start_mark, event.end_mark), cause, mend))

    def _refuse_tag(self, event: Any) -> None:
        if event.tag in (None, "!") or event.tag.startswith("tag:yaml.org,2002:str"):
            return
        where = self._span(event.start_mark, event.end_mark)
        self.found.append(
            Diagnostic("tag", f"tags such as {event.tag} are not used here", where, "", "Delete the tag.")
        )

    def _refuse_text(self, event: Any) -> None:
        """What a backslash in double quotes may smuggle in, and texts that no booklet has room for."""
        if len(event.value) > LONGEST_TEXT:
            message = f"a text of {len(event.value):,} characters is too long"
            self._give_up("text-too-long", event, message, "Put long notes into Markdown files of their own.")
        if bad := forbidden_in(event.value):
            where = self._span(event.start_mark, event.end_mark)
            message = f"this text holds a character that cannot be printed ({bad})"
            cause = "In double quotes a backslash writes characters by their code."
            self.found.append(Diagnostic("bad-character", message, where, cause, "Delete the code."))

    def _scalar(self, event: Any) -> None:
        where = self._scalar_span(event)
        top = self.open[-1] if self.open else None
        if top and isinstance(top.holds, dict) and top.held is None:
            self._key(top, event.value, where)
            return
        plain = event.style is None or event.style == ""
        value = _WORDS.get(event.value, event.value) if plain and event.tag is None else event.value
        empty = plain and not event.value and top is not None
        if empty and top:
            where = self._empty(top, where)
        self._place(value, where, event.anchor, empty=empty)

    def _empty(self, top: _Open, where: Position) -> Position:
        key = top.held[1] if top.held else where
        line = self.lines[key.line - 1]
        self.found.append(empty_value(key, top.held[0] if top.held else None, line, flow=top.flow))
        return key

    def _key(self, top: _Open, name: str, where: Position) -> None:
        assert isinstance(top.holds, dict)
        top.repeated = name in top.holds
        if top.repeated:
            first = self.spots[(*top.path, name)].key
            self.found.append(
                Diagnostic(
                    "duplicate-key",
                    f"“{name}” is written twice",
                    where,
                    "The same key is given above in the same place; only one of them can count.",
                    "Delete one, or rename it.",
                    related=((first, "first written here"),) if first else (),
                )
            )
        if name == "<<":
            self.found.append(
                Diagnostic(
                    "merge-key",
                    "the merge key “<<” is not used here",
                    where,
                    "",
                    "A part takes the keys of another with “like: side”. Else write the keys out.",
                )
            )
        top.held = (name, where)

    def _begin(self, event: Any, holds: dict[str, Any] | list[Any]) -> None:
        self._count()
        self._refuse_tag(event)
        top = self.open[-1] if self.open else None
        if top and isinstance(top.holds, dict) and top.held is None:
            self._give_up("odd-key", event, "a key must be one word", "Write a word before the colon.", _BRACES)
        if len(self.open) >= DEEPEST:
            self._give_up("too-deep", event, f"nested more than {DEEPEST} deep", "Flatten the source.")
        key = top.held[1] if top and top.held else None
        flow = bool(event.flow_style)
        self.open.append(_Open(self._path_below(), holds, event.start_mark, key, anchor=event.anchor, flow=flow))

    def _end(self, event: Any) -> None:
        closed = self.open.pop()
        where = closed.key or (self._span(closed.start, event.end_mark) if closed.path else Position(self.file, 1, 1))
        self._place(closed.holds, where, closed.anchor)

    def _alias(self, event: Any) -> None:
        self.aliases += 1
        if self.aliases > MOST_ALIASES:
            self._give_up("too-many-aliases", event, f"more than {MOST_ALIASES} aliases", "Write the values out.")
        if event.anchor not in self.anchors:
            mend = f"Mark a value above with &{event.anchor}, or write it out."
            self._give_up("unknown-alias", event, f"no finished value above is marked &{event.anchor}", mend)
        origin, value = self.anchors[event.anchor]
        top = self.open[-1] if self.open else None
        if top and isinstance(top.holds, dict) and top.held is None:
            self._give_up("odd-key", event, "a key must be one word", "Write a word before the colon.")
        target = self._path_below()
        copied = {target + at[len(origin) :]: spot for at, spot in self.spots.items() if at[: len(origin)] == origin}
        self._count(len(copied))
        self.spots.update(copied)
        self._place(copy.deepcopy(value), self._span(event.start_mark, event.end_mark), None)

    def _path_below(self) -> Path:
        """The path of the value that comes next."""
        if not self.open:
            return ()
        top = self.open[-1]
        step = len(top.holds) if isinstance(top.holds, list) else top.held[0] if top.held else ""
        return (*top.path, step)

    def _place(self, value: Any, where: Position, anchor: str | None, *, empty: bool = False) -> None:
        path = self._path_below()
        if anchor:
            self.anchors[anchor] = (path, value)
        if not self.open:
            self.root = value
            self.spots[()] = Spot(None, where)
            return
        top = self.open[-1]
        if isinstance(top.holds, list):
            top.holds.append(value)
            self.spots[path] = Spot(where if empty else None, where)
            return
        assert top.held is not None
        name, key = top.held
        top.held = None
        if not top.repeated:
            top.holds[name] = value
            self.spots[path] = Spot(key, where)

    def _span(self, start: Any, end: Any) -> Position:
        """From one mark to another, or to the end of the first line."""
        if start.line >= len(self.lines):  # what is left out at the end of a file has its mark after it
            return within(self.file, self.lines, start.line, start.column)
        stop = end.column if end.line == start.line else len(self.lines[start.line].rstrip())
        return Position(self.file, start.line + 1, start.column + 1, max(1, stop - start.column))

    def _scalar_span(self, event: Any) -> Position:
        """The text within its quotes, so that a column in the text is a column in the file."""
        whole = self._span(event.start_mark, event.end_mark)
        if event.style not in ("'", '"'):
            return whole
        closing = 1 if event.start_mark.line == event.end_mark.line else 0
        # An anchor or tag comes before the quote and belongs to the span.
        line = self.lines[event.start_mark.line]
        quote = line.find(event.style, event.start_mark.column)
        skipped = max(0, quote - event.start_mark.column) + 1
        return Position(self.file, whole.line, whole.column + skipped, max(1, whole.length - skipped - closing))


_ONE_DOCUMENT = "Keep one plan to a file: delete the line with the three dashes and what follows it."
_BRACES = "Curly or square brackets are where a key belongs."
