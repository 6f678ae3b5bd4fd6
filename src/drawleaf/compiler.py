"""The whole job in order: source, resolve, solids, derive, draw, book."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from drawleaf.cache import NOTHING_KEPT, Kept
from drawleaf.model.derived import Derived
from drawleaf.model.diagnostic import Diagnostic, Severity, has_errors
from drawleaf.model.drawings import Drawings
from drawleaf.model.position import Position
from drawleaf.places import Headings, placed
from drawleaf.second_process import Share, one_by_one
from drawleaf.units import Units

if TYPE_CHECKING:
    from drawleaf.model.plan import Plan
    from drawleaf.other_ways import ResolvedWay
    from drawleaf.solids.build import Solids
    from drawleaf.source.library import Library
    from drawleaf.source.reader import Reading

TOO_LONG = "fastener-comes-out"
"""A screw that is too long spoils no list and no step, so the author hears what the workshop checks find in the same run."""
AUDIT, NOT_JOINED = "audit", "not-joined"
"""Lists that do not balance, and a part that nothing joins."""
Progress = Callable[[str], None]
Loaded = tuple["Library", tuple[Diagnostic, ...]]
"""A library with what is wrong in it."""
Lists = tuple[Derived, tuple[Diagnostic, ...]]
"""What ``derive`` gives."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What to compile: the source as it stands, or an edition of it, perhaps with other units or paper, for another kit of tools.

    ``kit`` names one of ``shared/tool_sets``; ``kit_file`` is a buyer's own, a file with one kit written like those.
    """

    edition: str | None = None
    units: Units | None = None
    paper: str | None = None
    kit: str | None = None
    kit_file: Path | None = None

    def folder_name(self, plan: str) -> str:
        """The name of the output folder; each choice has its own, so that none overwrites another."""
        units = self.units.value if self.units else None
        kit = self.kit_file.stem if self.kit_file else self.kit
        kit = "-".join(kit.split()) if kit else None
        return "-".join(word for word in (plan, self.edition, units, self.paper, kit) if word)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a compile gave. ``files`` is empty when there were errors or when only a check was asked for."""

    name: str
    derived: Derived | None
    diagnostics: tuple[Diagnostic, ...]
    texts: Mapping[str, str]
    drawings: Drawings | None = None
    files: Mapping[str, bytes] = field(default_factory=dict)
    heads: Headings | None = None
    editions: tuple[str, ...] = ()
    """The editions that the plan has."""
    ways: tuple[ResolvedWay, ...] = ()
    """The other ways that its lines offer, not yet worked out."""

    @property
    def failed(self) -> bool:
        return has_errors(self.diagnostics)


def _silent(_stage: str) -> None:
    pass


def check_plan(folder: Path, choice: Choice, progress: Progress = _silent, *, tidy: bool = True) -> Outcome:
    """Everything short of drawing: read, resolve, prove the solids, derive the lists and steps, audit them.

    ``tidy`` as for ``derive``. Raises OSError only where the plan's folder cannot be read at all.
    """
    outcome, plan = read_and_resolve(folder, choice, progress)
    return outcome if plan is None else work_out(outcome, plan, progress, tidy=tidy)[0]


