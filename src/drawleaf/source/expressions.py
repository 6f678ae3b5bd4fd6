"""Expressions: parsed once, then worked out with the values of the names in them.

A figure without a unit takes the plan's unit where a length is wanted (beside a length in ``+``, ``-``, a comparison, ``min``, ``max``,
or as the whole of a length) and is a plain number elsewhere (as factor, as divisor, beside a plain number). Everything is exact
but roots and trigonometry, which are exact where the result is rational and the nearest double elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import TypeVar

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.functions import FUNCTIONS
from drawleaf.source.names import did_you_mean
from drawleaf.source.syntax import Binary, Call, Name, Negative, Number, Refusal, Term, parse
from drawleaf.source.values import (
    Angle,
    KindError,
    Measure,
    Quantity,
    Unit,
    Value,
    add,
    checked,
    compare,
    divide,
    in_unit,
    kind_of,
    multiply,
    negate,
    quantity_of,
)
from drawleaf.units import Length, trimmed

Environment = Mapping[str, Value]

Result = TypeVar("Result")

MOST_COUNTED = 10_000

_VERBS = {"+": "added", "-": "subtracted", "*": "multiplied", "/": "divided"}


def parse_expression(text: str, position: Position, unit: Unit = "in") -> Expression | Diagnostic:
    """The expression in ``text``, which is at ``position``; figures without a unit are in ``unit`` where a length is wanted."""
    tree = parse(text)
    if isinstance(tree, Refusal):
        where = part_of(position, text, tree.start, tree.end)
        return Diagnostic(tree.code, tree.message, where, tree.cause, tree.mend)
    return Expression(text, position, unit, tree)


def part_of(position: Position, text: str, start: int, end: int) -> Position:
    """The columns ``start`` to ``end`` of a text at ``position``. The whole, where the file writes it otherwise
    (over several lines, or with escapes)."""
    if position.length != len(text):
        return position
    return Position(position.file, position.line, position.column + start, max(1, min(end, len(text)) - start))


class _FaultError(Exception):
    """What went wrong at a term. Becomes a diagnostic before it leaves this file."""

    def __init__(self, term: Term, kind: KindError) -> None:
        super().__init__(str(kind))
        self.term, self.kind = term, kind


@dataclass(frozen=True)
class Expression:
    """A parsed expression. The methods that work it out take the values of its names and give a value or a diagnostic."""

    text: str
    position: Position
    unit: Unit
    tree: Term

    @cached_property
    def ordered_names(self) -> tuple[str, ...]:
        """The dotted names in order of appearance, each once."""
        return tuple(dict.fromkeys(term.name for term in _names_in(self.tree)))

    @cached_property
    def names(self) -> frozenset[str]:
        """The dotted names that must be known before the expression can be worked out."""
        return frozenset(self.ordered_names)

    def position_of(self, name: str) -> Position:
        """Where a name first stands; the whole expression where it does not."""
        for term in _names_in(self.tree):
            if term.name == name:
                return part_of(self.position, self.text, term.start, term.end)
        return self.position

    @property
    def is_constant(self) -> bool:
        return not self.names

    def value(self, env: Environment) -> Value | Diagnostic:
        """A length, angle or number as it comes out; a figure without a unit is a length. For dimensions, which may be any."""
        return self._result(env, self._as_value)

    def length(self, env: Environment) -> Length | Diagnostic:
        """A length; a figure without a unit takes the plan's."""
        return self._result(env, self._as_length)

    def number(self, env: Environment) -> Fraction | Diagnostic:
        """A plain number."""
        return self._result(env, self._as_number)

    def count(self, env: Environment) -> int | Diagnostic:
        """A whole number from 0 up."""
        return self._result(env, self._as_count)

    def angle(self, env: Environment) -> Angle | Diagnostic:
        """An angle; a figure without a unit is degrees."""
        return self._result(env, self._as_angle)

    def truth(self, env: Environment) -> bool | Diagnostic:
        """The answer of a comparison."""
        return self._result(env, self._as_truth)

    def _result(self, env: Environment, finish: Callable[[Quantity], Result]) -> Result | Diagnostic:
        try:
            value = _worked_out(self.tree, env, self)
            try:
                return finish(value)
            except KindError as kind:
                raise _FaultError(self.tree, kind) from kind
        except _FaultError as fault:
            return self._diagnostic(fault)

    def _diagnostic(self, fault: _FaultError) -> Diagnostic:
        kind = fault.kind
        where = part_of(self.position, self.text, fault.term.start, fault.term.end)
        return Diagnostic(kind.code, kind.message, where, kind.cause, kind.mend)

    def source_of(self, term: Term) -> str:
        """A term as it is written."""
        return self.text[term.start : term.end]

    def _as_value(self, value: Quantity) -> Value:
        if isinstance(value, Angle):
            return value
        if isinstance(value, Measure) and value.power == 0 and not value.bare:
            return value.amount
        return self._as_length(value)

    def _as_length(self, value: Quantity) -> Length:
        if isinstance(value, Measure):
            value = in_unit(value, self.unit)
            if value.power == 1:
                return Length(value.amount)
        mend = (
            f"Multiply it by a length: {self._factor()} * 1 {self.unit}."
            if _is_plain(value)
            else "Check the expression."
        )
        raise self._wanted("a length", value, mend)

    def _factor(self) -> str:
        return f"({self.text})" if isinstance(self.tree, Binary) else self.text

    def _as_number(self, value: Quantity) -> Fraction:
        if isinstance(value, Measure) and value.power == 0:
            return value.amount
        raise self._wanted("a plain number", value, "Write it without a unit, or divide it by a length.")

    def _as_count(self, value: Quantity) -> int:
        if not (isinstance(value, Measure) and value.power == 0):
            mend = "Write it without a unit, or divide it by a length and take ceil(…) or floor(…)."
            raise self._wanted("a whole number", value, mend)
        if value.amount.denominator != 1:
            mend = "Take floor(…), ceil(…) or round(…) of it." if self.names else "Write a whole number."
            raise KindError(
                "not-whole", f"“{self.text}” is no whole number", f"It comes to {trimmed(value.amount, 3)}.", mend
            )
        if value.amount < 0:
            raise KindError(
                "negative-count",
                f"“{self.text}” is less than nothing",
                f"It comes to {value.amount}.",
                "Check the order of the subtraction.",
            )
        if value.amount > MOST_COUNTED:
            raise KindError(
                "too-large",
                f"“{self.text}” is more than {MOST_COUNTED:,}",
                f"It comes to {value.amount}.",
                "Check the figures.",
            )
        return int(value.amount)

    def _as_angle(self, value: Quantity) -> Angle:
        if isinstance(value, Angle):
            return value
        if isinstance(value, Measure) and value.bare:
            return Angle(value.amount)
        raise self._wanted("an angle", value, "Write it in degrees: 15 deg.")

    def _as_truth(self, value: Quantity) -> bool:
        if isinstance(value, bool):
            return value
        raise self._wanted("a comparison", value, "Write a comparison: width > 36.")

    def _wanted(self, wanted: str, value: Quantity, mend: str) -> KindError:
        return KindError("wrong-kind", f"{wanted} is wanted here, and “{self.text}” is {kind_of(value)}", "", mend)


