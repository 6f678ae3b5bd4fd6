"""How long it takes to find an order of assembly as the number of parts grows, and against one page set by WeasyPrint.

The piece is a tower of pigeonholes: shelves with dividers between them, every divider screwed to the shelf under and over it. What is
timed is all that the search asks: who passes through whom, whether each screw can be driven, and the order itself.
"""

from __future__ import annotations

import math
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from drawleaf.derive.assembly.groups import joined_units, units_of
from drawleaf.derive.assembly.order import Stuck, build_order
from drawleaf.model.plan import Plan
from drawleaf.resolve.parts import limits
from drawleaf.resolve.resolver import resolve
from drawleaf.resources import product_folder
from drawleaf.setting_out.reach import reach_test
from drawleaf.solids.build import build_solids
from drawleaf.solids.travel import blocking_table, free_directions
from drawleaf.source.library import load_library
from drawleaf.source.reader import read_plan

SIZES = (125, 250, 500)
IN_LEVEL = 5
TURNS = 3
HEAD = """plan: {title: Tower, number: T-1, revision: A, date: 2026-01-01, author: Bench, lengths: in, round_to: 1/32}
stock:
  case: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  tower:
    name: Tower
    parts:
"""
PAGE = """<html><head><style>@page {{ size: letter; margin: 20mm }} body {{ font: 10pt serif }} td {{ border: 1px solid }}</style></head>
<body><h1>One page</h1>{paragraphs}<table>{rows}</table></body></html>"""


def tower(count: int) -> Plan:
    """A tower of so many parts, a multiple of five."""
    parts, joints = [], []
    for level in range(count // IN_LEVEL):
        floor = level * 11
        place = f"left: 0, right: 36, front: 0, back: 12, bottom: {floor}"
        parts.append(f"      shelf{level}: {{stock: case, thickness: z, grain: x, {place}}}")
        for bay in range(IN_LEVEL - 1):
            name = f"div{level}_{bay}"
            sides = (
                f"left: {2 + bay * 9 + level % 2 * 4}, front: 0, back: 12, bottom: shelf{level}.top, top: {floor + 11}"
            )
            parts.append(f"      {name}: {{stock: case, thickness: x, grain: z, {sides}}}")
            joints.append(f"      - {{butt: {name}, to: shelf{level}, with: [{{screws: {{count: 2}}}}]}}")
            if level + 1 < count // IN_LEVEL:
                joints.append(f"      - {{butt: {name}, to: shelf{level + 1}, with: [{{screws: {{count: 2}}}}]}}")
    text = HEAD + "\n".join(parts) + "\n    joints:\n" + "\n".join(joints) + "\n"
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "plan.yaml").write_text(text, encoding="utf-8")
        limits.MOST_PARTS = max(limits.MOST_PARTS, count)  # the search is measured beyond what a booklet holds
        library, _ = load_library([product_folder("shared")])
        plan, found = resolve(read_plan(Path(folder), library))
    if plan is None:
        raise SystemExit(f"the tower does not resolve: {found[:3]}")
    return plan


def find_order(plan: Plan) -> int:
    """The order of all parts, found from nothing; how many there are."""
    solids = build_solids(plan)
    units = units_of(plan, [(part.id, (part.id,), (place,)) for place, part in enumerate(plan.parts)])
    found = build_order(
        units,
        lambda moving, standing: free_directions(solids, moving, standing),
        reach_test(plan),
        joined_units(plan, units),
        tables=lambda groups: blocking_table(solids, groups),
    )
    if isinstance(found, Stuck):
        raise SystemExit("the tower cannot be built")
    return len(found)


def seconds(work: Callable[[], object], turns: int = TURNS) -> float:
    """Median wall-clock time."""
    times = []
    for _ in range(turns):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def growth(sizes: Sequence[int], times: Sequence[float]) -> float:
    """The exponent of the power law that fits best: the slope of the logarithms."""
    x, y = [math.log(size) for size in sizes], [math.log(one) for one in times]
    mean_x, mean_y = statistics.fmean(x), statistics.fmean(y)
    return sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / sum((a - mean_x) ** 2 for a in x)


def one_page() -> Callable[[], object]:
    """WeasyPrint setting a page of words and figures."""
    from weasyprint import HTML

    paragraphs = "<p>Set the stop, cut the parts, and write the number on each as it comes off.</p>" * 8
    rows = "".join(f"<tr><td>{row}</td><td>Part {row}</td><td>{row * 3} in</td></tr>" for row in range(28))
    html = HTML(string=PAGE.format(paragraphs=paragraphs, rows=rows))
    return lambda: html.write_pdf()


def measure() -> dict[str, float]:
    """The figures of ``make bench``."""
    times = []
    for size in SIZES:
        plan = tower(size)
        times.append(seconds(lambda plan=plan: find_order(plan)))
    page = one_page()
    page()
    return {
        "order_growth_exponent": growth(SIZES, times),
        "order_500_seconds": times[-1],
        "order_500_vs_weasyprint_page": times[-1] / seconds(page, 5),
    }


if __name__ == "__main__":
    for name, value in measure().items():
        sys.stdout.write(f"{name:32} {value:10.3f}\n")
