"""Phrases that step templates are made of."""

from drawleaf.book.phrases.fittings import Fittings
from drawleaf.book.phrases.joints import Joints
from drawleaf.book.phrases.marks import Marks


class Phrases(Marks, Joints, Fittings):
    """Everything a step template may ask for, as ``say``."""
