"""An expression's text cut into symbols: numbers, words, marks and operators, each with its columns."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

# Marks that look alike or are set by a word processor, one character for one so that columns stay.
_SAME_AS = str.maketrans(
    {
        "′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-",
        "×": "*", "·": "*", "÷": "/", "⁄": "/", "∕": "/", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ", "\n": " ",
        "º": "°",
    }
)  # fmt: skip

VULGAR = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3), "¼": Fraction(1, 4), "¾": Fraction(3, 4),
    "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
}  # fmt: skip

LONGEST_TEXT = 500
MOST_DIGITS = 40

_SYMBOL = re.compile(
    r"""\s+
    |(?P<number>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)
    |(?P<vulgar>[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])
    |(?P<word>[A-Za-z_][A-Za-z0-9_]*(?:\.[A-Za-z0-9_]+)*)
    |(?P<mark>['"°])
    |(?P<compare><=|>=|==|!=|=|<|>|≤|≥|≠)
    |(?P<operator>[-+*/])
    |(?P<bracket>[()])
    |(?P<comma>,)""",
    re.VERBOSE,
)
_COMPARE = {"==": "=", "≤": "<=", "≥": ">=", "≠": "!="}


class RefusalError(Exception):
    """Why a text is no expression, with the columns to underline (from 0). Caught by ``parse_expression``."""

    def __init__(self, code: str, message: str, start: int, end: int, cause: str = "", mend: str = "") -> None:
        super().__init__(message)
        self.code, self.message, self.start, self.end, self.cause, self.mend = (
            code,
            message,
            start,
            max(end, start + 1),
            cause,
            mend,
        )


@dataclass(frozen=True, slots=True)
class Symbol:
    """One symbol of the text. ``kind`` is number, vulgar, word, mark, compare, operator, bracket or comma; ``spaced`` says whether there is a space before it."""

    kind: str
    text: str
    start: int
    end: int
    spaced: bool

    @property
    def whole(self) -> bool:
        """Digits only."""
        return self.kind == "number" and "." not in self.text

    def is_(self, text: str) -> bool:
        return self.text == text and self.kind in ("operator", "bracket", "comma", "mark")


def cut_into_symbols(text: str) -> list[Symbol]:
    """The symbols of a text. Raises RefusalError on what can be none."""
    if len(text) > LONGEST_TEXT:
        message = f"an expression of {len(text)} characters is too long"
        raise RefusalError(
            "expression-too-long", message, 0, 1, "", "Name parts of it under “dimensions” and use the names."
        )
    plain = text.translate(_SAME_AS)
    symbols: list[Symbol] = []
    at, spaced = 0, False
    while at < len(plain):
        match = _SYMBOL.match(plain, at)
        if match is None:
            raise _odd_character(text, at)
        if match.lastgroup is None:
            spaced = True
        else:
            symbol = Symbol(match.lastgroup, match.group(), at, match.end(), spaced)
            _refuse_run_ons(plain, symbol, symbols)
            symbols.append(replace(symbol, text=_COMPARE.get(symbol.text, symbol.text)))
            spaced = False
        at = match.end()
    return symbols


def _refuse_run_ons(text: str, symbol: Symbol, before: list[Symbol]) -> None:
    """Numbers too long, and what is stuck to a number or word that it does not belong to."""
    following = text[symbol.end : symbol.end + 1]
    if symbol.kind == "number" and len(symbol.text) > MOST_DIGITS:
        message = f"a number of {len(symbol.text)} digits is too long"
        raise RefusalError("too-large", message, symbol.start, symbol.end, "", "Write what a rule can measure.")
    if following == "." and symbol.kind == "number" and "." in symbol.text:
        raise RefusalError("stray-point", "a number has one point", symbol.start, symbol.end + 1, "", "Delete one.")
    if following == "." and symbol.kind in ("number", "word"):
        after = text[symbol.end + 1 : symbol.end + 2]
        what = "digits" if symbol.kind == "number" else "a name"
        cause = f"A point needs {what} after it; units take no full stop."
        if not (symbol.kind == "word" and after.isalnum()):
            raise RefusalError(
                "stray-point", "a point stands alone here", symbol.end, symbol.end + 1, cause, "Delete it."
            )
    stuck = before and not symbol.spaced and before[-1].kind == "number"
    if stuck and symbol.kind == "word" and re.fullmatch(r"[eE]\d*", symbol.text):
        message = f"“{before[-1].text}{symbol.text}” looks like a power of ten"
        raise RefusalError("exponent", message, before[-1].start, symbol.end, "", "Write the number out in full.")
    if stuck and symbol.kind == "number" and symbol.text.startswith("."):
        raise RefusalError("stray-point", "a number has one point", before[-1].start, symbol.end, "", "Delete one.")
    if symbol.is_("*") and before and before[-1].is_("*") and not symbol.spaced:
        raise RefusalError(
            "power", "powers are not used here", before[-1].start, symbol.end, "", "Write a * a for a square."
        )


def _odd_character(text: str, at: int) -> RefusalError:
    character = text[at]
    if character == ".":
        return RefusalError(
            "stray-point", "a point stands alone here", at, at + 1, "", "Delete it, or write digits after it."
        )
    if character == "^":
        return RefusalError("power", "powers are not used here", at, at + 1, "", "Write a * a for a square.")
    if character in "[]{}":
        return RefusalError(
            "odd-character", f"“{character}” is not allowed here", at, at + 1, "", "Use round brackets."
        )
    if character.isalpha():
        cause = "Names are made of the letters a to z, digits and underscores."
        return RefusalError("odd-character", f"“{character}” is not allowed in a name", at, at + 1, cause, "Rename it.")
    return RefusalError("odd-character", f"“{character}” is not allowed in an expression", at, at + 1, "", "Delete it.")
