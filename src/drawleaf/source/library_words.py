"""The names and notes of our own ``shared/`` in the language of a booklet. What an author's ``shared/`` says stays as it is written."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TypeVar

from drawleaf.language import Words
from drawleaf.model.catalogue import Catalogue, Caution, Consumable, FinishProduct, HardwareItem, Kit, Material
from drawleaf.model.tools import KindOfWork, Tool, Way
from drawleaf.source.library import Library

Entry = TypeVar("Entry")


def in_language(library: Library, words: Words) -> Catalogue:
    """The catalogue with our own words in a language. Ids stay, as plans and kits name them."""
    known = library.catalogue
    if not words.as_written:
        known = library.in_languages.get(words) or _translated(library, words)
        library.in_languages[words] = known
    return known if library.noted is None else library.noted(known)


def _translated(library: Library, words: Words) -> Catalogue:
    known = library.catalogue

    def ours(kind: str, entries: Mapping[str, Entry], say: Callable[[Words, Entry], Entry]) -> dict[str, Entry]:
        return {id_: one if (kind, id_) in library.authors else say(words, one) for id_, one in entries.items()}

    return replace(
        known,
        materials=ours("materials", known.materials, _material),
        hardware=ours("hardware", known.hardware, _hardware),
        consumables=ours("consumables", known.consumables, _consumable),
        cautions=ours("cautions", known.cautions, _caution),
        tools=ours("tools", known.tools, _tool),
        finishes=ours("finishes", known.finishes, _finish),
        methods=ours("methods", known.methods, _work),
        kits=ours("kits", known.kits, _kit),
    )


def _material(words: Words, one: Material) -> Material:
    return replace(one, name=words.put(one.name), aisle=words.put(one.aisle))


def _hardware(words: Words, one: HardwareItem) -> HardwareItem:
    return replace(
        one,
        name=words.put(one.name),
        plural=words.put(one.plural),
        aisle=words.put(one.aisle),
        note=words.put(one.note),
        metric=words.put(one.metric),
        clearances=tuple(replace(room, where=words.put(room.where)) for room in one.clearances),
    )


def _consumable(words: Words, one: Consumable) -> Consumable:
    return replace(one, name=words.put(one.name), aisle=words.put(one.aisle))


def _caution(words: Words, one: Caution) -> Caution:
    return replace(
        one,
        hazard=words.put(one.hazard),
        consequence=words.put(one.consequence),
        avoid=tuple(words.put(line) for line in one.avoid),
        short=words.put(one.short),
        name=words.put(one.name or one.id),
    )


def _tool(words: Words, one: Tool) -> Tool:
    return replace(one, name=words.put(one.name), group=words.put(one.group), note=words.put(one.note))


def _finish(words: Words, one: FinishProduct) -> FinishProduct:
    return replace(one, name=words.put(one.name), note=words.put(one.note))


def _work(words: Words, one: KindOfWork) -> KindOfWork:
    return replace(one, ways=tuple(_way(words, way) for way in one.ways))


def _way(words: Words, one: Way) -> Way:
    return replace(one, name=words.put(one.name), note=words.put(one.note), known_as=one.known_as or one.name)


def _kit(words: Words, one: Kit) -> Kit:
    return replace(one, name=words.put(one.name), summary=words.put(one.summary))
