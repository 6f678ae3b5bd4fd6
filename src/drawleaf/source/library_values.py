"""Entries of the data files as catalogue values: lengths read, families spread out, prices put in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from drawleaf.english import listed
from drawleaf.model.catalogue import (
    BoardSize,
    Caution,
    Clearance,
    Consumable,
    FinishKind,
    FinishProduct,
    Form,
    HardwareItem,
    HardwareScrew,
    Material,
    ProfileCorner,
    SheetSize,
)
from drawleaf.model.hardware_kinds import HARDWARE_KINDS, OTHER_KIND
from drawleaf.model.tools import Clamp, LeastPiece, PutOn, Reach, Tool
from drawleaf.source.library_lengths import DataProblem, length_at, literal_length, price_at, section_at
from drawleaf.source.library_looks import finish_look
from drawleaf.source.library_models import (
    BoardGroupEntry,
    CautionEntry,
    ConsumableEntry,
    FinishProductEntry,
    HardwareEntry,
    MaterialEntry,
    SizeEntry,
    ToolEntry,
    ToolReachEntry,
)
from drawleaf.source.library_prices import Prices
from drawleaf.source.names import did_you_mean
from drawleaf.source.old_names import new_measure, new_word, told_new
from drawleaf.units import ZERO, Length

_LONGER_BY = Length.of_mm(1)


def material(name: str, entry: MaterialEntry, prices: Prices) -> Material:
    """A material with the sizes it is sold in. Raises DataProblem."""
    sheets, actuals = _sheets(name, entry, prices)
    boards = tuple(
        board for index, group in enumerate(entry.boards) for board in _boards(name, group, prices, ("boards", index))
    )
    boards += tuple(_random(name, entry, prices))
    return Material(
        id=name,
        name=entry.name,
        form=Form(entry.form),
        tint=entry.tint,
        look=entry.look or "",
        density=entry.density,
        solid=entry.solid,
        hard=entry.hard,
        blotches=entry.blotches,
        stiffness=entry.stiffness,
        radial=entry.radial,
        tangential=entry.tangential,
        sheets=sheets,
        boards=boards,
        aisle=entry.aisle,
        source=entry.source,
        actuals=actuals,
        extra=ZERO if entry.extra is None else length_at(entry.extra, "extra"),
        profiles=tuple(_profiles(entry)),
    )


def _profiles(entry: MaterialEntry) -> Iterator[tuple[str, tuple[ProfileCorner, ...]]]:
    """The section of each size of a moulding."""
    sizes = {size for group in entry.boards for size in group.sizes}
    for name, corners in entry.profiles.items():
        if name not in sizes:
            raise DataProblem(
                ("profiles", name), f"there is no size “{name}”", f"Listed are {', '.join(sorted(sizes))}."
            )
        found = []
        for index, corner in enumerate(corners):
            place = ("profiles", name, index)
            out, up = section_at(corner.at, 2, *place, "at")
            found.append(
                ProfileCorner(out, up, None if corner.arc is None else _signed_length(corner.arc, *place, "arc"))
            )
        yield name, tuple(found)


def _signed_length(text: str, *path: str | int) -> Length:
    """A length that may be negative. Raises DataProblem."""
    bare = text.strip()
    return -length_at(bare[1:], *path) if bare.startswith("-") else length_at(bare, *path)


def _sheets(
    name: str, entry: MaterialEntry, prices: Prices
) -> tuple[tuple[tuple[Length, tuple[SheetSize, ...]], ...], tuple[tuple[Length, Length], ...]]:
    """The sheets sold for each nominal thickness, and what each usually measures."""
    sizes: dict[str, tuple[Length, Length]] = {}
    for label, text in entry.sheets.items():
        length, width = section_at(text, 2, "sheets", label)
        sizes[label] = length, width
    sold, actuals = [], []
    for nominal, thickness in entry.thicknesses.items():
        place = ("thicknesses", nominal)
        key = length_at(nominal, *place)
        actuals.append((key, length_at(thickness.actual, *place, "actual")))
        row = []
        labels = [("sheets", index, label) for index, label in enumerate(thickness.sheets)]
        labels += [("special_order", index, label) for index, label in enumerate(thickness.special_order)]
        for key_word, index, label in labels:
            if label not in sizes:
                known = ", ".join(sizes)
                raise DataProblem(
                    (*place, key_word, index), f"there is no sheet size “{label}”", f"Listed are {known}."
                )
            price = prices.of("sheets", name, nominal, label)
            row.append(SheetSize(label, *sizes[label], price, key_word == "special_order"))
        sold.append((key, tuple(row)))
    return tuple(sold), tuple(actuals)


def _boards(name: str, group: BoardGroupEntry, prices: Prices, place: tuple[str | int, ...]) -> Iterator[BoardSize]:
    """The boards of one group of sizes that share their lengths."""
    lengths = tuple(length_at(text, *place, "lengths", index) for index, text in enumerate(group.lengths))
    for size, text in group.sizes.items():
        thickness, width = section_at(text, 2, *place, "sizes", size)
        each = tuple(prices.of("boards", name, size, length=length) for length in lengths)
        yield BoardSize(size, thickness, width, lengths, each)


def _random(name: str, entry: MaterialEntry, prices: Prices) -> Iterator[BoardSize]:
    """Lumber in random widths, as boards of the width that can be counted on; each priced by its measure."""
    lumber = entry.random
    if lumber is None:
        return
    lengths = tuple(length_at(text, "random", "lengths", index) for index, text in enumerate(lumber.lengths))
    width, narrowest = length_at(lumber.width, "random", "width"), length_at(lumber.narrowest, "random", "narrowest")
    for size, text in lumber.thicknesses.items():
        foot = prices.of("boards", name, size)
        board = BoardSize(
            size,
            length_at(text, "random", "thicknesses", size),
            width,
            lengths,
            (),
            narrowest,
            foot,
            Fraction(lumber.waste) / 100,
            ZERO if lumber.planing is None else length_at(lumber.planing, "random", "planing"),
        )
        each = tuple(None if foot is None else foot * board.measure(length, width) for length in lengths)
        yield replace(board, prices=each)


def hardware(name: str, entry: HardwareEntry, prices: Prices) -> tuple[HardwareItem, ...]:
    """The item of an entry, or all items of a family. Raises DataProblem."""
    if "{" not in name:
        length = None if entry.length is None else length_at(entry.length, "length")
        return (_item(name, entry, prices, entry.gauge, length, entry.diameter, entry.metric, ("diameter",)),)
    return tuple(_family(name, entry, prices))


def _family(name: str, entry: HardwareEntry, prices: Prices) -> Iterator[HardwareItem]:
    """One item for each gauge and length of a family."""
    if not (entry.sizes or entry.lengths):
        mend = "List them under `sizes` or `lengths`, or give the item a plain name."
        raise DataProblem((), f"the family “{name}” has no sizes", mend)
    for text in entry.lengths:
        yield _member(name, entry, prices, None, None, text)
    for gauge, size in entry.sizes.items():
        if not gauge.isdigit():
            raise DataProblem(("sizes", gauge), f"“{gauge}” is no gauge", "Write a whole number: 8.")
        for text in size.lengths:
            yield _member(name, entry, prices, int(gauge), size, text)


def _member(
    name: str, entry: HardwareEntry, prices: Prices, gauge: int | None, size: SizeEntry | None, text: str
) -> HardwareItem:
    """The item of a family that has this gauge and this length in inches."""
    place = ("sizes", str(gauge), "lengths") if size else ("lengths",)
    length = literal_length(f"{text} in")
    if length is None:
        raise DataProblem(place, f"“{text}” is no length in inches", "Write it without a unit: 1-1/4.")
    texts = {"name": entry.name, "plural": entry.plural, "body": entry.body}
    filled = {key: value and _filled(value, gauge, text) for key, value in texts.items()}
    measures = {name: _filled(measure, gauge, text) for name, measure in entry.measures.items()}
    member = entry.model_copy(update={**filled, "measures": measures})
    diameter = size.diameter if size else entry.diameter
    metric = _metric_name(entry, size, length)
    path = (*place[:-1], "diameter")
    return _item(_filled(name, gauge, text), member, prices, gauge, length, diameter, metric, path)


def _item(
    name: str,
    entry: HardwareEntry,
    prices: Prices,
    gauge: int | None,
    length: Length | None,
    diameter: str | None,
    metric: str,
    diameter_path: tuple[str | int, ...],
) -> HardwareItem:
    """A catalogue item of an entry whose name, sizes and body are settled."""
    if new := new_word(HardwareEntry, "kind", entry.kind):
        raise DataProblem(("kind",), f"there is no kind “{entry.kind}”", told_new(new))
    if entry.kind not in HARDWARE_KINDS:
        mend = f"Write “{OTHER_KIND}” for what is fitted as its packet says, or one of these: {listed(sorted(HARDWARE_KINDS))}."
        raise DataProblem(
            ("kind",), f"there is no kind “{entry.kind}”", did_you_mean(entry.kind, HARDWARE_KINDS, otherwise=mend)
        )
    for what in entry.measures:
        if new := new_measure(what):
            raise DataProblem(("measures", what), f"nothing looks for a measure “{what}”", told_new(new))
    body = None if entry.body is None else section_at(entry.body, 3, "body")
    return HardwareItem(
        id=name,
        name=entry.name,
        plural=entry.plural,
        kind=entry.kind,
        length=length,
        gauge=gauge,
        diameter=None if diameter is None else length_at(diameter, *diameter_path),
        body=body,  # type: ignore[arg-type]  # three lengths
        hole=None if entry.hole is None else length_at(entry.hole, "hole"),
        clearances=tuple(
            Clearance(where, length_at(text, "clearances", where)) for where, text in entry.clearances.items()
        ),
        screws=tuple(HardwareScrew(screw.item, screw.count, screw.supplied) for screw in entry.screws),
        per_pack=entry.per_pack,
        pack=entry.pack,
        price=_price(prices.of("hardware", name), entry.price),
        aisle=entry.aisle,
        note=entry.note,
        source=entry.source,
        thread=entry.thread,
        metric=metric,
        measures=tuple((what, length_at(text, "measures", what)) for what, text in entry.measures.items()),
        look=entry.look or "steel",
    )


def _filled(text: str, gauge: int | None, length: str) -> str:
    """A family's text with this member's figures in it."""
    return text.replace("{gauge}", str(gauge)).replace("{length}", length)


def _metric_name(entry: HardwareEntry, size: SizeEntry | None, length: Length) -> str:
    """What to ask for in a metric shop: the longest sold there that is no more than 1 mm longer than this one."""
    fitting = [mm for mm in entry.metric_lengths if Length.of_mm(mm) <= length + _LONGER_BY]
    if not fitting:
        return ""
    return f"{size.metric} x {max(fitting)} mm" if size and size.metric else f"{max(fitting)} mm"


def _price(booked: Fraction | None, written: str | None) -> Fraction | None:
    """The price book's figure, or the one in the entry itself."""
    if booked is not None or written is None:
        return booked
    return price_at(written, None, "price")


