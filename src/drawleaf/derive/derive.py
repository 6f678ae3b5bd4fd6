"""Everything that follows from a resolved plan, in order: lists, layouts, steps, tools, time, audit."""

from __future__ import annotations

from drawleaf.cache import NOTHING_KEPT, Kept
from drawleaf.derive.audit import make_audit
from drawleaf.derive.buying.hardware import count_hardware
from drawleaf.derive.buying.shopping import estimate_consumables, estimate_finishes, make_shopping_list
from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.derive.cut_list.strips import make_strips
from drawleaf.derive.layout.layouts import make_layouts
from drawleaf.derive.schedule import make_schedule
from drawleaf.derive.scraps import list_helps
from drawleaf.derive.shop.weights import mass_kg, overall_size
from drawleaf.derive.steps import make_steps
from drawleaf.derive.teaching import taught
from drawleaf.derive.tools import make_tools
from drawleaf.model.derived import Derived
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Plan
from drawleaf.solids.build import Solids


def derive(
    plan: Plan, solids: Solids, *, tidy: bool = True, kept: Kept = NOTHING_KEPT
) -> tuple[Derived, tuple[Diagnostic, ...]]:
    """All lists and steps of a plan, and what is wrong with them. Lists are made even where steps cannot be.

    Without ``tidy`` the layouts are the first that buy the least, not yet made kind to cut: enough to check a plan by.
    """
    cut_list = make_cut_list(plan)
    layouts, layout_problems = make_layouts(plan, cut_list, tidy=tidy, kept=kept)
    hardware, strips = count_hardware(plan), make_strips(plan, layouts)
    steps, step_problems = make_steps(plan, solids, cut_list, layouts)
    consumables = estimate_consumables(plan, cut_list, steps)
    finishes = estimate_finishes(plan)
    shopping = make_shopping_list(plan, layouts, hardware, consumables, finishes, strips)
    tools = make_tools(plan, steps)
    teaches = taught(plan, steps) if plan.about.learner else None
    together = None if teaches is None else {number for number, one in teaches.items() if one.together}
    schedule = make_schedule(steps, together)
    audit, audit_problems = make_audit(plan, cut_list, layouts, hardware, tools, steps, schedule, consumables)
    derived = Derived(
        plan=plan,
        cut_list=cut_list,
        layouts=layouts,
        hardware=hardware,
        consumables=consumables,
        finishes=finishes,
        shopping=shopping,
        tools=tools,
        steps=steps,
        schedule=schedule,
        audit=audit,
        overall=overall_size(plan, solids),
        mass_kg=mass_kg(plan, solids),
        strips=strips,
        helps=list_helps(steps, layouts),
    )
    # Where layouts or steps failed, the audit only says the same again.
    earlier = (*layout_problems, *step_problems)
    return derived, earlier + (() if any(problem.is_error for problem in earlier) else audit_problems)
