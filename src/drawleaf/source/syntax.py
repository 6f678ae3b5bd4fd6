"""The grammar of expressions: a text becomes a small tree, or a refusal. No values are looked up here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from drawleaf.english import counted
from drawleaf.source.functions import FUNCTIONS, NAMES
from drawleaf.source.numerals import Token, is_operand_end, put_together
from drawleaf.source.symbols import RefusalError, cut_into_symbols
from drawleaf.source.values import Quantity

_DEEPEST = 40


@dataclass(frozen=True, slots=True)
class Number:
    """A figure with what it is worth."""

    start: int
    end: int
    value: Quantity


@dataclass(frozen=True, slots=True)
class Name:
    """A dotted name, to be looked up."""

    start: int
    end: int
    name: str


@dataclass(frozen=True, slots=True)
class Negative:
    """A value with its sign turned."""

    start: int
    end: int
    of: Term


@dataclass(frozen=True, slots=True)
class Binary:
    """Two values and the operator between them."""

    start: int
    end: int
    operator: str
    left: Term
    right: Term


@dataclass(frozen=True, slots=True)
class Call:
    """A function with its arguments."""

    start: int
    end: int
    function: str
    arguments: tuple[Term, ...]


Term = Number | Name | Negative | Binary | Call


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a text is no expression, with the columns to underline."""

    code: str
    message: str
    start: int
    end: int
    cause: str
    mend: str


@lru_cache(maxsize=8192)
def parse(text: str) -> Term | Refusal:
    """The tree of an expression. The same text gives the same tree, so it is kept."""
    try:
        return _parse(text)
    except RefusalError as refused:
        return Refusal(refused.code, refused.message, refused.start, refused.end, refused.cause, refused.mend)


def _parse(text: str) -> Term:
    tokens = put_together(text, cut_into_symbols(text), NAMES)
    if not tokens:
        raise RefusalError(
            "no-expression", "nothing is written here", 0, max(1, len(text)), "", "Write a length or an expression."
        )
    if len(tokens) == 1 and (simple := _single(tokens[0])):
        return simple
    _check_brackets(tokens)
    _check_order(text, tokens)
    return _grammar_tree(tokens)


def _single(token: Token) -> Term | None:
    """The tree of a text of one token: the commonest case, done without the grammar."""
    if token.kind == "NUMBER" and token.value is not None:
        return Number(token.start, token.end, token.value)
    return Name(token.start, token.end, token.text) if token.kind == "NAME" else None


def _check_brackets(tokens: list[Token]) -> None:
    opened: list[Token] = []
    for token in tokens:
        if token.kind == "OPEN":
            opened.append(token)
            if len(opened) > _DEEPEST:
                mend = "Name parts of it under “dimensions”."
                raise RefusalError(
                    "too-deep", f"brackets nested more than {_DEEPEST} deep", token.start, token.end, "", mend
                )
        elif token.kind == "CLOSE":
            if not opened:
                raise RefusalError(
                    "bracket",
                    "a bracket closes that was not opened",
                    token.start,
                    token.end,
                    "",
                    "Delete it, or open one before.",
                )
            opened.pop()
    if opened:
        raise RefusalError(
            "bracket", "a bracket is not closed", opened[-1].start, opened[-1].end, "", "Add a closing bracket."
        )


def _check_order(text: str, tokens: list[Token]) -> None:
    """Values and operators take turns; says what is missing where they do not."""
    compared: list[bool] = [False]
    for index, token in enumerate(tokens):
        before = tokens[index - 1] if index else None
        starts = token.kind in ("NUMBER", "NAME", "FUNCTION", "OPEN", "NEGATIVE")
        if not starts and (before is None or not is_operand_end(before)):
            raise _value_missing(text, before, token)
        if token.kind == "NEGATIVE" and before and before.kind == "NEGATIVE":
            raise RefusalError(
                "double-sign", "two minus signs in a row", before.start, token.end, "", "Delete both, or one."
            )
        if token.kind == "OPEN":
            compared.append(False)
        elif token.kind == "CLOSE":
            compared.pop()
        elif token.kind == "COMMA":
            compared[-1] = False
            _check_comma_place(tokens, index)
        elif token.kind == "COMPARE":
            if compared[-1]:
                raise RefusalError(
                    "chained-comparison", "a comparison compares two values", token.start, token.end, "", "Delete one."
                )
            compared[-1] = True
    last = tokens[-1]
    if not is_operand_end(last):
        raise RefusalError(
            "value-missing",
            f"a value is missing after “{_shown(text, last)}”",
            last.start,
            last.end,
            "The expression ends here.",
            "Write what comes after it.",
        )


