"""A total is the sum of its rows, a row of the cut list fits its parts, and the lists as CSV are those of the data."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from fuzz.outputs_reader.outputs import Outputs, exact

SIZES = ("length", "width", "thickness")
_MILLILITRES = re.compile(r"\((\d+(?:\.\d+)?) (ml|l)\)|^(\d+(?:\.\d+)?) (ml|l)\b")


def cut_list_rows_fit_their_parts(outputs: Outputs) -> Iterator[str]:
    listed: Counter[str] = Counter()
    numbers = {row["item"] for row in outputs.plan["cut_list"]}
    for row in outputs.plan["cut_list"]:
        where = f"row {row['item']}"
        listed.update(row["parts"])
        if row["quantity"] != len(row["parts"]):
            yield f"{where} counts {row['quantity']} and names {len(row['parts'])}"
        if row["mirror_of"] is not None and (row["mirror_of"] not in numbers or row["mirror_of"] == row["item"]):
            yield f"{where} mirrors row {row['mirror_of']}"
        for name in row["parts"]:
            part = outputs.parts.get(name)
            if part is None:
                yield f"{where} names “{name}”, which is no part"
                continue
            if part["item"] != row["item"]:
                yield f"{where} names “{name}”, which says row {part['item']}"
            if part["stock"] != row["stock"]:
                yield f"{where} is of “{row['stock']}”, its part “{name}” of “{part['stock']}”"
            for size in SIZES:
                if exact(part[size]) != exact(row[size]):
                    yield f"{where} has {size} {row[size]['mm']}, its part “{name}” {part[size]['mm']}"
        for size, at_first in zip(SIZES, row["cut_at_first"], strict=False):
            if exact(at_first) < exact(row[size]):
                yield f"{where} is cut {at_first['mm']} at first, for a {size} of {row[size]['mm']}"
    for name in outputs.parts:
        if listed[name] != 1:
            yield f"part “{name}” stands {listed[name]} times on the cut list"


def parts_are_as_large_as_their_bodies(outputs: Outputs) -> Iterator[str]:
    for name, part in outputs.parts.items():
        body = sorted(exact(high) - exact(low) for low, high in part["body"].values())
        if body != sorted(exact(part[size]) for size in SIZES):
            yield f"“{name}” has other sizes than its body"


def cut_list_file_is_that_of_the_plan(outputs: Outputs) -> Iterator[str]:
    if outputs.cut_list is None:
        return
    if len(outputs.cut_list) != len(outputs.plan["cut_list"]):
        yield f"{len(outputs.cut_list)} rows in the file, {len(outputs.plan['cut_list'])} in the data"
        return
    for row, ours in zip(outputs.cut_list, outputs.plan["cut_list"], strict=True):
        if (row["item"], row["quantity"]) != (str(ours["item"]), str(ours["quantity"])):
            yield f"row {row['item']} of {row['quantity']}, in the data {ours['item']} of {ours['quantity']}"
        for size, there in zip(SIZES, (*ours["cut_at_first"], ours["thickness"]), strict=True):
            if abs(Fraction(row[f"{size}_mm"]) - exact(there)) > Fraction(1, 1000):
                yield f"row {row['item']}: {size} {row[f'{size}_mm']} mm, in the data {there['mm']}"


def money_adds_up(outputs: Outputs) -> Iterator[str]:
    shopping = outputs.plan["shopping"]
    total, unpriced = Decimal(0), 0
    for row in shopping["rows"]:
        if row["cost"] is None:
            unpriced += 1
            continue
        cost = Decimal(row["cost"])
        total += cost
        if cost < 0:
            yield f"“{row['name']}” costs {cost}"
        if (
            row["each"] is not None
            and abs(cost - Decimal(row["each"]) * row["quantity"]) > Decimal("0.01") * row["quantity"]
        ):
            yield f"{row['quantity']} of “{row['name']}” at {row['each']} cost {cost}"
    if abs(total - Decimal(shopping["total"])) > Decimal("0.005") * (len(shopping["rows"]) + 1):
        yield f"the rows cost {total}, the total is {shopping['total']}"
    if unpriced != shopping["unpriced"]:
        yield f"{unpriced} rows have no price, {shopping['unpriced']} are told"


def shopping_file_is_that_of_the_plan(outputs: Outputs) -> Iterator[str]:
    if outputs.shopping is None:
        return
    ours = [(str(row["quantity"]), row["each"] or "", row["cost"] or "") for row in outputs.plan["shopping"]["rows"]]
    theirs = [(row["quantity"], row["each"], row["cost"]) for row in outputs.shopping]
    if ours != theirs:
        yield "the shopping list as a file has other quantities or prices"


def no_cell_is_a_formula(outputs: Outputs) -> Iterator[str]:
    for row in (*(outputs.cut_list or ()), *(outputs.shopping or ())):
        for name, cell in row.items():
            if cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")):
                yield f"the cell {name} is “{cell[:30]}”"


def hardware_adds_up(outputs: Outputs) -> Iterator[str]:
    driven: Counter[str] = Counter()
    for joint in outputs.plan["joints"]:
        told = Counter({one["item"]: one["count"] for one in joint["fasteners"]})
        there = Counter(one["item"] for one in joint["driven"])
        driven += there
        if told != there:
            yield f"joint {joint['id']} counts {dict(told)} and drives {dict(there)}"
    mounted: Counter[str] = Counter()
    for fitting in outputs.plan["hardware_places"]:
        mounted[fitting["item"]] += fitting["count"]
    rows = {row["item"]: row for row in outputs.plan["hardware"]}
    for item, row in rows.items():
        if row["count"] != sum(use["count"] for use in row["uses"]):
            yield f"“{item}”: {row['count']}, and {sum(use['count'] for use in row['uses'])} by its uses"
    for item, count in (driven + mounted).items():
        if item not in rows or rows[item]["count"] < max(driven[item], mounted[item]):
            yield f"{count} of “{item}” go in, {rows[item]['count'] if item in rows else 0} are listed"


def enough_is_bought(outputs: Outputs) -> Iterator[str]:
    for row in outputs.plan["consumables"]:
        if row["buy"] < Fraction(row["amount"]["exact"]):
            yield f"{row['amount']['value']} of “{row['item']}” are used, {row['buy']} bought"
    for row in outputs.plan["finishes"]:
        held = [_millilitres(one["container"]) for one in row["buy"]]
        if None in held:
            continue
        bought = sum((size or 0) * one["count"] for size, one in zip(held, row["buy"], strict=True))
        if bought < row["litres"] * 1000 * 0.999:
            yield f"{row['litres']} l of “{row['product']}” are used, {bought} ml bought"


def _millilitres(container: str) -> float | None:
    found = _MILLILITRES.search(container)
    if found is None:
        return None
    figure, unit = (found[1], found[2]) if found[1] else (found[3], found[4])
    return float(figure) * (1000 if unit == "l" else 1)


def no_more_is_finished_than_there_is(outputs: Outputs) -> Iterator[str]:
    surface = 0.0
    for part in outputs.plan["parts"]:
        a, b, c = (part[size]["mm"] for size in SIZES)
        surface += 2 * (a * b + b * c + c * a)
    holes = 1.5  # walls of mortises, grooves and openings take finish too
    for row in outputs.plan["finishes"]:
        if row["area_m2"] > surface / 1e6 * holes * row["coats"] * 1.01 + 1e-3:
            yield f"{row['area_m2']} m² take “{row['product']}”, all parts have {surface / 1e6:.4f}"


def the_audit_agrees(outputs: Outputs) -> Iterator[str]:
    for line in outputs.plan["audit"]:
        if not line["agrees"]:
            yield f"“{line['name']}”: {line['left']}, {line['right']}"


RULES = (
    cut_list_rows_fit_their_parts,
    parts_are_as_large_as_their_bodies,
    cut_list_file_is_that_of_the_plan,
    money_adds_up,
    shopping_file_is_that_of_the_plan,
    no_cell_is_a_formula,
    hardware_adds_up,
    enough_is_bought,
    no_more_is_finished_than_there_is,
    the_audit_agrees,
)
