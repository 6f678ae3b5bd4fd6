"""Reads what a compile wrote, as a buyer's clerk would, and knows what cannot be. Nothing here imports drawleaf.

Each rule takes the outputs and yields a sentence for everything that is wrong.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from fuzz.outputs_reader import drawings, figures, layouts, lists, pages, places, references, times
from fuzz.outputs_reader.outputs import Outputs, UnreadableError, of_files, of_folder

ROOMS = (figures, references, lists, layouts, places, times, drawings, pages)
RULES = tuple(rule for room in ROOMS for rule in room.RULES)

__all__ = ["RULES", "Outputs", "faults", "faults_in", "of_files", "of_folder"]


def faults(outputs: Outputs, rules: Iterable = RULES) -> list[str]:
    """Everything that is wrong, each with the rule that says so."""
    return [f"{rule.__name__}: {words}" for rule in rules for words in rule(outputs)]


def faults_in(files: Mapping[str, bytes]) -> list[str]:
    """The same of files by name, as a compile gives them; a file that cannot be read is a fault too."""
    try:
        return faults(of_files(files))
    except UnreadableError as error:
        return [f"unreadable: {error}"]
