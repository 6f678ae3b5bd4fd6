"""The trade's own words, American and British, for what drawleaf calls otherwise: ``trade_words.yaml``, and of joints what
each family says of itself, looked up before the nearest spelling."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml

from drawleaf.english import listed
from drawleaf.joinery import FAMILIES
from drawleaf.source.names import did_you_mean, without_sizes
from drawleaf.source.old_names import item_renamed

_FILE = Path(__file__).with_suffix(".yaml")
_ELSEWHERE = {
    "joints": "It is a joint. Write under “joints:” the line “- {{{line}}}”.",
    "machining": "It is work on one part. Write under “machining:” the line “- {{in: {a}, {line}}}”.",
    "fastenings": "It holds a joint. Write it into the joint's line: “with: [{line}]”.",
    "hardware": "It is bought. Write under “hardware:” a line that begins “- {{item: {line}, on: {a}”.",
}


@dataclass(frozen=True, slots=True)
class TradeWord:
    """What a word of the trade is here. ``write`` is a line's keys, or an item; ``none`` says that there is no such thing. One may be empty."""

    section: str
    write: str
    none: str

    def line(self, a: str = "shelf", b: str = "side") -> str:
        """What to write; ``a`` is what is let in or set on, ``b`` what receives it."""
        return self.write.format(a=a, b=b)

    def mend(self, a: str = "shelf", b: str = "side") -> str:
        """The sentence to print."""
        if not self.none:
            return f"Write “{self.line(a, b)}”."
        none = self.none.format(a=a, b=b)
        return f"{none}. Nearest is “{self.line(a, b)}”." if self.write else f"{none}."


@cache
def trade_words() -> Mapping[str, Mapping[str, TradeWord]]:
    """All words by the section that they are looked up in, spelt as ``spelt`` spells them."""
    sections = yaml.load(_FILE.read_text(encoding="utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    found = {
        section: {
            spelt(word): TradeWord(section, entry.get("write", ""), entry.get("none", ""))
            for entry in entries
            for word in entry["words"]
        }
        for section, entries in sections.items()
    }
    families = (called for family in FAMILIES for called in family.facts.called)
    found["joints"] |= {
        spelt(word): TradeWord("joints", called.line, "") for called in families for word in called.words
    }
    return found


def spelt(word: str) -> str:
    """A word as it is looked up: small letters, joined by underscores."""
    return "_".join(word.lower().replace("-", " ").replace("_", " ").split())


def trade_word(section: str, word: str) -> TradeWord | None:
    """What a word means in its own section."""
    return trade_words().get(section, {}).get(spelt(word))


def from_elsewhere(section: str, word: str, a: str = "shelf", b: str = "side") -> str:
    """What to do with a word that belongs into another section of the plan; empty where none knows it."""
    for other, said in _ELSEWHERE.items():
        found = trade_word(other, word) if other != section else None
        if found is not None and not found.none:
            return said.format(line=found.line(a, b), a=a)
    return ""


def item_mend(
    section: str, word: str, known: Iterable[str], *, otherwise: str = "", fitting: Iterable[str] = ()
) -> str:
    """How to mend an item that is not known: by the trade's word for it, else by the nearest spelling, else with all that there are;
    of a long list ``fitting`` are those that do in its place."""
    names = set(known)
    if renamed := item_renamed(section, word, names):
        return renamed
    found = trade_word(section, word)
    if found is not None and (not found.write or found.write in names):
        return found.mend()
    choice = without_sizes(fitting or names)
    all_of_them = f"Take one of these: {listed(choice)}; or add “{word}” to a shared/{section}.yaml beside the plan."
    return did_you_mean(word, names, otherwise=otherwise or all_of_them)
