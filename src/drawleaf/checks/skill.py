"""The skill that the plan promises against the work that its steps ask for."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, figures, result, sentence
from drawleaf.english import listed, lower_first
from drawleaf.model.about import BEGINNER
from drawleaf.model.checks import CheckResult, Verdict

NAME = "skill-level"
TITLE = "Skill"
SOURCE = "which work is none for a first piece: common practice, no source"


def check(bench: Bench) -> Iterator[CheckResult]:
    """One result for a plan that promises a beginner can build it; none where nothing in it asks for a practiced hand."""
    if bench.plan.about.skill != BEGINNER:
        return
    hard = [step for step in bench.derived.steps if any(operation.method.practiced for operation in step.operations)]
    if not hard:
        return
    first = next(operation for operation in hard[0].operations if operation.method.practiced)
    ids = dict.fromkeys(part for step in hard for one in step.operations if one.method.practiced for part in one.parts)
    yield result(
        NAME,
        TITLE,
        Verdict.ADVICE,
        [bench.parts[part] for part in ids],
        sentence(
            "The plan says that no experience is needed, and {steps} {are} done with {way}.",
            steps=listed([f"“{lower_first(step.title)}”" for step in hard]),
            are="is" if len(hard) == 1 else "are",
            way=first.method.name,
        ),
        figures=figures(steps_for_a_practiced_hand=len(hard)),
        limit=sentence("no work for a practiced hand in a plan for a beginner"),
        source=SOURCE,
        remedy=sentence("Write “skill: some experience” under “plan:”, or choose a joint that a machine cuts."),
        steps=tuple(step.id for step in hard),
    )
