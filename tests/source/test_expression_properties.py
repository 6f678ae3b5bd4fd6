"""Properties of expressions over many random ones: what is printed reads back, and arithmetic agrees with fractions."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.expressions import Expression, parse_expression
from drawleaf.units import Length, LengthFormat, Units

sixty_fourths = st.integers(-64 * 200, 64 * 200).map(lambda n: Fraction(n, 64))


def read(text: str, unit="in") -> Expression | Diagnostic:
    return parse_expression(text, Position("f", 1, 1, len(text)), unit)


def length(text: str, env=None, unit="in") -> Length | Diagnostic:
    expression = read(text, unit)
    assert isinstance(expression, Expression), (text, expression)
    return expression.length(env or {})


@given(sixty_fourths)
def test_printed_inches_read_back(inches: Fraction) -> None:
    printed = LengthFormat(Units.INCH, inch_step=Fraction(1, 64)).text(Length.of_inches(inches))
    assert length(printed, unit="mm") == Length.of_inches(inches)


@given(st.integers(-(10**6), 10**6))
def test_printed_millimetres_read_back(halves: int) -> None:
    exact = Length(Fraction(halves, 2))
    assert length(LengthFormat(Units.MM).text(exact)) == exact


@given(st.integers(0, 99), st.integers(0, 11), st.sampled_from(["", "1/2", "3/4", "15/16"]))
def test_feet_and_inches(feet: int, inches: int, fraction: str) -> None:
    rest = f"{inches}-{fraction}" if fraction else f"{inches}"
    value = 12 * feet + inches + Fraction(fraction or 0)
    for text in (f"{feet}' {rest}\"", f"{feet}'{rest}\"", f"{feet} ft {rest} in", f"{feet}′ {rest}″"):
        assert length(text) == Length.of_inches(value)


def _numbers() -> st.SearchStrategy[tuple[str, Fraction]]:
    whole = st.integers(0, 99).map(lambda n: (str(n), Fraction(n)))
    mixed = st.tuples(st.integers(0, 99), st.sampled_from([(1, 2), (3, 4), (5, 8), (23, 32)])).map(
        lambda m: (f"{m[0]}-{m[1][0]}/{m[1][1]}", m[0] + Fraction(*m[1]))
    )
    decimal = st.decimals(0, 99, places=3).map(lambda d: (str(d), Fraction(d)))
    return st.one_of(whole, mixed, decimal)


def _combined(children: st.SearchStrategy) -> st.SearchStrategy:
    def join(parts: tuple) -> tuple[str, Fraction | None]:
        (left, a), sign, (right, b) = parts
        text = f"({left} {sign} ({right}))"
        if a is None or b is None or (sign == "/" and b == 0):
            return text, None
        value = {"+": lambda: a + b, "-": lambda: a - b, "*": lambda: a * b, "/": lambda: a / b}[sign]()
        return text, value if abs(value) < 10**6 else None

    negative = children.map(lambda one: (f"(-{one[0]})", None if one[1] is None else -one[1]))
    return st.one_of(st.tuples(children, st.sampled_from("+-*/"), children).map(join), negative)


@given(st.recursive(_numbers(), _combined, max_leaves=12))
def test_arithmetic_agrees_with_fractions(case: tuple[str, Fraction | None]) -> None:
    text, value = case
    expression = read(text)
    assert isinstance(expression, Expression) or expression.code == "expression-too-long", (text, expression)
    if value is None or not isinstance(expression, Expression):
        return
    number = expression.number({})
    assert number == value or (isinstance(number, Diagnostic) and number.code in ("too-large", "too-fine"))


@given(st.lists(st.tuples(st.sampled_from("+-*"), st.integers(1, 20)), min_size=1, max_size=8))
def test_precedence_is_that_of_arithmetic(steps: list[tuple[str, int]]) -> None:
    text = "7" + "".join(f" {sign} {number}" for sign, number in steps)
    expression = read(text)
    assert isinstance(expression, Expression)
    assert expression.number({}) == eval(text)


@given(sixty_fourths, sixty_fourths, st.integers(1, 50))
def test_named_lengths_mix_exactly(a: Fraction, b: Fraction, n: int) -> None:
    env = {"a": Length.of_inches(a), "b": Length.of_mm(b), "n": n}
    assert length("(a - b) / n + 18 mm", env) == (env["a"] - env["b"]) / n + Length.of_mm(18)


@given(st.text(max_size=40))
def test_no_text_makes_it_raise(text: str) -> None:
    found = read(text)
    if isinstance(found, Diagnostic):
        assert found.message
        assert found.position is not None
        assert 1 <= found.position.column <= max(1, len(text))
    else:
        found.length({})


@given(st.text(alphabet="ab12 .-+*/()'\"½inmdeg°,<", max_size=16))
def test_no_near_expression_makes_it_raise(text: str) -> None:
    found = read(text)
    if isinstance(found, Expression):
        for method in (found.length, found.number, found.count, found.angle, found.value, found.truth):
            method({"a": Length.of_inches(3), "b": 2})
