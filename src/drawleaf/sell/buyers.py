"""The list of buyers, a CSV file that the author keeps, and the line that each buyer's copy bears."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from drawleaf.sell.mistakes import SellingError

LINE = "Copy for {name}, order {order}, {date}"
"""The line where the author words none. A column that the list has not is left out with its comma."""
_PLACE = re.compile(r"\{([A-Za-z_][A-Za-z0-9_ ]*)\}")
_ROOM = re.compile(r"\s+")
LONGEST = 200
"""Signs of a field; a name is no text."""


class BuyersError(SellingError):
    """The list of buyers, or the line, cannot be used; the text says why."""


@dataclass(frozen=True, slots=True)
class Buyer:
    """One row of the list: its fields by column, and its own part of a file's name."""

    fields: Mapping[str, str]
    file_part: str


def read_buyers(file: Path) -> tuple[Buyer, ...]:
    """The buyers of a CSV file with a head row: ``name``, ``order``, ``date`` and any others. Raises BuyersError, OSError."""
    try:
        with file.open(encoding="utf-8-sig", newline="") as stream:
            rows = list(csv.DictReader(stream, strict=True))
    except (csv.Error, UnicodeDecodeError) as error:
        raise BuyersError(f"{file} is no CSV file in UTF-8: {error}") from None
    if not rows:
        raise BuyersError(f"{file} has no buyers: a head row with “name” and “order”, then a row for each")
    buyers = [_buyer(row, number, file) for number, row in enumerate(rows, start=1)]
    parts = [buyer.file_part for buyer in buyers]
    double = next((part for part in parts if parts.count(part) > 1), None) if len(set(parts)) < len(parts) else None
    if double is not None:
        raise BuyersError(
            f"two rows of {file} would be written to one file, “{double}”: give each an “order” of its own"
        )
    return tuple(buyers)


def _buyer(row: Mapping[str | None, str | list[str] | None], number: int, file: Path) -> Buyer:
    fields: dict[str, str] = {}
    for column, value in row.items():
        if column is None or isinstance(value, list):
            raise BuyersError(
                f"row {number} of {file} has more fields than the head row: put those with commas in quotes"
            )
        text = _ROOM.sub(" ", "".join(sign for sign in value or "" if sign.isprintable() or sign.isspace())).strip()
        if len(text) > LONGEST:
            raise BuyersError(f"row {number} of {file}: “{column}” has more than {LONGEST} signs")
        fields[column.strip()] = text
    own = "".join(sign if sign.isalnum() and sign.isascii() else "-" for sign in fields.get("order", "")).strip("-")
    return Buyer(fields, own or f"{number:05}")


def worded(line: str, buyer: Buyer) -> tuple[str, dict[str, str]]:
    """The line with the buyer's fields in it, and the fields that it prints: nothing else goes into a copy. Raises BuyersError where the line
    names a column that is not there."""
    wanted = list(dict.fromkeys(_PLACE.findall(line)))
    if line == LINE:
        return _usual(buyer)
    missing = [one for one in wanted if one not in buyer.fields]
    if missing:
        raise BuyersError(f"the line names “{missing[0]}”, and the list has {', '.join(buyer.fields)}")
    used = {one: buyer.fields[one] for one in wanted}
    return _PLACE.sub(lambda found: used[found[1]], line), used


def _usual(buyer: Buyer) -> tuple[str, dict[str, str]]:
    words = (("name", "Copy for {}"), ("order", "order {}"), ("date", "{}"), ("terms", "{}"))
    used = {column: buyer.fields[column] for column, _ in words if buyer.fields.get(column)}
    if "name" not in used and "order" not in used:
        raise BuyersError(f"the list needs a column “name” or “order”; it has {', '.join(buyer.fields)}")
    said = ", ".join(pattern.format(used[column]) for column, pattern in words if column in used)
    return said[:1].upper() + said[1:], used
