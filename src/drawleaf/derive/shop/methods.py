"""Which way of working a kit can do, and what it would have to borrow. The ways themselves are in ``shared/methods``.

Order there is preference: the first way that the kit can do is the step's own, the others are printed as another way.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from difflib import get_close_matches
from itertools import product
from math import prod

from drawleaf.model.catalogue import Catalogue, Caution
from drawleaf.model.diagnostic import About, Diagnostic, Severity, Subject
from drawleaf.model.looking_through import tools_at_hand
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Method, Step
from drawleaf.model.tool_sets import Kit
from drawleaf.model.tools import Way

SEVERITY = {"DANGER": 0, "WARNING": 1, "CAUTION": 2, "NOTICE": 3}
DEFAULT_KIT = "common power tools"
MOST_CHOICES = 5000
"""So many choices of ways are all weighed for the least to borrow; beyond that each kind of work is settled by itself."""


def kit_of(plan: Plan) -> Kit:
    """The kit that the steps are written for: the one asked for, else the usual one, else one that owns everything."""
    kits = plan.catalogue.kits
    known = kits.get(plan.making.kit) or kits.get(DEFAULT_KIT)
    return known or Kit("everything", "every tool", "", frozenset(plan.catalogue.tools))


def owned_by(kit: Kit, catalogue: Catalogue) -> frozenset[str]:
    """The kit's tools with what every shop has at hand."""
    return kit.tools | tools_at_hand(catalogue.tools)


def lacks(way: Way, owned: Collection[str]) -> tuple[str, ...]:
    """The tools of this way that are not owned, in the way's order."""
    return tuple(tool for tool in way.tools if tool not in owned)


def ways_for(kind: str, catalogue: Catalogue, owned: Collection[str]) -> tuple[Way, tuple[Way, ...]]:
    """The best way that can be done with what is owned, and all others. Where none can, the one that lacks the fewest tools.

    Raises KeyError for a kind of work that ``shared/methods`` lacks; ``missing_methods`` reports that first.
    """
    ways = catalogue.methods[kind].ways
    best = min(ways, key=lambda way: len(lacks(way, owned)))
    return best, tuple(way for way in ways if way is not best)


def minutes_for(kind: str, way: Way, catalogue: Catalogue, pieces: int) -> float:
    """Hands-on minutes for so many pieces, done this way."""
    work = catalogue.methods[kind]
    return (work.once + work.each * pieces) * way.pace


def least_to_borrow(kinds: Iterable[str], catalogue: Catalogue, owned: frozenset[str]) -> frozenset[str]:
    """The fewest tools that, borrowed, make every one of these kinds of work possible; empty where all are.

    Among equally few, those of the ways that come first.
    """
    needs = [
        [frozenset(lacks(way, owned)) for way in catalogue.methods[kind].ways]
        for kind in kinds
        if all(lacks(way, owned) for way in catalogue.methods[kind].ways)
    ]
    needs = [list(dict.fromkeys(choices)) for choices in dict.fromkeys(tuple(choices) for choices in needs)]
    if not needs:
        return frozenset()
    if prod(len(choices) for choices in needs) <= MOST_CHOICES:
        unions = (frozenset().union(*choice) for choice in product(*needs))
        return min(unions, key=len)
    borrowed: frozenset[str] = frozenset()
    for choices in needs:
        borrowed |= min(choices, key=lambda choice: len(choice - borrowed))
    return borrowed


def method_of(way: Way, catalogue: Catalogue, owned: Collection[str] | None = None) -> Method:
    """The way with the catalogue's tools and the cautions of this use of them; ``owned`` says what must be borrowed."""
    tools = tuple(catalogue.tools[tool] for tool in way.tools if tool in catalogue.tools)
    ids = dict.fromkeys(caution for tool in tools for caution in tool.cautions_for(*way.uses))
    told = [catalogue.cautions[id_] for id_ in ids if id_ in catalogue.cautions]
    covered = {caution.covers for caution in told}
    cautions = by_severity(caution for caution in told if caution.id not in covered)
    borrow = () if owned is None else tuple(tool for tool in tools if tool.id not in owned)
    return Method(way.id, way.name, tools, cautions, borrow, way.note, way.practiced)


def lesson_of(work: str, way: Way, catalogue: Catalogue) -> str:
    """How this kind of work is taught: by itself, or else as the tool is that does it."""
    known = (catalogue.tools[tool].lesson for tool in way.tools[:1] if tool in catalogue.tools)
    return catalogue.methods[work].lesson or next(known, "")


def by_severity(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Each caution once, the gravest first; equals in the order given."""
    once = {caution.id: caution for caution in cautions}
    return tuple(sorted(once.values(), key=lambda caution: SEVERITY[caution.signal]))


def kit_problems(plan: Plan) -> tuple[Diagnostic, ...]:
    """A kit that is not known here: the usual one stands in for it."""
    kit, kits = plan.making.kit, plan.catalogue.kits
    if kit in kits:
        return ()
    near = get_close_matches(kit, kits, n=1, cutoff=0.4)
    return (
        Diagnostic(
            "unknown-tool-set",
            f"no tool set is named {kit!r}; the steps are written for {kit_of(plan).name!r}",
            None,
            mend=f"Did you mean {near[0]!r}?" if near else f"The tool sets are: {', '.join(kits)}.",
            severity=Severity.ADVICE,
            subject=Subject(About.KIT),
        ),
    )


def borrowing(plan: Plan, steps: Sequence[Step]) -> tuple[Diagnostic, ...]:
    """What the kit cannot do, stated plainly, with the least to borrow."""
    cannot = [
        step
        for step in steps
        if any(all(way.borrow for way in (operation.method, *operation.others)) for operation in step.operations)
    ]
    if not cannot:
        return ()
    borrowed = {tool.name for step in cannot for operation in step.operations for tool in operation.method.borrow}
    named = ", ".join(f"{step.number} ({step.id})" for step in cannot)
    return (
        Diagnostic(
            "tools-lacking",
            f"the tool set {kit_of(plan).name!r} cannot do {'a step' if len(cannot) == 1 else f'{len(cannot)} of the steps'}: {named}",
            None,
            cause="It lacks a tool for every way of doing them.",
            mend=f"The least to borrow: {', '.join(sorted(name.lower() for name in borrowed))}. The steps are written as if it had been.",
            severity=Severity.ADVICE,
            subject=Subject(About.KIT),
        ),
    )
