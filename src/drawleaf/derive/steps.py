"""The steps of a plan: operations made, ordered, gathered, numbered; and the hooks that the author's notes hang on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from difflib import get_close_matches

from drawleaf.derive.drafts import Draft, Stage, Workshop
from drawleaf.derive.methods import DEFAULT_KIT, KITS, by_severity, missing_tools
from drawleaf.derive.operations_assembly import Paths, build_bodies, join_bodies
from drawleaf.derive.operations_cutting import cut_parts
from drawleaf.derive.operations_finish import coat_parts, coat_piece, fill_and_sand, sand_parts
from drawleaf.derive.operations_fitting import fit_hardware
from drawleaf.derive.operations_machining import machine_parts
from drawleaf.derive.order import topological
from drawleaf.derive.reach import reach_test
from drawleaf.derive.tilt import Tilts
from drawleaf.derive.times import WAIT_OVERNIGHT
from drawleaf.model.catalogue import Tool
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.lists import CutList, Layouts
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Operation, Step
from drawleaf.solids.build import Solids
from drawleaf.solids.travel import free_directions


def make_steps(
    plan: Plan, solids: Solids, cut_list: CutList, layouts: Layouts
) -> tuple[tuple[Step, ...], tuple[Diagnostic, ...]]:
    """All steps in a buildable order, and what stands in the way of one."""
    shop = Workshop(plan, cut_list, layouts)
    paths = Paths(
        free=lambda moving, standing: free_directions(solids, moving, standing),
        reach=reach_test(plan),
        tilt=Tilts(plan).way_out,
    )
    cut_parts(shop)
    machine_parts(shop)
    sand_parts(shop)
    coat_parts(shop)
    joining = build_bodies(shop, paths)
    join_bodies(shop, joining, before_finish=True, each=lambda _bodies: None)
    _let_glue_dry(shop)
    fill_and_sand(shop)
    coat_piece(shop)
    fit_hardware(shop, joining)
    drafts = in_order(shop.drafts)
    steps = tuple(_step(plan, draft, number) for number, draft in enumerate(drafts, start=1))
    problems = (
        *kit_problems(plan),
        *joining.diagnostics,
        *_tools_missing(plan),
        *bare_power_steps(steps),
        *note_problems(plan, steps),
    )
    return steps, problems


def _let_glue_dry(shop: Workshop) -> None:
    """The last glued step before the finish waits overnight: everything after it loads the joints or sands across them."""
    for place in range(len(shop.drafts) - 1, -1, -1):
        draft = shop.drafts[place]
        if any(joint.glued for operation in draft.operations for joint in operation.joints):
            last = replace(draft.operations[-1], wait_hours=WAIT_OVERNIGHT)
            shop.drafts[place] = replace(draft, operations=(*draft.operations[:-1], last))
            return


def in_order(drafts: Iterable[Draft]) -> tuple[Draft, ...]:
    """Drafts so that every operation follows all that it waits for; by stage, then as made, where there is a choice."""
    drafts = list(drafts)
    home = {operation.id: place for place, draft in enumerate(drafts) for operation in draft.operations}
    after = {
        place: [home[before] for operation in draft.operations for before in operation.after]
        for place, draft in enumerate(drafts)
    }
    order = topological(range(len(drafts)), after, lambda place: (drafts[place].stage, place))
    return tuple(drafts[place] for place in order)


def _step(plan: Plan, draft: Draft, number: int) -> Step:
    tools = step_tools(plan, draft.operations)
    cautions = by_severity(
        (*(caution for operation in draft.operations for caution in operation.method.cautions), *draft.cautions)
    )
    parts = dict.fromkeys(part for operation in draft.operations for part in operation.parts)
    if draft.stage is Stage.ASSEMBLE and draft.scene is not None:
        touched = {part for op in draft.operations for joint in op.joints for part in (joint.insert, joint.receiver)}
        parts = dict.fromkeys((*parts, *(part for part in draft.scene.standing if part in touched)))
    return Step(
        number=number,
        id=draft.id,
        stage=draft.heading,
        title=draft.title,
        assembly=draft.assembly,
        operations=draft.operations,
        parts=tuple(parts),
        hardware=draft.hardware,
        tools=tools,
        cautions=cautions,
        scene=draft.scene,
    )


def step_tools(plan: Plan, operations: Iterable[Operation]) -> tuple[Tool, ...]:
    """Each tool once, what does the work first, what to wear last."""
    tools = {tool.id: tool for operation in operations for tool in operation.method.tools}
    wear = dict.fromkeys(name for tool in tools.values() for name in tool.wear)
    worn = {name: plan.catalogue.tools[name] for name in wear if name in plan.catalogue.tools}
    return tuple({**tools, **worn}.values())


def _tools_missing(plan: Plan) -> tuple[Diagnostic, ...]:
    """A shared folder that lacks a tool of ours is broken, whoever wrote it."""
    return tuple(
        Diagnostic(
            "unknown-tool",
            f"shared/tools has no tool named {name!r}, which a step needs",
            None,
            mend="Add it to shared/tools.yaml.",
        )
        for name in missing_tools(plan.catalogue)
    )


def bare_power_steps(steps: Iterable[Step]) -> tuple[Diagnostic, ...]:
    """A step with a power tool that carries none of that tool's cautions must not be printed."""
    found = []
    for step in steps:
        carried = {caution.id for caution in step.cautions}
        for tool in step.tools:
            if tool.power and not carried.intersection(tool.cautions):
                found.append(
                    Diagnostic(
                        "no-caution",
                        f"step {step.number} ({step.id}) uses a power tool, {tool.name.lower()}, without a caution for it",
                        None,
                        mend=f"Give {tool.id!r} a caution in shared/tools.yaml, and word it in shared/cautions.yaml.",
                    )
                )
    return tuple(found)


def kit_problems(plan: Plan) -> tuple[Diagnostic, ...]:
    """A kit that nobody has told us of: the default one stands in for it."""
    kit = plan.making.kit
    if kit in KITS:
        return ()
    near = get_close_matches(kit, KITS, n=1, cutoff=0.4)
    return (
        Diagnostic(
            "unknown-kit",
            f"no kit is named {kit!r}; the steps are written for {DEFAULT_KIT!r}",
            None,
            mend=f"Did you mean {near[0]!r}?" if near else f"The kits are: {', '.join(KITS)}.",
            severity=Severity.ADVICE,
        ),
    )


def note_problems(plan: Plan, steps: Iterable[Step]) -> tuple[Diagnostic, ...]:
    """Notes whose step is not there (any more), with the nearest real names."""
    ids = [step.id for step in steps]
    found = []
    for note in plan.notes:
        if note.target != "step" or note.hook in ids:
            continue
        near = get_close_matches(note.hook, ids, n=3, cutoff=0.4)
        found.append(
            Diagnostic(
                "unknown-step",
                f"no step is named {note.hook!r}",
                note.position,
                cause="A note hooks onto a step by the name that `drawleaf check` and `plan.json` give it.",
                mend=f"Did you mean {', '.join(near)}?" if near else f"The steps are: {', '.join(ids)}.",
            )
        )
    return tuple(found)
