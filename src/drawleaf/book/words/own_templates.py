"""Templates of an author's own: watched while they work, and named where they are at fault."""

from __future__ import annotations

import traceback
from collections.abc import Sized
from pathlib import Path
from typing import Any

from jinja2 import TemplateSyntaxError
from jinja2.exceptions import SecurityError
from jinja2.sandbox import ImmutableSandboxedEnvironment

from drawleaf.resources import template_folders

_LONGEST = 100_000
_HIGHEST_POWER = 1000
_MOST_BITS = 100_000


class TemplateFaultError(Exception):
    """A template of an author's own is at fault; its text tells the author where and what to mend."""


class WatchedEnvironment(ImmutableSandboxedEnvironment):
    """A sandbox that stops the plainest sums that run away, with their line; ``apart`` bounds all others."""

    intercepted_binops = frozenset({"*", "**"})

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """The product or power; a SecurityError where it would be too large."""
        if operator == "**" and not (isinstance(left, int | float) and abs(left) < 1e6 and abs(right) < _HIGHEST_POWER):
            raise SecurityError("this power is too large")
        whole = [one for one in (left, right) if isinstance(one, int)]
        if operator == "*" and len(whole) == 2 and sum(one.bit_length() for one in whole) > _MOST_BITS:
            raise SecurityError("this product is too large")
        for many, held in ((left, right), (right, left)):
            if operator == "*" and isinstance(held, Sized) and isinstance(many, int) and many * len(held) > _LONGEST:
                raise SecurityError(f"this makes something longer than {_LONGEST:,}")
        return super().call_binop(context, operator, left, right)


def fault_in_own_template(error: BaseException, plan_folder: Path, said: str | None = None) -> str | None:
    """What to tell an author whose own template made ``error``, with its file and line; None where it was none of theirs.

    ``said`` stands in for the error's own words.
    """
    folders = template_folders(plan_folder)
    if len(folders) < 2:
        return None
    if isinstance(error, TemplateFaultError):
        return str(error)
    places = [(Path(frame.filename), frame.lineno) for frame in traceback.extract_tb(error.__traceback__)]
    if isinstance(error, TemplateSyntaxError) and error.filename:
        places.append((Path(error.filename), error.lineno))
    here = [(file, line) for file, line in places if file.is_relative_to(folders[0])]
    if not here:
        return None
    file, line = here[-1]
    said = said or (str(error).splitlines()[0] if str(error) else type(error).__name__)
    return (
        f"{file}, line {line}: {said}. This template is your own: mend that line, or take the file away to have ours back. "
        "The last good booklet is as it was."
    )
