"""The named places of a finished PDF: chapters, steps and parts by their ids."""

from __future__ import annotations

import pikepdf
from pikepdf import Array, Dictionary


def named_places(document: pikepdf.Pdf) -> dict[str, pikepdf.Object]:
    """Each place as an array that begins with its page."""
    names = document.Root.get("/Names", Dictionary()).get("/Dests")
    if names is None:
        return {}
    found: dict[str, pikepdf.Object] = {}
    for name, place in pikepdf.NameTree(names).items():
        place = place.get("/D") if isinstance(place, Dictionary) else place
        if isinstance(place, Array):
            found[str(name)] = place
    return found


def pages_of_places(document: pikepdf.Pdf) -> dict[str, int]:
    """The page (from 1) of each named place."""
    number = {page.obj.objgen: at for at, page in enumerate(document.pages, start=1)}
    places = named_places(document)
    return {name: number[place[0].objgen] for name, place in places.items() if place[0].objgen in number}
