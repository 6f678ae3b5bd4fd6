"""``repeat:`` an assembly that is made several times, written out: its copies as assemblies like it, each in its own place.

It is written out before all other short forms. A copy is then ``like`` the first, so that what is said of that is told and mended
there; what differs stands in lists under ``repeat``, an entry for each copy.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator
from dataclasses import dataclass, field
from typing import Any

from drawleaf.english import capitalized, counted
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.between import AXES
from drawleaf.source.copy_counts import Counting, names_of
from drawleaf.source.likeness_names import with_own_name
from drawleaf.source.models import AssemblyRepeat, At
from drawleaf.source.positions import Path, Positions, Spot, steps_into
from drawleaf.source.syntax import Refusal, parse
from drawleaf.source.validate import fits

Entry = dict[str, Any]
MOST = 200
PREVIOUS = "previous"
"""What the joints of a repeat call the copy before."""


def with_copies(tree: Entry, spots: dict[Path, Spot], file: str) -> tuple[Diagnostic, ...]:
    """Writes the copies of every assembly of a tree into it, and where they stand into ``spots``. What is wrong comes back.

    An assembly whose repeat says too little to make copies of keeps it and has none.
    """
    positions = Positions({file: spots})
    writer = _Writer(spots, positions, file, Counting(tree, positions, file))
    found = tuple(writer.inside(tree, (), frozenset()))
    writer.editions(tree)
    return found


@dataclass(frozen=True, slots=True)
class _Writer:
    spots: dict[Path, Spot]
    positions: Positions
    file: str
    counting: Counting
    rows: dict[tuple[str, ...], _Copies] = field(default_factory=dict)
    """The copies that were made, by the names that lead to the first."""

    def inside(self, holder: Entry, path: Path, hidden: frozenset[str]) -> Iterator[Diagnostic]:
        """Writes the copies inside an assembly or the plan. ``hidden`` are names that the assemblies around them define."""
        held = holder.get("assemblies")
        if not isinstance(held, dict):
            return
        path = (*path, "assemblies")
        whole: Entry = {}
        for name, entry in held.items():
            whole[name] = entry
            if not isinstance(entry, dict):
                continue
            yield from self.inside(entry, (*path, name), hidden | names_of(entry))
            repeat = entry.get("repeat")
            if not isinstance(repeat, dict) or not fits(AssemblyRepeat, repeat):
                continue  # what is no repeat is told with the other keys
            at = (*path, name, "repeat")

            def where(*inner: str | int, at: Path = at) -> Position:
                return self.positions.of(self.file, (*at, *inner))

            count = yield from self._counted(name, at, repeat, hidden)
            if count is None:
                continue
            copies = _Copies(str(name), entry, AssemblyRepeat.model_validate(repeat), held, count, where)
            if trouble := copies.trouble():
                yield trouble
            elif copies.is_written_well():
                whole.update(self._made(copies, path))
                self.rows[*map(str, path[1::2]), str(name)] = copies
        held.clear()
        held.update(whole)

    def _counted(
        self, name: str, at: Path, repeat: Entry, hidden: frozenset[str]
    ) -> Generator[Diagnostic, None, int | None]:
        """How many copies there are, with what is wrong about it: the same in every edition, for each has its name. None where that is not known."""
        places, text = repeat.get("at"), repeat.get("count")
        if not isinstance(text, str):
            return len(places) if isinstance(places, list) else 0
        count = self.counting.count(text, (*at, "count"), hidden)
        if isinstance(count, Diagnostic):
            yield count
        if not isinstance(count, int):
            return None
        for edition, counting, changed in self.counting.in_editions():
            there = counting.count(text, (*at, "count"), hidden)
            if isinstance(there, int) and there != count:
                message = f"The edition “{edition}” would have {there} of “{name}”, where the plan has {count}"
                cause = "An assembly's copies have their names in the plan, and an edition does not make more or fewer."
                mend = f"Repeat as many as any edition needs, and leave the last ones out of the others: “without: [{name}_{max(there, count, 2)}]”."
                yield Diagnostic("repeat-what", message, self.positions.of(self.file, changed), cause, mend)
        return count

    def editions(self, tree: Entry) -> None:
        """What an edition changes in the first copy it changes in all, but for what a list says of each and for copies that it names."""
        editions = tree.get("editions")
        for edition, entry in editions.items() if isinstance(editions, dict) else ():
            held = entry.get("assemblies") if isinstance(entry, dict) else None
            if not isinstance(held, dict):
                continue
            at = ("editions", edition, "assemblies")
            for name, change in list(held.items()):
                for copy, its_change in self._in_copies(str(name), change):
                    if copy not in held:
                        held[copy] = its_change
                        self._place(its_change, (*at, copy), (*at, name))

    def _in_copies(self, name: str, change: Any) -> Iterator[tuple[str, Any]]:
        """The change of an assembly as it is in the copies of it, and of what it stands in."""
        if not isinstance(change, dict):
            return
        row = self.rows.get(tuple(name.split(".")))
        if row is None and "." not in name:
            same = [path for path in self.rows if path[-1] == name]
            row = self.rows[same[0]] if len(same) == 1 else None
        if row is None:
            return
        dimensions = change.get("dimensions")
        if isinstance(dimensions, dict):
            listed = {one for key, one, _ in row.tables if key == "dimensions"}
            change = {**change, "dimensions": {one: text for one, text in dimensions.items() if one not in listed}}
        above = name.rpartition(".")[0]
        for number in range(1, row.count):
            called = row.called(number)
            yield f"{above}.{called}" if above else called, with_own_name(change, row.name, called)

    def _made(self, copies: _Copies, path: Path) -> Entry:
        """All copies by their names, the first as it was written but for what the repeat says of it."""
        first = (*path, copies.name)
        said = [list(copies.says(number)) for number in range(copies.count)]
        made: Entry = {copies.name: copies.entry}
        for number, says in enumerate(said):
            name = copies.called(number)
            entry = made.setdefault(name, {})
            self._place({}, (*path, name), (*first, *(("repeat",) if number else ())))
            for at, value, origin in says:
                inner = entry
                for step in at[:-1]:
                    inner = inner.setdefault(step, {})
                    self._place({}, (*path, name, step), (*first, *origin))
                inner[at[-1]] = value
                self._place(value, (*path, name, *at), (*first, *origin))
        return made

    def _place(self, value: Any, at: Path, origin: Path) -> None:
        """A value stands where it was written; what is worked out, where that stands which it is worked out of."""
        while origin not in self.spots and origin:
            origin = origin[:-1]
        if spot := self.spots.get(origin):
            self.spots[at] = spot
        for step, inner in steps_into(value):
            self._place(inner, (*at, step), (*origin, step))


@dataclass(frozen=True, slots=True)
class _Copies:
    """What the copies of an assembly are. ``held`` are the assemblies beside it, as they are written; ``count`` is how many there are, the
    first among them; ``where`` gives the place of what stands under its repeat."""

    name: str
    entry: Entry
    repeat: AssemblyRepeat
    held: Entry
    count: int
    where: Callable[..., Position]

    @property
    def tables(self) -> Iterator[tuple[str, str, list[str]]]:
        """What differs from copy to copy: under which key of the assembly, its name, and what it is in each."""
        for key, table in (("with", self.repeat.with_), ("dimensions", self.repeat.dimensions)):
            yield from ((key, name, values) for name, values in table.items())

    def called(self, number: int) -> str:
        """A copy's name in the source: the first has that of the assembly. ``number`` counts from 0."""
        return f"{self.name}_{number + 1}" if number else self.name

    def says(self, number: int) -> Iterator[tuple[Path, Any, Path]]:
        """What a copy says for itself: under which keys, what, and where that was written, from the assembly."""
        if number:
            yield ("like",), self.name, ("repeat",)
        if self.repeat.names is not None:
            yield ("name",), self.repeat.names[number], ("repeat", "names", number)
        elif self.count > 1:
            named = self.entry.get("name") or capitalized(self.name.replace("_", " "))
            yield ("name",), f"{named} {number + 1}", ("name",)
        if moved := self._moved(number):
            yield ("at", self.repeat.along), *moved
        for key, name, values in self.tables:
            yield (key, name), values[number], ("repeat", key, name, number)
        if number and self.repeat.joints:
            lines = with_own_name(self.entry["repeat"]["joints"], PREVIOUS, self.called(number - 1))
            yield ("joints",), lines, ("repeat", "joints")

    def _moved(self, number: int) -> tuple[str, Path] | None:
        """Where the copy stands along the axis, from where the assembly says; None where it stands there."""
        if self.repeat.at is not None:
            offset, origin = f"({self.repeat.at[number]})", ("repeat", "at", number)
        else:
            offset, origin = f"{number} * ({self.repeat.spacing})", ("repeat", "spacing")
        if offset == "(0)" or (self.repeat.at is None and not number):
            offset = ""
        at = self.entry.get("at") or {}
        base = at.get(self.repeat.along)
        if base is None and "middle_of" in at:
            low, high, _ = AXES[self.repeat.along]
            base = f"({at['middle_of']}.{low} + {at['middle_of']}.{high}) / 2"
        if base is None:
            return (offset or "0", origin) if number else None
        return (f"({base}) + {offset}" if offset else base, origin) if offset or number else None

    def is_written_well(self) -> bool:
        """Whether what copies are made of can be read: what cannot is told with all else, and once."""
        at = self.entry.get("at")
        sums = [*(self.repeat.at or ()), *([self.repeat.spacing] if self.repeat.spacing is not None else ())]
        return (
            isinstance(self.entry.get("name", ""), str)
            and all(isinstance(self.entry.get(key, {}), dict) for key in ("with", "dimensions"))
            and (at is None or fits(At, at))
            and not any(isinstance(parse(text), Refusal) for text in (*sums, *(at or {}).values()))
        )

    def trouble(self) -> Diagnostic | None:
        """What stands in the way of copies: all that can be told before any sum is worked out."""
        count, spacing = self.repeat.count, self.repeat.spacing
        if self.repeat.at is not None and (count is not None or spacing is not None):
            message = "A repeat has either “at” or “count” and “spacing”"
            return Diagnostic("repeat-two-ways", message, self.where(), "", "Leave one of the two out.")
        if self.repeat.at is None and (count is None or spacing is None):
            message = "A repeat needs to know how many copies and how far apart"
            mend = "Write “repeat: {along: x, count: 3, spacing: 24}”, or “at: [0, 24, 50]”."
            return Diagnostic("repeat-incomplete", message, self.where(), "", mend)
        if not 1 <= self.count <= MOST:
            message = f"“{self.name}” is repeated {self.count:,} times; 1 to {MOST} make sense"
            return Diagnostic("copies-out-of-range", message, self.where(), "", "Check the count.")
        if "mirrored" in self.entry:
            message = f"“{self.name}” is a mirror image and repeated as well"
            cause = "A row of images could be taken for the image of a row."
            mend = "Write its copies out, each with “like” and “mirrored”."
            return Diagnostic("repeat-what", message, self.where(), cause, mend)
        return self._uneven() or self._taken()

    def _uneven(self) -> Diagnostic | None:
        """The first list that has not one entry for each copy."""
        lists: list[tuple[Path, list[str]]] = [(("names",), self.repeat.names)] if self.repeat.names is not None else []
        lists += [((key, name), values) for key, name, values in self.tables]
        for at, values in lists:
            if len(values) != self.count:
                entries, copies = counted(len(values), "entry", "entries"), counted(self.count, "copy", "copies")
                message = f"“{at[-1]}” has {entries} for {copies}"
                cause = "It says in their order what each copy has; the first is the assembly itself."
                mend = "Write one entry for each, or leave the list out."
                return Diagnostic("repeat-what", message, self.where(*at), cause, mend)
        return None

    def _taken(self) -> Diagnostic | None:
        """A copy that would have the name of an assembly beside it."""
        taken = next((name for number in range(1, self.count) if (name := self.called(number)) in self.held), None)
        if taken is None:
            return None
        message = f"A copy of “{self.name}” would be called “{taken}”, as the assembly beside it is"
        cause = f"Copies are called {self.called(1)}, {self.called(2)} and so on."
        mend = f"Give “{taken}” another name, or repeat fewer."
        return Diagnostic("repeat-what", message, self.where(), cause, mend)