def compile_plan(
    folder: Path,
    choice: Choice,
    progress: Progress = _silent,
    *,
    share: Share = one_by_one,
    marked: Callable[[Derived], Derived] | None = None,
    library: Loaded | None = None,
    kept: Kept = NOTHING_KEPT,
    solids_of: Callable[[Plan], Solids] | None = None,
) -> Outcome:
    """The booklet and all that goes with it, as named files not yet written. Raises as ``check_plan`` does.

    ``share`` does jobs that could be done at the same time; ``in_two_processes`` takes a second process to them. ``marked`` gives the plan
    back with what changed in it since a revision that was sold. ``library`` is what ``load_library`` gave, where it is at hand, and ``kept`` what
    was made for other editions; ``solids_of`` cuts the solids.
    """
    from drawleaf.book.output.pdf import epoch_fault

    if fault := epoch_fault():
        return Outcome(folder.name, None, (fault,), {})
    outcome, plan = read_and_resolve(folder, choice, progress, library)
    if plan is None:
        return outcome
    given = Given(solids_of(plan)) if solids_of is not None else None
    outcome, solids = work_out(outcome, plan, progress, kept=kept, given=given)
    if outcome.derived is None or solids is None or outcome.failed:
        return outcome

    from drawleaf.book.output.addresses import refused_addresses
    from drawleaf.book.output.booklet import make_html
    from drawleaf.book.output.data import cut_list_csv, plan_json, shopping_list_csv
    from drawleaf.book.output.gltf import glb
    from drawleaf.book.output.pdf import RefusedAddressesError, make_pdf
    from drawleaf.book.output.unprinted import unprinted_notes
    from drawleaf.book.words.own_templates import TemplateFaultError
    from drawleaf.draw.audit import audit_drawings
    from drawleaf.draw.drawings import draw_all
    from drawleaf.draw.turnable.turnable import turnable

    progress("drawing")
    drawings = draw_all(outcome.derived, solids, kept=kept, share=share)
    derived, found = audit_drawings(outcome.derived, drawings)
    derived = marked(derived) if marked is not None else derived
    found = (*found, *unprinted_notes(derived, drawings))
    outcome = with_places(replace(outcome, derived=derived, drawings=drawings), plan, found)
    if outcome.failed:
        return outcome

    def printed() -> bytes | tuple[Diagnostic, ...]:
        progress("setting the pages")
        try:
            pages = make_html(derived, drawings, for_print=True, plan_folder=folder)
            progress("printing the PDF")
            return make_pdf(pages, plan_folder=folder)
        except TemplateFaultError as error:
            return (error.fault.diagnostic(),)
        except RefusedAddressesError as error:
            return refused_addresses(error.refused, folder)

    def on_screen() -> dict[str, bytes] | tuple[Diagnostic, ...]:
        layouts = (*drawings.sheets.values(), *drawings.boards.values())
        solid = turnable(derived, solids, drawings.steps, layouts)
        try:
            page = make_html(derived, drawings, for_print=False, plan_folder=folder, turnable=solid)
            return {f"{name}.html": page.encode(), f"{name}.glb": glb(derived, solid)}
        except TemplateFaultError as error:
            return (error.fault.diagnostic(),)

    name = outcome.name
    pdf, screen = share([printed, on_screen])
    if isinstance(pdf, tuple):
        return with_template_faults(outcome, pdf)
    if isinstance(screen, tuple):
        return with_template_faults(outcome, screen)
    files: dict[str, bytes] = {
        f"{name}.pdf": pdf,
        **screen,
        "plan.json": plan_json(derived).encode(),
        "cut-list.csv": cut_list_csv(derived).encode(),
        "shopping-list.csv": shopping_list_csv(derived).encode(),
    }
    for drawing in drawings.all():
        files[f"drawings/{drawing.id}.svg"] = drawing.svg.encode()
    return replace(outcome, files=files)


def with_template_faults(outcome: Outcome, found: tuple[Diagnostic, ...]) -> Outcome:
    """With what is wrong in templates of the author's own, and the text of those, so that the line can be shown."""
    files = {one.position.file for one in found if one.position is not None}
    texts = {file: Path(file).read_text(encoding="utf-8", errors="replace") for file in files if Path(file).is_file()}
    return replace(outcome, diagnostics=outcome.diagnostics + found, texts={**outcome.texts, **texts})


def check_lines(outcome: Outcome) -> tuple[str, ...]:
    """What the workshop checks found, a line each, in the plan's units, and what the author may have left unsaid; empty where it did not come
    to them."""
    if outcome.derived is None:
        return ()
    from drawleaf.checks.plain import report_line
    from drawleaf.checks.unloaded import unloaded_lines

    plan = outcome.derived.plan
    return (*(report_line(result, plan.lengths) for result in outcome.derived.checks), *unloaded_lines(plan))


