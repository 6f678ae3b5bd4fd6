"""The source tree of a plan, in one edition, as a resolved plan: the whole of resolve, in order."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from drawleaf.joinery.friendly import INCHES, MILLIMETRES
from drawleaf.model.boxes import drawers_on_wood
from drawleaf.model.catalogue import Stock
from drawleaf.model.diagnostic import Diagnostic, has_errors
from drawleaf.model.plan import Assembly, Feature, NamedLength, Part, Plan
from drawleaf.resolve.checking import CheckReader
from drawleaf.resolve.film import read_film
from drawleaf.resolve.finishing import FinishReader, NoteReader
from drawleaf.resolve.fittings.families import with_cuts
from drawleaf.resolve.fittings.families.steering import steer_clear
from drawleaf.resolve.fittings.fitting import Fitter
from drawleaf.resolve.help_places import ruler_of
from drawleaf.resolve.helps import HelpReader
from drawleaf.resolve.joints.joiner import Joiner
from drawleaf.resolve.joints.joining import JointReader, Line
from drawleaf.resolve.joints.loose_ends import tell_loose_ends
from drawleaf.resolve.joints.loose_pieces import PieceStocks
from drawleaf.resolve.joints.openings import Opening, openings_of
from drawleaf.resolve.joints.repeated import report_joined_twice
from drawleaf.resolve.machining.edge_courses import follow_outlines
from drawleaf.resolve.machining.machining import Machinist
from drawleaf.resolve.machining.sleeves import line_with_sleeves
from drawleaf.resolve.names import settings as heading
from drawleaf.resolve.names.axes import FaceNodes
from drawleaf.resolve.names.drafting import Drafter, NodeMaker
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.graph import Graph
from drawleaf.resolve.names.names import NameFinder
from drawleaf.resolve.names.part_titles import title
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.names.stocks import StockReader, finished_stocks
from drawleaf.resolve.ordering import OrderReader, without_late_marks
from drawleaf.resolve.parts.fitted import FittedReader, fit_parts
from drawleaf.resolve.parts.forming import Former
from drawleaf.resolve.parts.limits import Limits
from drawleaf.resolve.parts.placing import PlacedPart, Placer
from drawleaf.resolve.parts.targets import TargetFinder
from drawleaf.resolve.stain_first import panels_stained_first
from drawleaf.source.editions import apply_edition
from drawleaf.source.library_words import in_language
from drawleaf.source.models import NoteEntry, PlanSource
from drawleaf.source.reader import Reading
from drawleaf.units import Length, Units


def resolve(
    reading: Reading, *, edition: str | None = None, units: Units | None = None, paper: str | None = None
) -> tuple[Plan | None, tuple[Diagnostic, ...]]:
    """Every part placed, sized and joined. ``units`` and ``paper`` go before what the plan or the edition says.

    The diagnostics are those of this room; of the reading, only what applying an edition adds. No plan where there are errors.
    """
    findings = Findings()
    if edition is not None and reading.edition != edition:
        before = len(reading.diagnostics)
        reading = apply_edition(reading, edition)
        findings.extend(reading.diagnostics[before:])
    if reading.plan is None:
        return None, findings.diagnostics
    plan = Resolving(reading, reading.plan, findings, units).plan(paper)
    diagnostics = findings.diagnostics
    return (None if has_errors(diagnostics) else plan), diagnostics


class Resolving:
    """One resolve at work."""

    def __init__(
        self,
        reading: Reading,
        source: PlanSource,
        findings: Findings,
        units: Units | None = None,
        measured: Mapping[str, Length] | None = None,
    ) -> None:
        """``measured`` are thicknesses by stock, in place of those of the source."""
        self.reading = reading
        self.source = source
        self.findings = findings
        self.units = units
        self.words = heading.words(source.plan, units)
        self.catalogue = in_language(reading.library, self.words)
        self.sources = Sources(reading, findings)
        self.catalogue = heading.glued_with(source.shop, self.catalogue, self.sources, findings)
        self.limits = Limits(self.sources.at(source, "assemblies"), findings)
        self.graph = Graph()
        self.faces = FaceNodes(self.graph)
        unit = source.plan.lengths
        self.stock_drafts = StockReader(self.catalogue, self.sources, findings, self.graph, unit, measured).read(
            source.stock
        )
        self.evaluator = Evaluator(self.graph, NameFinder(self.stock_drafts, self.faces), self.sources, findings)
        self.drafter = Drafter(source, reading.library.components, self.stock_drafts, self.sources, findings)
        for assembly in self.drafter.assemblies:
            assembly.left_out = assembly.id in reading.without

    def bodies(self) -> dict[str, Part] | None:
        """The parts as large as they are sawn, by their ids, and nothing else of the plan; None where there are errors."""
        self._build_graph()
        stocks = finished_stocks(self.stock_drafts, self.graph.values)
        placed = self._place(stocks)
        if placed is None:
            return None
        shop = {one.part.id: one.part for one in placed if not one.kind.assembly.is_out}
        lines, _ = self._joint_lines(TargetFinder(placed, self.findings), shop, stocks)
        grown = Joiner(self.catalogue.hardware, self.findings).grown(shop.values(), lines)
        return None if has_errors(self.findings.diagnostics) else grown

    def plan(self, paper: str | None) -> Plan | None:
        self._build_graph()
        stocks = finished_stocks(self.stock_drafts, self.graph.values)
        placed = self._place(stocks)
        if placed is None:
            return None
        present = [one for one in placed if not one.kind.assembly.is_out]
        shop = {one.part.id: one.part for one in present}
        targets = TargetFinder(placed, self.findings)
        hardware = self.catalogue.hardware
        top = self.drafter.top

        lines, piece_stocks = self._joint_lines(targets, shop, stocks)
        form = heading.length_format(self.source, self.units, self.evaluator, top)
        ruler = MILLIMETRES if form.units is Units.MM else INCHES
        joiner = Joiner(hardware, self.findings, ruler)
        drafted = joiner.draft(shop.values(), lines)
        metric = form.units is Units.MM
        machinist = Machinist(targets, drafted.bodies, self.evaluator, self.sources, self.findings, metric)
        features = machinist.work(self.drafter.assemblies)
        sleeves = line_with_sleeves(features, self.drafter.assemblies, hardware, self.sources, self.findings)
        if not self.limits.few_enough_drafted(drafted.bodies, drafted.planned, drafted.cuts, features):
            return None
        joined = joiner.settle(drafted)
        report_joined_twice(joined.joints, self.findings)
        parts = _with_features(joined.bodies.values(), joined.cuts, features)
        parts = follow_outlines(parts, self.findings)
        finished = {part.id: part for part in parts}
        complete = {one.kind.id for one in placed} == {kind.id for kind in self.drafter.kinds}
        fitter = Fitter(targets, finished, self.evaluator, hardware, self.sources, self.findings, complete)
        fittings = [*fitter.fit(self.drafter.assemblies), *sleeves]
        parts = with_cuts(parts, fitter.cuts)
        joints = steer_clear(joined.joints, fitter.cuts)
        if not self.limits.few_enough_holes(parts, joints):
            return None

        finishing = FinishReader(
            targets, parts, top, self.catalogue.finishes, self.evaluator, self.sources, self.findings
        )
        finish, filling = finishing.read(self.source.finish)
        passing = () if self.reading.edition is None else _not_of(self.reading.edition, self.source)
        notes = NoteReader(targets, top, self.sources, self.findings, passing).read(
            self.source.notes, self.reading.texts
        )
        about = heading.about(self.source.plan, self.words.tag, self.sources, self.findings, self.source.cover)
        film = read_film(self.source.film, self.sources, self.findings)
        checks = CheckReader(targets, top, self.sources, self.findings).read(self.source.checks)
        allowances = heading.making(self.source.shop, self.evaluator, top, self.sources, self.findings)
        written = FittedReader(targets, self.evaluator, self.sources, self.findings).read(self.drafter.kinds)
        if allowances is None or has_errors(self.findings.diagnostics):
            return None
        # Nothing is machined in a loose piece, mounted on it or coated: it joins the author's parts last.
        parts, joints = (*parts, *joined.pieces.parts), (*joints, *joined.pieces.joints)
        carried = {fitting.moving for fitting in fittings if fitting.moving}
        assemblies = self._assemblies(parts, carried)
        finish, filling = panels_stained_first(finish, filling, parts, joints)
        tops = {fitting.moving for fitting in fittings if fitting.item.family.carries_top}
        to_openings = (carried - tops) | drawers_on_wood(parts, assemblies)
        moving = {part.id: part.assembly for part in parts if part.assembly in to_openings and not part.brought}
        parts = fit_parts(parts, joints, written, allowances, moving)
        tell_loose_ends(parts, joints, fittings, assemblies, self.findings)
        orders = OrderReader(targets, parts, joints, fittings, assemblies, self.sources, self.findings)
        order = orders.read(self.drafter.assemblies, self.source.finish, top)
        parts = without_late_marks(parts, order, written)
        helps = HelpReader(
            targets, parts, joints, fittings, self.evaluator, self.sources, self.findings, ruler_of(form)
        )
        return Plan(
            name=self.reading.name,
            edition=self.reading.edition,
            about=about,
            lengths=form,
            paper=heading.paper(self.source, paper, form),
            dimensions=self._dimensions(),
            stocks=(*stocks.values(), *piece_stocks.made),
            parts=parts,
            assemblies=assemblies,
            joints=joints,
            fittings=tuple(fittings),
            finish=tuple(finish),
            filling=tuple(filling),
            notes=tuple(notes),
            making=allowances,
            catalogue=self.catalogue,
            checks=checks,
            order=order,
            film=film,
            helps=helps.read(self.drafter.assemblies),
        )

    def _joint_lines(
        self, targets: TargetFinder, shop: Mapping[str, Part], stocks: Mapping[str, Stock]
    ) -> tuple[list[Line], PieceStocks]:
        """The lines of joints, with the stocks that their loose pieces are cut from."""
        pieces = PieceStocks(stocks, self.catalogue.materials, self.sources, self.findings)
        hardware, openings = self.catalogue.hardware, self._openings(targets, shop)
        reader = JointReader(targets, shop, self.evaluator, hardware, self.sources, self.findings, pieces, openings)
        return reader.read(self.drafter.assemblies), pieces

    def _openings(self, targets: TargetFinder, shop: Mapping[str, Part]) -> dict[str, tuple[Opening, ...]]:
        """Openings and notches by part, of the parts as they are seen: joints are read before anything is machined."""
        # What is cut into a tenon meets nothing yet: what is wrong with an opening is told when all is machined.
        early = Machinist(targets, shop, self.evaluator, self.sources, Findings()).openings(self.drafter.assemblies)
        return {part_id: openings_of(shop[part_id], features) for part_id, features in early.items()}

    def _build_graph(self) -> None:
        maker = NodeMaker(
            self.drafter,
            self.source,
            self.graph,
            self.faces,
            self.evaluator,
            self.sources,
            self.findings,
            self.stock_drafts,
        )
        maker.add_all()
        self.findings.extend(self.graph.evaluate())

    def _place(self, stocks) -> list[PlacedPart] | None:
        """All parts in their places; None where there are too many."""
        former = Former(self.source.profiles, self.drafter.top, self.evaluator, self.sources, self.findings)
        placer = Placer(self.graph, self.faces, self.evaluator, stocks, self.sources, self.findings, former)
        if not self.limits.few_enough_parts(self.drafter.kinds, placer, self.sources):
            return None
        for kind in self.drafter.kinds:
            placer.prepare(kind)
        self.findings.extend(self.graph.evaluate())
        return [one for kind in self.drafter.kinds for one in placer.place(kind)]

    def _dimensions(self) -> tuple[NamedLength, ...]:
        """Dimensions and counts of the plan itself, in source order. Angles are left out: they show in what they make."""
        named: list[NamedLength] = []
        for section in ("dimensions", "counts"):
            for name in getattr(self.source, section):
                value = self.graph.values.get(self.drafter.top.values[name])
                if isinstance(value, (Length, Fraction)):
                    named.append(NamedLength(name, value, self.sources.at(self.source, section, name)))
        return tuple(named)

    def _assemblies(self, parts: Sequence[Part], carried: Collection[str]) -> tuple[Assembly, ...]:
        """The assemblies; what hardware carries is loose whether the source says so or not."""
        made: list[Assembly] = []
        for draft in self.drafter.assemblies:
            if draft.is_out:
                continue
            made.append(
                Assembly(
                    id=draft.id,
                    name=draft.entry.name or title(draft.key),
                    parent=draft.parent.id if draft.parent else None,
                    parts=tuple(part.id for part in parts if part.assembly == draft.id),
                    children=tuple(child.id for child in draft.children if not child.is_out),
                    loose=draft.entry.loose or draft.id in carried,
                    position=draft.position,
                )
            )
        return tuple(made)


def _not_of(edition: str, source: PlanSource) -> tuple[NoteEntry, ...]:
    """The notes of a plan that the edition in force does not write itself."""
    own = ("editions", edition)
    return tuple(note for note in source.notes if note.path[: len(own)] != own)


def _with_features(parts, cuts, features) -> tuple[Part, ...]:
    """Parts with their joints' cuts first, then their machining."""
    finished: list[Part] = []
    for part in parts:
        own: list[Feature] = [*part.features, *cuts.get(part.id, ()), *features.get(part.id, ())]
        finished.append(replace(part, features=tuple(own)))
    return tuple(finished)
