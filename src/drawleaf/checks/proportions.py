"""Proportions of joints: each family of ``joinery`` states its own rules, and all are held to them here in the same way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.checks.context import Bench, called, result
from drawleaf.joinery import FAMILIES
from drawleaf.joinery.proportion import Figure, Made, Proportion, Proportioned
from drawleaf.model.checks import CheckResult, Quantity, Sentence, Value, Verdict
from drawleaf.model.checks import Figure as Printed
from drawleaf.model.joint_family import JointFamily
from drawleaf.units import Length, LengthFormat, Units, trimmed

NAME = "joint-proportions"
RULED: dict[JointFamily, Proportioned] = {
    family.facts: family for family in FAMILIES if isinstance(family, Proportioned)
}


@dataclass(frozen=True, slots=True)
class Case:
    """One proportion of one joint."""

    made: Made
    rule: Proportion

    @property
    def verdict(self) -> Verdict:
        return verdict_of(self.rule)

    @property
    def off(self) -> tuple[int, Fraction]:
        """How far from sound, to find the worst of several: the verdict, then the figure (the least where it is too low)."""
        figure = _number(self.rule.figure)
        return list(Verdict).index(self.verdict), -figure if self.rule.too_low else figure


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each line of the source and each rule that its family has, about the worst of its joints."""
    lines: dict[tuple[str, str], list[Case]] = {}
    for joint in bench.plan.joints:
        family = RULED.get(joint.family)
        if family is None:
            continue
        made = Made(joint, bench.parts[joint.insert], bench.parts[joint.receiver])
        for rule in family.proportions(made):
            lines.setdefault((joint.line, rule.name), []).append(Case(made, rule))
    for cases in lines.values():
        yield _finding(bench, cases)


def verdict_of(rule: Proportion) -> Verdict:
    """What a proportion deserves."""
    if rule.beyond:
        return Verdict.STOP
    return Verdict.PASS if rule.sound else Verdict.ADVICE


def _finding(bench: Bench, cases: list[Case]) -> CheckResult:
    worst = max(cases, key=lambda case: case.off)
    made, rule = worst.made, worst.rule
    values = _values(worst, bench.plan.lengths)
    parts = dict.fromkeys(part for case in cases for part in (case.made.insert, case.made.receiver))
    mend = rule.mend_low if rule.too_low else rule.mend_high
    return result(
        NAME,
        "Joint proportions",
        worst.verdict,
        parts,
        Sentence(rule.words, values),
        figures=_figures(rule),
        limit=Sentence(rule.rule, values),
        source=rule.source,
        remedy=Sentence(mend, values),
        position=made.joint.position,
        steps=bench.steps_cutting(case.made.joint.id for case in cases),
    )


def _settable(limit: Figure, lengths: LengthFormat, *, up: bool) -> Figure:
    """A limit as a size that keeps it when it is typed as printed: the next printed step above a least one, below a greatest one."""
    if not isinstance(limit, Length):
        return limit
    printed = lengths.rounded(limit, "mm" if lengths.units is Units.MM else "in")
    step = Length(lengths.mm_step) if lengths.units is Units.MM else Length.of_inches(lengths.inch_step)
    if up:
        return printed + step if printed < limit else printed
    return printed - step if printed > limit else printed


def _values(case: Case, lengths: LengthFormat) -> tuple[tuple[str, Value], ...]:
    made, rule = case.made, case.rule
    found: list[tuple[str, Value]] = [("insert", called(made.insert)), ("receiver", called(made.receiver))]
    low, high = rule.low if rule.low is not None else rule.least, rule.high if rule.high is not None else rule.most
    typed = (
        ("low", None if low is None else _settable(low, lengths, up=True)),
        ("high", None if high is None else _settable(high, lengths, up=False)),
    )
    for name, figure in (("figure", rule.figure), *typed):
        if figure is not None:
            found.append((name, printed_value(rule, figure)))
    if rule.of is not None:
        found += [("of", rule.of), ("share", _share(rule))]
    return tuple(found)


def _figures(rule: Proportion) -> tuple[Printed, ...]:
    found = [Printed(rule.name, printed_value(rule, rule.figure))]
    if rule.of is not None:
        found += [Printed(rule.of_name, rule.of), Printed(f"share of the {rule.of_name}", _share(rule))]
    return tuple(found)


def _share(rule: Proportion) -> Quantity:
    of = rule.of.exact_mm if rule.of is not None else Fraction(1)
    return Quantity(float(_number(rule.figure) / of * 100) if of else 0.0, "percent")


def _number(figure: Figure) -> Fraction:
    return figure.exact_mm if isinstance(figure, Length) else figure


def printed_value(rule: Proportion, figure: Figure) -> Value:
    """A figure as it is printed: a length, a slope of one in so many, degrees, a plain number."""
    if isinstance(figure, Length):
        return figure
    if rule.told == "degrees":
        return Quantity(float(figure), "degrees")
    if rule.told == "slope" and figure:
        return f"1:{trimmed(1 / figure, 1)}"
    return trimmed(figure, 2)