def read_and_resolve(
    folder: Path, choice: Choice, progress: Progress = _silent, library: Loaded | None = None
) -> tuple[Outcome, Plan | None]:
    """The plan with every part placed; None where there are errors. ``library`` is what ``load_library`` gave, where it is at hand."""
    from drawleaf.resources import foreign_folders, shared_folders
    from drawleaf.source.library import load_library
    from drawleaf.source.reader import read_plan

    progress("reading")
    known, found = library or load_library(shared_folders(folder), choice.kit_file)
    found = (*found, *(_foreign(one) for one in foreign_folders(folder)))
    reading = read_plan(folder, known)
    if choice.kit is not None and choice.kit not in known.catalogue.kits:
        found = (*found, _unknown_kit(choice.kit, known.catalogue.kits, _heads(reading, choice).kit))
    texts = {**known.texts, **reading.texts}
    diagnostics = (*found, *reading.diagnostics)
    outcome = Outcome(
        folder.name, None, diagnostics, texts, editions=tuple(reading.plan.editions) if reading.plan else ()
    )
    if reading.plan is None:
        return outcome, None

    from drawleaf.resolve.other_sheets import with_other_sheets
    from drawleaf.resolve.resolver import resolve

    progress("resolving")
    plan, found = resolve(reading, edition=choice.edition, units=choice.units, paper=choice.paper)
    outcome = replace(outcome, diagnostics=outcome.diagnostics + found, heads=_heads(reading, choice))
    if plan is None or outcome.failed:
        return outcome, None
    plan = with_other_sheets(plan, reading)
    kit = known.kit or choice.kit
    if kit is not None:
        plan = replace(plan, making=replace(plan.making, kit=kit))

    from drawleaf.other_ways import resolve_ways

    ways, found = resolve_ways(reading, choice.edition, choice.units, choice.paper, kit, outcome.diagnostics)
    outcome = replace(outcome, diagnostics=outcome.diagnostics + found, ways=ways)
    return (outcome, None) if outcome.failed else (outcome, plan)


@dataclass(frozen=True, slots=True)
class Given:
    """What is at hand of a plan: its ``solids``, what their ``proofs`` found, and its ``lists``. None is made anew."""

    solids: Solids | None = None
    proofs: tuple[Diagnostic, ...] | None = None
    lists: Lists | None = None


def work_out(
    outcome: Outcome,
    plan: Plan,
    progress: Progress = _silent,
    *,
    tidy: bool = True,
    kept: Kept = NOTHING_KEPT,
    given: Given | None = None,
) -> tuple[Outcome, Solids | None]:
    """Solids proven, lists and steps derived, the design checked. No solids where the proofs failed. ``tidy`` as for ``derive``;
    ``given`` is what is made of the plan already."""
    outcome, solids = _worked_out(outcome, plan, progress, tidy, kept, given or Given())
    return with_places(outcome, plan), solids


def with_places(outcome: Outcome, plan: Plan, found: tuple[Diagnostic, ...] = ()) -> Outcome:
    """With what was found besides, and a place in the source for everything that no room could place."""
    diagnostics = placed((*outcome.diagnostics, *found), outcome.heads, plan, outcome.derived)
    return replace(outcome, diagnostics=diagnostics)


def _heads(reading: Reading, choice: Choice) -> Headings:
    where = reading.positions.of
    kit = where(reading.file, ("shop", "tools"))
    if choice.kit_file:
        kit = Position(choice.kit_file.as_posix(), 1, 1)
    return Headings(where(reading.file, ("plan",)), kit)


