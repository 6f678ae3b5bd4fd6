"""What the catalogue says about one code of a diagnostic."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Example:
    """A slip that yields the code: in the sample plan, ``wrong`` stands where ``right`` stood.

    ``files`` are further files in the plan's folder (bytes where they are no text), ``edition`` the one that is compiled.
    ``sample`` names the sample plan. Without ``right`` the ``wrong`` text is the whole plan.
    """

    right: str = ""
    wrong: str = ""
    sample: str = "crate"
    files: Mapping[str, str | bytes] = field(default_factory=dict)
    edition: str | None = None


@dataclass(frozen=True, slots=True)
class Code:
    """``what`` the diagnostic says, ``why`` it matters, how to ``mend`` it.

    ``inner`` says, for the few that no plan can yield, what must go wrong inside the compiler or in ``shared/``.
    """

    name: str
    what: str
    why: str
    mend: str
    example: Example = Example()
    inner: str = ""


def slip(right: str, wrong: str, *, sample: str = "crate", **more) -> Example:
    """An example that edits a sample plan."""
    return Example(right, wrong, sample, **more)
