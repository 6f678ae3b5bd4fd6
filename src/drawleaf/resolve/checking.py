"""What the author sets for the workshop checks: climate, loads, waivers, with the names in them looked up."""

from __future__ import annotations

import re
from collections.abc import Sequence

from drawleaf.model.checks import CheckSettings, Load, LoadKind, Waiver
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import TargetFinder
from drawleaf.source.models import ChecksEntry, LoadEntry, WaiverEntry
from drawleaf.source.names import did_you_mean

POUND_FORCE = 4.4482216152605  # N, NIST SP 811 appendix B
FOOT = 0.3048
GRAVITY = 9.80665

# Relative humidity over the year, driest and dampest, in percent. Which range a house has is common practice, no source.
CLIMATES = {"heated": (30.0, 60.0), "steady": (40.0, 55.0), "dry": (20.0, 40.0), "humid": (45.0, 70.0)}

_AWS = "Architectural Woodwork Standards, ed. 1 (2009), 1.2.21.2 (read in a reprint)"
_OWN = "common practice, no source"
NAMED_LOADS: dict[str, tuple[LoadKind, float, str]] = {
    "books": ("area", 50 * POUND_FORCE / FOOT**2, _AWS),
    "ordinary": ("area", 40 * POUND_FORCE / FOOT**2, _AWS),
    "display": ("area", 20 * POUND_FORCE / FOOT**2, _OWN),
    # A pair of boots weighs 2 kg and takes 20 x 30 cm, a third of this; the rest is for what gets put there instead.
    "shoes": ("area", 20 * POUND_FORCE / FOOT**2, _OWN),
    # A foot of long-playing records: about 70, at half a pound each.
    "records": ("line", 35 * POUND_FORCE / FOOT, _OWN),
    "sitting": ("sitting", 110 * GRAVITY, "one person of 110 kg; " + _OWN),
}
_UNITS: dict[str, tuple[LoadKind, float]] = {
    "lb/ft2": ("area", POUND_FORCE / FOOT**2),
    "kg/m2": ("area", GRAVITY),
    "lb/ft": ("line", POUND_FORCE / FOOT),
    "kg/m": ("line", GRAVITY),
    "lb": ("total", POUND_FORCE),
    "kg": ("total", GRAVITY),
}
_FIGURE = re.compile(r"(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>[a-z]+(?:/[a-z]+2?)?)")


class CheckReader:
    """Reads ``checks:``; part names in it are seen from the top level."""

    def __init__(self, targets: TargetFinder, top: Scope, sources: Sources, findings: Findings) -> None:
        self._targets = targets
        self._top = top
        self._sources = sources
        self._findings = findings

    def read(self, entry: ChecksEntry) -> CheckSettings:
        loads = [load for one in entry.loads if (load := self._load(one)) is not None]
        waivers = [waiver for one in entry.waive if (waiver := self._waiver(one)) is not None]
        return CheckSettings(entry.climate, self._humidity(entry), tuple(loads), tuple(waivers))

    def _humidity(self, entry: ChecksEntry) -> tuple[float, float]:
        usual = CLIMATES[entry.climate]
        if entry.humidity is None:
            return usual
        try:
            low, high = (float(text.strip().removesuffix("%")) for text in entry.humidity)
        except ValueError:
            low, high = 1.0, 0.0
        if 5 <= low <= high <= 90:
            return low, high
        self._findings.error(
            "humidity",
            "“humidity” is the driest and the dampest relative humidity of the year, in percent, between 5 and 90",
            self._sources.at(entry, "humidity"),
            mend="Write “humidity: [30, 60]”.",
        )
        return usual

    def _load(self, entry: LoadEntry) -> Load | None:
        position = self._sources.at(entry, "load")
        ids = self._ids(entry, entry.on)
        word = entry.load.strip().lower()
        if word in NAMED_LOADS:
            kind, value, source = NAMED_LOADS[word]
        else:
            figure = _FIGURE.fullmatch(word)
            if figure is None or figure["unit"] not in _UNITS or not float(figure["number"]):
                words = ", ".join(NAMED_LOADS)
                self._findings.error(
                    "unknown-load",
                    f"“{entry.load}” is no load",
                    position,
                    mend=did_you_mean(
                        word, NAMED_LOADS, otherwise=f"Write one of {words}, or a figure: 40 lb/ft2, 60 kg/m, 25 kg."
                    ),
                )
                return None
            kind, factor = _UNITS[figure["unit"]]
            value, source = float(figure["number"]) * factor, "the author's figure"
        return Load(ids, kind, value, word, source, position) if ids else None

    def _waiver(self, entry: WaiverEntry) -> Waiver | None:
        if not entry.reason.strip():
            self._findings.error(
                "waiver-without-reason",
                "A waiver gives its reason, which the booklet prints",
                self._sources.at(entry, "reason"),
            )
            return None
        ids = self._ids(entry, entry.on)
        if entry.on and not ids:
            return None
        return Waiver(entry.check.strip(), ids, entry.reason.strip(), self._sources.at(entry, "check"))

    def _ids(self, entry: LoadEntry | WaiverEntry, names: str | Sequence[str]) -> tuple[str, ...]:
        """The parts that the names stand for; none where they are misspelt (told) or left out of this edition."""
        listed = [names] if isinstance(names, str) else list(names)
        alone = isinstance(names, str)
        found = (
            self._targets.find(name, self._top, self._sources.at(entry, "on", *(() if alone else (index,))))
            for index, name in enumerate(listed)
        )
        kept = [target for target in found if target is not None and not target.left_out]
        return tuple(dict.fromkeys(one for target in kept for one in target.ids))
