"""Our templates in the language of a booklet: their own text is put into it when they are compiled, before any name is filled in.

Only what a template itself writes is touched: its text outside tags, the attributes that are read out, and the words that its expressions
print. What a template asks by name, compares, or gets from elsewhere stays. An author's own templates stay as they are written.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

from jinja2 import Environment, nodes

from drawleaf.book.words.own_templates import WatchedEnvironment
from drawleaf.language import BASE, Words
from drawleaf.language.texts import in_tag
from drawleaf.resources import product_folder

PRINTS_ITS_WORDS = ("count", "on_page", "page", "tick", "figure", "sentence", "join")
"""Functions and macros whose arguments are words to print."""
_STEP_LINE = re.compile(r"^(\s*(?:set|do|check|if not|why):)", re.MULTILINE)
_PIECE = re.compile(r"(<[^>]*>?)")
_HIDDEN = ("style", "script")

Put = Callable[[str], str]


class InLanguage(Environment):
    """An environment whose templates of ours speak the language of ``words``."""

    words = Words()

    def compile(
        self, source: Any, name: str | None = None, filename: str | None = None, *args: Any, **kinds: Any
    ) -> Any:
        """As jinja2 has it, with our own words put into the language first."""
        if isinstance(source, str) and self.words.tag != BASE and _is_ours(filename):
            source = self.parse(source, name, filename)
            Translating(self.words).whole(source)
        return super().compile(source, name, filename, *args, **kinds)


class WatchedInLanguage(InLanguage, WatchedEnvironment):
    """The same in the sandbox."""


def _is_ours(filename: str | None) -> bool:
    return (
        filename is not None and filename.endswith(".j2") and Path(filename).is_relative_to(product_folder("templates"))
    )


class Translating:
    """One template at a time. Follows its HTML from node to node, so that it knows what stands in a tag."""

    def __init__(self, words: Words) -> None:
        self.words = words
        self.tag = ""
        """The tag that is open, as far as it was written; empty in running text."""
        self.hidden = ""
        """The style or script that is open."""

    def whole(self, node: nodes.Node) -> None:
        """Put all words of a template's tree into the language, in place."""
        if isinstance(node, nodes.TemplateData):
            node.data = self.text(node.data)
        elif isinstance(node, nodes.Output):
            for one in node.nodes:
                if isinstance(one, nodes.TemplateData):
                    self.whole(one)
                else:
                    self.expression(one, printed=True)
        elif isinstance(node, nodes.Expr):
            self.expression(node, printed=False)
        else:
            for child in node.iter_child_nodes():
                self.whole(child)

    def text(self, text: str) -> str:
        """A stretch of the template as it is written, in the language."""
        return "".join(self._piece(piece) for piece in _PIECE.split(text) if piece)

    def _piece(self, piece: str) -> str:
        if self.tag:
            rest, closed, after = piece.partition(">")
            if not closed:
                self.tag += rest
                return in_tag(rest, self.words.put)
            self._close(self.tag + rest)
            return in_tag(rest, self.words.put) + closed + self.text(after)
        if piece.startswith("<") and piece[1:2] in "/!abcdefghijklmnopqrstuvwxyz":
            if piece.endswith(">"):
                self._close(piece)
            else:
                self.tag = piece
            return in_tag(piece, self.words.put)
        return piece if self.hidden else self.running(piece)

    def _close(self, tag: str) -> None:
        self.tag = ""
        for name in _HIDDEN:
            if tag.startswith(f"<{name}"):
                self.hidden = name
            elif tag.startswith(f"</{name}"):
                self.hidden = ""

    def running(self, text: str) -> str:
        """Words between tags. The key at the head of a step's line is none of them."""
        pieces = _STEP_LINE.split(text)
        return "".join(piece if place % 2 else self._lines(piece) for place, piece in enumerate(pieces))

    def _lines(self, text: str) -> str:
        return "\n".join(self.words.put(line) for line in text.split("\n"))

    def expression(self, node: nodes.Node, *, printed: bool) -> None:
        """The words that an expression prints; one that is not printed may still make a sentence for later."""
        if self.tag or self.hidden:
            return
        match node:
            case nodes.Const():
                if isinstance(node.value, str) and (printed or " " in node.value):
                    node.value = self.words.put(node.value)
            case nodes.Compare() | nodes.Getattr() | nodes.Test():
                pass
            case nodes.Getitem():
                self.expression(node.node, printed=printed)
            case nodes.CondExpr():
                for branch in (node.expr1, node.expr2):
                    if branch is not None:
                        self.expression(branch, printed=printed)
            case nodes.Concat():
                for one in node.nodes:
                    self.expression(one, printed=True)
            case nodes.Filter():
                if node.node is not None:
                    self.expression(node.node, printed=printed)
            case nodes.Call():
                for one in (*node.args, *(named.value for named in node.kwargs)):
                    self._argument(node.node, one)
            case _:
                for child in node.iter_child_nodes():
                    self.expression(child, printed=printed)

    def _argument(self, called: nodes.Node, given: nodes.Node) -> None:
        """What a function is given: its words where it prints them, else what is joined of pieces, as no key is."""
        name = (
            called.attr if isinstance(called, nodes.Getattr) else called.name if isinstance(called, nodes.Name) else ""
        )
        if name in PRINTS_ITS_WORDS:
            self.expression(given, printed=True)
        elif not isinstance(given, nodes.Const):
            self.expression(given, printed=False)
