"""How the booklet prints lengths, money, time and the author's Markdown: safe HTML fragments, one place each.

Lengths are rounded by ``units.formats.LengthFormat``; this class only dresses the figure. An inch figure is a whole number, a thin space and a
fraction; only the fraction carries the font's ``frac`` feature, because the feature would turn the whole number into a numerator too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import PurePosixPath

from markdown_it import MarkdownIt
from markupsafe import Markup, escape

from drawleaf.english import count_words, counted
from drawleaf.language import Words
from drawleaf.model.plan import Plan
from drawleaf.note_pictures import is_elsewhere, use_our_rule
from drawleaf.raster import SUFFIXES
from drawleaf.units import Length, LengthFormat, Mixed, Units, round_to, trimmed
from drawleaf.units.in_names import TIMES
from drawleaf.units.measures import convert

THIN_SPACE = "\u2009"
NO_BREAK_SPACE = "\u00a0"
MINUS = "\u2212"


@dataclass(frozen=True, slots=True)
class Formatter(LengthFormat):
    """The one formatter of a booklet, shared by chapters and step wording. Methods return HTML-safe fragments."""

    currency: str = "$"
    words: Words = Words()

    @staticmethod
    def of(plan: Plan) -> Formatter:
        """The formatter that a plan's edition asks for."""
        lengths = plan.lengths
        return Formatter(lengths.units, lengths.inch_step, lengths.mm_step, plan.catalogue.prices.currency, plan.words)

    def length(self, length: Length, unit: bool = True) -> Markup:
        """A length that never breaks over a line. In a dual-unit booklet millimetres follow, lighter, in brackets."""
        match self.units:
            case Units.INCH:
                return _span("len", self._inch(length, unit))
            case Units.MM:
                return _span("len", self._mm(length, unit))
            case Units.BOTH:
                second = _span("second", Markup("({})").format(self._mm(length, unit)))
                return _span("len", self._inch(length, unit) + " " + second)

    def size(self, length: Length, width: Length, thickness: Length | None = None, unit: bool = True) -> Markup:
        """Length x width x thickness in the trade's order; the unit once at the end. Breaks only at a multiplication sign."""
        sides = (length, width) if thickness is None else (length, width, thickness)
        match self.units:
            case Units.INCH:
                return self._inch_size(sides, unit)
            case Units.MM:
                return self._mm_size(sides, unit)
            case Units.BOTH:
                second = _span("second", Markup("({})").format(self._mm_size(sides, unit)))
                return self._inch_size(sides, unit) + " " + second

    def cell(self, length: Length) -> Markup:
        """A length for a table column, without its unit: whole numbers and fractions stand in slots, so that each lines up."""
        if self.units is Units.MM:
            return _span("len", self._mm(length, False))
        mixed = self.mixed(length)
        whole = str(mixed.whole) if mixed.whole or not mixed.numerator else ""
        sign = MINUS if mixed.negative else ""
        fraction = f"{mixed.numerator}/{mixed.denominator}" if mixed.numerator else ""
        gap = THIN_SPACE if whole and fraction else ""
        figure = escape(f"{sign}{whole}{gap}") + (
            _span("frac slot", escape(fraction)) if fraction else _span("slot", Markup(""))
        )
        if self.units is Units.BOTH:
            figure += " " + _span("second slot-mm", Markup("({})").format(self._mm(length, False)))
        return _span("len", figure)

    def area(self, square_metres: float) -> Markup:
        """An area in square feet, square metres, or both."""
        metric = self.number(square_metres, 1 if square_metres >= 1 else 2) + NO_BREAK_SPACE + "m²"
        feet = self.number(convert(square_metres, "m^2", "ft^2"), 0) + NO_BREAK_SPACE + "sq ft"
        return self._one_or_both(feet, metric)

    def volume(self, litres: float) -> Markup:
        """A volume of glue or finish in US fluid ounces, millilitres or litres, or both."""
        metric = (
            self.number(litres, 1) + NO_BREAK_SPACE + "l"
            if litres >= 1
            else f"{round(convert(litres, 'l', 'ml'), -1):.0f}{NO_BREAK_SPACE}ml"
        )
        ounces = self.number(convert(litres, "l", "fl_oz"), 0) + NO_BREAK_SPACE + "fl oz"
        return self._one_or_both(ounces, escape(metric))

    def weight(self, kilograms: float) -> Markup:
        """A mass in pounds, kilograms, or both, to the nearest whole unit."""
        metric = self.number(kilograms, 0) + NO_BREAK_SPACE + "kg"
        return self._one_or_both(self.number(convert(kilograms, "kg", "lb"), 0) + NO_BREAK_SPACE + "lb", metric)

    def _one_or_both(self, customary: Markup, metric: Markup) -> Markup:
        match self.units:
            case Units.INCH:
                return customary
            case Units.MM:
                return metric
            case Units.BOTH:
                return customary + " " + _span("second", Markup("({})").format(metric))

    def unit_name(self) -> str:
        """For a column head: ``inches``, ``mm`` or ``inches (mm)``."""
        return {Units.INCH: "inches", Units.MM: "mm", Units.BOTH: "inches (mm)"}[self.units]

    def setting(self, value: Length | Fraction | str) -> Markup:
        """A machine setting: a length, an angle in degrees, or words."""
        if isinstance(value, Length):
            return self.length(value)
        if isinstance(value, str):
            return escape(value)
        return self.angle(value)

    def money(self, amount: Fraction) -> Markup:
        """An amount in the price book's currency, two decimals."""
        cents = round_to(amount, Fraction(1, 100))
        return _span("money", escape(f"{self.currency}{float(cents):,.2f}"))

    def hours(self, hours: float) -> Markup:
        """A span of time as one would say it: ``25 minutes``, ``2 1/2 hours``, ``3 days``."""
        minutes = hours * 60
        if minutes < 55:
            step = 5 if minutes > 10 else 1
            return escape(counted(max(1, round(minutes / step) * step), "minute", space=NO_BREAK_SPACE))
        if hours >= 48:
            return escape(counted(round(hours / 24), "day", space=NO_BREAK_SPACE))
        halves = round_to(Fraction(hours).limit_denominator(1000), Fraction(1, 2))
        whole, rest = divmod(halves, 1)
        if not rest:
            return escape(counted(int(whole), "hour", space=NO_BREAK_SPACE))
        return _span("len", _fraction_text(Mixed(False, int(whole), 1, 2)) + NO_BREAK_SPACE + "hours")

    def minutes(self, minutes: float) -> Markup:
        """Hands-on time of a step."""
        return self.hours(minutes / 60)

    def angle(self, degrees: Fraction | float) -> Markup:
        """An angle in degrees with its sign."""
        return self.number(degrees) + "\u00b0"

    def number(self, value: Fraction | float, digits: int = 1) -> Markup:
        """A bare number, trailing zeros dropped."""
        return escape(trimmed(value, digits, thousands=True))

    def count(self, count: int, one: str, many: str | None = None) -> Markup:
        """``1 screw``, ``8 screws``: digits, and the right plural."""
        return escape(counted(count, one, many, space=NO_BREAK_SPACE))

    def count_word(self, count: int) -> str:
        """A small count in words, for running text: ``two``; digits beyond twenty."""
        return count_words(count)

    def join(self, words: Iterable[str | Markup], last: str = "and") -> Markup:
        """``a, b and c``."""
        items = [escape(word) for word in words]
        if len(items) < 2:
            return items[0] if items else Markup("")
        return Markup(", ").join(items[:-1]) + f" {last} " + items[-1]

    def markdown(self, text: str) -> Markup:
        """The author's Markdown as HTML: no raw HTML, links to http, https and mailto, pictures that lie beside the plan."""
        return Markup(_markdown().render(text))

    def markdown_line(self, text: str) -> Markup:
        """As ``markdown`` but for one line inside a paragraph."""
        return Markup(_markdown().renderInline(text))

    def _inch(self, length: Length, unit: bool) -> Markup:
        figure = _fraction_text(self.mixed(length))
        return figure + (NO_BREAK_SPACE + "in" if unit else "")

    def _mm(self, length: Length, unit: bool) -> Markup:
        return escape(self.millimetres(length).replace("-", MINUS)) + (NO_BREAK_SPACE + "mm" if unit else "")

    def _inch_size(self, sides: tuple[Length, ...], unit: bool) -> Markup:
        return _joined([_fraction_text(self.mixed(side)) for side in sides], "in" if unit else "")

    def _mm_size(self, sides: tuple[Length, ...], unit: bool) -> Markup:
        return _joined([escape(self.millimetres(side)) for side in sides], "mm" if unit else "")


