"""Numbers as the trade writes them, put together from symbols: ``16-1/2``, ``16 1/2 in``, ``3' 6-1/2"``, ``18 mm``, ``15°``.

A hyphen without spaces between a whole number and a fraction makes a mixed number; with a space on each side it subtracts.
What can be read both ways is refused (``ambiguities``).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.english import listed
from drawleaf.source.ambiguities import refuse_ambiguous
from drawleaf.source.functions import OTHER_WORDS
from drawleaf.source.names import nearest
from drawleaf.source.symbols import VULGAR, RefusalError, Symbol
from drawleaf.source.values import Angle, Measure, Quantity
from drawleaf.units import MM_PER_UNIT

MM_PER_WORD: dict[str, Fraction] = {
    **MM_PER_UNIT,
    **dict.fromkeys(("inch", "inches", '"'), MM_PER_UNIT["in"]),
    **dict.fromkeys(("foot", "feet", "'"), MM_PER_UNIT["ft"]),
}
ANGLE_WORDS = ("deg", "degree", "degrees", "°")
_INCH_WORDS = ("in", "inch", "inches", '"')
_FOOT_WORDS = ("ft", "foot", "feet", "'")
_UNIT_WORDS = (*MM_PER_WORD, *ANGLE_WORDS)


@dataclass(frozen=True, slots=True)
class Token:
    """What the grammar sees. ``kind`` is NUMBER, NAME, FUNCTION, COMPARE, COMMA, PLUS, MINUS, NEGATIVE, TIMES, OVER, OPEN or CLOSE.

    Of a number ``form`` says how it is written: whole, decimal, fraction (``1/2``, ``½``), hyphened (``16-1/2``) or spaced (``16 1/2``).
    """

    kind: str
    text: str
    start: int
    end: int
    spaced: bool
    value: Quantity | None = None
    form: str = ""
    unit: str = ""


_OPERATOR_KINDS = {"+": "PLUS", "-": "MINUS", "*": "TIMES", "/": "OVER", "(": "OPEN", ")": "CLOSE", ",": "COMMA"}


def put_together(text: str, symbols: list[Symbol], functions: frozenset[str]) -> list[Token]:
    """The tokens of an expression. Raises RefusalError on what is no number and on what can be read both ways."""
    tokens: list[Token] = []
    at = 0
    while at < len(symbols):
        symbol = symbols[at]
        if symbol.kind in ("number", "vulgar"):
            token, at = _Numeral(text, symbols, at).read()
        else:
            token, at = _plain_token(text, symbols, at, functions), at + 1
        tokens.append(token)
    refuse_ambiguous(text, tokens)
    return [_signed(tokens, index) for index in range(len(tokens))]


def _plain_token(text: str, symbols: list[Symbol], at: int, functions: frozenset[str]) -> Token:
    symbol = symbols[at]
    if symbol.kind == "mark":
        cause = "The marks for feet, inches and degrees belong directly after a number."
        raise RefusalError(
            "stray-mark",
            f"{text[symbol.start]} has no number before it",
            symbol.start,
            symbol.end,
            cause,
            "Write the number first.",
        )
    kind = "COMPARE" if symbol.kind == "compare" else _OPERATOR_KINDS.get(symbol.text, "NAME")
    if kind == "NAME" and at + 1 < len(symbols) and symbols[at + 1].is_("("):
        if symbol.text not in functions:
            near = OTHER_WORDS.get(symbol.text.lower()) or nearest(symbol.text, functions)
            mend = f"Did you mean “{near}”?" if near else f"There are {listed(sorted(functions))}."
            raise RefusalError(
                "unknown-function", f"there is no function “{symbol.text}”", symbol.start, symbol.end, "", mend
            )
        kind = "FUNCTION"
    return Token(kind, symbol.text, symbol.start, symbol.end, symbol.spaced)


def is_operand_end(token: Token) -> bool:
    """Whether a value ends with this token, so that a minus after it subtracts."""
    return token.kind in ("NUMBER", "NAME", "CLOSE")


def _signed(tokens: list[Token], index: int) -> Token:
    """A minus with no value before it turns the sign of what follows."""
    token = tokens[index]
    if token.kind != "MINUS" or (index and is_operand_end(tokens[index - 1])):
        return token
    return Token("NEGATIVE", token.text, token.start, token.end, token.spaced)


class _Numeral:
    """Reads one number, with its unit, from a place in the symbols."""

    def __init__(self, text: str, symbols: list[Symbol], at: int) -> None:
        self.text, self.symbols, self.start = text, symbols, at

    def read(self) -> tuple[Token, int]:
        """The token and the index of the next symbol."""
        amount, form, at = self._figure(self.start)
        unit = self._unit(at)
        if unit is None:
            self._refuse_unknown_unit(at)
            return self._token(Measure(amount, 0, bare=True), form, "", at), at
        at += 1
        if unit in ANGLE_WORDS:
            return self._token(Angle(amount), form, unit, at), at
        value = amount * MM_PER_WORD[unit]
        if unit in _FOOT_WORDS:
            more, at = self._inches_after(at, amount)
            value += more
        return self._token(Measure(value, 1), form, unit, at), at

    def _token(self, value: Quantity, form: str, unit: str, after: int) -> Token:
        first, last = self.symbols[self.start], self.symbols[after - 1]
        written = self.text[first.start : last.end]
        return Token("NUMBER", written, first.start, last.end, first.spaced, value, form, unit)

    def _symbol(self, at: int) -> Symbol | None:
        return self.symbols[at] if at < len(self.symbols) else None

    def _figure(self, at: int) -> tuple[Fraction, str, int]:
        """Amount, form and the index after it."""
        first = self.symbols[at]
        if first.kind == "vulgar":
            return VULGAR[first.text], "fraction", at + 1
        if not first.whole:
            return Fraction(f"0{first.text}" if first.text.startswith(".") else first.text), "decimal", at + 1
        if simple := self._fraction(at, glued=False):
            return simple[0], "fraction", simple[1]
        whole = Fraction(int(first.text))
        hyphen = self._symbol(at + 1)
        if hyphen and hyphen.is_("-") and not hyphen.spaced and (part := self._fraction(at + 2, glued=True)):
            return self._mixed(whole, part, at, "hyphened")
        if part := self._fraction(at + 1, glued=False):
            return self._mixed(whole, part, at, "spaced")
        return whole, "whole", at + 1

    def _fraction(self, at: int, *, glued: bool) -> tuple[Fraction, int] | None:
        """``1/2`` or ``½`` at a place; ``glued``: only with no space before it."""
        first = self._symbol(at)
        if first is None or (glued and first.spaced):
            return None
        if first.kind == "vulgar":
            return VULGAR[first.text], at + 1
        stroke, below = self._symbol(at + 1), self._symbol(at + 2)
        if not (first.whole and stroke and below and stroke.is_("/") and below.whole):
            return None
        if stroke.spaced or below.spaced:
            return None
        if int(below.text) == 0:
            raise RefusalError(
                "division-by-zero",
                "a fraction over zero",
                first.start,
                below.end,
                "",
                "Write another figure below the stroke.",
            )
        return Fraction(int(first.text), int(below.text)), at + 3

    def _mixed(self, whole: Fraction, part: tuple[Fraction, int], at: int, form: str) -> tuple[Fraction, str, int]:
        fraction, after = part
        if fraction >= 1:
            first, last = self.symbols[at], self.symbols[after - 1]
            written = self.text[first.start : last.end]
            top = self.text[self.symbols[after - 3].start : last.end]
            raise RefusalError(
                "ambiguous",
                f"“{written}” can be read in two ways",
                first.start,
                last.end,
                f"The fraction of a mixed number is less than one: this is {whole} and {top}, or {whole} less {top}.",
                f"Write {whole} + {top} or {whole} - {top}.",
            )
        return whole + fraction, form, after

    def _unit(self, at: int) -> str | None:
        symbol = self._symbol(at)
        if symbol is None or symbol.kind not in ("word", "mark") or symbol.text not in _UNIT_WORDS:
            return None
        follower = self._symbol(at + 1)
        if symbol.is_("'") and follower and follower.is_("'") and not follower.spaced:
            raise RefusalError(
                "stray-mark", "two feet marks in a row", symbol.start, follower.end, "", 'Write inches as " or in.'
            )
        return symbol.text

    def _refuse_unknown_unit(self, at: int) -> None:
        symbol = self._symbol(at)
        if symbol is None or symbol.kind != "word":
            return
        follower = self._symbol(at + 1)
        if follower and follower.is_("("):
            return
        near = nearest(symbol.text, [word for word in _UNIT_WORDS if word.isalpha()])
        number = self.text[self.symbols[self.start].start : self.symbols[at - 1].end]
        mend = f"Write {number} * {symbol.text} to multiply, or a unit: in, ft, mm, cm, m, deg."
        if near and len(symbol.text) > 1 and "." not in symbol.text:
            mend = f"Did you mean {number} {near}? To multiply, write {number} * {symbol.text}."
        message = f"“{symbol.text}” after a number is no unit"
        raise RefusalError("unknown-unit", message, symbol.start, symbol.end, "", mend)

    def _inches_after(self, at: int, feet: Fraction) -> tuple[Fraction, int]:
        """The inches that follow feet, in millimetres, and the index after them."""
        symbol = self._symbol(at)
        if symbol is None or symbol.kind not in ("number", "vulgar"):
            return Fraction(0), at
        amount, _, after = self._figure(at)
        unit = self._unit(after)
        start = self.symbols[self.start].start
        if unit not in _INCH_WORDS:
            end = self.symbols[after - 1].end
            written = self.text[start:end]
            mend = f'Write {written}" for inches.'
            raise RefusalError(
                "no-inch-mark", f"“{written}” ends without a unit", start, end, "Inches follow feet.", mend
            )
        if feet.denominator != 1:
            end = self.symbols[after].end
            cause = "Feet before inches are whole."
            raise RefusalError(
                "broken-feet", "a fraction of a foot stands before inches", start, end, cause, "Write it all in inches."
            )
        return amount * MM_PER_UNIT["in"], after + 1
