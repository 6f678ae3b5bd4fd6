"""What the author sets for the workshop checks: climate, loads, waivers, with the names in them looked up."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.model.checks import CheckSettings, Load, LoadKind, Waiver
from drawleaf.model.position import Position
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import TargetFinder
from drawleaf.source.models import ChecksEntry, LoadEntry, WaiverEntry
from drawleaf.source.names import did_you_mean
from drawleaf.units.measures import (
    AREA_LOAD,
    FORCE,
    LINE_LOAD,
    MASS,
    MASS_ON_AREA,
    MASS_ON_LENGTH,
    Fault,
    Kind,
    NotMeasured,
    convert,
    measured,
    value_of,
)

# Relative humidity over the year, driest and dampest, in percent. Which range a house has is common practice, no source.
CLIMATES = {"heated": (30.0, 60.0), "steady": (40.0, 55.0), "dry": (20.0, 40.0), "humid": (45.0, 70.0)}

_AWS = "Architectural Woodwork Standards, ed. 1 (2009), 1.2.21.2 (read in a reprint)"
_OWN = "common practice, no source"
NAMED_LOADS: dict[str, tuple[LoadKind, float, str]] = {
    "books": ("area", value_of("50 lbf/ft^2", AREA_LOAD), _AWS),
    "ordinary": ("area", value_of("40 lbf/ft^2", AREA_LOAD), _AWS),
    "display": ("area", value_of("20 lbf/ft^2", AREA_LOAD), _OWN),
    # A pair of boots weighs 2 kg and takes 20 x 30 cm, a third of this; the rest is for what gets put there instead.
    "shoes": ("area", value_of("20 lbf/ft^2", AREA_LOAD), _OWN),
    # A foot of long-playing records: about 70, at half a pound each.
    "records": ("line", value_of("35 lbf/ft", LINE_LOAD), _OWN),
    # What EN 14183 rates step stools for, from memory.
    "standing": ("sitting", value_of("150 kgf", FORCE), "one person of 150 kg, EN 14183 (from memory)"),
    "sitting": ("sitting", value_of("110 kgf", FORCE), "one person of 110 kg; " + _OWN),
    "lying": ("lying", value_of("110 kgf", FORCE), "one person of 110 kg on a mattress; " + _OWN),
}
# What a load may be written as; a mass stands for its weight.
_KINDS: dict[Kind, LoadKind] = {
    AREA_LOAD: "area",
    MASS_ON_AREA: "area",
    LINE_LOAD: "line",
    MASS_ON_LENGTH: "line",
    FORCE: "total",
    MASS: "total",
}
_MASSES = (MASS, MASS_ON_LENGTH, MASS_ON_AREA)
_EXAMPLES = "40 lb/ft2, 60 kg/m or 25 kg"


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
            figure = self._load_figure(entry.load, position)
            if figure is None:
                return None
            kind, value = figure
            source = "the author's figure"
        return Load(ids, kind, value, word, source, position) if ids else None

    def _load_figure(self, text: str, position: Position) -> tuple[LoadKind, float] | None:
        """The load that a figure with its unit says, in newtons, on a metre or a square metre where it is spread; None, and a finding,
        where it says none."""
        message, mend = f"“{text}” is no load", f"Write a figure with its unit: {_EXAMPLES}."
        try:
            kind, value = measured(text, *_KINDS)
            if value:
                return _KINDS[kind], float(convert(value, "kgf", "N") if kind in _MASSES else value)
            cause = "Nothing would stand there."
        except NotMeasured as error:
            match error.fault:
                case Fault.NO_FIGURE:
                    words = ", ".join(NAMED_LOADS)
                    otherwise = f"Write one of {words}, or a figure: {_EXAMPLES}."
                    cause, mend = "", did_you_mean(text.strip().lower(), NAMED_LOADS, otherwise=otherwise)
                case Fault.NO_UNIT:
                    cause = "It has no unit."
                case Fault.UNKNOWN_UNIT:
                    cause = f"There is no unit “{error.detail}”."
                case Fault.OTHER_KIND:
                    is_what = f"It is {error.detail}; a" if error.detail else "A"
                    cause = f"{is_what} load is a weight, in all or on each metre or square metre."
        self._findings.error("unknown-load", message, position, cause, mend)
        return None

    def _waiver(self, entry: WaiverEntry) -> Waiver | None:
        if not entry.reason.strip():
            self._findings.error(
                "waiver-without-reason",
                "A waiver gives its reason, which “check” prints",
                self._sources.at(entry, "reason"),
            )
            return None
        ids = self._ids(entry, entry.on)
        if entry.on and not ids:
            return None
        return Waiver(entry.check.strip(), ids, entry.reason.strip(), self._sources.at(entry, "check"))

    def _ids(self, entry: LoadEntry | WaiverEntry, names: str | Sequence[str]) -> tuple[str, ...]:
        """The parts that the names stand for; none where they are misspelt (reported) or left out of this edition."""
        listed = [names] if isinstance(names, str) else list(names)
        alone = isinstance(names, str)
        found = (
            self._targets.find(name, self._top, self._sources.at(entry, "on", *(() if alone else (index,))))
            for index, name in enumerate(listed)
        )
        kept = [target for target in found if target is not None and not target.left_out]
        return tuple(dict.fromkeys(one for target in kept for one in target.ids))
