"""What the author can mend: every refusal of this room is one of these."""

from __future__ import annotations


class SellingError(ValueError):
    """What was given cannot be used; the text says why and what to do."""
