"""Stock: a material of ``shared/`` at the thickness that the plan names or a caliper measured."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.english import listed
from drawleaf.model.catalogue import BoardSize, Catalogue, Form, Material, SheetSize, Stock
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.graph import Graph, Node, Values
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.expressions import Expression
from drawleaf.source.models import StockEntry
from drawleaf.source.trade_words import item_mend
from drawleaf.units import Length

_SIZE = re.compile(r"\d\s*[x×]\s*\d", re.IGNORECASE)
"""``1x8`` is a board's size, or a sheet's; no thickness is written so."""
_ADD_YOURS = "Name one of these, or add the size to your own shared/materials."


@dataclass(frozen=True, slots=True)
class StockDraft:
    """A stock whose thickness and width are still graph nodes."""

    id: str
    entry: StockEntry
    material: Material
    nominal: str
    sheets: tuple[SheetSize, ...]
    boards: tuple[BoardSize, ...]
    has_width: bool


def thickness_key(stock: str) -> str:
    return f"stock.{stock}.thickness"


def width_key(stock: str) -> str:
    return f"stock.{stock}.width"


class StockReader:
    """Turns ``stock:`` entries into drafts and graph nodes."""

    def __init__(
        self,
        catalogue: Catalogue,
        sources: Sources,
        findings: Findings,
        graph: Graph,
        unit: str,
        measured: Mapping[str, Length] | None = None,
    ) -> None:
        """``measured`` are thicknesses by stock that stand in for what the source says."""
        self._measured = {thickness_key(name): length for name, length in (measured or {}).items()}
        self._catalogue = catalogue
        self._sources = sources
        self._findings = findings
        self._graph = graph
        self._unit = unit

    def read(self, entries: Mapping[str, StockEntry]) -> dict[str, StockDraft]:
        """Drafts by name; a stock with a mistake is left out and reported."""
        drafts: dict[str, StockDraft] = {}
        for name, entry in entries.items():
            material = self._catalogue.materials.get(entry.material)
            if material is None:
                self._findings.error(
                    "unknown-material",
                    f"There is no material “{entry.material}” in shared/materials",
                    self._sources.at(entry, "material"),
                    f"It lists {listed(sorted(self._catalogue.materials))}.",
                    item_mend(
                        "materials",
                        entry.material,
                        self._catalogue.materials,
                        otherwise="Name one of these, or add yours to a shared/materials.yaml beside the plan.",
                    ),
                )
                continue
            draft = self._sized(name, entry, material)
            if draft is not None:
                drafts[name] = draft
        return drafts

    def _sized(self, name: str, entry: StockEntry, material: Material) -> StockDraft | None:
        if material.form is Form.SHEET:
            return self._sheet(name, entry, material)
        return self._board(name, entry, material)

    def _sheet(self, name: str, entry: StockEntry, material: Material) -> StockDraft | None:
        if entry.nominal is not None and _SIZE.search(entry.nominal):
            self._size_for_thickness(name, entry, "Write its thickness alone: “nominal: 3/4”.")
            return None
        nominal = self._plain(entry.nominal, entry, "nominal")
        if entry.nominal is None:
            self._findings.error(
                "stock-without-thickness",
                f"Stock “{name}” does not say in which thickness it is sold",
                self._sources.at(entry),
                "A sheet is bought by its nominal thickness.",
                "Write “nominal: 3/4”, and “actual:” with what your caliper says.",
            )
            return None
        sizes = dict(material.sheets)
        sheets = sizes.get(nominal) if nominal is not None else None
        if sheets is None and nominal is not None:
            known = ", ".join(_written(size) for size in sizes)
            self._findings.error(
                "unknown-thickness",
                f"{material.name} is not sold {entry.nominal} thick",
                self._sources.at(entry, "nominal"),
                f"shared/materials lists {known}." if known else "",
                _ADD_YOURS,
            )
            return None
        usual = material.usual_thickness(nominal) if nominal is not None else None
        self._node(thickness_key(name), f"stock.{name}.thickness", entry, "actual", entry.actual, usual)
        return StockDraft(name, entry, material, entry.nominal or entry.actual or "", sheets or (), (), False)

    def _board(self, name: str, entry: StockEntry, material: Material) -> StockDraft | None:
        board: BoardSize | None = None
        if entry.size is not None:
            board = next((size for size in material.boards if size.name == entry.size), None)
            if board is None:
                known = [size.name for size in material.boards]
                self._findings.error(
                    "unknown-size",
                    f"{material.name} is not sold as {entry.size}",
                    self._sources.at(entry, "size"),
                    f"shared/materials lists {', '.join(known)}." if known else "",
                    _meant_size(entry.size, known),
                )
                return None
        elif entry.nominal is None and entry.actual is None:
            self._findings.error(
                "stock-without-thickness",
                f"Stock “{name}” names no size",
                self._sources.at(entry),
                "A board is bought by its nominal size, which gives its thickness and width.",
                "Write “size: 1x6”.",
            )
            return None
        elif entry.nominal is not None and _SIZE.search(entry.nominal):
            meant, known = _plain_size(entry.nominal), [one.name for one in material.boards]
            sizes = listed([f"“size: {one}”" for one in ([meant] if meant in known else known)], "or")
            self._size_for_thickness(name, entry, f"Write {sizes} in its place." if sizes else _ADD_YOURS)
            return None
        fallback = board.thickness if board else self._plain(entry.nominal, entry, "nominal")
        self._node(thickness_key(name), f"stock.{name}.thickness", entry, "actual", entry.actual, fallback)
        has_width = (board is not None and not board.random_widths) or entry.width is not None
        if has_width:
            fallback_width = board.width if board else None
            self._node(width_key(name), f"stock.{name}.width", entry, "width", entry.width, fallback_width)
        boards = (board,) if board else material.boards
        return StockDraft(name, entry, material, entry.size or entry.nominal or "", (), boards, has_width)

    def _size_for_thickness(self, name: str, entry: StockEntry, mend: str) -> None:
        self._findings.error(
            "stock-without-thickness",
            f"“{entry.nominal}” of stock “{name}” is a size, not a thickness",
            self._sources.at(entry, "nominal"),
            "A sheet is bought by its “nominal” thickness, a board by its “size”.",
            mend,
        )

    def _plain(self, text: str | None, entry: StockEntry, key: str) -> Length | None:
        """A length written out, without names."""
        expression = self._parse(text, entry, key)
        if expression is None:
            return None
        length = expression.length({})
        if isinstance(length, Diagnostic):
            self._findings.add(length)
            return None
        return length

    def _parse(self, text: str | None, entry: StockEntry, key: str) -> Expression | None:
        expression = self._sources.expression(text, self._unit, entry, key)  # type: ignore[arg-type]
        if expression is not None and expression.names:
            self._findings.error(
                "name-in-stock",
                f"“{text}” refers to other lengths; a stock's sizes are plain lengths",
                self._sources.at(entry, key),
                "Stock is what the store sells, so nothing in the plan can change it.",
                "Write the figure itself: “actual: 23/32”.",
            )
            return None
        return expression

    def _node(
        self, key: str, label: str, entry: StockEntry, field: str, text: str | None, fallback: Length | None
    ) -> None:
        position: Position = self._sources.at(entry, field)
        if key in self._measured:
            self._graph.add(key, Node(label, position, (), _constant(self._measured[key])))
            return
        if text is None and fallback is not None:
            self._graph.add(key, Node(label, position, (), _constant(fallback)))
            return
        length = self._plain(text, entry, field)
        if length is None:
            return
        if length.exact_mm <= 0:
            self._findings.error("not-positive", f"“{text}” is no thickness of a piece of wood", position)
            return
        self._graph.add(key, Node(label, position, (), _constant(length)))


def finished_stocks(drafts: Mapping[str, StockDraft], values: Values) -> dict[str, Stock]:
    """Stocks with their lengths, for those whose lengths are known."""
    stocks: dict[str, Stock] = {}
    for name, draft in drafts.items():
        thickness = values.get(thickness_key(name))
        width = values.get(width_key(name)) if draft.has_width else None
        if not isinstance(thickness, Length) or not (width is None or isinstance(width, Length)):
            continue
        stocks[name] = Stock(
            id=name,
            name=draft.entry.name or draft.material.name,
            material=draft.material,
            nominal=draft.nominal,
            thickness=thickness,
            width=width,
            sheets=draft.sheets,
            boards=draft.boards,
            note=draft.entry.note,
            uncommon=draft.entry.special_order is not None,
            at_yard=draft.entry.planed == "at the yard",
            as_bought=draft.entry.planed == "as bought",
            defects=Fraction(draft.entry.waste, 100),
            profile=draft.entry.profile or "",
        )
    return stocks


def _constant(value: Length):
    return lambda _values: value


def _meant_size(size: str, known: list[str]) -> str:
    """``1 x 3`` and ``1x3 in`` are meant as 1x3, ``1`` as the rod of 1 in; what is like no size gets no guess."""
    plain = _plain_size(size)
    near = [one for one in known if plain in (one.lower(), one.split(" ")[0].lower())]
    return f"Did you mean {listed([f'“{one}”' for one in near], 'or')}?" if near else _ADD_YOURS


def _plain_size(size: str) -> str:
    return size.replace(" ", "").removesuffix("in").lower().replace("×", "x")


def _written(length: Length) -> str:
    """A sheet's nominal thickness as it was most likely written: whole millimetres, else an inch fraction."""
    inches = length.inches
    if inches.denominator in (1, 2, 4, 8, 16, 32, 64):
        return f"{inches} in"
    return f"{float(length.exact_mm):g} mm"
