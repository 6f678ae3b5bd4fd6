"""Phrases of what is bolted or hooked on and comes apart again."""

from __future__ import annotations

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.model.plan import Fitting


class Bolting(Speech):
    """Rails and ends on bolts, lag screws and brackets."""

    def bolt_lines(self) -> list[Markup]:
        """A line to each pair of parts that bolts hold: what goes through what, and how many."""
        lines = []
        for (posts, rails), fittings in self._by_pair().items():
            line = Markup(
                "Hold the end of {rails} against {posts}. Lay a barrel nut in each cross hole, the slot in its end along {rails}. "
                "Push the bolts through {posts} and start them with the fingers: {count} in all"
                if fittings[0].item.measure("nut") is not None
                else "Hold the end of {rails} against {posts}. Put a washer on each lag screw, and push it through {posts}. Start it "
                "in the end of {rails}: {count} in all"
            )
            count = self.fmt.count_word(len(fittings))
            lines.append(line.format(rails=self.the_parts(rails), posts=self.the_parts(posts), count=count))
        return lines

    def bracket_plate_lines(self) -> list[Markup]:
        """Which plates go where."""
        return [
            Markup(
                "Lay the plates with hooks in the recesses in the ends of {}, the hooks down. Lay the other plates in those of {}: {} pairs"
            ).format(self.the_parts(rails), self.the_parts(posts), self.fmt.count_word(len(fittings)))
            for (posts, rails), fittings in self._by_pair().items()
        ]

    @property
    def has_nuts(self) -> bool:
        """Whether bolts go into barrel nuts here."""
        return any(fitting.item.measure("nut") is not None for fitting in self.op.fittings)

    def _by_pair(self) -> dict[tuple[tuple[str, ...], tuple[str, ...]], list[Fitting]]:
        """The fittings by the kinds of post and rail that they hold, with all copies of both."""
        kinds: dict[tuple[str, str], list[Fitting]] = {}
        for fitting in self.op.fittings:
            post, rail = (self.plan.part(part).kind for part in fitting.parts)
            kinds.setdefault((post, rail), []).append(fitting)
        pairs: dict[tuple[tuple[str, ...], tuple[str, ...]], list[Fitting]] = {}
        for some in kinds.values():
            posts, rails = (tuple(dict.fromkeys(fitting.parts[end] for fitting in some)) for end in (0, 1))
            pairs[posts, rails] = some
        return pairs
