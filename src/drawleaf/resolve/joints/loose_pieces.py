"""Loose pieces that joints bring along, such as splines: what they are cut from, and what they are called."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from drawleaf.joinery.family import LoosePiece, Terms
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import Form, Material, Stock
from drawleaf.model.plan import Joint, Part
from drawleaf.model.position import Position
from drawleaf.model.shapes import OutlineCut
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import JointEntry, LooseOptions
from drawleaf.source.names import did_you_mean
from drawleaf.units import Length

STOCK = "splines"
"""What the stock of splines is called where the plan names none."""


class PieceStocks:
    """Finds what splines and loose tenons are cut from: what the line names; else a sheet of that thickness, the plan's own or from the store; else the wood
    of the part itself, brought to that thickness."""

    def __init__(
        self, stocks: Mapping[str, Stock], materials: Mapping[str, Material], sources: Sources, findings: Findings
    ) -> None:
        self._stocks = stocks
        self._materials = materials
        self._sources = sources
        self._findings = findings
        self._made: dict[tuple[str, Length], Stock] = {}

    @property
    def made(self) -> tuple[Stock, ...]:
        """The stocks that the plan does not name, in the order in which they were first needed."""
        return tuple(self._made.values())

    def settled(self, terms: Terms, entry: JointEntry, scope: Scope, part: Part | None) -> Terms | None:
        """The terms with the stock and the thickness of their spline; None where there is no such stock, which is then reported. ``part`` is one
        of those that are mitred."""
        if entry.loose is not None:
            return self._for_tenons(terms, entry, scope, part)
        if entry.spline is None or terms.spline is None:
            return terms
        thickness, depth = terms.spline
        if entry.spline.stock is not None:
            stock = self._named(entry, scope, thickness)
        else:
            stock = self._found(entry, thickness, part, scope)
        return None if stock is None else replace(terms, spline=(stock.thickness, depth), piece_stock=stock)

    def _for_tenons(self, terms: Terms, entry: JointEntry, scope: Scope, part: Part | None) -> Terms | None:
        """The terms with the stock of the strip that loose tenons are cut off: the named one, else that of the part itself where it is a
        board; it must be no thinner than they are."""
        options = entry.loose if isinstance(entry.loose, LooseOptions) else None
        if options is not None and options.item is not None:
            return terms
        where = self._sources.at(options, "stock") if options is not None and options.stock else None
        where = where or self._sources.at(entry, "loose")
        named = (options.stock or "").strip() if options is not None else ""
        stock = self._of_name(named, scope, where) if named else part.stock if part is not None else None
        if stock is None:
            return None if named else terms
        solid = stock.material.form is Form.BOARD and not stock.profile
        thick = terms.tenon.thickness if terms.tenon is not None else None
        if not solid or (thick is not None and thick > stock.thickness):
            told = "is no solid board" if not solid else f"is only {say(stock.thickness, scope.unit)} thick"
            found = ((name, self._stocks.get(id_)) for name, id_ in _known(scope).items())
            board = next((name for name, one in found if one is not None and one.material.form is Form.BOARD), None)
            first = (
                f"Name a board: “loose: {{stock: {board}}}”" if board else "Define a board under “stock” and name it"
            )
            self._findings.error(
                "tenon-stock",
                f"“{stock.name}” {told}: no strip for the loose tenons comes of it",
                where,
                "Loose tenons are cut off a strip of solid wood, milled to their thickness and width.",
                f"{first}, or what is bought: “loose: {{item: …}}”.",
            )
            return None
        return replace(terms, piece_stock=stock)

    def _of_name(self, name: str, scope: Scope, where: Position) -> Stock | None:
        """The stock that is called so in a scope; reported where there is none. None too where it has a mistake of its own."""
        known = _known(scope)
        if name not in known:
            self._findings.error("unknown-stock", f"There is no stock “{name}”", where, mend=did_you_mean(name, known))
        return self._stocks.get(known.get(name, ""))

    def _named(self, entry: JointEntry, scope: Scope, thickness: Length) -> Stock | None:
        assert entry.spline is not None
        name = (entry.spline.stock or "").strip()
        stock = self._of_name(name, scope, self._sources.at(entry.spline, "stock"))
        if stock is None:
            return None
        if thickness and thickness != stock.thickness:
            self._findings.error(
                "spline-thickness",
                f"The spline is {say(thickness, scope.unit)} thick, its stock “{name}” is {say(stock.thickness, scope.unit)}",
                self._sources.at(entry.spline, "thickness"),
                "The slot must be as wide as the spline is thick.",
                "Leave “thickness” out, or give the stock that “actual” thickness.",
            )
            return None
        return stock

    def _found(self, entry: JointEntry, thickness: Length, part: Part | None, scope: Scope) -> Stock | None:
        assert entry.spline is not None
        if not thickness:
            self._findings.error(
                "spline-stock",
                "The spline says neither how thick it is nor what it is cut from",
                self._sources.at(entry, "spline"),
                mend="Write “spline: {thickness: 1/8, depth: 3/8}”, or name one of the plan's stocks: “stock: thin”.",
            )
            return None
        own = next(
            (s for s in self._stocks.values() if s.material.form is Form.SHEET and s.thickness == thickness), None
        )
        found = own or self._sheet(thickness) or self._wood_of(part, thickness)
        if found is None:
            self._findings.error(
                "spline-stock",
                f"Nothing {say(thickness, scope.unit)} thick is there to cut the spline from",
                self._sources.at(entry.spline, "thickness"),
                "No sheet of shared/materials is so thick, and the mitred part is no board that could be planed to it.",
                "Name one of the plan's stocks: “spline: {stock: thin, depth: 3/8}”.",
            )
        return found

    def _sheet(self, thickness: Length) -> Stock | None:
        """The sheet of that thickness that the store has; harder sheets first."""
        for material in sorted(self._materials.values(), key=lambda one: (not one.hard, one.id)):
            for nominal, sheets in material.sheets:
                if material.form is Form.SHEET and material.usual_thickness(nominal) == thickness:
                    sheet = Stock("", material.name, material, _label(nominal), thickness, None, sheets, ())
                    return self._kept(material, thickness, sheet)
        return None

    def _wood_of(self, part: Part | None, thickness: Length) -> Stock | None:
        if part is None or part.stock.material.form is not Form.BOARD or part.stock.profile:
            return None
        if any(board.thickest <= thickness for board in part.stock.boards):
            return None
        return self._kept(part.stock.material, thickness, replace(part.stock, thickness=thickness, note=""))

    def _kept(self, material: Material, thickness: Length, stock: Stock) -> Stock:
        """The one stock of that material and thickness, under a name that the plan has not given."""
        key = (material.id, thickness)
        if key not in self._made:
            taken = {*self._stocks, *(one.id for one in self._made.values())}
            self._made[key] = replace(stock, id=_free(STOCK, taken))
        return self._made[key]


@dataclass(frozen=True, slots=True)
class Pieces:
    """Loose pieces with their ids, and the joints by which they sit."""

    parts: tuple[Part, ...]
    joints: tuple[Joint, ...]


def named(pieces: Iterable[LoosePiece], parts: Sequence[Part]) -> Pieces:
    """The pieces under ids of their own: ``frame.spline.1``. Those of one assembly and size are copies of one kind."""
    kinds: dict[tuple[object, ...], str] = {}
    counts: dict[str, int] = {}
    taken = {part.kind for part in parts}
    made: list[Part] = []
    joints: list[Joint] = []
    for piece in pieces:
        part = piece.part
        alike = (part.assembly, part.kind, part.stock.id, _sizes(part))
        if alike not in kinds:
            kinds[alike] = _free(f"{part.assembly}.{part.kind}", taken)
            taken.add(kinds[alike])
        kind = kinds[alike]
        counts[kind] = counts.get(kind, 0) + 1
        made.append(replace(part, id=f"{kind}.{counts[kind]}", kind=kind))
        joints += [replace(joint, insert=made[-1].id) for joint in piece.joints]
    return Pieces(tuple(made), tuple(joints))


def _sizes(part: Part) -> tuple[object, ...]:
    trimmed = tuple(isinstance(one, OutlineCut) for one in part.features)
    return (*(part.body.extent(axis) for axis in (part.length_axis, part.width_axis, part.thickness)), trimmed)


def _free(name: str, taken: Iterable[str]) -> str:
    """The name, with a number behind it where it is taken."""
    used, number, free = set(taken), 1, name
    while free in used:
        number += 1
        free = f"{name}-{number}"
    return free


def _label(nominal: Length) -> str:
    """A sheet's nominal thickness as the store writes it: a fraction of an inch, else millimetres."""
    inches = nominal.inches
    return str(inches) if inches.denominator in (1, 2, 4, 8, 16, 32) else f"{float(nominal.exact_mm):g} mm"


def _known(scope: Scope) -> Mapping[str, str]:
    """The ids of stocks by the names that they have in a scope."""
    return next((level.stocks for level in scope.outward() if level.stocks), {})
