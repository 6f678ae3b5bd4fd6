"""The YAML parser's complaints in words that a plan author can act on."""

from __future__ import annotations

import re
from typing import Any

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position

_TABS = re.compile(r"[ ]*\t")
_NO_SPACE = re.compile(r"[ ]*(?:- )?(\w+:)[^\s:]\S*$")
_NO_COLON = re.compile(r"[ ]*(?:- )?(\w+) (\{|\[)")
_TITLE = re.compile(r"[ ]*(?:- )?(\w+): ([^\s\"'{\[&*!|>#][^#]*: .*?)\s*$")
_MOST_TABS = 5
_WORTH_QUOTING = 80

_UNCLOSED = "a comma or a closing bracket is missing"

# A piece of the parser's own message (both parsers' wording), then what to tell and how to mend it.
_EXPLAINED: tuple[tuple[tuple[str, ...], str, str, str], ...] = (
    (
        ("mapping values are not allowed",),
        "a colon is not allowed here",
        "A colon and a space start a value; in the middle of a text they confuse the reader, and so does a line indented too far.",
        'Put the text in quotes ("…"), or indent the line like its neighbours.',
    ),
    (
        ("unexpected end of stream", "while scanning a quoted scalar"),
        "a quotation mark is not closed",
        "The text goes on to the end of the file.",
        "Close the quotes. Inches as a mark need none around them: 3' 6-1/2\" is fine as it is.",
    ),
    (
        ("expected ',' or '}'", "expected ',' or ']'"),
        _UNCLOSED,
        "The entries in brackets are divided by commas, and each bracket needs its partner.",
        "Add the comma or the bracket before this place.",
    ),
    (
        ("could not find expected ':'",),
        "a colon is missing after this key",
        "Each line of a mapping is a key, a colon, a space and a value.",
        "Add the colon and a space.",
    ),
    (
        ("while scanning a block scalar",),
        "there is text behind the sign for a long text",
        "After “>-”, “>” or “|” the text starts on the next line.",
        "Move the text to the next line and indent it.",
    ),
    (
        ("cannot start any token",),
        "a text cannot start with this character",
        "It has a meaning of its own in YAML.",
        'Put the text in quotes ("…").',
    ),
    (
        ("expected <block end>", "did not find expected key", "did not find expected '-' indicator"),
        "this line does not fit to those above it",
        "It is indented differently from its neighbours, or a key or dash is missing.",
        "Give it the same indent, in spaces, as the entries that it belongs to.",
    ),
    (
        ("unknown escape character", "expected escape sequence"),
        "a backslash in double quotes starts a code that does not exist",
        "In double quotes a backslash has a meaning of its own.",
        "Use single quotes, or write two backslashes.",
    ),
    (
        ("undefined tag handle", "while scanning a tag", "while parsing a tag", "while scanning a directive"),
        "tags and directives are not used here",
        "A “!” or “%” at the start of a value has a meaning of its own in YAML.",
        "Delete it, or put the text in quotes.",
    ),
    (
        ("while scanning an anchor", "while scanning an alias", "alphabetic or numeric"),
        "a text cannot start with “&” or “*”",
        "These have a meaning of their own in YAML.",
        'Put the text in quotes ("…").',
    ),
)


def explain_problem(file: str, lines: list[str], error: Any) -> Diagnostic:
    """A diagnostic for what made the parser stop."""
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line, mark.column) if mark else (0, 0)
    if looks := _by_looks(file, lines, line, column):
        return looks
    message, cause, mend = _words_for(f"{error.context or ''} {error.problem or ''}")
    position = within(file, lines, line, column)
    if message == _UNCLOSED and error.context_mark and line > error.context_mark.line:
        ended = next(at for at in range(line - 1, -1, -1) if lines[at].strip())
        position = Position(file, ended + 1, len(lines[ended].rstrip()))
        cause = "The next line begins something new, and a bracket is still open."
        mend = f"Close it at the end of line {ended + 1}, or end that line with a comma if more is to come."
        if " #" in lines[ended]:
            cause = "What follows “#” after a space is a remark, and with it the end of the line."
            mend = "Put a text with “#” in it in quotes, or move the remark to a line of its own."
    related = ()
    if error.context_mark and mark and error.context_mark.line != mark.line:
        opened = within(file, lines, error.context_mark.line, error.context_mark.column)
        related = ((opened, "what it belongs to starts here"),)
    return Diagnostic("yaml", message, position, cause, mend, related=related)


def tab_diagnostics(file: str, lines: list[str]) -> tuple[Diagnostic, ...]:
    """One diagnostic for each of the first few lines that are indented with tabs."""
    found = []
    for number, line in enumerate(lines, start=1):
        match = _TABS.match(line)
        if match and line.strip() and not line.lstrip().startswith("#"):
            found.append(
                Diagnostic(
                    "tab",
                    "this line is indented with a tab",
                    Position(file, number, match.end()),
                    "YAML takes only spaces for the indent, because tabs look different in every editor.",
                    "Replace each tab with two spaces.",
                )
            )
        if len(found) == _MOST_TABS:
            break
    return tuple(found)


