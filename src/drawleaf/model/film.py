"""The film of the build: its address, and from when on each step is shown."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.position import Position

TIME = "{seconds}"
"""What stands in an address for the time."""


@dataclass(frozen=True, slots=True)
class FilmTime:
    """A step by its name, from when on it is shown, in seconds, and where the source says so."""

    step: str
    seconds: int
    position: Position

    @property
    def text(self) -> str:
        """``4:05``, ``1:04:05``."""
        minutes, seconds = divmod(self.seconds, 60)
        hours, minutes = divmod(minutes, 60)
        return f"{hours}:{minutes:02}:{seconds:02}" if hours else f"{minutes}:{seconds:02}"


@dataclass(frozen=True, slots=True)
class Film:
    """The whole film."""

    address: str
    times: tuple[FilmTime, ...]

    def at(self, time: FilmTime) -> str:
        """The address of that moment: in the place that the author left for it, else as a fragment (W3C Media Fragments URI 1.0, 4.2.1)."""
        if TIME in self.address:
            return self.address.replace(TIME, str(time.seconds))
        return f"{self.address}#t={time.seconds}"
