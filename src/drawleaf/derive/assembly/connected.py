"""Which of several joined things can be taken away so that the others still hold together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping


def hang_together(ids: Iterable[str], pairs: Iterable[tuple[str, str]]) -> bool:
    """Whether pairs of things join all of these into one piece, without help from anything else."""
    left = set(ids)
    joined = [pair for pair in pairs if left.issuperset(pair)]
    todo = sorted(left)[:1]
    while todo:
        one = todo.pop()
        if one in left:
            left.discard(one)
            todo += [other for pair in joined if one in pair for other in pair]
    return not left


class Bonds:
    """Things held together by joints, some of them taken away one after the other."""

    def __init__(self, ids: Iterable[str], joined: Mapping[str, frozenset[str]]) -> None:
        self._links = {one: set[str]() for one in ids}
        for one, links in self._links.items():
            links |= joined.get(one, frozenset()) & self._links.keys()
            links.discard(one)
        for one, links in self._links.items():
            for other in links:
                self._links[other].add(one)
        self._pieces = self._count()

    def dispensable(self, one: str) -> bool:
        """Whether all others hang together without it."""
        links = self._links[one]
        if self._pieces > 1:
            return self._pieces == 2 and not links
        # In one piece: it is enough that its neighbours find one another some other way.
        return len(links) < 2 or len(self._around(next(iter(sorted(links))), one, links)) == len(links)

    def remove(self, one: str) -> None:
        """Takes it away."""
        whole = self.dispensable(one)
        for other in self._links.pop(one):
            self._links[other].discard(one)
        self._pieces = 1 if whole else self._count()

    def _around(self, start: str, without: str, wanted: set[str]) -> set[str]:
        """Those of the wanted ones that hang together with ``start`` when one is left out; the search ends when all are found."""
        found, seen, ring = {start}, {start, without}, [start]
        while ring and len(found) < len(wanted):
            ring = [other for one in ring for other in self._links[one] if other not in seen]
            seen.update(ring)
            ring = list(dict.fromkeys(ring))
            found.update(wanted.intersection(ring))
        return found

    def _count(self) -> int:
        seen: set[str] = set()
        pieces = 0
        for one in self._links:
            if one not in seen:
                pieces += 1
                todo = [one]
                seen.add(one)
                while todo:
                    fresh = self._links[todo.pop()] - seen
                    seen |= fresh
                    todo += fresh
        return pieces
