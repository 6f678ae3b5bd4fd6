"""Finishes by area: litres from area, coats and coverage; the cans that hold them for the least money."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import product
from math import ceil

from drawleaf.derive.shop.areas import shown_area
from drawleaf.model.catalogue import FinishProduct
from drawleaf.model.lists import FinishRow
from drawleaf.model.plan import FinishCoat, Plan
from drawleaf.units import Units

# What stays in brush, rag and can: common practice, no source.
LOSS = 1.1
MOST_OF_A_SIZE = 4

Container = tuple[str, float, Fraction | None]


def estimate_finishes(plan: Plan) -> tuple[FinishRow, ...]:
    """One row a product, in the order applied. Its area is what it covers, its coats the most that any part has of it, in however many lines."""
    coats: dict[str, list[FinishCoat]] = {}
    for coat in plan.finish:
        if coat.product is not None:
            coats.setdefault(coat.product.id, []).append(coat)
    return tuple(_row(plan, lines) for lines in coats.values())


def coated_area(plan: Plan, coat: FinishCoat) -> float:
    """Square metres that one coat of a line covers."""
    return shown_area(plan, coat.parts)


def one_coat(plan: Plan, coat: FinishCoat) -> float:
    """Litres that one coat of a line takes, with what stays in brush and can; 0 where it only sands."""
    return coated_area(plan, coat) / coat.product.coverage * LOSS if coat.product is not None else 0.0


def _row(plan: Plan, lines: list[FinishCoat]) -> FinishRow:
    finish = lines[0].product
    assert finish is not None
    litres = sum(one_coat(plan, line) * line.coats for line in lines)
    coats = Counter[str]()
    for line in lines:
        coats.update(dict.fromkeys(line.parts, line.coats))
    metric = plan.lengths.units is Units.MM and bool(finish.metric_containers)
    cans = containers_for(finish, litres, metric=metric)
    return FinishRow(finish, max(coats.values(), default=0), shown_area(plan, tuple(coats)), litres, cans)


def containers_for(
    finish: FinishProduct, litres: float, *, metric: bool = False
) -> tuple[tuple[str, int, Fraction | None], ...]:
    """The cheapest set of cans that holds so many litres; without prices the one with least left over. Fewest cans on a tie."""
    sizes = finish.metric_containers if metric else finish.containers
    if not sizes or litres <= 0:
        return ()
    largest = max(sizes, key=lambda size: size[1])
    # All but the last few litres come in the largest can; the rest is tried out.
    sure = max(ceil(litres / largest[1]) - 2, 0)
    rest = litres - sure * largest[1]
    best = min(
        (counts for counts in product(range(MOST_OF_A_SIZE + 1), repeat=len(sizes)) if _volume(sizes, counts) >= rest),
        key=lambda counts: (_cost(sizes, counts), sum(counts), _volume(sizes, counts)),
    )
    counts = [count + (sure if size is largest else 0) for size, count in zip(sizes, best, strict=True)]
    return tuple((name, count, price) for (name, _, price), count in zip(sizes, counts, strict=True) if count)


def _volume(sizes: tuple[Container, ...], counts: tuple[int, ...]) -> float:
    return sum(litres * count for (_, litres, _), count in zip(sizes, counts, strict=True))


def _cost(sizes: tuple[Container, ...], counts: tuple[int, ...]) -> float:
    if any(price is None for *_, price in sizes):
        return _volume(sizes, counts)
    return float(sum((price or 0) * count for (*_, price), count in zip(sizes, counts, strict=True)))