def _worked_out(
    outcome: Outcome,
    plan: Plan,
    progress: Progress,
    tidy: bool,
    kept: Kept,
    given: Given,
) -> tuple[Outcome, Solids | None]:
    from drawleaf.solids.build import build_solids
    from drawleaf.solids.proofs import prove

    progress("cutting the solids")
    solids = given.solids or build_solids(plan)
    proofs = prove(plan, solids) if given.proofs is None else given.proofs
    outcome = replace(outcome, diagnostics=outcome.diagnostics + proofs)
    if any(one.is_error and one.code != TOO_LONG for one in proofs):
        return outcome, None

    from drawleaf.derive.derive import derive

    progress("making lists and steps")
    derived, found = given.lists or derive(plan, solids, tidy=tidy, kept=kept)
    told, found = _stopped_at_loose_ends(outcome.diagnostics, found)
    outcome = replace(outcome, derived=derived, diagnostics=told + found)
    if has_errors(found) or _stands_apart(told):
        return outcome, solids
    from drawleaf.checks import run_checks, with_results

    progress("checking the design")
    results, found = run_checks(derived, solids)
    told = {one.position for one in proofs if one.code == TOO_LONG}
    found = tuple(one for one in found if one.code != "screws" or one.position not in told)
    derived = with_results(derived, results)
    outcome = replace(outcome, derived=derived, diagnostics=outcome.diagnostics + found)
    if outcome.ways:
        from drawleaf.other_ways import IDLE, work_out_ways

        progress("working out the other ways")
        ways, found, waived = work_out_ways(outcome.ways, derived, outcome.diagnostics)
        known = tuple(one for one in outcome.diagnostics if one.code != IDLE or one.position not in waived)
        outcome = replace(outcome, derived=replace(derived, ways=ways), diagnostics=known + found)
    return outcome, solids


def _stopped_at_loose_ends(
    told: tuple[Diagnostic, ...], found: tuple[Diagnostic, ...]
) -> tuple[tuple[Diagnostic, ...], tuple[Diagnostic, ...]]:
    """Where parts that nothing joins leave the lists of a plan unbalanced, that is the author's to mend: the advice to join them is an
    error then, in place of a fault of our own."""
    if not any(one.code == AUDIT for one in found) or not any(one.code == NOT_JOINED for one in told):
        return told, found
    stopped = tuple(replace(one, severity=Severity.ERROR) if one.code == NOT_JOINED else one for one in told)
    return stopped, tuple(one for one in found if one.code != AUDIT)


def _stands_apart(told: Iterable[Diagnostic]) -> bool:
    """Whether a plan was stopped at parts that nothing joins."""
    return any(one.code == NOT_JOINED and one.is_error for one in told)


def new_in_edition(outcome: Outcome, base: Outcome) -> tuple[Diagnostic, ...]:
    """What is wrong with an edition and not with the plan as it stands; advice is not given again where only its figures differ."""
    told = {one.code for one in base.diagnostics} & {one.code for one in outcome.diagnostics}
    places = {(one.code, one.position) for one in base.diagnostics if one.code in told}
    return tuple(
        one
        for one in outcome.diagnostics
        if one not in base.diagnostics and (one.is_error or (one.code, one.position) not in places)
    )


def lent_line(folder: Path) -> str | None:
    """What a plan draws on from above its own folder, in one line; None where nothing."""
    from drawleaf.resources import lent_from_above

    lent = lent_from_above(folder)
    return f"{folder.name}: draws also on {' and '.join(str(one) for one in lent)}" if lent else None


def _foreign(folder: Path) -> Diagnostic:
    mend = f"If you trust it, put a copy of it into the plan's own folder, or make it yours: sudo chown -R $USER {shlex.quote(str(folder))}"
    cause = "It lies above the plan and belongs to another user of this computer, who could change your booklets."
    return Diagnostic(
        "foreign-folder", f"the folder {folder} is not used", None, cause=cause, mend=mend, severity=Severity.ADVICE
    )


def _unknown_kit(name: str, kits: Iterable[str], position: Position | None) -> Diagnostic:
    from drawleaf.source.names import did_you_mean

    known = list(kits)
    mend = did_you_mean(
        name, known, otherwise=f"The tool sets are: {', '.join(known)}. A file of your own ends in .yaml."
    )
    return Diagnostic("unknown-tool-set", f"no tool set is named “{name}”", position, mend=mend)
