"""``film:`` where the author shows the build, and from when on each step is seen."""

from __future__ import annotations

from pydantic import Field

from drawleaf.source.nodes import SourceNode


class FilmEntry(SourceNode):
    """``film:`` an address, and the time in it of each step by its name."""

    address: str = Field(
        description="Where the film is, https://…; {seconds} in it stands for the time, which is put behind it as #t=245 where left out."
    )
    steps: dict[str, str] = Field(description="From when on a step is shown: minutes and seconds, 4:05 or 1:04:05.")