def _value_missing(text: str, before: Token | None, token: Token) -> RefusalError:
    shown = _shown(text, token)
    if before is None:
        mend = "Delete it." if token.kind == "PLUS" else "Write a value first."
        return RefusalError("value-missing", f"a value is missing before “{shown}”", token.start, token.end, "", mend)
    message = f"a value is missing between “{_shown(text, before)}” and “{shown}”"
    return RefusalError(
        "value-missing", message, before.start, token.end, "", "Write the value, or delete one of the two."
    )


def _check_comma_place(tokens: list[Token], index: int) -> None:
    depth = 0
    for at in range(index - 1, -1, -1):
        depth += {"CLOSE": 1, "OPEN": -1}.get(tokens[at].kind, 0)
        if depth < 0:
            if at and tokens[at - 1].kind == "FUNCTION":
                return
            break
    token = tokens[index]
    cause = "Commas divide the arguments of a function; decimals take a point."
    raise RefusalError(
        "stray-comma", "a comma is not allowed here", token.start, token.end, cause, "Delete it, or write a point."
    )


def _shown(text: str, token: Token) -> str:
    return text[token.start : token.end]


def _grammar_tree(tokens: list[Token]) -> Term:
    """The tree by the grammar. Order and brackets have been checked, so it can only refuse the arguments of a function."""
    return _Descent(tokens).comparison()


class _Descent:
    """Reads tokens by the grammar, each rule by a method of its own, loosest first::

    comparison = sum [COMPARE sum]
    sum        = product {(PLUS | MINUS) product}
    product    = signed {(TIMES | OVER) signed}
    signed     = [NEGATIVE] value
    value      = NUMBER | NAME | OPEN comparison CLOSE | FUNCTION OPEN comparison {COMMA comparison} CLOSE
    """

    def __init__(self, tokens: list[Token]) -> None:
        self._tokens, self._at = tokens, 0

    def comparison(self) -> Term:
        """A comparison compares two values."""
        left = self._sum()
        return self._binary(left, self._sum) if self._next_is("COMPARE") else left

    def _sum(self) -> Term:
        left = self._product()
        while self._next_is("PLUS", "MINUS"):
            left = self._binary(left, self._product)
        return left

    def _product(self) -> Term:
        left = self._signed()
        while self._next_is("TIMES", "OVER"):
            left = self._binary(left, self._signed)
        return left

    def _binary(self, left: Term, read_right: Callable[[], Term]) -> Binary:
        operator = self._take()
        right = read_right()
        return Binary(left.start, right.end, operator.text, left, right)

    def _signed(self) -> Term:
        """A minus sign binds closer than a product."""
        if not self._next_is("NEGATIVE"):
            return self._value()
        sign = self._take()
        value = self._value()
        return Negative(sign.start, value.end, value)

    def _value(self) -> Term:
        token = self._take()
        if token.kind == "OPEN":
            inner = self.comparison()
            return _with_span(inner, token.start, self._take().end)
        if token.kind == "FUNCTION":
            return self._call(token)
        simple = _single(token)
        assert simple is not None
        return simple

    def _call(self, function: Token) -> Call:
        self._take()  # the opening bracket
        arguments = [self.comparison()]
        while self._next_is("COMMA"):
            self._take()
            arguments.append(self.comparison())
        return _call(function, tuple(arguments), self._take().end)

    def _next_is(self, *kinds: str) -> bool:
        return self._at < len(self._tokens) and self._tokens[self._at].kind in kinds

    def _take(self) -> Token:
        token = self._tokens[self._at]
        self._at += 1
        return token


def _with_span(term: Term, start: int, end: int) -> Term:
    """The term with the brackets around it in its span, so that they are underlined with it."""
    return replace(term, start=start, end=end)


def _call(function: Token, arguments: tuple[Term, ...], end: int) -> Call:
    known = FUNCTIONS[function.text]
    if len(arguments) < known.least or (known.most is not None and len(arguments) > known.most):
        message = f"{function.text} does not take {counted(len(arguments), 'value')}"
        raise RefusalError("wrong-arguments", message, function.start, end, "", f"Write {known.form}.")
    return Call(function.start, end, function.text, arguments)
