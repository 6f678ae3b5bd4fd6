"""Pictures in an author's Markdown: one rule finds them for the check of the source and for the page, whatever their names hold.

Markdown's own rule (CommonMark 0.31, section 6.4) ends a name at its first space and writes letters with accents as per cent signs;
people name their photos otherwise.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import unquote

from drawleaf.folder_files import file_inside

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.rules_inline import StateInline

# Bounded, so that a long line of brackets cannot keep the search busy.
PICTURE = re.compile(
    r"""!\[([^\]\n]{0,500})\]\([ \t]{0,9}
    (?:<([^<>\n]{1,500})>|((?:[^()\s<]|[ \t](?!["'])|\([^()\n]{0,200}\)){1,500}?))
    (?:[ \t]{1,9}(?:"[^"\n]{0,500}"|'[^'\n]{0,500}'))?[ \t]{0,9}\)""",
    re.VERBOSE,
)
_ELSEWHERE = re.compile(r"[a-zA-Z][a-zA-Z0-9+.-]+:")


def pictures_in(line: str) -> Iterator[tuple[int, str]]:
    """The pictures that a line of Markdown shows: where each name begins in it, and the name."""
    for found in PICTURE.finditer(line):
        group = 2 if found[2] is not None else 3
        yield found.start(group), found[group].rstrip()


def is_elsewhere(name: str) -> bool:
    """Whether a name is an address with a scheme, and no file beside the plan."""
    return bool(_ELSEWHERE.match(name))


def file_named(folder: Path, name: str) -> Path | None:
    """The file in the plan's folder that a name means: as it stands, or with its per cent signs read; links resolved. None where none is."""
    return file_inside(folder, name) or ("%" in name and file_inside(folder, unquote(name))) or None


def use_our_rule(parser: MarkdownIt) -> None:
    """Let a Markdown parser find pictures by the rule of this module, and by no other."""
    parser.inline.ruler.at("image", _image)


def _image(state: StateInline, silent: bool) -> bool:
    found = PICTURE.match(state.src, state.pos, state.posMax)
    if found is None:
        return False
    if not silent:
        token = state.push("image", "img", 0)
        token.content = found[1]
        token.attrs = {"src": (found[2] or found[3]).rstrip(), "alt": ""}
        token.children = []
    state.pos = found.end()
    return True
