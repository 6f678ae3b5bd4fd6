"""The gaps round a door or an inset drawer front, against what its wood swells by in the damp weeks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drawleaf.checks.context import figures, mm, sentence, worst
from drawleaf.joinery.moisture import MOVEMENT_SOURCE
from drawleaf.model.checks import Figure, Fine, Sentence, Value, Verdict

# Common practice, no source: 2 to 3 mm round a door or an inset front, never under 1 mm.
LEAST_GAP, USUAL_GAP, WIDE_GAP = 1.0, 1.5, 6.0
EVEN = 0.4
FAR = 60.0
SOURCE = f"{MOVEMENT_SOURCE}; gaps: common practice, no source"


@dataclass(frozen=True, slots=True)
class Gaps:
    """All in millimetres: the smallest and the largest gap, how much the wood ``swells``, and the ``room`` that it has that way."""

    narrowest: float
    widest: float
    swells: float
    room: float

    @property
    def verdict(self) -> Verdict:
        """What binds in the damp weeks stops the plan, what is tight or wide is advice."""
        return worst(
            (
                Verdict.STOP if self.narrowest < LEAST_GAP or self.swells > 2 * self.room else Verdict.PASS,
                Verdict.ADVICE if self.is_tight or self.widest > WIDE_GAP else Verdict.PASS,
            )
        )

    @property
    def is_tight(self) -> bool:
        """Whether a gap is smaller than usual, or smaller than what the wood swells by."""
        return self.narrowest < USUAL_GAP or self.swells > self.room

    @property
    def needed(self) -> float:
        """The gap to ask for where one is too tight, in mm."""
        return max(self.swells, 2.4)

    def words(self, start: str, grows: str, **named: Value) -> Sentence:
        """``start`` names the door or the front, ``grows`` says what its wood does by how much."""
        middle = " to {most}" if self.widest - self.narrowest > EVEN else ""
        end = f"; in the damp weeks it {grows} by {{swells}}, and has {{room}} on that side." if self.swells else "."
        return sentence(
            f"{start} has gaps of {{least}}{middle} round it{end}",
            **named,
            least=mm(self.narrowest),
            most=mm(self.widest),
            swells=Fine(mm(self.swells)),
            room=Fine(mm(self.room)),
        )

    def figures(self) -> tuple[Figure, ...]:
        return figures(
            smallest_gap=mm(self.narrowest),
            widest_gap=mm(self.widest),
            swells=Fine(mm(self.swells)),
            room_that_way=Fine(mm(self.room)),
        )


def limit(grows: str) -> Sentence:
    """What the gaps are held against; ``grows`` is what the wood does."""
    return sentence(f"{{usual}} to {{wide}}, and more than it {grows}", usual=mm(2.0), wide=mm(WIDE_GAP))


def gap_near(own: tuple[float, float], others: Iterable[tuple[float, float]], side: int) -> float | None:
    """Room from a span to the nearest of others on one side (-1 its low end), in mm; None where nothing is near."""
    gaps = [own[0] - far if side < 0 else near - own[1] for near, far in others]
    return min((gap for gap in gaps if -0.5 <= gap <= FAR), default=None)
