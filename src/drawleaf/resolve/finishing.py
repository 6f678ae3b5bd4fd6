"""The finish schedule and the author's notes, with the names in them looked up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from drawleaf.model.catalogue import FinishProduct
from drawleaf.model.chapters import NOTE_CHAPTERS
from drawleaf.model.plan import Filling, FinishCoat, Note, Part
from drawleaf.model.tools import PutOn
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import Target, TargetFinder
from drawleaf.source.models import FinishEntry, NoteEntry
from drawleaf.source.names import did_you_mean
from drawleaf.source.trade_words import item_mend

MOST_COATS = 30


class FinishReader:
    """Reads ``finish:`` lines; part names in them are seen from the top level."""

    def __init__(
        self,
        targets: TargetFinder,
        parts: Sequence[Part],
        top: Scope,
        products: Mapping[str, FinishProduct],
        evaluator: Evaluator,
        sources: Sources,
        findings: Findings,
    ) -> None:
        self._targets = targets
        self._parts = parts
        self._top = top
        self._products = products
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings

    def read(self, entries: Sequence[FinishEntry]) -> tuple[list[FinishCoat], list[Filling]]:
        """The lines that sand or coat, and those that fill gaps. What is for no part of this edition is left out."""
        coats: list[FinishCoat] = []
        filling: list[Filling] = []
        for entry in entries:
            if entry.fill is not None and entry.sand is None and entry.apply is None:
                one = self._filling(entry, len(coats))
                filling += [] if one is None else [one]
            else:
                coat = self._coat(entry)
                coats += [] if coat is None else [coat]
        return coats, filling

    def _filling(self, entry: FinishEntry, place: int) -> Filling | None:
        to, but = self._ids(entry, "to"), self._ids(entry, "but")
        early = next(
            (key for key in ("before", "before_assembly", "by", "coats") if key in entry.model_fields_set), None
        )
        if early is not None:
            self._findings.error(
                "fill-gaps",
                f"“{early}” says nothing of filling",
                self._sources.at(entry, early),
                "Gaps show when the joints are closed: they are filled once, when the glue is dry, before the last sanding.",
                f"Leave “{early}” out.",
            )
            return None
        if to is None or but is None:
            return None
        ids = tuple(part.id for part in self._parts if part.id in to and part.id not in but)
        return Filling(ids, entry.note, self._sources.at(entry, "fill"), place) if ids else None

    def _coat(self, entry: FinishEntry) -> FinishCoat | None:
        product = self._product(entry)
        if (entry.sand is None) == (entry.apply is None) or entry.fill is not None:
            self._findings.error(
                "finish-kind",
                "A line of the finish either sands, fills or applies something",
                self._sources.at(entry),
                mend="Write “sand: [120, 150]”, “fill: gaps” or “apply: danish oil”.",
            )
            return None
        if entry.sand is not None and not self._grits_rise(entry, entry.sand):
            return None
        count = self._evaluator.count(entry.coats, self._top, entry, "coats")
        to = self._ids(entry, "to")
        but = self._ids(entry, "but")
        if count is None or to is None or but is None or (entry.apply is not None and product is None):
            return None
        if count == 0:
            self._findings.error("not-positive", "No coats at all", self._sources.at(entry, "coats"))
            return None
        if count > MOST_COATS:
            self._findings.error(
                "count-out-of-range",
                f"{count} coats make no sense; 1 to {MOST_COATS} do",
                self._sources.at(entry, "coats"),
                mend="Write how many coats there are; sanding between them follows from the product.",
            )
            return None
        if product is not None and not self._can_be_put_on(entry, product):
            return None
        ids = tuple(part.id for part in self._parts if part.id in to and part.id not in but)
        if not ids:
            return None
        return FinishCoat(
            product=product,
            grits=tuple(entry.sand or ()),
            coats=count,
            parts=ids,
            scope=self._scope_words(entry),
            before_assembly=entry.before_assembly or bool(entry.before),
            note=entry.note,
            position=self._sources.at(entry, "apply" if product else "sand"),
            by=PutOn(entry.by) if entry.by is not None else None,
            timed="before_assembly" in entry.model_fields_set or bool(entry.before) or bool(entry.after),
        )

    def _product(self, entry: FinishEntry) -> FinishProduct | None:
        if entry.apply is None:
            return None
        product = self._products.get(entry.apply)
        if product is None:
            self._findings.error(
                "unknown-finish",
                f"There is no finish “{entry.apply}” in shared/finishes",
                self._sources.at(entry, "apply"),
                mend=item_mend("finishes", entry.apply, self._products),
            )
        return product

    def _can_be_put_on(self, entry: FinishEntry, product: FinishProduct) -> bool:
        """Whether the author's way suits what is in the can: what is wiped on and off again is neither brushed nor sprayed."""
        wiped = product.method is PutOn.WIPE
        if entry.by is None or wiped is (entry.by == PutOn.WIPE.value):
            return True
        self._findings.error(
            "finish-method",
            f"{product.name} is {'wiped on' if wiped else 'not wiped on'}, so “by: {entry.by}” does not suit it",
            self._sources.at(entry, "by"),
            "Its maker says so.",
            "Leave “by” out." if wiped else "Write “by: brush”, “by: pad” or “by: spray”.",
        )
        return False

    def _grits_rise(self, entry: FinishEntry, grits: list[int]) -> bool:
        if grits and all(a < b for a, b in pairwise(grits)):
            return True
        self._findings.error(
            "grit-order",
            "Sanding goes from coarse to fine, so the grits must rise",
            self._sources.at(entry, "sand"),
            mend="Write “sand: [120, 150, 180]”.",
        )
        return False

    def _ids(self, entry: FinishEntry, key: str) -> frozenset[str] | None:
        names = getattr(entry, key)
        listed = [names] if isinstance(names, str) else names
        ids: set[str] = set()
        for index, name in enumerate(listed):
            if name.strip() == "all":
                ids.update(part.id for part in self._parts)
                continue
            where = self._sources.at(entry, key) if isinstance(names, str) else self._sources.at(entry, key, index)
            target = self._targets.find(name, self._top, where)
            if target is None:
                return None
            ids.update(target.ids)
        return frozenset(ids)

    def _scope_words(self, entry: FinishEntry) -> str:
        """The parts as the author named them, less what this edition leaves out: ``all but drawer.box_side``."""
        to, but = (self._present(entry, key) for key in ("to", "but"))
        return f"{to} but {but}" if but else to

    def _present(self, entry: FinishEntry, key: str) -> str:
        names = getattr(entry, key)
        listed = [names] if isinstance(names, str) else names
        kept = []
        for name in listed:
            target = (
                None if name.strip() == "all" else self._targets.find(name, self._top, self._sources.at(entry, key))
            )
            if target is None or not target.left_out:
                kept.append(name)
        return ", ".join(kept)


