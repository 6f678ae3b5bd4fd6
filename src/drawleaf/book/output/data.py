"""The plan as data: ``plan.json`` (described in docs/plan-json.md) and the two lists as CSV (RFC 4180)."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import Any

from drawleaf.book.output.data_checks import check_data
from drawleaf.derive.shop.store_words import stock_words
from drawleaf.model.catalogue import SCREWS
from drawleaf.model.derived import Derived
from drawleaf.model.lists import BoardLayout, CutItem, Placed, SheetLayout, ShoppingRow
from drawleaf.model.place import Axis, Box, Point
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Fastener, Joint, Part
from drawleaf.model.screw_sizes import thickness_of
from drawleaf.model.settings import Value
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.model.steps import Operation, Step
from drawleaf.units import Length, round_to, trimmed

SCHEMA_VERSION = 1
DECIMALS = Fraction(1, 10_000)
_FORMULA = re.compile(r"(^|[;,|\t\r\n])(\s*)(?=[=+\-@\uff1d\uff0b\uff0d\uff20])")
"""Where a spreadsheet would begin a formula: at the start of a cell, or after what parts cells in some countries. The signs count full-width
too (OWASP, CSV injection)."""


def plan_json(derived: Derived) -> str:
    """The whole derived plan. Lengths are ``{"exact": "5842/5", "mm": 1168.4}``; keys and order never change for a schema version."""
    plan, about = derived.plan, derived.plan.about
    data = {
        "schema": SCHEMA_VERSION,
        "plan": {
            "name": plan.name, "edition": plan.edition, "title": about.title, "subtitle": about.subtitle, "number": about.number,
            "revision": about.revision, "date": about.date, "author": about.author, "language": about.language,
            "summary": about.summary, "skill": about.skill, "units": plan.lengths.units.value, "paper": plan.paper,
        },
        "overall_mm": [round(side, 4) for side in derived.overall],
        "mass_kg": round(derived.mass_kg, 3),
        "dimensions": [{"name": named.name, "value": _value(named.value)} for named in plan.dimensions],
        "stocks": [
            {"id": stock.id, "name": stock_words(stock)}
            for stock in {part.stock.id: part.stock for part in plan.parts}.values()
        ],
        "parts": [_part(derived, part) for part in plan.parts],
        "joints": [_joint(joint) for joint in plan.joints],
        "hardware_places": [
            {"id": f.id, "item": f.item.id, "count": f.count, "parts": list(f.parts), "face": f.face.value, "note": f.note}
            for f in plan.fittings
        ],
        "cut_list": [_cut_item(item) for item in derived.cut_list.items],
        "helps": [
            {"kind": row.kind.value, "name": row.name, "count": row.count, "size": [_value(size) for size in row.size or ()],
             "must_be": None if row.exact is None else _value(row.exact), "note": row.note, "steps": list(row.steps),
             "off": None if row.off is None else {row.off[0]: row.off[1]}}
            for row in derived.helps
        ],
        "strips": [
            {"item": strip.item.id, "stock": strip.stock.id, "count": strip.count, "strips": strip.strips, "length": _value(strip.length),
             "width": _value(strip.width), "thickness": _value(strip.thickness), "board": strip.board}
            for strip in derived.strips
        ],
        "layouts": {
            "sheets": [_sheet(layout) for layout in derived.layouts.sheets],
            "boards": [_board(layout) for layout in derived.layouts.boards],
        },
        "hardware": [
            {"item": row.item.id, "name": row.item.name, "count": row.count, "packs": row.packs,
             "uses": [{"where": use, "count": count} for use, count in row.uses]}
            for row in derived.hardware
        ],
        "consumables": [
            {"item": row.item.id, "name": row.item.name, "amount": _number(row.amount), "unit": row.item.unit, "buy": row.buy}
            for row in derived.consumables
        ],
        "finishes": [
            {"product": row.product.id, "name": row.product.name, "coats": row.coats, "area_m2": round(row.area, 4),
             "litres": round(row.litres, 4), "buy": [{"container": name, "count": count} for name, count, _ in row.containers]}
            for row in derived.finishes
        ],
        "shopping": {
            "currency": derived.shopping.currency, "prices_of": derived.shopping.date, "total": _money(derived.shopping.total),
            "unpriced": derived.shopping.unpriced, "rows": [_shopping_row(row) for row in derived.shopping.rows],
        },
        "tools": [
            {"tool": row.tool.id, "name": row.tool.name, "steps": list(row.steps), "stand_ins": [tool.id for tool in row.stand_ins]}
            for row in derived.tools
        ],
        "steps": [_step(step) for step in derived.steps],
        "cautions": _cautions(derived),
        "schedule": {
            "active_hours": round(derived.schedule.active_hours, 3), "waiting_hours": round(derived.schedule.waiting_hours, 3),
            "days": derived.schedule.days,
        },
        "checks": [check_data(result, plan.lengths, _length) for result in derived.checks],
        "audit": [
            {"name": line.name, "left": line.left, "right": line.right, "agrees": line.agrees, "detail": line.detail}
            for line in derived.audit.lines
        ],
    }  # fmt: skip
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def cut_list_csv(derived: Derived) -> str:
    """One row for each item number; lengths in exact-as-decimal millimetres and as the booklet prints them."""
    lengths = derived.plan.lengths
    head = ("item", "part", "quantity", "length", "width", "thickness", "length_mm", "width_mm", "thickness_mm", "stock",
            "grain", "set_up", "mirror_of", "note")  # fmt: skip
    rows = [
        (
            item.number, item.name, item.quantity,
            *(lengths.text(side) for side in (*item.cut, item.thickness)),
            *(_decimal(side) for side in (*item.cut, item.thickness)),
            item.stock.name, item.grain, item.setup or "", item.mirror_of or "", item.note,
        )
        for item in derived.cut_list.items
    ]  # fmt: skip
    return _csv(head, rows)


def shopping_list_csv(derived: Derived) -> str:
    """One row for each thing to buy. Prices are empty where the price book has none."""
    lengths = derived.plan.lengths
    head = ("aisle", "item", "detail", "quantity", "unit", "each", "cost", "currency", "prices_of")
    shopping = derived.shopping
    rows = [
        (row.aisle, row.name, _detail(row, lengths.text), row.quantity, row.unit, _money(row.each), _money(row.cost),
         shopping.currency, shopping.date)
        for row in shopping.rows
    ]  # fmt: skip
    return _csv(head, rows)


def _detail(row: ShoppingRow, text: Any) -> str:
    held = (f"{words} {text(length)}" for words, length in row.hold)
    return "; ".join(word for word in (row.detail, *held) if word)


def _csv(head: Iterable[str], rows: Iterable[Iterable[Any]]) -> str:
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    for row in rows:
        writer.writerow([_guarded(cell) for cell in row])
    return out.getvalue()


def _guarded(cell: Any) -> Any:
    """Words that a spreadsheet would take for a formula get an apostrophe in front. Numbers of our own pass."""
    if not isinstance(cell, str):
        return cell
    guarded = _FORMULA.sub(r"\1\2'", cell)
    return "'" + guarded if guarded.startswith(("\t", "\r", "\n")) else guarded


def _length(length: Length) -> dict[str, Any]:
    return {"exact": str(length.exact_mm), "mm": float(round_to(length.exact_mm, DECIMALS))}


def _number(value: Fraction) -> dict[str, Any]:
    return {"exact": str(value), "value": float(round_to(value, Fraction(1, 1_000_000)))}


def _value(value: Length | Fraction) -> dict[str, Any]:
    return _length(value) if isinstance(value, Length) else _number(value)


def _decimal(length: Length) -> str:
    return trimmed(round_to(length.exact_mm, Fraction(1, 1000)), 3)


def _money(amount: Fraction | None) -> str | None:
    return None if amount is None else f"{float(amount):.2f}"


def _box(box: Box) -> dict[str, Any]:
    return {axis: [_length(span.low), _length(span.high)] for axis, span in (("x", box.x), ("y", box.y), ("z", box.z))}


def _part(derived: Derived, part: Part) -> dict[str, Any]:
    length, width, thickness = part.size
    return {
        "id": part.id, "kind": part.kind, "name": part.name, "assembly": part.assembly,
        "item": derived.cut_list.item_of(part.id).number, "stock": part.stock.id, "material": part.stock.material.id,
        "form": part.stock.material.form.value,
        "length": _length(length), "width": _length(width), "thickness": _length(thickness),
        "grain": part.grain.value if part.grain else None, "mirrored": part.mirrored, "body": _box(part.body),
        "features": [feature.kind for feature in part.features],
        "shaped": [{"kind": one.kind, "mark": _mark(part, one)} for one in part.features if not isinstance(one, Bore | BoxCut)],
        "section": part.section.name if part.section else None, "leans": part.tilt is not None,
        "bores": [_bore(one) for one in part.features if isinstance(one, Bore)],
        "recesses": [
            {"kind": one.kind, "into": one.into.value, "body": _box(one.box)} for one in part.features if isinstance(one, BoxCut)
        ],
    }  # fmt: skip


def _mark(part: Part, feature: EdgeProfile | OutlineCut | PlaneCut) -> str:
    """A short name for a shape as it lies in its part: alike in two compiles where the same is sawn at the same place of the part."""
    corner = Point(*(-part.body.span(axis).low for axis in Axis))
    here = replace(feature.moved(corner), position=None)
    here = here if isinstance(here, EdgeProfile) else replace(here, joint=None)
    return hashlib.sha256(repr(here).encode()).hexdigest()[:16]


def _cautions(derived: Derived) -> list[dict[str, Any]]:
    """Every caution of the steps, once, in the order in which they come."""
    found = {caution.id: caution for step in derived.steps for caution in step.cautions}
    return [
        {
            "id": one.id,
            "signal": one.signal,
            "hazard": one.hazard,
            "consequence": one.consequence,
            "avoid": list(one.avoid),
        }
        for one in found.values()
    ]


def _bore(bore: Bore) -> dict[str, Any]:
    return {
        "kind": bore.kind, "face": bore.face.value, "at": _point(bore.start), "direction": [round(step, 6) + 0.0 for step in bore.direction],
        "diameter": _length(bore.diameter), "depth": None if bore.depth is None else _length(bore.depth), "row": bore.row,
    }  # fmt: skip


def _point(point: Point) -> dict[str, Any]:
    return {axis.value: _length(point.along(axis)) for axis in Axis}


def _joint(joint: Joint) -> dict[str, Any]:
    return {
        "id": joint.id, "family": joint.family.key, "part": joint.insert, "into": joint.receiver, "face": joint.face.value,
        "depth": _length(joint.depth), "width": _length(joint.width), "glued": joint.glued,
        "fasteners": _fasteners(joint), "driven": [_driven(fastener) for fastener in joint.fasteners],
    }  # fmt: skip


def _driven(fastener: Fastener) -> dict[str, Any]:
    """A fastener in its place; its shank is null where its item has no thickness of its own, as of a brad known by its gauge."""
    item, thick = fastener.item, thickness_of(fastener.item)
    return {
        "item": item.id, "at": _point(fastener.at), "direction": [round(step, 6) + 0.0 for step in fastener.direction],
        "length": None if item.length is None else _length(item.length), "shank": None if thick is None else _length(thick),
        "through": fastener.through, "into": fastener.into, "clearance": item.kind in SCREWS,
    }  # fmt: skip


def _fasteners(joint: Joint) -> list[dict[str, Any]]:
    counts: dict[str, int] = {}
    for fastener in joint.fasteners:
        counts[fastener.item.id] = counts.get(fastener.item.id, 0) + 1
    return [{"item": item, "count": count} for item, count in counts.items()]


def _cut_item(item: CutItem) -> dict[str, Any]:
    return {
        "item": item.number, "key": item.key, "name": item.name, "quantity": item.quantity, "parts": [p.id for p in item.parts],
        "stock": item.stock.id, "length": _length(item.length), "width": _length(item.width), "thickness": _length(item.thickness),
        "cut_at_first": [_length(side) for side in item.cut], "grain": item.grain, "mirror_of": item.mirror_of, "set_up": item.setup, "note": item.note,
    }  # fmt: skip


def _placed(placed: Placed) -> dict[str, Any]:
    return {
        "part": placed.part, "item": placed.number, "strip": placed.strip, "x": _length(placed.x), "y": _length(placed.y),
        "length": _length(placed.length), "width": _length(placed.width), "turned": placed.turned,
    }  # fmt: skip


def _layout(layout: SheetLayout | BoardLayout) -> dict[str, Any]:
    return {
        "placed": [_placed(placed) for placed in layout.placed],
        "cuts": [
            {"order": cut.order, "kind": cut.kind, "setting": _length(cut.setting), "start": [_length(v) for v in cut.start],
             "end": [_length(v) for v in cut.end], "frees": cut.frees,
             "guide": cut.guide, "heavy": cut.heavy}
            for cut in layout.cuts
        ],
        "offcuts": [
            {"x": _length(o.x), "y": _length(o.y), "length": _length(o.length), "width": _length(o.width)} for o in layout.offcuts
        ],
        "used": _number(layout.used),
    }  # fmt: skip


def _sheet(layout: SheetLayout) -> dict[str, Any]:
    sheet = layout.sheet
    head = {"number": layout.number, "stock": layout.stock.id, "sheet": sheet.name}
    return head | {"length": _length(sheet.length), "width": _length(sheet.width)} | _layout(layout)


def _board(layout: BoardLayout) -> dict[str, Any]:
    board = layout.board
    head = {"number": layout.number, "stock": layout.stock.id, "board": board.name}
    return head | {"length": _length(layout.length), "width": _length(board.width)} | _layout(layout)


def _shopping_row(row: ShoppingRow) -> dict[str, Any]:
    return {
        "aisle": row.aisle, "name": row.name, "detail": row.detail, "quantity": row.quantity, "unit": row.unit,
        "each": _money(row.each), "cost": _money(row.cost), "sizes": [{"what": w, "length": _length(v)} for w, v in row.hold],
    }  # fmt: skip


def _setting(name: str, value: Value) -> dict[str, Any]:
    return {"name": name, "value": value if isinstance(value, str | int) else _value(value)}


def _operation(operation: Operation) -> dict[str, Any]:
    return {
        "id": operation.id, "kind": operation.kind, "parts": list(operation.parts), "after": list(operation.after),
        "method": operation.method.id, "others": [method.id for method in operation.others],
        "settings": [_setting(*one) for one in operation.settings.named()], "fasteners": len(operation.fasteners),
        "joints": [joint.id for joint in operation.joints],
        "minutes": round(operation.minutes, 2), "wait_hours": round(operation.wait_hours, 2),
    }  # fmt: skip


def _step(step: Step) -> dict[str, Any]:
    return {
        "number": step.number, "id": step.id, "stage": step.stage, "title": step.title, "assembly": step.assembly,
        "parts": list(step.parts), "tools": [tool.id for tool in step.tools], "cautions": [c.id for c in step.cautions],
        "hardware": [{"item": use.item.id, "count": use.count} for use in step.hardware],
        "supplies": [supply.id for supply in step.supplies],
        "operations": [_operation(operation) for operation in step.operations],
        "minutes": round(step.minutes, 2), "wait_hours": round(step.wait_hours, 2),
    }  # fmt: skip
