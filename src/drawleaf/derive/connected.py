"""Which of several joined things can be taken away so that the others still hold together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence


def dispensable(ids: Sequence[str], joined: Mapping[str, frozenset[str]]) -> frozenset[str]:
    """The ids without which all others still hang together by their joints."""
    here = set(ids)
    pieces, cuts = _pieces_and_cuts(
        ids, {one: [other for other in joined.get(one, ()) if other in here] for one in ids}
    )
    if len(pieces) == 1:
        return frozenset(here - cuts)
    if len(pieces) == 2:
        return frozenset(one for piece in pieces if len(piece) == 1 for one in piece)
    return frozenset()


def _pieces_and_cuts(ids: Sequence[str], links: Mapping[str, list[str]]) -> tuple[list[list[str]], set[str]]:
    """Connected pieces, and the ids that hold their piece together (articulation points; Hopcroft and Tarjan 1973)."""
    depth: dict[str, int] = {}
    low: dict[str, int] = {}
    cuts: set[str] = set()
    pieces: list[list[str]] = []
    for root in ids:
        if root in depth:
            continue
        depth[root] = low[root] = 0
        piece, branches = [root], 0
        trail = [(root, "", iter(links[root]))]
        while trail:
            node, parent, rest = trail[-1]
            for other in rest:
                if other == parent:
                    continue
                if other in depth:
                    low[node] = min(low[node], depth[other])
                    continue
                depth[other] = low[other] = depth[node] + 1
                piece.append(other)
                trail.append((other, node, iter(links[other])))
                break
            else:
                trail.pop()
                if not trail:
                    continue
                above = trail[-1][0]
                low[above] = min(low[above], low[node])
                if above == root:
                    branches += 1
                elif low[node] >= depth[above]:
                    cuts.add(above)
        if branches > 1:
            cuts.add(root)
        pieces.append(piece)
    return pieces, cuts
