"""Phrases that step templates are made of."""

from drawleaf.book.phrases.angles import Angles
from drawleaf.book.phrases.fittings import Fittings
from drawleaf.book.phrases.gathered import Gathered
from drawleaf.book.phrases.gluing import Gluing
from drawleaf.book.phrases.hardware import Hardware
from drawleaf.book.phrases.housings import Housings
from drawleaf.book.phrases.interlocking import Interlocking
from drawleaf.book.phrases.marks import Marks
from drawleaf.book.phrases.mitres import Mitres
from drawleaf.book.phrases.shapes import Shapes
from drawleaf.book.phrases.solid_wood import SolidWood


class Phrases(Angles, Housings, Marks, Shapes, Mitres, Gathered, Gluing, Fittings, Hardware, SolidWood, Interlocking):
    """Everything a step template may ask for, as ``say``."""
