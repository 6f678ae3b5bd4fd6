"""Colours as data files and drawings write them, ``#rrggbb`` in sRGB, and the light that they stand for."""

from __future__ import annotations

Rgb = tuple[int, int, int]


def rgb(color: str) -> Rgb:
    """Red, green and blue of ``#rrggbb``, each 0 to 255."""
    red, green, blue = bytes.fromhex(color[1:])
    return red, green, blue


def light(channel: int) -> float:
    """The share of light, 0 to 1, that a channel of sRGB (0 to 255) throws back (IEC 61966-2-1)."""
    share = channel / 255.0
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
