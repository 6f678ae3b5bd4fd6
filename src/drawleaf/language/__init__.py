"""The words room: which language a booklet is in, and how our own words come into it.

Our templates, lists and phrases are written in American English. ``Words`` puts them into the language of the plan where they are made, so that
what the author wrote is never touched. The words of each English have a file of their own beside this one.
"""

from drawleaf.language.tags import BASE, ENGLISHES, MARKED, usual_language
from drawleaf.language.words import Words

__all__ = ["BASE", "ENGLISHES", "MARKED", "Words", "usual_language"]
