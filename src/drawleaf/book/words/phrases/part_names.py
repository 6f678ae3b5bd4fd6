"""How a sentence names parts: in small letters, each with its balloon, and twins by what tells them apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from drawleaf.book.words.format import NO_BREAK_SPACE, Formatter
from drawleaf.derive.shop.store_words import size_label
from drawleaf.english import count_words, lower_first, plural
from drawleaf.model.catalogue import Form
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Operation

FEW = 2
"""So many parts that are called alike but for a word are named in one phrase: ``the left and right sides``."""


@dataclass(frozen=True, slots=True)
class _Row:
    """Parts of one balloon as a sentence names them: ``noun`` is the sort of part, ``article`` the, both or all; ``whole`` where the balloon has no other parts."""

    name: str
    noun: str
    number: int
    ids: tuple[str, ...]
    article: str
    whole: bool

    @property
    def words(self) -> Markup:
        return Markup("{} {}").format(self.article, named(self.name, self.number))


class PartNames:
    """Phrases that name parts."""

    derived: Derived
    plan: Plan
    fmt: Formatter
    op: Operation

    def part(self, part_id: str) -> Markup:
        """A part's name with its balloon."""
        return named(self._name(part_id), self.derived.cut_list.item_of(part_id).number)

    def _name(self, part_id: str) -> str:
        """The name on the cut list; a part that shares its row with parts of other names keeps its own."""
        item = self.derived.cut_list.item_of(part_id)
        part = self.plan.part(part_id)
        return lower_first(item.name if len({other.name for other in item.parts}) == 1 else part.name)

    def parts(self, part_ids: Sequence[str]) -> Markup:
        """Several parts, those of one row together: ``2 shelves 5``, ``top and bottom rails 12``."""
        return self.fmt.join([self._row(ids) for ids in self._rows(part_ids)])

    def names(self, part_ids: Sequence[str]) -> Markup:
        """Several parts by name alone, where the count stands beside them."""
        return self.fmt.join(self._each_named(part_ids, articles=False))

    def the_parts(self, part_ids: Sequence[str]) -> Markup:
        """Parts as a sentence names them: ``the bottom 1``, ``both shelves 5``, ``the left and right sides 6 7``."""
        return self.fmt.join(self._each_named(part_ids))

    def _each_named(self, part_ids: Sequence[str], articles: bool = True) -> list[Markup]:
        """The same, not joined yet: for a list in which other things stand too. Without ``articles``: ``left and right sides 6 7``."""
        rows = []
        for ids in self._rows(part_ids):
            item = self.derived.cut_list.item_of(ids[0])
            sorts = {_noun(self._name(one)) for one in ids}
            for some in ([one] for one in ids) if len(sorts) > 1 else (ids,):
                alike = len(some) > 1 and len({self._name(one) for one in some}) == 1
                article = "both" if alike and len(some) == 2 else f"all {len(some)}" if alike else "the"
                rows.append(
                    _Row(
                        self._row_name(some),
                        _noun(self._name(some[0])),
                        item.number,
                        tuple(some),
                        article,
                        len(ids) == item.quantity,
                    )
                )
        return [words for some in self._families(rows) for words in self._family(some, articles)]

    def _families(self, rows: Sequence[_Row]) -> list[list[_Row]]:
        """Rows that one phrase may name, together, each where its first stands: all parts of a sort, or two that differ in one word."""
        sorts: dict[str, list[_Row]] = {}
        for row in rows:
            sorts.setdefault(row.noun, []).append(row)
        found: list[list[_Row]] = []
        for row in rows:
            like = sorts[row.noun]
            if self._all_of_a_sort(like):
                if row is like[0]:
                    found.append(like)
                continue
            one = next((some for some in found if len(some) == 1 and _pair(some[0], row)), None)
            if one is None:
                found.append([row])
            else:
                one.append(row)
        return found

    def _all_of_a_sort(self, rows: Sequence[_Row]) -> bool:
        """Whether these rows hold all parts of the piece that are called so, and are too many to name each."""
        many = len(rows) > FEW or (len(rows) > 1 and any(" and " in row.name for row in rows))
        if not many or not all(row.whole for row in rows):
            return False
        noun = rows[0].noun
        return sum(_noun(self._name(one.id)) == noun for one in self.plan.parts) == sum(len(row.ids) for row in rows)

    def _family(self, rows: Sequence[_Row], articles: bool) -> list[Markup]:
        if len(rows) == 1:
            return [rows[0].words if articles else named(rows[0].name, rows[0].number)]
        numbers = [row.number for row in rows]
        pair = _pair(*rows) if len(rows) == FEW else None
        words = named(pair or plural(rows[0].noun), *numbers)
        if not articles:
            return [words]
        every = f"all {count_words(sum(len(row.ids) for row in rows))}"
        return [Markup("{} {}").format("the" if pair else every, words)]

    @property
    def of_one_sort(self) -> bool:
        """Whether one noun names all parts of the operation, of one stock, so that a count may stand before it: ``4 legs``."""
        stocks = {self.plan.part(part).stock.id for part in self.op.parts}
        return len(stocks) == 1 and len(self._each_named(self.op.parts, articles=False)) == 1

    def parts_from_stock(self, articles: bool = False) -> Markup:
        """Parts with the stock each comes from: ``shelf 2 from 1x4``, ``handle 3 from the 30 mm rod``; with ``articles`` ``the shelf 2``."""
        by_stock: dict[str, list[str]] = {}
        for part_id in self.op.parts:
            stock = self.plan.part(part_id).stock
            label = f"the {size_label(stock)} rod" if stock.material.form is Form.ROD else stock.nominal
            by_stock.setdefault(label, []).append(part_id)
        return self.fmt.join(
            [
                Markup("{} from {}").format(self.the_parts(ids) if articles else self.names(ids), nominal)
                for nominal, ids in by_stock.items()
            ]
        )

    def _rows(self, part_ids: Sequence[str]) -> list[list[str]]:
        """The parts by cut-list row; parts of other names stay apart unless the whole row is meant."""
        rows: dict[int, list[str]] = {}
        for part_id in dict.fromkeys(part_ids):
            rows.setdefault(self.derived.cut_list.item_of(part_id).number, []).append(part_id)
        found: list[list[str]] = []
        for ids in rows.values():
            item = self.derived.cut_list.item_of(ids[0])
            if len({self._name(one) for one in ids}) == 1 or len(ids) == item.quantity:
                found.append(ids)
            else:
                found += [[one] for one in ids]
        return found

    def _row(self, ids: Sequence[str]) -> Markup:
        name = named(self._row_name(ids), self.derived.cut_list.item_of(ids[0]).number)
        mixed = len({self._name(one) for one in ids}) > 1
        return Markup("{} {}").format(len(ids), name) if len(ids) > 1 and not mixed else name

    def _row_name(self, ids: Sequence[str]) -> str:
        """What the parts of one row are called together: ``shelves``, ``top and bottom rails``."""
        if len(ids) == 1:
            return self._name(ids[0])
        item = self.derived.cut_list.item_of(ids[0])
        if len({self._name(one) for one in ids}) == 1:
            return plural(self._name(ids[0]))
        alike = len({other.name.split()[-1] for other in item.parts}) == 1
        if not alike:
            return lower_first(item.name)
        first, several, last = item.name.rpartition(" and ")
        return lower_first(f"{first}{several}{plural(last)}")


def _noun(name: str) -> str:
    """What sort of part the name of one means: ``leg`` for left leg A."""
    words = name.lower().split()
    return words[-2] if len(words) > 1 and len(words[-1]) == 1 else words[-1]


def _pair(one: _Row, other: _Row) -> str | None:
    """Two single parts whose names differ in one word, as one: ``left and right sides``, ``drawer box front and back``; None for others."""
    a, b = one.name.split(), other.name.split()
    if len(one.ids) > 1 or len(other.ids) > 1 or min(len(a), len(b)) < 2 or a == b:
        return None
    if a[1:] == b[1:]:
        return f"{a[0]} and {b[0]} {plural(' '.join(a[1:]))}"
    if a[:-1] == b[:-1] and len(a) > 2 and len(b[-1]) > 1:
        return f"{one.name} and {b[-1]}"
    return None


def named(name: str, *numbers: int) -> Markup:
    """A name in bold with its balloons, each number once."""
    balloons = (Markup('<span class="balloon">{}</span>').format(number) for number in dict.fromkeys(numbers))
    return Markup("<b>{}</b> {}").format(name, _tied(balloons))


def _tied(balloons: Iterable[Markup]) -> Markup:
    return Markup(NO_BREAK_SPACE).join(balloons)
