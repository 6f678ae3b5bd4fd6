"""Helps at a step: what is clamped, set between or laid across before the parts come, and taken off again."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.derive.shop.clamps import stays_clamped
from drawleaf.english import listed, plural
from drawleaf.model.helps import Help, HelpKind
from drawleaf.model.plan import Part
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class SetHelp:
    """Helps that one sentence tells. ``hosts`` are what they are set on or between; ``subject`` what comes up to them, with its ``side``;
    ``hosts_side`` the side of the hosts that they lie on or across; ``edge`` where their edge is: ``6 in from the bottom end``."""

    hosts: Markup
    subject: Markup
    side: str
    hosts_side: str
    edge: Markup
    several: bool
    flush: bool
    size: Markup
    note: str
    name: str
    row: bool = False
    late: bool = False
    plural: bool = False
    """Whether several subjects come up to it."""


class HelpWords(Speech):
    """Phrases for helps."""

    def helps_set(self, kind: str) -> list[SetHelp]:
        """The step's helps of a kind, those together that differ in nothing but their distances."""
        groups: dict[Hashable, list[Help]] = {}
        for one in self.step.helps:
            if one.kind is HelpKind(kind):
                groups.setdefault(self._helped_alike(one), []).append(one)
        return [self._set_help(group) for group in groups.values()]

    def helps_off(self) -> str:
        """``the fence and the spacers``: what is taken off again; empty where nothing is."""
        counts: dict[str, int] = {}
        for one in self.step.helps:
            if one.kind is not HelpKind.JIG:
                counts[one.name] = counts.get(one.name, 0) + len(one.places)
        return listed([f"the {plural(name) if count > 1 else name}" for name, count in counts.items()])

    @property
    def helps_stay(self) -> bool:
        """Whether they stay on as long as the clamps of a glued joint."""
        return any(stays_clamped(operation) for operation in self.step.operations)

    def _helped_alike(self, one: Help) -> Hashable:
        hosts = tuple(place.part for place in one.places)
        ends = tuple(place.from_end[0] if place.from_end else None for place in one.places)
        row = self._help_row(one.subject) if one.subject and not one.flush else None
        between = one.kind is HelpKind.SPACER
        return (
            one.kind,
            one.size,
            one.exact,
            one.face,
            one.flush,
            one.note,
            row,
            () if between else hosts,
            ends,
            one.name,
            one.late,
        )

    def _help_part(self, subject: str) -> Part | None:
        """The part of that id; None where hardware comes up to the help, or nothing."""
        return next((part for part in self.plan.parts if part.id == subject), None)

    def _help_row(self, subject: str) -> int | str:
        part = self._help_part(subject)
        return subject if part is None else self.derived.cut_list.item_of(part.id).number

    def _set_help(self, group: Sequence[Help]) -> SetHelp:
        first = group[0]
        spaced = first.kind in (HelpKind.SPACER, HelpKind.BATTEN)
        hosts = [part for one in group for part in (one.parts if spaced else (place.part for place in one.places))]
        several = len({place.part for one in group for place in one.places}) > 1
        return SetHelp(
            hosts=self.the_parts([part for part in hosts if part]) if any(hosts) else Markup(""),
            subject=self._help_subject([one.subject for one in group if one.subject]),
            side=self._help_side(first),
            hosts_side=self._help_hosts_side(first),
            edge=self._help_edge(group),
            several=several,
            flush=first.flush,
            size=self._help_size(first),
            note=first.note,
            name=first.name,
            row=len(group) > 1,
            late=first.late,
            plural=len({one.subject for one in group}) > 1,
        )

    def _help_subject(self, ids: Sequence[str]) -> Markup:
        """What comes up to the help: parts by their balloons, hardware by its name."""
        parts = [one for one in dict.fromkeys(ids) if self._help_part(one)]
        if parts:
            return self.the_parts(parts)
        items = dict.fromkeys(fitting.item.name for fitting in self.plan.fittings if fitting.id in ids)
        return Markup("the {}").format(listed(list(items))) if items else Markup("")

    def _help_side(self, one: Help) -> str:
        """The side of its subject that comes up to it."""
        if one.face is None:
            return ""
        part = self._help_part(one.subject)
        return one.face.value if part is None else str(self.side(part, one.face))

    def _help_hosts_side(self, one: Help) -> str:
        """``front edges``: the side of what it lies across; the kind of side alone where they differ."""
        ids = one.parts if one.kind is HelpKind.BATTEN else tuple(place.part for place in one.places)
        if one.face is None or not any(ids):
            return ""
        sides = list(dict.fromkeys(str(self.side(self.plan.part(part), one.face)) for part in ids if part))
        word = sides[0] if len(sides) == 1 else f"{one.face.value} side"
        return plural(word) if len(set(ids)) > 1 else word

    def _help_edge(self, group: Sequence[Help]) -> Markup:
        """``6 in from the bottom end``, ``6 in and 12 in from the bottom end``; empty where it is in the middle or level."""
        place = group[0].places[0] if group[0].places else None
        if place is None or place.from_end is None:
            return Markup("")
        near = [one.places[0].from_end for one in group]
        distances = sorted({end[1] for end in near if end is not None})
        side = self.side(self.plan.part(place.part), place.from_end[0])
        return Markup("{} from the {}").format(self.distances(distances), side)

    def _help_size(self, one: Help) -> Markup:
        """``10 in long``; of a spacer what must be exact: ``exactly 3/4 in thick``."""
        if one.size is None:
            return Markup("")
        if one.exact is None:
            return Markup("{} long").format(self.fmt.length(one.size[0]))
        return Markup("exactly {} {}").format(self.fmt.length(one.exact), _measure_word(one.size, one.exact))


def _measure_word(size: tuple[Length, Length, Length], exact: Length) -> str:
    """Which of its three sizes a figure is: ``long``, ``wide`` or ``thick``."""
    return "long" if exact == size[0] else "thick" if exact == size[2] else "wide"