def _names_in(term: Term) -> Iterator[Name]:
    match term:
        case Name():
            yield term
        case Negative():
            yield from _names_in(term.of)
        case Binary():
            yield from _names_in(term.left)
            yield from _names_in(term.right)
        case Call():
            for argument in term.arguments:
                yield from _names_in(argument)


def _worked_out(term: Term, env: Environment, expression: Expression) -> Quantity:
    """The value of a term. Raises _FaultError at the smallest term that is at fault."""
    match term:
        case Number():
            work = lambda: term.value  # noqa: E731
        case Name():
            work = lambda: _looked_up(term, env)  # noqa: E731
        case Negative():
            inner = _worked_out(term.of, env, expression)
            work = lambda: negate(inner)  # noqa: E731
        case Binary():
            left, right = _worked_out(term.left, env, expression), _worked_out(term.right, env, expression)
            work = lambda: _combined(term, left, right, expression)  # noqa: E731
        case Call():
            values = [_worked_out(argument, env, expression) for argument in term.arguments]
            work = lambda: _called(term, values, expression)  # noqa: E731
    try:
        return checked(work())
    except KindError as kind:
        raise _FaultError(term, kind) from kind


def _looked_up(term: Name, env: Environment) -> Quantity:
    if term.name not in env:
        mend = did_you_mean(term.name, env, otherwise="Check the spelling, or define it under “dimensions”.")
        raise KindError("unknown-name", f"nothing is named “{term.name}”", "", mend)
    return quantity_of(env[term.name])


def _combined(term: Binary, left: Quantity, right: Quantity, expression: Expression) -> Quantity:
    try:
        match term.operator:
            case "+":
                return add(left, right, expression.unit)
            case "-":
                return add(left, right, expression.unit, -1)
            case "*":
                return multiply(left, right)
            case "/":
                return divide(left, right)
            case _:
                return compare(left, term.operator, right, expression.unit)
    except KindError as kind:
        raise _told_with_both(kind, term, left, right, expression) from kind


def _told_with_both(
    kind: KindError, term: Binary, left: Quantity, right: Quantity, expression: Expression
) -> KindError:
    """The error with both sides and their kinds in it."""
    a, b = expression.source_of(term.left), expression.source_of(term.right)
    if kind.code == "division-by-zero":
        return KindError(kind.code, f"“{b}” comes to zero and cannot divide", "", "Check what it is made of.")
    if kind.code != "mixed-kinds":
        return kind
    verb = _VERBS.get(term.operator, "compared")
    mend = "Give both the same kind."
    if _is_plain(left) and _is_length(right):
        mend = f"Multiply {a} by a length first, as in {a} * 1 {expression.unit}."
    elif _is_length(left) and _is_plain(right):
        mend = f"Multiply {b} by a length first, as in {b} * 1 {expression.unit}."
    elif isinstance(left, Angle) and isinstance(right, Measure) and right.bare:
        mend = f"Write {b} deg."
    elif isinstance(right, Angle) and isinstance(left, Measure) and left.bare:
        mend = f"Write {a} deg."
    message = f"“{a}” is {kind_of(left)} and “{b}” is {kind_of(right)}: they cannot be {verb}"
    return KindError(kind.code, message, "", mend)


def _called(term: Call, values: list[Quantity], expression: Expression) -> Quantity:
    try:
        return FUNCTIONS[term.function].work(values, expression.unit)
    except KindError as kind:
        if kind.code != "mixed-kinds":
            raise
        told = " and ".join(
            f"“{expression.source_of(argument)}” is {kind_of(value)}"
            for argument, value in zip(term.arguments, values, strict=True)
        )
        raise KindError(
            kind.code, f"{term.function} takes values of one kind", f"{told}.", "Give all the same kind."
        ) from kind


def _is_plain(value: Quantity) -> bool:
    return isinstance(value, Measure) and value.power == 0 and not value.bare


def _is_length(value: Quantity) -> bool:
    return isinstance(value, Measure) and value.power == 1