def empty_value(key: Position, name: str | None, line: str, *, flow: bool) -> Diagnostic:
    """A key or list item with nothing after it, on its line; ``flow`` when it is in brackets."""
    if name is not None and flow and (slip := _comma_slip(key, name, line)):
        return slip
    after = line[key.column - 1 + key.length :].lstrip(": ")
    if name is not None and after.startswith("#"):
        cause = "What follows “#” after a space is a remark."
        mend = f'Write a value, or put it in quotes: {name}: "{after.strip()}".'
        return Diagnostic("empty-value", f"“{name}” has no value", key, cause, mend)
    if name is None:
        return Diagnostic("empty-value", "this item is empty", key, "", "Write a value, or delete it.")
    if ":" in name:
        front, _, back = name.partition(":")
        mend = f"Write “{front}: {back}”." if back else "Write “key: value”."
        return Diagnostic("empty-value", f"a space is missing after the colon in “{name}”", key, "", mend)
    cause, mend = "Nothing follows it.", "Write a value, or delete it."
    if flow:
        cause = "In brackets a comma ends a value and starts a new key."
        mend = "Write a value after a colon, delete it, or put a text that has commas in quotes."
    return Diagnostic("empty-value", f"“{name}” has no value", key, cause, mend)


def _comma_slip(key: Position, name: str, line: str) -> Diagnostic | None:
    """A decimal comma (``front: 2,5``) or a list without its brackets (``sand: 120, 180``), in curly brackets."""
    before = re.search(r"(\w+): ([\d.]+),( *)$", line[: key.column - 1])
    if before is None or not re.fullmatch(r"[\d.]+", name):
        return None
    cause = "In brackets a comma ends a value and starts a new key."
    mend = f"Write “{before[1]}: [{before[2]}, {name}]” for a list of both."
    if not before[3]:
        mend = f"Write “{before[1]}: {before[2]}.{name}” for a decimal, with a point."
    return Diagnostic("empty-value", f"“{name}” has no value", key, cause, mend)


def _by_looks(file: str, lines: list[str], line: int, column: int) -> Diagnostic | None:
    """The common slips that the line itself shows better than the parser's message."""
    text = lines[line] if line < len(lines) else ""
    before, here = text[:column].rstrip(), text[column : column + 1]
    position = Position(file, line + 1, column + 1)
    for number in (line, line - 1):
        match = _NO_SPACE.match(lines[number]) if 0 <= number < len(lines) else None
        if match:
            place = Position(file, number + 1, match.start(1) + 1, len(match[1]))
            front, _, back = lines[number].strip().removeprefix("- ").partition(":")
            return Diagnostic(
                "yaml", "a space is missing after this colon", place, "", f"Write “{front}: {back[:_WORTH_QUOTING]}”."
            )
    if (match := _NO_COLON.match(text)) and match.end() <= column:
        place = Position(file, line + 1, match.start(1) + 1, len(match[1]))
        mend = f"Write “{match[1]}: {match[2]}”."
        return Diagnostic("yaml", "a colon is missing after this key", place, "", mend)
    if here == ":" and (match := _TITLE.match(text)) and len(match[2]) < _WORTH_QUOTING:
        cause = "A colon and a space start a value; in the middle of a text they confuse the reader."
        quoted = match[2].replace('"', '\\"')
        mend = f'Put the text in quotes: {match[1]}: "{quoted}".'
        return Diagnostic("yaml", "a colon is not allowed here", position, cause, mend)
    if here == ":" and text[column + 1 : column + 2] in (",", "}", "]"):
        mend = "Write a space and a value after the colon, or delete the key."
        return Diagnostic("yaml", "this key has no value", position, "", mend)
    if here == "," and before.endswith((",", "{", "[")):
        return Diagnostic(
            "yaml", "a comma has nothing before it", position, "", "Delete it, or write what comes before."
        )
    if here in ("}", "]"):
        cause = "Each opening bracket has one closing bracket of its kind."
        return Diagnostic(
            "yaml", "this closing bracket has no partner", position, cause, "Delete it, or open one before."
        )
    if here and not here.isspace() and text[column - 1 : column] in ("'", '"') and column:
        cause = "The text in quotes ended here; what follows does not belong to it."
        mend = "Leave the quotes out, or write a quotation mark inside the text twice."
        return Diagnostic("yaml", "text goes on after the closing quote", position, cause, mend)
    if here == "-" and before.endswith(":"):
        mend = "Start the list on the next line, or write it in square brackets: [a, b]."
        return Diagnostic("yaml", "a list with dashes cannot start behind a key", position, "", mend)
    return None


def _words_for(said: str) -> tuple[str, str, str]:
    for pieces, message, cause, mend in _EXPLAINED:
        if any(piece in said for piece in pieces):
            return message, cause, mend
    return "this cannot be read as YAML", "", "Check indent, colons, quotes and brackets here and in the line above."


def within(file: str, lines: list[str], line: int, column: int) -> Position:
    """The place, moved back to the last line with text where the parser points past the end."""
    if line >= len(lines) or (line == len(lines) - 1 and not lines[line].strip()):
        line = max((at for at, text in enumerate(lines) if text.strip()), default=0)
        return Position(file, line + 1, max(1, len(lines[line].rstrip())))
    return Position(file, line + 1, min(column, len(lines[line])) + 1)
