"""The chapters that an author's notes can hang on: all but the cover and the contents, which print none."""

from __future__ import annotations

NOTE_CHAPTERS = (
    "glance",
    "guide",
    "safety",
    "tools",
    "shopping",
    "hardware",
    "cut_list",
    "layouts",
    "exploded",
    "elevations",
    "parts",
    "parts_index",
    "steps",
    "other_ways",
    "finishing",
    "checked",
    "full_size",
    "care",
    "revisions",
)
