"""Sentences of the comparison in the plan's language, with its lengths."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.english import listed, noun
from drawleaf.language import Words
from drawleaf.sell.piece import Compiled, Cut, Hole, Piece
from drawleaf.sell.remaking import NEAR, Fate, Trim, Verdict
from drawleaf.units import Length, LengthFormat, Units

SIDES = ("length", "width", "thickness")
WHY = {
    "material": "it is of another wood",
    "grain": "its grain runs the other way",
    "longer": "it is longer now, and wood cannot be put on",
    "wider": "it is wider now, and wood cannot be put on",
    "thicker": "it is thicker now, and wood cannot be put on",
    "thinner": "a sheet cannot be planed thinner",
    "turned": "it lies another way now",
    "shape": "its outline was sawn or run otherwise",
}


@dataclass(frozen=True, slots=True)
class Teller:
    """Says what changed, in the words and units of the new revision."""

    words: Words
    lengths: LengthFormat

    @staticmethod
    def of(plan: Compiled) -> Teller:
        return Teller(Words(plan.language), LengthFormat(Units(plan.units)))

    def length(self, mm: Fraction) -> str:
        return self.lengths.text(Length(mm))

    def sizes(self, old: Piece, new: Piece) -> list[str]:
        """``length 16-1/2 in (it was 16 in)`` for each side that differs."""
        return [
            self.words.tell(f"{side} {{}} (it was {{}})", self.length(after), self.length(before))
            for side, before, after in zip(SIDES, old.sides, new.sides, strict=True)
            if abs(after - before) > NEAR
        ]

    def fate(self, found: Verdict) -> str:
        """What to do with a part that is already made."""
        if found.fate is Fate.REMAKE:
            reasons = [self.words.put(WHY[reason]) for reason in found.reasons]
            reasons += [self.words.tell("its old {} would stay open", self.words.put(kind)) for kind in found.open]
            return self.words.tell("Make it anew: {}.", listed(reasons))
        if found.fate is Fate.FITS:
            return self.words.put("It still fits.")
        said: list[str] = []
        if found.trims:
            said.append(self.words.tell("Trim {}.", listed([self._trim(trim) for trim in found.trims])))
        if found.astray:
            holes = self.holes(found.astray)
            said.append(
                self.words.tell(
                    "Plug {} that stand wrong now, and let the glue dry; where a plug would show or a new hole would cut it, make the part anew.",
                    holes,
                )
            )
        if found.more:
            said.append(self.words.tell("Then cut what is new in it: {}.", self.holes(found.more)))
        if found.shapes:
            said.append(self.words.tell("Then shape it: {}.", listed(sorted(set(found.shapes)))))
        if found.fate is Fate.ADD:
            return " ".join([self.words.put("It still fits."), *said])
        return " ".join(said)

    def _trim(self, trim: Trim) -> str:
        return self.words.tell(f"{{}} off its {trim.face} side", self.length(trim.off))

    def holes(self, cuts: Iterable[Hole | Cut]) -> str:
        """``4 screw holes and 1 dado``."""
        counts = Counter(one.kind for one in cuts)
        return listed([f"{count} {noun(count, self.words.put(kind))}" for kind, count in counts.items()])
