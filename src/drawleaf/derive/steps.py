"""The steps of a plan: operations made, ordered, gathered, numbered; and the hooks that the author's notes hang on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from difflib import get_close_matches

from drawleaf.derive.assembly.asked import kept_in
from drawleaf.derive.assembly.tilt import Tilts
from drawleaf.derive.operations import fitting_kinds, shaping, standing_rabbet
from drawleaf.derive.operations import plugs as operations_plugs
from drawleaf.derive.operations import splines as operations_splines
from drawleaf.derive.operations.angles import ANGLES
from drawleaf.derive.operations.assembly import build_bodies, build_to_openings
from drawleaf.derive.operations.corners import CORNERS
from drawleaf.derive.operations.cutting import CUTTING
from drawleaf.derive.operations.drafts import LAST_PARTS, Draft, Stage, Work, Workshop
from drawleaf.derive.operations.dry_fits import with_dry_fits
from drawleaf.derive.operations.finish import COATING, SANDING, coat_piece, fill_and_sand
from drawleaf.derive.operations.fitted import KINDS as FITTED_KINDS
from drawleaf.derive.operations.fitted import fit_the_rest, late_parts
from drawleaf.derive.operations.fitting import fit_before_assembly, fit_hardware
from drawleaf.derive.operations.folded import folded
from drawleaf.derive.operations.hardware_order import hardware_unkept
from drawleaf.derive.operations.helps import help_problems, with_helps
from drawleaf.derive.operations.housings import HOUSINGS
from drawleaf.derive.operations.joining import Joining, finished_body, join_bodies
from drawleaf.derive.operations.late_sanding import with_late_sanding
from drawleaf.derive.operations.like_steps import like_told_once
from drawleaf.derive.operations.loose_tenons import LOOSE_TENONS
from drawleaf.derive.operations.machining import CHANNELING, MACHINES
from drawleaf.derive.operations.paths import Paths
from drawleaf.derive.operations.pins import PINS
from drawleaf.derive.operations.plugs import plug_heads, plug_late_heads
from drawleaf.derive.operations.recesses import RECESSES
from drawleaf.derive.operations.standing_work import work_standing
from drawleaf.derive.operations.supplies import supplies_of
from drawleaf.derive.operations.tape import is_tape
from drawleaf.derive.operations.tenons import TENONS
from drawleaf.derive.operations.thicknessing import THICKNESSING
from drawleaf.derive.shop.clamps import clamp_problems, clamps_of
from drawleaf.derive.shop.methods import borrowing, by_severity, kit_of, kit_problems, least_to_borrow, owned_by
from drawleaf.derive.shop.open_time import glue_problems
from drawleaf.derive.shop.times import load_hours
from drawleaf.graphs import topological
from drawleaf.model.diagnostic import About, Diagnostic, Subject
from drawleaf.model.lists import CutList, Layouts
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Operation, Step
from drawleaf.model.tools import Tool
from drawleaf.setting_out.reach import reach_test
from drawleaf.setting_out.wood_joints import takes_glue
from drawleaf.solids.build import Solids
from drawleaf.solids.travel import blocking_table, free_directions, slides

_CHANNELED = MACHINES.index(CHANNELING) + 1
"""After so many of them all channels are cut, and pins are bored for."""
LOOSE_WORK: tuple[Work, ...] = (
    *(THICKNESSING, CUTTING, ANGLES),
    *(TENONS, LOOSE_TENONS, CORNERS, *MACHINES[:_CHANNELED], HOUSINGS, PINS),
    *(*MACHINES[_CHANNELED:], RECESSES, SANDING, COATING),
)
"""All work on parts before they meet, in the order of the shop. A file of operations of its own is one line here."""
LATER_KINDS = (
    *("fill", "sand-again", "dry-fit", "square"),
    *(
        "assemble-screws",
        "assemble-pockets",
        "assemble-brads",
        "assemble-brads-hard",
        "assemble-clamps",
        "assemble-dry",
        "assemble-mitres",
        "assemble-knocked",
    ),
    "assemble-pegs",
    *standing_rabbet.KINDS,
    *operations_splines.KINDS,
    *shaping.KINDS,
    *operations_plugs.KINDS,
    *FITTED_KINDS,
    "iron-on",
    *("coat-wipe", "coat-brush"),
    *fitting_kinds.WAYS,
)
KINDS = tuple(dict.fromkeys((*(kind for work in LOOSE_WORK for kind in work.kinds), *LATER_KINDS)))
"""Every kind of work that steps are made of."""


def make_steps(
    plan: Plan, solids: Solids, cut_list: CutList, layouts: Layouts
) -> tuple[tuple[Step, ...], tuple[Diagnostic, ...]]:
    """All steps in a buildable order, and what prevents one."""
    missing = missing_methods(plan)
    if missing:
        return (), missing
    paths = Paths(
        free=lambda moving, standing: free_directions(solids, moving, standing),
        reach=reach_test(plan),
        tilt=Tilts(plan).way_out,
        tables=lambda groups: blocking_table(solids, groups),
        slides=lambda piece, standing, way: slides(solids, piece, standing, way),
    )
    owned = owned_by(kit_of(plan), plan.catalogue)
    shop, joining = _work_through(Workshop(plan, cut_list, layouts), paths)
    borrowed = least_to_borrow(shop.kinds, plan.catalogue, owned)
    if borrowed:
        shop, joining = _work_through(Workshop(plan, cut_list, layouts, borrowed), paths)
    drafts = in_order(like_told_once(plan, in_order(shop.drafts)))
    drafts = folded(plan, with_dry_fits(with_late_sanding(drafts, shop.words)))
    steps = number_steps(plan, drafts)
    steps = with_helps(plan, steps)
    problems = (
        *kit_problems(plan),
        *joining.diagnostics,
        *hardware_unkept(plan, steps),
        *kept_in(plan, steps),
        *bare_power_steps(steps),
        *note_problems(plan, steps),
        *borrowing(plan, steps),
        *clamp_problems(plan, steps),
        *glue_problems(plan, steps),
        *help_problems(plan, steps),
    )
    return steps, problems


def _work_through(shop: Workshop, paths: Paths) -> tuple[Workshop, Joining]:
    """All work on the piece, from the sheet to the wall."""
    shop.late, shop.late_work = late_parts(shop.plan), _work_on_loose
    for work in LOOSE_WORK:
        work.do(shop)
    fit_before_assembly(shop)
    joining = build_bodies(shop, paths)
    join_bodies(shop, joining, before_finish=True, each=lambda _bodies: None)
    work_standing(shop)
    fit_the_rest(shop, finished_body(joining))
    made = build_to_openings(shop, paths, joining)
    joining = replace(joining, diagnostics=(*joining.diagnostics, *made))
    _let_glue_dry(shop)
    plug_heads(shop)
    fill_and_sand(shop)
    coat_piece(shop)
    fit_hardware(shop, joining)
    plug_late_heads(shop)
    _name_last_parts(shop)
    return shop, joining


def _work_on_loose(shop: Workshop) -> None:
    """All work on loose parts but cutting them out of what the store sells."""
    for work in LOOSE_WORK:
        if work not in (THICKNESSING, CUTTING):
            work.do(shop)


def _name_last_parts(shop: Workshop) -> None:
    """A till that is set in or a top that is screwed on is no hardware: where nothing else is fitted, the heading says so."""
    fitted = [place for place, draft in enumerate(shop.drafts) if draft.heading == shop.words.put(Stage.FIT.heading)]
    if not any(op.fittings for place in fitted for op in shop.drafts[place].operations):
        for place in fitted:
            shop.drafts[place] = replace(shop.drafts[place], heading=shop.words.put(LAST_PARTS))


def _let_glue_dry(shop: Workshop) -> None:
    """The last glued step before the finish waits overnight: everything after it loads the joints or sands across them.

    Where the next step pulls that body square, which is done while the glue is wet, the wait comes after it.
    """
    for place in range(len(shop.drafts) - 1, -1, -1):
        draft = shop.drafts[place]
        wet = (joint for op in draft.operations for joint in op.joints if takes_glue(joint))
        if draft.stage is Stage.ASSEMBLE and any(not is_tape(shop.plan.part(joint.insert)) for joint in wet):
            if place + 1 < len(shop.drafts) and shop.drafts[place + 1].operations[0].kind == "square":
                place += 1
            draft = shop.drafts[place]
            last = replace(draft.operations[-1], wait_hours=load_hours(shop.plan.catalogue))
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


def number_steps(plan: Plan, drafts: Sequence[Draft]) -> tuple[Step, ...]:
    """The drafts as steps; each that something must dry after names the first step that waits for it."""
    steps = [_step(plan, draft, number) for number, draft in enumerate(drafts, start=1)]
    wet = {op.id: step.number for step in steps for op in step.operations if step.wait_hours}
    waiting: dict[int, int] = {}
    for step in steps:
        for operation in step.operations:
            for before in operation.after:
                if before in wet and wet[before] != step.number:
                    waiting.setdefault(wet[before], step.number)
    return tuple(replace(step, next_after_wait=waiting.get(step.number)) for step in steps)


def _step(plan: Plan, draft: Draft, number: int) -> Step:
    tools = step_tools(plan, draft.operations)
    cautions = by_severity(
        (*(caution for operation in draft.operations for caution in operation.method.cautions), *draft.cautions)
    )
    parts = dict.fromkeys(part for operation in draft.operations for part in operation.parts)
    if draft.stage is Stage.ASSEMBLE and draft.scene is not None:
        touched = {part for op in draft.operations for joint in op.joints for part in (joint.insert, joint.receiver)}
        standing = [part.id for part in plan.parts] if draft.copies else draft.scene.standing
        parts = dict.fromkeys((*parts, *(part for part in standing if part in touched)))
    step = Step(
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
        also=draft.also,
        supplies=supplies_of(plan, draft.operations),
        copies=draft.copies,
    )
    return replace(step, clamps=clamps_of(plan, step.once.operations))


def step_tools(plan: Plan, operations: Iterable[Operation]) -> tuple[Tool, ...]:
    """Each tool once, what does the work first, what to wear last."""
    tools = {tool.id: tool for operation in operations for tool in operation.method.tools}
    wear = dict.fromkeys(name for tool in tools.values() for name in tool.wear)
    worn = {name: plan.catalogue.tools[name] for name in wear if name in plan.catalogue.tools}
    return tuple({**tools, **worn}.values())


def missing_methods(plan: Plan) -> tuple[Diagnostic, ...]:
    """A shared folder that lacks a kind of work of ours is broken, whoever wrote it."""
    return tuple(
        Diagnostic(
            "unknown-method",
            f"shared/methods has no way to do {kind!r}, which steps may need",
            None,
            mend="Add it to shared/methods.yaml.",
        )
        for kind in KINDS
        if kind not in plan.catalogue.methods
    )


def bare_power_steps(steps: Iterable[Step]) -> tuple[Diagnostic, ...]:
    """A step with a power tool that carries none of that tool's cautions must not be printed."""
    found = []
    for step in steps:
        carried = {name for caution in step.cautions for name in (caution.id, caution.covers)}
        for tool in step.tools:
            if tool.power and not carried.intersection(tool.cautions):
                found.append(
                    Diagnostic(
                        "no-caution",
                        f"step {step.number} ({step.id}) uses a power tool, {tool.name.lower()}, without a caution for it",
                        None,
                        mend=f"Give {tool.id!r} a caution in shared/tools.yaml, and word it in shared/cautions.yaml.",
                        subject=Subject(About.STEP, step.id),
                    )
                )
    return tuple(found)


def note_problems(plan: Plan, steps: Iterable[Step]) -> tuple[Diagnostic, ...]:
    """Notes and times of the film whose step is not there (any more), with the nearest real names."""
    ids = [name for step in steps for name in (step.id, *step.also)]
    found = []
    hooks = [(note.hook, note.position) for note in plan.notes if note.target == "step" and not note.passing]
    # An edition may go without a step that the film shows.
    hooks += (
        [(time.step, time.position) for time in plan.film.times]
        if plan.film is not None and plan.edition is None
        else []
    )
    for hook, position in hooks:
        if hook in ids:
            continue
        near = get_close_matches(hook, ids, n=3, cutoff=0.4)
        found.append(
            Diagnostic(
                "unknown-step",
                f"no step is named “{hook}”",
                position,
                cause="Notes and the film's times hang on a step by its name, as `plan.json` lists them.",
                mend=f"Did you mean {' or '.join(f'“{one}”' for one in near)}?"
                if near
                else f"The steps are {', '.join(ids)}.",
            )
        )
    return tuple(found)
