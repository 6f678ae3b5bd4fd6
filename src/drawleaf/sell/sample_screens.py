"""Which screens of the tablet edition show what stands on some pages of the printed one."""

from __future__ import annotations

import io
from collections.abc import Collection, Sequence

import pikepdf

from drawleaf.book.output.named_places import named_places

HEAD = 40.0
"""Points below the highest place of all pages: what begins there begins its page."""


def screens_on(pdf: bytes, pages: Collection[int], ids: Sequence[str]) -> tuple[str, ...]:
    """Those of the screens whose pages (from 1) are all among ``pages``: one that runs on to a page that is not chosen stays out."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        number = {page.obj.objgen: at for at, page in enumerate(document.pages, start=1)}
        last = len(document.pages)
        places = {
            name: (number[place[0].objgen], float(place[3]))
            for name, place in named_places(document).items()
            if name in ids and place[0].objgen in number and len(place) > 3
        }
    if not ids:
        return ()
    # Nothing points to the cover, so it may have no name; it is what the booklet begins with.
    highest = max((top for _, top in places.values()), default=0.0)
    places.setdefault(ids[0], (1, highest))
    order = sorted(places, key=lambda name: (places[name][0], -places[name][1]))
    found = []
    for name, after in zip(order, [*order[1:], None], strict=True):
        first = places[name][0]
        end = last
        if after is not None:
            page, top = places[after]
            end = page - 1 if top > highest - HEAD else page
        if set(range(first, max(first, end) + 1)) <= set(pages):
            found.append(name)
    return tuple(name for name in ids if name in found)
