"""One author's session with one plan: the compile again and again, with what did not change kept from the last time.

``take_up`` reads what was saved, ``draw`` makes the few drawings that are looked at, ``draft`` all words and numbers, ``catch_up`` the
drawings that the draft owes, ``booklet`` the whole. What comes out is the same as a compile gives; a workshop only gets there sooner.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from drawleaf.cache import Kept
from drawleaf.compiler import (
    Choice,
    Given,
    Lists,
    Loaded,
    Outcome,
    read_and_resolve,
    with_places,
    with_template_faults,
    work_out,
)
from drawleaf.model.diagnostic import Diagnostic, has_errors
from drawleaf.model.drawings import Drawing
from drawleaf.model.plan import Plan
from drawleaf.resources import shared_folders
from drawleaf.solids.build import Solids
from drawleaf.source.stamps import Stamp, stamp_of
from drawleaf.workers import LAYOUTS, Job, Results, Workers

_LAYOUT = ("sheet-", "board-")
_SETS = ("exploded", "elevation", "section", "template", "detail")
"""Drawings that are made together."""
_PATIENCE_SECONDS = 0.1
EDITIONS = 3
"""How many editions are kept warm beside one another."""


@dataclass(frozen=True, slots=True)
class Booklet:
    """A screen edition: ``html`` is None where the plan has errors, which ``outcome`` holds. ``owed`` are drawings that are not yet
    those of this plan."""

    outcome: Outcome
    html: str | None = None
    solids: Solids | None = None
    owed: tuple[str, ...] = ()


class PlanWorkshop:
    """Keeps between compiles: the library, tidy layouts, drawings, and the solids of the last plan. ``workers`` is how many processes help.

    One ``beside`` another has the same workers and begins with all that the other has made: another edition of the same plan has much in
    common with it.
    """

    def __init__(self, folder: Path, choice: Choice, *, workers: int = 0, beside: PlanWorkshop | None = None) -> None:
        self.folder, self.choice = folder, choice
        self._kept = beside._kept.copy() if beside else Kept()
        self._workers = beside._workers if beside else Workers(Editions, folder, choice, workers)
        self._library: tuple[Stamp, Loaded] | None = beside._library if beside else None
        self._outcome: Outcome | None = None
        self._plan: Plan | None = None
        self._solids: Solids | None = beside._solids if beside else None
        self._proofs: tuple[Diagnostic, ...] | None = None
        self._quick: Lists | None = None
        self._last: Mapping[str, Drawing] = beside._last if beside else {}

    def take_up(self) -> Outcome:
        """Read the plan as it is saved now. Its errors, if it has any, are those of reading and resolving.

        Raises OSError where the plan cannot be read at all.
        """
        self._kept.next_round()
        self._quick = self._proofs = None
        self._workers.begin(self.choice)
        self._outcome, self._plan = read_and_resolve(self.folder, self.choice, library=self._shared())
        return self._outcome

    @property
    def plan(self) -> Plan | None:
        """The plan last taken up; None where it has errors."""
        return self._plan

    def close(self) -> None:
        """End the workers. For a workshop that is used no more."""
        self._workers.dismiss()

    def draw(self, ids: Collection[str]) -> dict[str, Drawing]:
        """Those drawings of the plan just taken up, at once, before it is proven sound; of layouts the first that will do. None where it
        is not resolved or its steps cannot be made: the booklet will say why."""
        if self._plan is None or not ids:
            return {}
        derived, found = self._lists()
        if has_errors(found):
            return {}
        from drawleaf.draw.drawings import Desk

        drawn = Desk(derived, self._solid(), for_print=False, kept=self._kept).some(ids)
        self._last = {**self._last, **drawn} if self._last else {}
        return drawn

    def draft(self) -> Booklet:
        """The screen edition with all its words and numbers, soon: layouts are not yet tidy, and drawings that are not at hand are still
        those of the last booklet (``owed`` says which), or empty paper where there was none."""
        return self._made(tidy=False, instead=self._last or None)

    def catch_up(self, owed: Sequence[str]) -> Iterator[dict[str, Drawing]]:
        """What a draft owes, made by all workers, about in this order; each drawing is given when it is ready. May be left off at any time.

        Not given are layouts, which come tidy with the booklet.
        """
        jobs = [LAYOUTS, *_jobs(owed)]

        def next_job() -> Job | None:
            return jobs.pop(0) if jobs else None

        self._workers.give(next_job)
        while jobs or self._workers.busy:
            for job, results in self._workers.done(0.0 if jobs else _PATIENCE_SECONDS):
                self._kept.add(results)
                if job != LAYOUTS:
                    yield self.draw(job)
            self._workers.give(next_job)
            job = next_job()
            if job == LAYOUTS:
                continue  # no worker takes it: the booklet is where it is made
            if job is not None:
                yield self.draw(job)

    def booklet(self) -> Booklet:
        """The whole screen edition of the plan just taken up, as a compile gives it."""
        return self._made(tidy=True, instead={})

    def do(self, job: Job) -> Results:
        """A job for another workshop: what was made in doing it, or earlier and not handed over yet."""
        if job == LAYOUTS:
            self._lay_out()
        else:
            self.draw(job)
        return self._kept.news()

    def _lay_out(self) -> None:
        """Tidy layouts with their drawings."""
        if self._plan is None or has_errors(self._lists()[1]):
            return
        from drawleaf.derive.derive import derive
        from drawleaf.draw.drawings import Desk

        derived, found = derive(self._plan, self._solid(), kept=self._kept)
        if not has_errors(found):
            desk = Desk(derived, self._solid(), for_print=False, kept=self._kept)
            for layout in (*derived.layouts.sheets, *derived.layouts.boards):
                desk.layout(layout)

    def _made(self, tidy: bool, instead: Mapping[str, Drawing] | None) -> Booklet:
        outcome, plan = self._outcome, self._plan
        if outcome is None or plan is None:
            return Booklet(outcome or self.take_up())
        lists = None if tidy else self._lists()
        given = Given(self._solid(), self._proven(), lists)
        outcome, solids = work_out(outcome, plan, tidy=tidy, kept=self._kept, given=given)
        if outcome.derived is None or solids is None or outcome.failed:
            return Booklet(outcome)

        from drawleaf.book.output.booklet import make_html
        from drawleaf.book.output.unprinted import unprinted_notes
        from drawleaf.book.words.own_templates import TemplateFaultError
        from drawleaf.draw.audit import audit_drawings
        from drawleaf.draw.drawings import Desk, blanks, gathered

        instead = blanks(outcome.derived) if instead is None else instead
        desk = Desk(outcome.derived, solids, for_print=False, kept=self._kept, instead=instead)
        drawings = gathered(desk)
        derived, found = audit_drawings(outcome.derived, drawings)
        found = (*found, *unprinted_notes(derived, drawings))
        outcome = with_places(replace(outcome, derived=derived, drawings=drawings), plan, found)
        if outcome.failed:
            return Booklet(outcome)
        self._last = {drawing.id: drawing for drawing in drawings.all()}
        try:
            html = make_html(derived, drawings, for_print=False, plan_folder=self.folder)
        except TemplateFaultError as error:
            return Booklet(with_template_faults(outcome, (error.fault.diagnostic(),)))
        return Booklet(outcome, html, solids, tuple(desk.owed))

    def _solid(self) -> Solids:
        from drawleaf.solids.again import build_again
        from drawleaf.solids.build import build_solids

        assert self._plan is not None
        if self._solids is None or self._solids.plan is not self._plan:
            self._solids = build_again(self._solids, self._plan) if self._solids else build_solids(self._plan)
        return self._solids

    def _proven(self) -> tuple[Diagnostic, ...]:
        """What is wrong with the plan as a thing of wood."""
        from drawleaf.solids.proofs import prove

        assert self._plan is not None
        if self._proofs is None:
            self._proofs = prove(self._plan, self._solid())
        return self._proofs

    def _lists(self) -> Lists:
        """Lists and steps over the first layouts that will do."""
        from drawleaf.derive.derive import derive

        assert self._plan is not None
        if self._quick is None:
            self._quick = derive(self._plan, self._solid(), tidy=False, kept=self._kept)
        return self._quick

    def _shared(self) -> Loaded:
        """The library, read again only when one of its files changed."""
        from drawleaf.source.library import load_library

        folders = shared_folders(self.folder)
        stamp = stamp_of([*folders, *([self.choice.kit_file] if self.choice.kit_file else [])])
        if self._library is None or self._library[0] != stamp:
            self._library = stamp, load_library(folders, self.choice.kit_file)
        return self._library[1]


class Editions:
    """Workshops of one plan, one for each edition that was asked for recently: going back to one finds it as it was left."""

    def __init__(self, folder: Path, *, workers: int = 0) -> None:
        self._folder, self._wanted_workers = folder, workers
        self._open: dict[Choice, PlanWorkshop] = {}

    def of(self, choice: Choice) -> PlanWorkshop:
        """The workshop of an edition; the one left unused for longest is given up for a new one."""
        last = next(reversed(self._open.values()), None)
        found = self._open.pop(choice, None) or PlanWorkshop(
            self._folder, choice, workers=self._wanted_workers, beside=last
        )
        self._open[choice] = found
        if len(self._open) > EDITIONS:
            del self._open[next(iter(self._open))]
        return found

    def close(self) -> None:
        """End the workers, which all editions share."""
        for workshop in self._open.values():
            workshop.close()


def _jobs(owed: Sequence[str]) -> list[Job]:
    """The drawings owed, those together that are made together; no layouts."""
    jobs: dict[str, list[str]] = {}
    for an_id in owed:
        if not an_id.startswith(_LAYOUT):
            jobs.setdefault(next((one for one in _SETS if an_id.startswith(one)), an_id), []).append(an_id)
    return [tuple(job) for job in jobs.values()]
