"""How often the place of a face counts in a sum: once in ``side.left + 3``, not at all in ``3`` or ``side.right - side.left``."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction

from drawleaf.source.syntax import Binary, Call, Name, Negative, Number, Term
from drawleaf.source.values import Measure


def weight_of_faces(term: Term, faces: Collection[str]) -> Fraction:
    """The weight of these faces in an expression: what is added to it where all of them move by one."""
    match term:
        case Number():
            return Fraction(0)
        case Name():
            return Fraction("." in term.name and term.name.split(".")[-1] in faces)
        case Negative():
            return -weight_of_faces(term.of, faces)
        case Call():
            chosen = term.arguments[1 if term.function == "if" else 0]
            return weight_of_faces(chosen, faces)
        case Binary():
            left, right = weight_of_faces(term.left, faces), weight_of_faces(term.right, faces)
            if term.operator in "+-":
                return left + right if term.operator == "+" else left - right
            if term.operator == "*":
                return left * _figure(term.right) + right * _figure(term.left)
            return left / (_figure(term.right) or 1) if term.operator == "/" else Fraction(0)


def _figure(term: Term) -> Fraction:
    """The figure that a factor is; 1 where it is none."""
    if isinstance(term, Number) and isinstance(term.value, Measure) and term.value.power == 0:
        return term.value.amount
    return Fraction(1)