def consumable(name: str, entry: ConsumableEntry, prices: Prices) -> Consumable:
    """What is used up. Raises DataProblem."""
    price = _price(prices.of("consumables", name), entry.price)
    return Consumable(
        name,
        entry.name,
        entry.unit,
        entry.covers,
        price,
        entry.aisle,
        entry.source,
        entry.open,
        entry.clamp,
        entry.load,
        entry.metric_unit,
        entry.abrasive,
        entry.grit,
    )


def caution(name: str, entry: CautionEntry, prices: Prices) -> Caution:
    """A hazard message."""
    avoid = tuple(entry.avoid)
    return Caution(
        name,
        entry.signal,
        entry.hazard,
        entry.consequence,
        avoid,
        entry.short,
        entry.source,
        entry.covers,
        entry.every_use,
        entry.name,
    )


def tool(name: str, entry: ToolEntry, prices: Prices) -> Tool:
    """A tool. Raises DataProblem."""
    return Tool(
        id=name,
        name=entry.name,
        power=entry.power,
        group=entry.group,
        cautions=tuple(entry.cautions),
        stand_ins=tuple(entry.stand_ins),
        note=entry.note,
        wear=tuple(entry.wear),
        lesson=entry.lesson or "",
        uses=tuple((use, tuple(cautions)) for use, cautions in entry.uses.items()),
        at_hand=entry.at_hand,
        reach=_reach(entry.reach) if entry.reach is not None else None,
        least_piece=LeastPiece(
            length_at(entry.least_piece.long, "least_piece", "long"),
            length_at(entry.least_piece.wide, "least_piece", "wide"),
        )
        if entry.least_piece is not None
        else None,
        steered=entry.steered,
        clamp=Clamp(entry.clamp) if entry.clamp is not None else None,
        leaves_round=entry.leaves_round,
        marks_mate=entry.marks_mate,
        squares=entry.squares,
        puts_on=PutOn(entry.puts_on) if entry.puts_on is not None else None,
        worded_as=entry.worded_as or "",
    )


def _reach(entry: ToolReachEntry) -> Reach:
    wide = length_at(entry.wide, "reach", "wide") if entry.wide is not None else None
    return Reach(wide, length_at(entry.deep, "reach", "deep"))


def finish(name: str, entry: FinishProductEntry, prices: Prices) -> FinishProduct:
    """A finish with its containers, smallest first. Raises DataProblem."""
    containers = tuple(
        (label, litres, prices.of("finishes", name, label))
        for label, litres in sorted(entry.containers.items(), key=lambda one: one[1])
    )
    metric = tuple(
        (label, litres, prices.of("finishes", name, label))
        for label, litres in sorted(entry.metric_containers.items(), key=lambda one: one[1])
    )
    return FinishProduct(
        id=name,
        name=entry.name,
        kind=FinishKind(entry.kind),
        method=PutOn(entry.method),
        coverage=entry.coverage,
        recoat_hours=entry.recoat,
        cure_hours=entry.cure,
        sand_between=entry.sand_between,
        containers=containers,
        metric_containers=metric,
        cautions=tuple(entry.cautions),
        water_borne=entry.water_borne,
        cleanup=entry.cleanup,
        note=entry.note,
        source=entry.source,
        look=finish_look(entry.look),
    )