_NAMED_BALLOON = re.compile(
    r"(?:(?<=[\s>(])|^)([^\s<>]+)(</b>|</strong>)?[ \u00a0]"
    r"(<span class=\"balloon[^\"]*\">\d+</span>(?:\u00a0<span class=\"balloon[^\"]*\">\d+</span>)*[^\s<]*)"
)


def bound(words: Markup) -> Markup:
    """Words in which no balloon stands apart from its name: a line never begins with a bare number or its comma."""
    tied = _NAMED_BALLOON.sub(_bind, str(words))
    return Markup(tied.replace("<b></b>", "").replace("<strong></strong>", ""))


def _bind(found: re.Match[str]) -> str:
    word, end, balloon = found.groups()
    if not end:
        return f'<span class="whole">{word} {balloon}</span>'
    return f'{end}<span class="whole">{end.replace("/", "")}{word}{end} {balloon}</span>'


def _span(kind: str, content: Markup) -> Markup:
    return Markup('<span class="{}">{}</span>').format(kind, content)


def _joined(figures: list[Markup], unit: str) -> Markup:
    last = figures[-1] + (NO_BREAK_SPACE + unit if unit else "")
    spans = [_span("len", figure) for figure in (*figures[:-1], last)]
    return Markup(f"{NO_BREAK_SPACE}{TIMES} ").join(spans)


