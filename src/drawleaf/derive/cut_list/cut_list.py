"""The cut list: identical parts merged into rows, rows that share a saw setting kept together, mirror images told apart."""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_uppercase

from drawleaf.derive.cut_list.shape_key import Key, shape_keys
from drawleaf.derive.shop.limits import ShopLimits, shop_limits
from drawleaf.derive.shop.part_words import merged_name, row_note, side_word
from drawleaf.model.catalogue import SCREWS, Form
from drawleaf.model.lists import CutItem, CutList
from drawleaf.model.plan import Fastener, Part, Plan
from drawleaf.units import Length


@dataclass
class _Row:
    """A row in the making."""

    key: Key
    mirror_key: Key
    parts: list[Part]

    @property
    def part(self) -> Part:
        return self.parts[0]

    @property
    def all_mirrored(self) -> bool:
        """Whether none of the parts is the author's own copy."""
        return all(part.mirrored for part in self.parts)

    @property
    def size(self) -> tuple[Length, Length, Length]:
        return self.part.size

    @property
    def rough(self) -> tuple[Length, Length]:
        return self.part.rough


def make_cut_list(plan: Plan) -> CutList:
    """Every part of the plan on one row, rows numbered from 1 in printing order."""
    rows = _in_printing_order(plan, _merged_rows(plan))
    mirrors = _mirrors(rows)
    names = _names(rows, mirrors)
    setups = _setups(rows, shop_limits(plan))
    keys = _stable_keys(rows)
    items = []
    for at, row in enumerate(rows):
        length, width, thickness = row.size
        items.append(
            CutItem(
                number=at + 1,
                key=keys[at],
                name=names[at],
                parts=tuple(row.parts),
                stock=row.part.stock,
                length=length,
                width=width,
                thickness=thickness,
                grain="any" if row.part.grain is None else "along the length",
                mirror_of=_number(mirrors[at]),
                setup=setups[at],
                note=row_note(row.part, plan),
            )
        )
    return CutList(tuple(items))


def _number(place: int | None) -> int | None:
    return None if place is None else place + 1


def _merged_rows(plan: Plan) -> list[_Row]:
    """Parts of one stock, size, grain and machined shape, screw holes and slots included, share a row."""
    rows: dict[Key, _Row] = {}
    driven: dict[str, list[Fastener]] = {}
    for joint in plan.joints:
        for fastener in joint.fasteners:
            if fastener.item.kind in SCREWS:
                driven.setdefault(fastener.through, []).append(fastener)
    for part in plan.parts:
        own, mirrored = shape_keys(part, driven.get(part.id, ()))
        blank = (part.stock.id, tuple(side.exact_mm for side in part.size), part.grain is None, _glue_up(part))
        blank += (part.oversize.exact_mm, part.match, _fitted(part))
        row = rows.setdefault((blank, own), _Row((blank, own), (blank, mirrored), []))
        row.parts.append(part)
    return list(rows.values())


def _fitted(part: Part) -> Key:
    return () if part.fitted is None else (part.fitted.sort, *part.rough)


def _glue_up(part: Part) -> Key:
    glue_up = part.glue_up
    return () if glue_up is None else (glue_up.strips, glue_up.strip_width.exact_mm, glue_up.extra.exact_mm)


def _in_printing_order(plan: Plan, rows: list[_Row]) -> list[_Row]:
    """By stock as the plan names them; in a stock the longest first, each followed by the rows that share its width or length."""
    order = {stock.id: at for at, stock in enumerate(plan.stocks)}
    left = sorted(
        rows,
        key=lambda row: (
            order.get(row.part.stock.id, len(order)),
            -row.size[0].exact_mm,
            -row.size[1].exact_mm,
            row.all_mirrored,
        ),
    )
    result: list[_Row] = []
    while left:
        chain = [left.pop(0)]
        for row in chain:
            near = [other for other in left if _shares_setting(row, other)]
            near.sort(key=lambda other: other.mirror_key != row.key)
            chain += near
            left = [other for other in left if other not in near]
        result += chain
    return result


def _shares_setting(row: _Row, other: _Row) -> bool:
    if row.part.stock.id != other.part.stock.id:
        return False
    same_width = row.rough[1] == other.rough[1] and _is_ripped(row)
    return same_width or row.rough[0] == other.rough[0]


def _is_ripped(row: _Row) -> bool:
    """Whether the row's width is sawn at all; a board used at its full width is not."""
    return row.part.glue_up is None and row.rough[1] != row.part.stock.width


def _mirrors(rows: list[_Row]) -> list[int | None]:
    """For each row that mirrors another, where that other stands. Of two, the one with the author's own copy is the first."""
    places = {row.key: at for at, row in enumerate(rows)}
    mirrors: list[int | None] = [None] * len(rows)
    for at, row in enumerate(rows):
        twin = places.get(row.mirror_key)
        if twin is None or twin == at:
            continue
        if (row.all_mirrored, at) > (rows[twin].all_mirrored, twin):
            mirrors[at] = twin
    return mirrors


def _names(rows: list[_Row], mirrors: list[int | None]) -> list[str]:
    """A name for each row; rows of one name are told apart by where they stand, else by a letter."""
    names = [merged_name([part.name for part in row.parts]) for row in rows]
    for at, twin in enumerate(mirrors):
        if twin is None or names[at] != names[twin]:
            continue
        mine, theirs = side_word(rows[at].part, rows[twin].part), side_word(rows[twin].part, rows[at].part)
        if mine and theirs:
            names[twin], names[at] = f"{names[twin]}, {theirs}", f"{names[at]}, {mine}"
    for name in [name for name in dict.fromkeys(names) if names.count(name) > 1]:
        alike = [at for at, other in enumerate(names) if other == name]
        for letter, at in zip(ascii_uppercase, alike, strict=False):
            names[at] = f"{name} {letter}"
    return names


def _setups(rows: list[_Row], shop: ShopLimits) -> list[str | None]:
    """``fence A`` on rows of one stock ripped to one width, ``stop B`` on rows crosscut to one length. Letters run through the list. None where
    the kit has no such thing to set: along a straightedge each cut is set by itself, in the order of the layout."""
    words: list[list[str]] = [[] for _ in rows]
    letters = iter([*ascii_uppercase, *(2 * letter for letter in ascii_uppercase)])
    seen: set[tuple[str, str, Length]] = set()
    for row in rows:
        for name, place in (("fence", 1), ("stop", 0)):
            setting = (name, row.part.stock.id, row.rough[place])
            if setting in seen or (name == "fence" and not _is_ripped(row)) or row.part.glue_up is not None:
                continue
            if not _is_set(name, row.part, shop):
                continue
            seen.add(setting)
            shared = [
                at
                for at, other in enumerate(rows)
                if other.part.stock.id == row.part.stock.id
                and other.rough[place] == row.rough[place]
                and other.part.glue_up is None
            ]
            letter = next(letters, None) if len(shared) > 1 else None
            if letter is not None:
                for at in shared:
                    words[at].append(f"{name} {letter}")
    return [", ".join(of_row) or None for of_row in words]


def _is_set(name: str, part: Part, shop: ShopLimits) -> bool:
    """Whether the kit sets a fence or a stop for such a part."""
    if part.stock.material.form is Form.SHEET:
        return shop.table_saw and shop.sheets_at_fence
    return shop.table_saw if name == "fence" else shop.stop


def _stable_keys(rows: list[_Row]) -> list[str]:
    """The source part's name; the copy's own id where two rows come from one source part."""
    keys: list[str] = []
    for row in rows:
        keys.append(row.part.kind if row.part.kind not in keys else row.part.id)
    return keys