class NoteReader:
    """Reads ``notes:``; what a step is called is known later, so step hooks are checked by derive."""

    def __init__(
        self,
        targets: TargetFinder,
        top: Scope,
        sources: Sources,
        findings: Findings,
        passing: Sequence[NoteEntry] = (),
    ) -> None:
        """``passing`` are the notes that the plan wrote and not the edition in force: they go with what they hang on."""
        self._targets = targets
        self._top = top
        self._sources = sources
        self._findings = findings
        self._passing = {id(note) for note in passing}

    def read(self, entries: Sequence[NoteEntry], texts: Mapping[str, str]) -> list[Note]:
        notes = (self._note(entry, texts) for entry in entries)
        return [note for note in notes if note is not None]

    def _note(self, entry: NoteEntry, texts: Mapping[str, str]) -> Note | None:
        given = [hook for hook in ("step", "part", "chapter") if getattr(entry, hook) is not None]
        if len(given) != 1:
            self._findings.error(
                "note-hook",
                "A note hangs on one thing: a step, a part or a chapter",
                self._sources.at(entry),
                mend="Write “- part: side”, “- step: glue-up-seat” or “- chapter: care”.",
            )
            return None
        hook = given[0]
        name = getattr(entry, hook)
        position = self._sources.at(entry, hook)
        if hook == "part":
            target = self._part(name, position)
            if target is None or target.left_out:
                return None
            name = target.kind.id if target.kind and target.sort == "part" else target.ids[0]
        if hook == "chapter" and name not in NOTE_CHAPTERS:
            others = f"The chapters with room for notes are {', '.join(NOTE_CHAPTERS)}."
            message = f"No note can hang on the chapter “{name}”"
            self._findings.error(
                "note-chapter",
                message,
                position,
                others,
                did_you_mean(name, NOTE_CHAPTERS, otherwise="Write “chapter: glance”."),
            )
            return None
        text = self._text(entry, texts)
        if text is None:
            return None
        return Note(hook, name, text, entry.picture, position, id(entry) in self._passing)

    def _part(self, name: str, position) -> Target | None:
        """The part of that name, which may leave out its assembly where only one part in the plan is called so."""
        scope = self._top
        if "." not in name and name not in scope.children:
            holders = [child for child in scope.children.values() if name in child.scope.kinds]
            if len(holders) == 1:
                scope = holders[0].scope
        target = self._targets.find(name, scope, position)
        if target is not None and target.sort == "assembly":
            self._findings.error("note-hook", f"“{name}” is an assembly, not a part", position)
            return None
        return target

    def _text(self, entry: NoteEntry, texts: Mapping[str, str]) -> str | None:
        if entry.text is not None:
            return entry.text
        if entry.file is not None:
            found = texts.get(entry.file)
            if found is not None:
                return found
            self._findings.error(
                "no-such-file", f"There is no file “{entry.file}” beside the plan", self._sources.at(entry, "file")
            )
            return None
        if entry.picture is not None:
            return ""
        self._findings.error("empty-note", "This note says nothing", self._sources.at(entry), mend="Add “text:”.")
        return None