def _fraction_text(mixed: Mixed) -> Markup:
    sign = MINUS if mixed.negative else ""
    if not mixed.numerator:
        return escape(f"{sign}{mixed.whole}")
    fraction = Markup('<span class="frac">{}/{}</span>').format(mixed.numerator, mixed.denominator)
    return escape(f"{sign}{mixed.whole}{THIN_SPACE}" if mixed.whole else sign) + fraction


@cache
def _markdown() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False, "typographer": False}).enable("table")
    default_check = parser.validateLink

    def allowed(url: str) -> bool:
        scheme, colon, _ = url.strip().partition(":")
        if not colon:
            return _may_lie_beside(url)
        return scheme.lower() in ("http", "https", "mailto") and default_check(url)

    parser.validateLink = allowed
    use_our_rule(parser)
    parser.add_render_rule("image", _render_picture)
    return parser


def _may_lie_beside(name: str) -> bool:
    """Whether a name can be that of a picture in the plan's folder; the check of the source has reported those that are not."""
    path = PurePosixPath(name)
    return not (is_elsewhere(name) or path.is_absolute() or ".." in path.parts) and path.suffix.lower() in SUFFIXES


def _render_picture(_self: object, tokens: list, index: int, _options: object, _env: object) -> str:
    """A picture beside the plan; one from the net is left out (the booklet must stand by itself) and its text stays."""
    token = tokens[index]
    source = str(token.attrGet("src") or "")
    if not _may_lie_beside(source):
        return str(escape(token.content))
    return str(Markup('<img src="{}" alt="{}">').format(source, token.content))
