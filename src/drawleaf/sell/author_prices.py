"""What the author asks for the plan: a file of their own with a date, a currency, and a price for each edition. Nothing is guessed."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

import yaml

from drawleaf.sell.mistakes import SellingError

_CODE = re.compile(r"[A-Z]{3}")


class PricesError(SellingError):
    """The file of prices cannot be used; the text says why and what to write."""


@dataclass(frozen=True, slots=True)
class Price:
    """What a plan costs: an amount in a currency (ISO 4217), and since when."""

    amount: Decimal
    currency: str
    date: str

    @property
    def text(self) -> str:
        """``12.50 USD``."""
        return f"{self.amount:.2f} {self.currency}"


def read_price(file: Path, edition: str | None) -> Price:
    """The price of an edition (None: the plan as written). Raises PricesError, OSError."""
    sample = "Write “currency: USD”, “date: 2026-11-30”, and “prices: {plan: 12.50}” with a line for each edition."
    try:
        read: Any = yaml.load(file.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    except (yaml.YAMLError, UnicodeDecodeError) as error:
        raise PricesError(f"{file} cannot be read: {error}. {sample}") from None
    if (
        not isinstance(read, dict)
        or set(read) != {"currency", "date", "prices"}
        or not isinstance(read["prices"], dict)
    ):
        raise PricesError(f"{file} has not the keys “currency”, “date” and “prices”. {sample}")
    if not _CODE.fullmatch(str(read["currency"])):
        raise PricesError(f"{file}: “{read['currency']}” is no currency. {sample}")
    try:
        since = date.fromisoformat(str(read["date"])).isoformat()
    except ValueError:
        raise PricesError(f"{file}: “{read['date']}” is no date. {sample}") from None
    name = edition or "plan"
    if name not in read["prices"]:
        raise PricesError(f"{file} has no price for “{name}”; it has {', '.join(read['prices']) or 'none'}. {sample}")
    amount = _amount(str(read["prices"][name]))
    if amount is None:
        raise PricesError(f"{file}: “{read['prices'][name]}” is no price. {sample}")
    return Price(amount, read["currency"], since)


def _amount(text: str) -> Decimal | None:
    """A price in whole hundredths; None for what is none."""
    try:
        amount = Decimal(text)
        good = amount.is_finite() and amount >= 0 and amount == amount.quantize(Decimal("0.01"))
    except InvalidOperation:  # no number, or one of more digits than any price has
        return None
    return amount if good else None
