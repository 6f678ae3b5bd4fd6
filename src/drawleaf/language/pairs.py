"""American words and the British ones for them, from the two word lists beside this file."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from pathlib import Path

import yaml

from drawleaf.language.tags import BASE, BRITISH


@cache
def forms(tag: str) -> dict[str, tuple[str, ...]]:
    """The word list of one English: by key, a word in its forms."""
    file = Path(__file__).with_name(f"{tag}.yaml")
    listed: dict[str, str] = yaml.load(
        file.read_text(encoding="utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    )
    return {key: tuple(form.strip() for form in str(line).split(",")) for key, line in listed.items()}


@cache
def pairs() -> dict[str, str]:
    """Each American form with its British one, in small letters; alike where a phrase keeps a word that changes elsewhere. Raises ValueError where the two lists do not match."""
    ours, theirs = forms(BASE), forms(BRITISH)
    if ours.keys() != theirs.keys():
        raise ValueError(f"the word lists differ: {sorted(ours.keys() ^ theirs.keys())}")
    return {one: other for key, american in ours.items() for one, other in zip(american, theirs[key], strict=True)}


@cache
def _american() -> re.Pattern[str]:
    longest_first = sorted(pairs(), key=len, reverse=True)
    words = "|".join(r"\s+".join(map(re.escape, one.split())) for one in longest_first)
    return re.compile(r"(?<![\w{])(?:" + words + r")(?!\w)", re.IGNORECASE)


@lru_cache(maxsize=8192)
def british(text: str) -> str:
    """An American text in British English, word by word; capitals stay."""
    return _american().sub(lambda found: _like(found[0], pairs()[" ".join(found[0].lower().split())]), text)


def _like(model: str, word: str) -> str:
    if len(model) > 1 and model.isupper():
        return word.upper()
    return word[:1].upper() + word[1:] if model[0].isupper() else word
