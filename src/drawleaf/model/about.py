"""What the cover and the colophon of a booklet say."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.language import BASE

BEGINNER = "beginner"
"""The skill of a plan that asks for no experience."""


@dataclass(frozen=True, slots=True)
class Revision:
    """A line of the revision history."""

    mark: str
    date: str
    text: str


@dataclass(frozen=True, slots=True)
class About:
    """What the cover and colophon say."""

    title: str
    subtitle: str
    number: str
    revision: str
    date: str
    author: str
    contact: str
    copyright: str
    terms: str
    summary: str
    skill: str
    hard_parts: tuple[str, ...]
    care: tuple[str, ...]
    price: Fraction | None
    history: tuple[Revision, ...]
    language: str = BASE
    """Of our own words in the booklet: a tag of BCP 47."""
    learner: bool = False
    """Whether the steps say what a learner does and what an experienced hand does beside."""
    picture: str = ""
    """The file beside the plan that the cover shows; empty for the drawing."""
