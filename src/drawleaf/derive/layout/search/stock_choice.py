"""Which sizes to buy: the set of sheets or boards that costs least and still holds every piece.

Each size is tried by itself, every sheet then exchanged for the cheapest that still holds its pieces; then sets cheaper than the best so far are tried in order
of cost; then ruin and recreate with sizes mixed. The result never costs more than the best single size.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations_with_replacement

from drawleaf.derive.layout.search.guillotine import Counts, Cutting, Effort, Filled
from drawleaf.derive.layout.search.packing import Fill, Order, Packer, minus, total, without

MOST_SETS = 24
LARGEST_SET = 6
MOVES_A_SET = 12
MIXED_MOVES = 60


@dataclass(frozen=True, slots=True)
class Offer:
    """A size on offer: its price, and the proven least count if everything were cut from it (None where not every piece fits)."""

    price: Fraction
    least: int | None


LastResort = Callable[[Order, int, int], list[Filled]]
"""Another way to lay the order on few sheets of one size, tried where the search stops above the bound."""


def cheapest(
    order: Order,
    offers: Sequence[Offer],
    fill: Fill,
    effort: Effort,
    cuttings: Sequence[Cutting],
    last_resort: LastResort | None = None,
) -> list[Filled]:
    """Sheets that hold all pieces, cheapest to buy, fewest next. Every piece must fit at least one size."""
    chooser = _Chooser(order, offers, Packer(order, fill, effort, cuttings), last_resort)
    return chooser.choose()


class _Chooser:
    def __init__(self, order: Order, offers: Sequence[Offer], packer: Packer, last_resort: LastResort | None) -> None:
        self.last_resort = last_resort
        self.order = order
        self.offers = offers
        self.packer = packer
        self.effort = packer.effort
        self.areas = [length * width for length, width in order.sizes]
        self.wanted = sum(kind.area * kind.count for kind in order.kinds)

    def choose(self) -> list[Filled]:
        whole = [at for at, offer in enumerate(self.offers) if offer.least is not None]
        # What each area costs decides which single size is looked at hardest; the others get one quick run.
        whole.sort(key=lambda at: (self.offers[at].price / self.areas[at], at))
        best: list[Filled] | None = None
        for place, at in enumerate(whole):
            least = self.offers[at].least or 1
            if best is not None and self.offers[at].price * least > self.cost(best):
                continue
            single = self._single(at, least, thorough=place == 0)
            exchanged = [self._exchanged(sheet) for sheet in single]
            best = min([single, exchanged, *([best] if best else [])], key=self.rank)
        if best is None:
            best = self._one_by_one()
        if len(self.offers) > 1:
            best = self._cheaper_set(best)
            best = self._mixed(best)
        return best

    def _single(self, size: int, least: int, *, thorough: bool) -> list[Filled]:
        if thorough:
            found = self.packer.few_sheets(size, least)
            if len(found) > least and self.last_resort is not None:
                found = min(found, self.last_resort(self.order, size, least), key=len)
            return found
        values = [float(kind.area) for kind in self.order.kinds]
        return self.packer.run(size, self.order.counts, values, self.packer.cuttings[0])

    def cost(self, sheets: Sequence[Filled]) -> Fraction:
        return sum((self.offers[sheet.size].price for sheet in sheets), Fraction(0))

    def rank(self, sheets: Sequence[Filled]) -> tuple[Fraction, int, float]:
        """Cheapest, then fewest, then some sheets full and one nearly empty."""
        return self.cost(sheets), len(sheets), -sum(sheet.fill**2 for sheet in sheets)

    def _exchanged(self, sheet: Filled) -> Filled:
        """The same pieces on the cheapest size that holds them."""
        better = [
            at
            for at, offer in enumerate(self.offers)
            if offer.price < self.offers[sheet.size].price and self.areas[at] >= sheet.area
        ]
        for at in sorted(better, key=lambda at: (self.offers[at].price, at)):
            for cutting in self.packer.cuttings:
                values = [float(kind.area) for kind in self.order.kinds]
                tried = self.packer.fill(at, sheet.used, values, cutting)
                if tried.used == sheet.used:
                    return tried
        return sheet

    def _one_by_one(self) -> list[Filled]:
        """No single size holds every piece: fill the cheapest size by area that takes something, again and again."""
        counts, sheets = self.order.counts, []
        values = [float(kind.area) for kind in self.order.kinds]
        while any(counts):
            tried = [self.packer.fill(at, counts, values, self.packer.cuttings[0]) for at in range(len(self.offers))]
            sheet = min(
                (one for one in tried if one.area), key=lambda one: (self.offers[one.size].price / one.area, one.size)
            )
            sheets.append(self._exchanged(sheet))
            counts = minus(counts, sheet.used)
        return sheets

    def _cheaper_set(self, best: list[Filled]) -> list[Filled]:
        """The cheapest set of sizes, of those that by area could do, into which the pieces go."""
        most = min(len(best) + 2, LARGEST_SET)
        cost, count, _ = self.rank(best)
        sets = []
        for size in range(1, most + 1):
            for chosen in combinations_with_replacement(range(len(self.offers)), size):
                price = sum((self.offers[at].price for at in chosen), Fraction(0))
                if (price, size) < (cost, count) and sum(self.areas[at] for at in chosen) >= self.wanted:
                    sets.append((price, size, chosen))
        for _, _, chosen in sorted(sets)[:MOST_SETS]:
            if self.effort.spent:
                break
            found = self._into(chosen)
            if found is not None:
                return found
        return best

    def _into(self, chosen: tuple[int, ...]) -> list[Filled] | None:
        """All pieces on exactly these sizes (or fewer), None where no way is found."""
        values = [float(kind.area) for kind in self.order.kinds]
        best: tuple[list[Filled], Counts] | None = None
        for sizes in dict.fromkeys((tuple(sorted(chosen, key=lambda at: -self.areas[at])), chosen)):
            for cutting in self.packer.cuttings:
                sheets, left = self.packer.fill_each(sizes, self.order.counts, values, cutting)
                if not any(left):
                    return sheets
                if best is None or self._area(left) < self._area(best[1]):
                    best = sheets, left
        assert best is not None
        sheets, left = best
        for _ in range(MOVES_A_SET):
            if self.effort.spent:
                return None
            sheets, left = self._moved(sheets, left)
            if not any(left):
                return sheets
        return None

    def _moved(self, sheets: list[Filled], left: Counts) -> tuple[list[Filled], Counts]:
        """One ruin of up to three sheets together with what would not fit; the better of before and after."""
        random = self.effort.random
        ruined = random.sample(range(len(sheets)), min(len(sheets), random.randint(1, 3)))
        pool = total([left, *(sheets[at].used for at in ruined)])
        sizes = [sheets[at].size for at in ruined]
        rebuilt, still = self.packer.fill_each(
            sizes, pool, self.packer.noisy_values(), random.choice(self.packer.cuttings)
        )
        if self._area(still) > self._area(left):
            return sheets, left
        return without(sheets, ruined) + rebuilt, still

    def _area(self, counts: Counts) -> int:
        return sum(kind.area * count for kind, count in zip(self.order.kinds, counts, strict=True))

    def _mixed(self, best: list[Filled]) -> list[Filled]:
        """Take a few sheets apart and lay their pieces on sizes chosen by luck and price; keep what is cheaper."""
        random = self.effort.random
        current = best
        for _ in range(MIXED_MOVES):
            if self.effort.spent or len(current) < 2 or self.cost(current) <= self._floor():
                break
            places = random.sample(range(len(current)), min(len(current), random.randint(2, 4)))
            ruined = [current[at] for at in places]
            rebuilt = self._bought_anew(total([sheet.used for sheet in ruined]), self.cost(ruined))
            if rebuilt is None:
                continue
            kept = without(current, places)
            if self.rank(kept + rebuilt) <= self.rank(current):
                current = kept + rebuilt
        return min(best, current, key=self.rank)

    def _bought_anew(self, pool: Counts, budget: Fraction) -> list[Filled] | None:
        """The pool on sheets of any size for at most the budget, None where it does not do."""
        random = self.effort.random
        values = self.packer.noisy_values()
        cutting = random.choice(self.packer.cuttings)
        rebuilt: list[Filled] = []
        while any(pool):
            sheet = self.packer.fill(random.randrange(len(self.offers)), pool, values, cutting)
            if not sheet.area:
                return None
            sheet = self._exchanged(sheet)
            budget -= self.offers[sheet.size].price
            if budget < 0:
                return None
            rebuilt.append(sheet)
            pool = minus(pool, sheet.used)
        return rebuilt

    def _floor(self) -> Fraction:
        """No set can cost less: the area that is wanted at the best price for area."""
        return self.wanted * min(offer.price / area for offer, area in zip(self.offers, self.areas, strict=True))
