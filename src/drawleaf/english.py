"""English for every room: plurals, lists, articles, first letters, numbers in words.

Written here because the kept library for it, inflect, takes 4 s to import (measured), longer than a whole check. The nouns are those
of a workshop, so a few rules do.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import TypeVar

Text = TypeVar("Text", bound=str)

NUMBERS = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"),
)
"""``zero`` to ``twenty``, each at its own index."""
_IRREGULAR = {"shelf": "shelves", "half": "halves", "knife": "knives", "leaf": "leaves", "foot": "feet"}
_ES = ("s", "x", "ch", "sh", "dado")
_VOWELS = tuple("aeiou")
_CONSONANT_SOUNDS = ("one", "uni", "use", "u-")


def plural(noun: str) -> str:
    """More than one: ``shelves``, ``dadoes``, ``boxes of 50``, ``stiles A``, ``posts, left``, ``quarts (946 ml)``. What follows `` of ``, a comma or a bracket stays, and a
    letter after a name."""
    measured, bracket, measure = noun.partition(" (")
    if bracket and measure.endswith(")"):
        return f"{plural(measured)} ({measure}"
    name, comma, which = noun.partition(", ")
    if comma:
        return f"{plural(name)}{comma}{which}"
    head, of, rest = noun.partition(" of ")
    what, space, letter = head.rpartition(" ")
    if what and len(letter) == 1 and letter.isupper():
        return f"{plural(what)}{space}{letter}{of}{rest}"
    for one, many in _IRREGULAR.items():
        if head.lower().endswith(one):
            return f"{head[: len(head) - len(one) + 1]}{many[1:]}{of}{rest}"
    if head.endswith("y") and not head.endswith(tuple(f"{vowel}y" for vowel in _VOWELS)):
        return f"{head[:-1]}ies{of}{rest}"
    return f"{head}{'es' if head.lower().endswith(_ES) else 's'}{of}{rest}"


def counted(count: int, one: str, many: str | None = None, *, space: str = " ") -> str:
    """``1 sheet``, ``3 sheets``; ``many`` where the plural is known."""
    return f"{count}{space}{noun(count, one, many)}"


def noun(count: int, one: str, many: str | None = None) -> str:
    """``sheet`` for one of them, else ``sheets``."""
    return one if count == 1 else many or plural(one)


def listed(words: Iterable[str], joiner: str = "and", *, most: int | None = None) -> str:
    """``a``, ``a and b``, ``a, b and c``; beyond ``most`` the rest is counted: ``a, b and 3 more``. Empty for no words."""
    words = list(words)
    if most is not None and len(words) > most:
        return f"{', '.join(words[:most])} {joiner} {len(words) - most} more"
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joiner} {words[-1]}"


_NAMED_AFTER = ("Baltic", "Danish", "Douglas", "Forstner", "French", "Japanese", "Phillips")
"""First words that come from the name of a place or a person, and keep their capital."""


def lower_first(text: Text) -> Text:
    """As it stands inside a sentence, with a small first letter; ``MDF panel``, ``T-nut``, ``M6 bolt`` and ``Danish oil`` stay as they are."""
    if text.startswith(_NAMED_AFTER):
        return text
    if text[1:2].islower() or text[:2] == "A ":
        return text[:1].lower() + text[1:]  # type: ignore[return-value]
    return text


def capitalized(text: Text) -> Text:
    """With a capital first letter and the rest as it was (``str.capitalize`` makes the rest small)."""
    return text[:1].upper() + text[1:]  # type: ignore[return-value]


def with_article(words: str) -> str:
    """``a sheet``, ``an offcut``, ``an 8 oz can``, ``an 18 mm hole``, ``an MDF panel``."""
    return f"{'an' if _begins_with_vowel_sound(words) else 'a'} {words}"


def definite(name: str) -> str:
    """A thing that is known: ``the crate``; ``crate 2``, for a number says already which."""
    return name if is_numbered(name) else f"the {name}"


def is_numbered(names: str) -> bool:
    """Whether a name, or each of several, ends in its number: ``bay 2``, ``bay 1 and bay 2``. A size does not number: ``board 1x4``."""
    return all(re.fullmatch(r".*[^\W\d] \d{1,3}", name) for name in re.split(", | and | to ", names))


def with_articles(pattern: Text, values: Sequence[object]) -> Text:
    """A pattern without its article before each name in ``values`` that has a number: ``Build the {}`` is ``Build {}`` for crate 2."""
    pieces = pattern.split("{}")
    if len(pieces) != len(values) + 1:
        return pattern
    article = "the "
    for at, value in enumerate(values):
        if isinstance(value, str) and pieces[at].endswith(article) and is_numbered(value):
            pieces[at] = pieces[at][: -len(article)]
    return type(pattern)("{}").join(pieces)  # type: ignore[return-value]


_UNCOUNTED = ("protection",)
_ENDS_OF_HEAD = (",", " with ", " for ", " that ", " of ", " in ", " on ", " or ", " printed ")


def counted_thing(words: str) -> str:
    """A thing as one asks for it: ``a hand drill or brace``, ``a pair of sawhorses``; ``bar clamps`` and ``hearing protection``, which take no
    article, and ``a second pair of hands``, which has one, stay."""
    head = words
    for end in _ENDS_OF_HEAD:
        head = head.partition(end)[0]
    last = head.split()[-1].lower()
    bare = last in _UNCOUNTED or (last.endswith("s") and not last.endswith("ss"))
    return words if bare or words.lower().startswith(("a ", "an ")) else with_article(words)


def _begins_with_vowel_sound(words: str) -> bool:
    first = words.split(" ")[0].split("-")[0]
    figure = first.split("/")[0].split(".")[0]
    if figure.isdigit():
        return figure[0] == "8" or figure in ("11", "18")
    if first.isupper():
        return first[0] in "AEFHILMNORSX"  # spelled out, letter by letter
    low = words.lower()
    return low.startswith(_VOWELS) and not low.startswith(_CONSONANT_SOUNDS)


def count_words(count: int) -> str:
    """A count in running text: ``no``, ``seven``; figures beyond twenty, and below zero."""
    return "no" if count == 0 else NUMBERS[count] if 0 < count < len(NUMBERS) else str(count)
