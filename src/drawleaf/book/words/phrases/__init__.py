"""Phrases that step templates are made of."""

from drawleaf.book.words.phrases.angles import Angles
from drawleaf.book.words.phrases.bolting import Bolting
from drawleaf.book.words.phrases.edges import Edges
from drawleaf.book.words.phrases.fitted import FittedWords
from drawleaf.book.words.phrases.fittings import Fittings
from drawleaf.book.words.phrases.fronts import Fronts
from drawleaf.book.words.phrases.gathered import Gathered
from drawleaf.book.words.phrases.gluing import Gluing
from drawleaf.book.words.phrases.hardware import Hardware
from drawleaf.book.words.phrases.helps import HelpWords
from drawleaf.book.words.phrases.housings import Housings
from drawleaf.book.words.phrases.interlocking import Interlocking
from drawleaf.book.words.phrases.marks import Marks
from drawleaf.book.words.phrases.mitres import Mitres
from drawleaf.book.words.phrases.on_board import OnBoardWords
from drawleaf.book.words.phrases.repeated import Repeated
from drawleaf.book.words.phrases.shapes import Shapes
from drawleaf.book.words.phrases.solid_wood import SolidWood
from drawleaf.book.words.phrases.wedging import Wedging


class Phrases(
    Angles,
    Bolting,
    Edges,
    HelpWords,
    Housings,
    Marks,
    Shapes,
    Mitres,
    Gathered,
    Gluing,
    FittedWords,
    OnBoardWords,
    Fittings,
    Fronts,
    Hardware,
    SolidWood,
    Interlocking,
    Wedging,
    Repeated,
):
    """Everything a step template may ask for, as ``say``."""
