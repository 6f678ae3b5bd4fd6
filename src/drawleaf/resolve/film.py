"""The film of the build, read: an address that a browser opens, and times that are times."""

from __future__ import annotations

import re

from drawleaf.model.film import Film, FilmTime
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import FilmEntry

_ADDRESS = re.compile(r"https?://[^\s\"<>]+")
_TIME = re.compile(r"(?:(\d{1,2}):)?(\d{1,2}):([0-5]\d)")


def read_film(entry: FilmEntry | None, sources: Sources, findings: Findings) -> Film | None:
    """None where there is none, or where something in it is wrong, which is then reported."""
    if entry is None:
        return None
    before = len(findings.diagnostics)
    if not _ADDRESS.fullmatch(entry.address):
        findings.error(
            "film-address",
            f"“{entry.address}” is no address that a browser opens",
            sources.at(entry, "address"),
            mend="Write the whole address, as in “address: https://films.example/peg-box”.",
        )
    times: list[FilmTime] = []
    for step, text in entry.steps.items():
        where = sources.at(entry, "steps", step)
        found = _TIME.fullmatch(text)
        if found is None:
            findings.error(
                "film-time",
                f"“{text}” is no time in a film",
                where,
                "It is hours where there are any, minutes and seconds, with colons.",
                "Write 4:05, or 1:04:05.",
            )
            continue
        hours, minutes, seconds = (int(one or 0) for one in found.groups())
        times.append(FilmTime(step, (hours * 60 + minutes) * 60 + seconds, where))
    return None if len(findings.diagnostics) > before else Film(entry.address, tuple(times))
