"""Every notation of lengths and angles, every refusal, and where the finger points."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.expressions import Expression, parse_expression
from drawleaf.source.syntax import parse
from drawleaf.source.values import Angle, Value
from drawleaf.units import Length

INCH = Length.of_inches
ENV: dict[str, Value] = {
    "width": INCH(42),
    "depth": INCH(Fraction(31, 2)),
    "a": INCH(6),
    "b": INCH(2),
    "hooks": 5,
    "share": Fraction(2, 3),
    "tilt": Angle(Fraction(15)),
    "side.right": INCH(Fraction(23, 32)),
    "side.mirrored.left": INCH(Fraction(41)),
    "stock.seat.thickness": INCH(Fraction(3, 4)),
    "shelf.2.top": INCH(9),
    "case.spacer.left": INCH(40),
    "seat": INCH(20),
    "height": INCH(19),
}


def at(text: str) -> Position:
    """A position whose columns are those of the text."""
    return Position("plan.yaml", 7, 1, len(text))


def parsed(text: str, unit="in") -> Expression:
    expression = parse_expression(text, at(text), unit)
    assert isinstance(expression, Expression), expression
    return expression


def length(text: str, unit="in") -> Length:
    value = parsed(text, unit).length(ENV)
    assert isinstance(value, Length), value
    return value


def mistake(text: str, method: str = "length", unit="in") -> Diagnostic:
    expression = parse_expression(text, at(text), unit)
    found = getattr(expression, method)(ENV) if isinstance(expression, Expression) else expression
    assert isinstance(found, Diagnostic), found
    return found


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("23/32", "23/32"),
        ("16-1/2", "33/2"),
        ("16 1/2", "33/2"),
        ("16-1/2 in", "33/2"),
        ("16-1/2in", "33/2"),
        ('16 1/2"', "33/2"),
        ("16-1/2 inches", "33/2"),
        ("1 inch", "1"),
        ("3'", "36"),
        ("3' 6-1/2\"", "85/2"),
        ("3' 6 1/2\"", "85/2"),
        ("3'6\"", "42"),
        ("3' 1/2\"", "73/2"),
        ("3 ft 6-1/2 in", "85/2"),
        ("3 feet 6 inches", "42"),
        ("1 foot", "12"),
        ("3-1/2'", "42"),
        ("1.5 ft", "18"),
        ("15.5", "31/2"),
        (".5", "1/2"),
        ("0.1", "1/10"),
        ("½", "1/2"),
        ("16½", "33/2"),
        ("16 ½", "33/2"),
        ("16-½", "33/2"),
        ("16⅝″", "133/8"),
        ("3′ 6″", "42"),
        ("3’ 6”", "42"),
        ("1⁄2", "1/2"),
        ("5/4", "5/4"),
        ("-1/2", "-1/2"),
        ("- 3", "-3"),
        ("-16-1/2", "-33/2"),
        ("  7  ", "7"),
    ],
)
def test_inch_notations(text: str, inches: str) -> None:
    assert length(text).inches == Fraction(inches)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("18 mm", "18"),
        ("18mm", "18"),
        ("5.2 mm", "26/5"),
        ("1.8 cm", "18"),
        ("1.2 m", "1200"),
        ("1/2 mm", "1/2"),
        ("0.1 mm", "1/10"),
        ("23/32 in + 18 mm", "36.25625"),  # 23/32 of 25.4 is 18.25625
    ],
)
def test_metric_notations_are_exact(text: str, mm: str) -> None:
    assert length(text).exact_mm == Fraction(mm)


def test_a_bare_figure_takes_the_plans_unit() -> None:
    assert length("18", "mm").exact_mm == 18
    assert length("18", "in").inches == 18
    assert length("width - 2 * 10", "mm") == INCH(42) - Length.of_mm(20)
    assert length("3/4 in", "mm").inches == Fraction(3, 4)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("width − 2", "40"),
        ("width - 1/2", "83/2"),
        ("2 × 3", "6"),
        ("12 ÷ 4", "3"),
        ("width+16", "58"),
        ("width*2", "84"),
        ("width/2", "21"),
        ("1 / 2", "1/2"),
        ("1/2 / 3", "1/6"),
        ("width / 4 / 2", "21/4"),
        ("width / (1/2)", "84"),
        ("2 * 16-1/2", "33"),
        ("width - 16-1/2", "51/2"),
        ("1 + 2 * 3", "7"),
        ("(1 + 2) * 3", "9"),
        ("10 - 4 - 3", "3"),
        ("-a + b", "-4"),
        ("a * -1/2", "-3"),
        ("a - -2", "8"),
        ("a * b / b", "6"),
        ("0 - 3/4", "-3/4"),
        ("13-1/4 + 3/4", "14"),
        ("shelf.2.top + 4-1/4 + 1/8", "107/8"),
        ("(width - 2 * b) / (hooks - 1)", "19/2"),
        ("case.spacer.left - side.right - 1", "1225/32"),
        ("height - stock.seat.thickness", "73/4"),
        ("width * share", "28"),
        ("hooks * 1 in", "5"),
        ("a / b * 1 in", "3"),
        ("min(a, b, 1)", "1"),
        ("max(width, 3)", "42"),
        ("max(1,5)", "5"),
        ("min(4, 3)", "3"),
        ("abs(b - a)", "4"),
        ("round(width / 10)", "4"),
        ("round(4-1/2)", "5"),
        ("round(-4.5)", "-5"),
        ("round(width / 9, 1/16)", "75/16"),
        ("ceil(width / 5)", "9"),
        ("ceil(a / 7, 1/8)", "7/8"),
        ("floor(width / 5)", "8"),
        ("floor(0 - 1/2)", "-1"),
        ("sqrt(3 * 3 + 4 * 4)", "5"),
        ("sqrt(a * a * 4)", "12"),
        ("sqrt(share * share) * a", "4"),
        ("a * sin(30 deg)", "3"),
        ("a * cos(60°)", "3"),
        ("a * tan(45 deg)", "6"),
        ("a * sin(asin(1/2))", "3"),
        ("a * tan(atan(b / b))", "6"),
        ("a * cos(acos(0 - 1))", "-6"),
        ("if(width > 36, 3, 2)", "3"),
        ("if(width <= 36, 3, 2)", "2"),
        ("if(hooks = 5, a, 1)", "6"),
    ],
)
def test_calculations(text: str, inches: str) -> None:
    assert length(text).inches == Fraction(inches)


def test_whole_units_are_the_plans_own_where_nothing_else_is_said() -> None:
    assert length("round(width / 10)", "mm").exact_mm == 107  # 106.68


def test_irrational_roots_are_the_nearest_double() -> None:
    value = length("sqrt(a * a + b * b)")
    assert value.inches != 0
    assert value.mm == pytest.approx((36 + 4) ** 0.5 * 25.4, rel=1e-15)
    assert length("a * sin(20 deg)").mm == pytest.approx(6 * 25.4 * 0.3420201433256687, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [("15 deg", "15"), ("15°", "15"), ("22-1/2°", "45/2"), ("15", "15"), ("tilt * 2", "30"), ("90° - tilt", "75"), ("atan(a / a)", "45"), ("asin(1/2)", "30"), ("abs(-5°)", "5"), ("tilt / 3", "5")],
)  # fmt: skip
def test_angles(text: str, degrees: str) -> None:
    assert parsed(text).angle(ENV) == Angle(Fraction(degrees))


@pytest.mark.parametrize(
    ("text", "count"), [("5", 5), ("hooks", 5), ("hooks - 1", 4), ("width / b", 21), ("floor(width / 10)", None), ("floor(width / a)", 7), ("0", 0)]
)  # fmt: skip
def test_counts(text: str, count: int | None) -> None:
    if count is None:
        assert mistake(text, "count").code == "wrong-kind"
    else:
        assert parsed(text).count(ENV) == count


def test_other_results() -> None:
    assert parsed("1/3").number(ENV) == Fraction(1, 3)
    assert parsed("width / a").number(ENV) == 7
    assert parsed("width > 36").truth(ENV) is True
    assert parsed("a ≤ b").truth(ENV) is False
    assert parsed("a != b").truth(ENV) is True
    assert parsed("42").value(ENV) == INCH(42)
    assert parsed("15 deg").value(ENV) == Angle(Fraction(15))
    assert parsed("hooks + 1").value(ENV) == 6


def test_names_are_told_in_order() -> None:
    expression = parsed("side.right + max(b, side.mirrored.left) - side.right + shelf.2.top")
    assert expression.ordered_names == ("side.right", "b", "side.mirrored.left", "shelf.2.top")
    assert expression.names == frozenset(expression.ordered_names)
    assert expression.position_of("side.mirrored.left") == Position("plan.yaml", 7, 21, 18)
    assert parsed("3' 6\"").is_constant


# Text, the columns underlined (first, how many), and the two readings to be shown.
AMBIGUOUS = [
    ("16 -1/2", 1, 7, "16-1/2", "16 - 1/2"),
    ("16- 1/2", 1, 7, "16-1/2", "16 - 1/2"),
    ("16 -½", 1, 5, "16-½", "16 - ½"),
    ("width -1/2", 1, 10, "width - 1/2", "width * -1/2"),
    ("width- 1/2", 1, 10, "width - 1/2", "width * -1/2"),
    ("width-1/2", 1, 9, "width - 1/2", "width * -1/2"),
    ("width-16-1/2", 1, 12, "width - 16-1/2", "width * -16-1/2"),
    ("(a + b) -2", 7, 4, "(…) - 2", "(…) * -2"),
    ("3-1", 1, 3, "3 - 1", "3-1/2"),
    ("3-5", 1, 3, "3 - 5", "3-5/8"),
    ("3-70", 1, 4, "3 - 70", "3 * -70"),
    ("a/b-1/2", 1, 7, "a / b - 1/2", "a / (b - 1/2)"),
    ("2 + a/b-1/2", 5, 7, "a / b - 1/2", "a / (b - 1/2)"),
    ("1/2-1/4", 1, 7, "1/2 - 1/4", "1 / (2-1/4)"),
    ("1/2/3", 1, 5, "(1/2) / 3", "1 / (2/3)"),
    ("16-1/2/2", 1, 8, "(16-1/2) / 2", "16 - 1/2 / 2"),
    ("16 1/2/2", 1, 8, "(16 1/2) / 2", "16 + 1/2 / 2"),
    ("width/1/2", 1, 9, "width / (1/2)", "width / 1 / 2"),
    ("width / 1/2", 1, 11, "width / (1/2)", "width / 1 / 2"),
    ("width / 2-1/2", 1, 13, "width / (2-1/2)", "width / 2 - 1/2"),
    ("a/b/a", 1, 5, "a / b / a", "a / (b / a)"),
    ("2*3-1/2", 1, 7, "2 * (3-1/2)", "2 * 3 - 1/2"),
    ("a+3-1/2", 1, 7, "a + (3-1/2)", "a + 3 - 1/2"),
    ("seat-height", 1, 11, "seat - height", "seat_height"),
    ("4'-6", 1, 4, "4' 6\"", "4' - 6\""),
    ("4'-6\"", 1, 5, "4' 6\"", "4' - 6\""),
    ("4' -6\"", 1, 6, "4' 6\"", "4' - 6\""),
    ("4'- 6\"", 1, 6, "4' 6\"", "4' - 6\""),
    ("4 ft -6 in", 1, 10, "4 ft 6 in", "4 ft - 6 in"),
    ("16-5/2", 1, 6, "16 + 5/2", "16 - 5/2"),
    ("16 5/4", 1, 6, "16 + 5/4", "16 - 5/4"),
    ("1,000", 1, 5, "1.000", "1000"),
    ("1,5", 1, 3, "1.5", "15"),
]


@pytest.mark.parametrize(("text", "column", "span", "first", "second"), AMBIGUOUS)
def test_what_can_be_read_two_ways_is_refused(text: str, column: int, span: int, first: str, second: str) -> None:
    found = mistake(text)
    assert found.code == "ambiguous"
    assert found.position is not None
    assert (found.position.line, found.position.column, found.position.length) == (7, column, span)
    assert first in found.mend
    assert second in found.mend
    assert found.cause


@pytest.mark.parametrize(("text", "column", "span", "first", "second"), AMBIGUOUS)
def test_both_readings_shown_can_be_written_and_differ(
    text: str, column: int, span: int, first: str, second: str
) -> None:
    if "…" in first:
        first, second = first.replace("…", "a + b"), second.replace("…", "a + b")
    environment = {**ENV, "seat_height": INCH(18)}
    values = [parsed(reading).value(environment) for reading in (first, second)]
    assert not any(isinstance(value, Diagnostic) and value.code != "wrong-kind" for value in values), values
    assert values[0] != values[1]


@pytest.mark.parametrize(
    ("text", "code", "column", "span"),
    [
        ("", "no-expression", 1, 1),
        ("   ", "no-expression", 1, 3),
        ("1/0", "division-by-zero", 1, 3),
        ("width / 0", "division-by-zero", 1, 9),
        ("a + width / (b - b)", "division-by-zero", 5, 15),
        ("2 3", "missing-operator", 1, 3),
        ("2 (3)", "missing-operator", 1, 3),
        ("width 1/2", "missing-operator", 1, 9),
        ("a b", "missing-operator", 1, 3),
        ("(1 + 2) in", "missing-operator", 7, 4),
        ("2width", "unknown-unit", 2, 5),
        ("5 inchs", "unknown-unit", 3, 5),
        ("5 yd", "unknown-unit", 3, 2),
        ("2x4", "unknown-unit", 2, 2),
        ("(width", "bracket", 1, 1),
        ("width)", "bracket", 6, 1),
        ("width +", "value-missing", 7, 1),
        ("* 3", "value-missing", 1, 1),
        ("+3", "value-missing", 1, 1),
        ("()", "value-missing", 1, 2),
        ("3 + * 2", "value-missing", 3, 3),
        ("min()", "value-missing", 4, 2),
        ("--3", "double-sign", 1, 2),
        ("1e3", "exponent", 1, 3),
        ("2^3", "power", 2, 1),
        ("2**3", "power", 2, 2),
        ("(a, b)", "stray-comma", 3, 1),
        ("foo(1)", "unknown-function", 1, 3),
        ("round(1, 2, 3)", "wrong-arguments", 1, 14),
        ("if(a > b, 1)", "wrong-arguments", 1, 12),
        ("a < b < 3", "chained-comparison", 7, 1),
        ("wdth + 1", "unknown-name", 1, 4),
        ("a + wdth", "unknown-name", 5, 4),
        ("9" * 41, "too-large", 1, 41),
        ("1000000000 m", "too-large", 1, 12),
        ("a + 100000 m * 100000", "too-large", 5, 17),
        ("side.", "stray-point", 5, 1),
        (".", "stray-point", 1, 1),
        ("5.", "stray-point", 2, 1),
        ("5 in.", "stray-point", 5, 1),
        ("1.2.3", "stray-point", 1, 4),
        ("größe", "odd-character", 3, 1),
        ("{a}", "odd-character", 1, 1),
        ("5 % 2", "odd-character", 3, 1),
        ("4' 6", "no-inch-mark", 1, 4),
        ("3-1/2' 6\"", "broken-feet", 1, 9),
        ("3''", "stray-mark", 2, 2),
        ("'3", "stray-mark", 1, 1),
        ("width + hooks", "mixed-kinds", 1, 13),
        ("hooks - width", "mixed-kinds", 1, 13),
        ("width > hooks", "mixed-kinds", 1, 13),
        ("tilt + 5", "mixed-kinds", 1, 8),
        ("width * tilt", "mixed-kinds", 1, 12),
        ("width + (a < b)", "mixed-kinds", 1, 15),
        ("a + max(width, hooks)", "mixed-kinds", 5, 17),
        ("width * depth", "wrong-kind", 1, 13),
        ("hooks", "wrong-kind", 1, 5),
        ("hooks + 3", "wrong-kind", 1, 9),
        ("tilt", "wrong-kind", 1, 4),
        ("a < b", "wrong-kind", 1, 5),
        ("-(a < b)", "wrong-kind", 1, 8),
        ("10 / 2 in", "wrong-kind", 1, 9),
        ("a * sin(30)", "wrong-kind", 5, 7),
        ("sin(width)", "wrong-kind", 1, 10),
        ("sqrt(width)", "wrong-kind", 1, 11),
        ("sqrt(tilt)", "wrong-kind", 1, 10),
        ("atan(width)", "wrong-kind", 1, 11),
        ("round(width, 0)", "wrong-kind", 1, 15),
        ("if(1, 2, 3)", "wrong-kind", 1, 11),
        ("sqrt(0 - 4)", "no-root", 1, 11),
        ("asin(2)", "out-of-range", 1, 7),
        ("tan(90 deg)", "no-tangent", 1, 11),
        ("(" * 41 + "a" + ")" * 41, "too-deep", 41, 1),
        ("a + " * 200 + "a", "expression-too-long", 1, 1),
    ],
)
def test_refusals(text: str, code: str, column: int, span: int) -> None:
    found = mistake(text)
    assert found.position is not None
    assert (found.code, found.position.column, found.position.length) == (code, column, span)
    assert found.mend


@pytest.mark.parametrize(
    ("text", "method", "code"),
    [
        ("hooks / 2", "count", "not-whole"),
        ("3-1/2", "count", "not-whole"),
        ("-1", "count", "negative-count"),
        ("99999", "count", "too-large"),
        ("width", "count", "wrong-kind"),
        ("width", "number", "wrong-kind"),
        ("tilt", "number", "wrong-kind"),
        ("width", "angle", "wrong-kind"),
        ("hooks", "angle", "wrong-kind"),
        ("width", "truth", "wrong-kind"),
        ("width * depth", "value", "wrong-kind"),
    ],
)
def test_wrong_results(text: str, method: str, code: str) -> None:
    assert mistake(text, method).code == code


def test_mixed_kinds_name_both_sides() -> None:
    found = mistake("width + hooks")
    assert "“width” is a length" in found.message
    assert "“hooks” is a plain number" in found.message
    assert "hooks * 1 in" in found.mend


def test_likely_names_are_offered() -> None:
    assert "“width”" in mistake("wdth").mend
    assert "“sqrt”" in mistake("sqr(4)").mend
    assert "“if”" in mistake("choose(a > b, 1, 2)").mend
    assert "“ceil”" in mistake("roundup(a)").mend
    assert "5 inches" in mistake("5 inchs").mend


def test_columns_count_from_where_the_scalar_stands() -> None:
    text = "width + nothing"
    found = parse_expression(text, Position("plan.yaml", 12, 30, len(text)))
    assert isinstance(found, Expression)
    diagnostic = found.length(ENV)
    assert isinstance(diagnostic, Diagnostic)
    assert diagnostic.position == Position("plan.yaml", 12, 38, 7)


def test_a_text_written_otherwise_in_the_file_is_pointed_at_as_a_whole() -> None:
    found = parse_expression("3 +\u00a0* 4", Position("plan.yaml", 12, 30, 99))
    assert isinstance(found, Diagnostic)
    assert found.position == Position("plan.yaml", 12, 30, 99)


def test_values_do_not_grow_without_end() -> None:
    """Squares of squares through named dimensions must end in a diagnostic, not in a number of a million digits."""
    value: Value | Diagnostic = Fraction(10**20 + 1, 10**20)
    for _ in range(20):
        value = parsed("x * x").number({"x": value})
        if isinstance(value, Diagnostic):
            break
    assert isinstance(value, Diagnostic)
    assert value.code == "too-fine"


def test_the_grammar_never_refuses_what_the_checks_let_through() -> None:
    """All texts of up to five symbols: each is a tree or a refusal with words, none an exception."""
    symbols = ["a", "2", "1/2", "-", "+", "/", "(", ")", "<", "max(", ","]
    texts = [""]
    for _ in range(4):
        texts = [f"{text} {symbol}" for text in texts for symbol in symbols]
        trees = [parse.__wrapped__(text) for text in texts]
        assert all(hasattr(tree, "start") for tree in trees)
