"""Refusal of what two people would read as two different sizes, with both readings reported.

The rules: a hyphen that subtracts has a space on each side; a stroke that divides has no second stroke stuck to it;
a mixed number with a hyphen is not stuck to an operator, nor does a fraction stand behind a division stroke without brackets.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from drawleaf.source.symbols import RefusalError

if TYPE_CHECKING:
    from drawleaf.source.numerals import Token

_VALUE_ENDS = ("NUMBER", "NAME", "CLOSE")
_VALUE_STARTS = ("NUMBER", "NAME", "OPEN", "FUNCTION")
_OPERATORS = {"PLUS": "+", "TIMES": "*", "OVER": "/"}


def refuse_ambiguous(text: str, tokens: list[Token]) -> None:
    """Raises RefusalError at the first place that can be read both ways, or where an operator is missing."""
    for index in range(1, len(tokens)):
        before, token = tokens[index - 1], tokens[index]
        after = tokens[index + 1] if index + 1 < len(tokens) else None
        if token.kind == "MINUS" and before.kind in _VALUE_ENDS and after:
            _check_minus(text, tokens, index)
        elif token.kind == "OVER" and after:
            _check_stroke(text, tokens, index)
        elif token.kind == "NUMBER" and before.kind in _OPERATORS:
            _check_number_after(text, tokens, index)
        elif before.kind in _VALUE_ENDS and token.kind in _VALUE_STARTS:
            _refuse_missing_operator(text, before, token)
        elif token.kind == "COMMA" and after:
            _check_comma(text, tokens, index)


def _two_ways(text: str, start: int, end: int, first: tuple[str, str], second: tuple[str, str]) -> RefusalError:
    """A refusal with two readings, each as (how to write it, what it means)."""
    return RefusalError(
        "ambiguous",
        f"“{text[start:end]}” can be read in two ways",
        start,
        end,
        f"It could be {first[1]}, or {second[1]}.",
        f"Write {first[0]} for the one, {second[0]} for the other.",
    )


def _check_minus(text: str, tokens: list[Token], index: int) -> None:
    left, minus, right = tokens[index - 1], tokens[index], tokens[index + 1]
    if minus.spaced and right.spaced:
        return
    end = right.end
    a, b = left.text, right.text
    subtract = (f"{_tail(text, tokens, index)} - {b}", "a subtraction")
    if left.unit in ("'", "ft", "foot", "feet") and right.kind == "NUMBER":
        inches = b if right.unit else f'{b}"'
        raise _two_ways(
            text, left.start, end, (f"{a} {inches}", "feet and inches"), (f"{a} - {inches}", "a subtraction")
        )
    divided = index > 1 and tokens[index - 2].kind == "OVER" and not left.spaced
    if divided and index > 2:
        over = tokens[index - 3].text if tokens[index - 3].kind != "CLOSE" else "(…)"
        start = tokens[index - 3].start
        raise _two_ways(
            text, start, end, (f"{over} / {a} - {b}", "a division and then a subtraction"),
            (f"{over} / ({a} - {b})", "a division by a difference"),
        )  # fmt: skip
    if left.form == "fraction" and left.unit == "" and right.kind == "NUMBER" and "/" in a:
        top, below = a.split("/", 1)
        raise _two_ways(
            text, left.start, end, (f"{a} - {b}", "a subtraction"), (f"{top} / ({below}-{b})", "a division by a mixed number")
        )  # fmt: skip
    if left.form == "whole" and not left.unit and right.kind == "NUMBER":
        raise _whole_number_hyphen(text, left, right)
    if left.kind == "NAME" and right.kind == "NAME":
        name = (f"{a}_{b}", "one name (names take underscores)")
        raise _two_ways(text, left.start, end, subtract, name)
    negative = (f"{_tail(text, tokens, index)} * -{b}", "a negative figure whose operator is missing")
    raise _two_ways(text, left.start, end, subtract, negative)


def _whole_number_hyphen(text: str, left: Token, right: Token) -> RefusalError:
    a, b = left.text, right.text
    subtract = (f"{a} - {b}", f"{a} less {b}")
    if right.form == "fraction":
        return _two_ways(text, left.start, right.end, (f"{a}-{b}", f"the mixed number {a} and {b}"), subtract)
    below = next(
        (size for size in (2, 4, 8, 16, 32, 64) if right.form == "whole" and not right.unit and size > int(b)), None
    )
    fraction = (f"{a}-{b}/{below}", "a mixed number whose fraction is cut short")
    if below is None:
        fraction = (f"{a} * -{b}", "a negative figure whose operator is missing")
    return _two_ways(text, left.start, right.end, subtract, fraction)


def _tail(text: str, tokens: list[Token], index: int) -> str:
    """The value before a token, in short."""
    before = tokens[index - 1]
    return "(…)" if before.kind == "CLOSE" else text[before.start : before.end]


def _check_stroke(text: str, tokens: list[Token], index: int) -> None:
    """A second stroke stuck to a fraction or to another division."""
    left, stroke, right = tokens[index - 1], tokens[index], tokens[index + 1]
    if stroke.spaced or right.spaced:
        return
    b = right.text
    if left.kind == "NUMBER" and "/" in left.text and not left.unit:
        again = (f"({left.text}) / {b}", "all of it divided again")
        raise _two_ways(text, left.start, right.end, again, _other_stroke(left, b))
    chained = index > 2 and tokens[index - 2].kind == "OVER" and not left.spaced and not tokens[index - 2].spaced
    if chained:
        first = tokens[index - 3]
        a, m = ("(…)" if first.kind == "CLOSE" else first.text), _tail(text, tokens, index)
        raise _two_ways(
            text, first.start, right.end, (f"{a} / {m} / {b}", "a division twice over"), (f"{a} / ({m} / {b})", "a division by a ratio")
        )  # fmt: skip


def _other_stroke(left: Token, b: str) -> tuple[str, str]:
    """The second reading of ``1/2/3``, ``16-1/2/3`` or ``16 1/2/3``."""
    match left.form:
        case "fraction":
            top, below = left.text.split("/", 1)
            return f"{top} / ({below}/{b})", "a figure over a fraction"
        case "hyphened":
            whole, fraction = left.text.split("-", 1)
            return f"{whole} - {fraction} / {b}", "a subtraction"
        case _:
            whole, fraction = left.text.rsplit(" ", 1)
            return f"{whole} + {fraction} / {b}", "its fraction alone divided"


def _check_number_after(text: str, tokens: list[Token], index: int) -> None:
    """A fraction or mixed number right behind an operator that might take only its first figure."""
    operator, number = tokens[index - 1], tokens[index]
    if index < 2:
        return
    stuck = not number.spaced and not operator.spaced
    slashed = number.form == "fraction" and "/" in number.text
    risky = (operator.kind == "OVER" and (slashed or number.form == "hyphened")) or (
        stuck and number.form == "hyphened"
    )
    if not risky:
        return
    sign, a, b = _OPERATORS[operator.kind], _tail(text, tokens, index - 1), number.text
    joiner = "-" if number.form == "hyphened" else "/"
    head, rest = b.split(joiner, 1)
    whole = (f"{a} {sign} ({b})", f"a calculation with {b} as one figure")
    split = (f"{a} {sign} {head} {joiner} {rest}", f"one with {head} first and then {joiner} {rest}")
    start = tokens[index - 2].start
    raise _two_ways(text, start, number.end, whole, split)


def _refuse_missing_operator(text: str, left: Token, right: Token) -> None:
    start = left.start if left.kind != "CLOSE" else left.end - 1
    a = "(…)" if left.kind == "CLOSE" else left.text
    b = "(…)" if right.kind == "OPEN" else f"{right.text}(…)" if right.kind == "FUNCTION" else right.text
    mend = f"Write {a} * {b} to multiply, or {a} + {b} to add."
    if left.kind == "CLOSE" and right.text in ("in", "mm", "cm", "m", "ft", "deg"):
        mend = f"A unit belongs to a number: write {a} * 1 {right.text}."
    message = f"an operator is missing between {a} and {b}"
    raise RefusalError("missing-operator", message, start, right.end, "", mend)


def _check_comma(text: str, tokens: list[Token], index: int) -> None:
    """A comma between figures outside a function: thousands to some, decimals to others."""
    if _inside_call(tokens, index):
        return
    left, right = tokens[index - 1], tokens[index + 1]
    if left.kind == right.kind == "NUMBER" and not right.spaced:
        raise _two_ways(
            text, left.start, right.end, (f"{left.text}.{right.text}", "a decimal"), (f"{left.text}{right.text}", "thousands")
        )  # fmt: skip


def _inside_call(tokens: list[Token], index: int) -> bool:
    calls: list[bool] = []
    for at, token in enumerate(tokens[:index]):
        if token.kind == "OPEN":
            calls.append(at > 0 and tokens[at - 1].kind == "FUNCTION")
        elif token.kind == "CLOSE" and calls:
            calls.pop()
    return bool(calls) and calls[-1]
