"""Short forms, written out: above all ``like:``, a part or an assembly that takes what another says, and says what is different.

It is written out in the tree before that is checked, so that all that follows sees whole entries. What was taken keeps the place
where it is written: a mistake in it is told there.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from drawleaf.english import listed
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.between import AXES, axes_between, between_taken, with_faces_between, with_room_between
from drawleaf.source.copies import with_copies
from drawleaf.source.following import with_what_follows
from drawleaf.source.likeness_names import LINES, with_own_name
from drawleaf.source.middles import with_middles
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Path, Positions, Spot, steps_into

Entry = dict[str, Any]
MOST_TAKEN = 20_000
"""Entries that a file may take over; a plan of a hundred parts takes over a few hundred."""

_OWN = ("name", "like")
_ASSEMBLY_OWN = (*_OWN, "repeat")
_BY_KEY = ("at", "with", "dimensions", "counts", "between")


def written_out(tree: Any, positions: Positions, file: str) -> tuple[Any, Positions, tuple[Diagnostic, ...]]:
    """The tree of a plan or a component with every ``like:`` written out, where its nodes stand, and what is wrong with them.

    An entry that cannot be like what it names is left out, so that one mistake is told once.
    """
    if not isinstance(tree, dict):
        return tree, positions, ()
    writer = _Writer(file, dict(positions.spots.get(file, {})))
    writer.found += with_copies(tree, writer.spots, file)
    try:
        writer.parts(tree, ())
        writer.assemblies(tree, ())
        for key in ("assemblies", "machining", "hardware", "editions"):
            with_middles(tree.get(key), (key,), writer.spots)
    except _TooMuchError:
        where = positions.of(file, ())
        message = f"“like:” makes more than {MOST_TAKEN:,} entries of this file"
        found = Diagnostic("file-too-large", message, where, "", "Nest fewer assemblies that are like others.")
        return None, positions, (*writer.found, found)
    return tree, Positions({**positions.spots, file: writer.spots}, positions.shifted), tuple(writer.found)


class _TooMuchError(Exception):
    """Likenesses of likenesses have grown past all reason."""


@dataclass(slots=True)
class _Writer:
    """Writes entries out in place, and their spots with them."""

    file: str
    spots: dict[Path, Spot]
    found: list[Diagnostic] = field(default_factory=list)
    taken: int = 0

    def parts(self, holder: Entry, path: Path) -> None:
        """The parts of one assembly, each like another of them, and then what stands between others and what follows."""
        self._beside(holder, (*path, "parts"), "part", self._part)
        held = _entries(holder.get("parts"))
        for name, entry in held.items():
            found = with_faces_between(entry, (*path, "parts", name), held, self.spots, self.file)
            self.found += [] if found is None else [found]
            with_what_follows(entry, (*path, "parts", name), held, self.spots)

    def assemblies(self, holder: Entry, path: Path) -> None:
        """Assemblies beside each other, and then all that is in them."""
        path = (*path, "assemblies")
        self._beside(holder, path, "assembly", self._assembly)
        for name, entry in _entries(holder.get("assemblies")).items():
            found = with_room_between(entry, (*path, name), self.spots, self.file)
            self.found += [] if found is None else [found]
            self.parts(entry, (*path, name))
            self.assemblies(entry, (*path, name))

    def _beside(self, holder: Entry, path: Path, sort: str, write: Callable[[Entry, Path, str], None]) -> None:
        held = holder.get(str(path[-1]))
        if not isinstance(held, dict):
            return
        done: set[str] = set()
        for name in list(held):
            self._one(held, path, name, (), done, sort, write)

    def _one(
        self,
        held: Entry,
        path: Path,
        name: str,
        above: tuple[str, ...],
        done: set[str],
        sort: str,
        write: Callable[[Entry, Path, str], None],
    ) -> None:
        """One entry, after the one that it is like."""
        entry = held.get(name)
        model = entry.get("like") if isinstance(entry, dict) else None
        if name in done or not isinstance(model, str):
            return
        done.add(name)
        above = (*above, name)
        if model in above:
            ring = above[above.index(model) :]
            self._tell_ring(path, name, ring, sort)
        elif not isinstance(held.get(model), dict):
            self._tell_unknown(held, path, name, model, sort)
        else:
            self._one(held, path, model, above, done, sort, write)
            if model in held:  # else its own mistake is told
                write(held, path, name)
                return
        held.pop(name, None)

    def _tell_ring(self, path: Path, name: str, ring: tuple[str, ...], sort: str) -> None:
        round_it = " is like ".join(f"“{one}”" for one in (*ring, ring[0]))
        where = self._position((*path, name, "like"))
        mend = f"Write one {sort} out, and let the others be like it."
        self.found.append(Diagnostic("like-ring", f"{round_it}: nothing says what they are", where, "", mend))

    def _tell_unknown(self, held: Entry, path: Path, name: str, model: str, sort: str) -> None:
        known = [one for one in held if one != name]
        others = f"There are {listed([f'“{one}”' for one in known])}." if known else "Write its keys out."
        home = "of the same assembly" if sort == "part" else "beside it"
        self.found.append(
            Diagnostic(
                "unknown-like",
                f"there is no {sort} “{model}” {home}",
                self._position((*path, name, "like")),
                "A part is like another of its own assembly, an assembly like one that stands beside it."
                if known
                else "",
                did_you_mean(model, known, otherwise=others),
            )
        )

    def _position(self, path: Path) -> Position:
        return Positions({self.file: self.spots}).of(self.file, path)

    # What is taken over

    def _part(self, held: Entry, path: Path, name: str) -> None:
        own = held[name]
        model = str(own["like"])
        held[name] = self._like_part(own, (*path, name), held[model], (*path, model), held, {*_OWN})

    def _like_part(self, own: Entry, at: Path, model: Entry, model_at: Path, held: Entry, untaken: set[str]) -> Entry:
        """A part's own keys over those of its model, by axis where both stand between others. What follows of the model is taken too."""
        with_what_follows(model, model_at, held, self.spots)
        whole = self._with_taken(own, at, model, model_at, untaken | _other_faces(own, model, held))
        between = between_taken(own, model)
        if between is not None:
            whole["between"] = between
            for axis in between:
                origin = at if isinstance(own.get("between"), dict) and axis in own["between"] else model_at
                self._set_spots((*at, "between", axis), self._spots_of(between[axis], (*origin, "between", axis)))
        return whole

    def _with_taken(self, own: Entry, at: Path, model: Entry, model_at: Path, untaken: set[str]) -> Entry:
        """The model's keys and values, but for those that are not taken, with the entry's own over them."""
        taken = {key: value for key, value in model.items() if key not in own and key not in untaken}
        for key, value in taken.items():
            self._set_spots((*at, key), self._spots_of(value, (*model_at, key)))
        copied = {key: _copied(value) for key, value in taken.items()}
        return {**{key: copied.get(key, own.get(key)) for key in model if key in copied or key in own}, **own}

    def _assembly(self, held: Entry, path: Path, name: str) -> None:
        own = held[name]
        if "mirrored" in own:  # what is seen in a mirror is written out later, when its model is whole
            return
        model_name = str(own["like"])
        model = with_own_name(held[model_name], model_name, name)
        held[name] = self._assembly_over(own, (*path, name), model, (*path, model_name), set(_ASSEMBLY_OWN))

    def _assembly_over(self, own: Entry, at: Path, model: Entry, model_at: Path, untaken: set[str]) -> Entry:
        """An assembly's own keys over those of its model: by key, by the names of parts and of lines."""
        whole = self._with_taken(own, at, model, model_at, untaken)
        for key in ("parts", "assemblies"):
            theirs, ours = model.get(key), own.get(key)
            if isinstance(theirs, dict) and isinstance(ours, dict):
                whole[key] = self._by_name(key, ours, (*at, key), theirs, (*model_at, key))
        for key in _BY_KEY:
            theirs, ours = model.get(key), own.get(key)
            if isinstance(theirs, dict) and isinstance(ours, dict):
                whole[key] = self._with_taken(ours, (*at, key), theirs, (*model_at, key), set())
        for key in LINES:
            theirs, ours = model.get(key), own.get(key)
            if isinstance(theirs, list) and isinstance(ours, list):
                whole[key] = self._lines(ours, (*at, key), theirs, (*model_at, key))
        return whole

    def _by_name(self, key: str, own: Entry, at: Path, model: Entry, model_at: Path) -> Entry:
        """Parts or assemblies: those of the model, each with what is said of it here, and further ones."""
        both = {name for name in own if isinstance(own[name], dict) and isinstance(model.get(name), dict)}
        whole = self._with_taken(own, at, model, model_at, set())
        for name in (name for name in both if "like" not in own[name]):
            theirs, ours = model[name], own[name]
            places = (*at, name), (*model_at, name)
            if key == "parts":
                whole[name] = self._like_part(ours, places[0], theirs, places[1], model, set())
            else:
                whole[name] = self._assembly_over(ours, places[0], theirs, places[1], set())
        return whole

    def _lines(self, own: list[Any], at: Path, model: list[Any], model_at: Path) -> list[Any]:
        """The model's lines, then the own ones; a name that is there already stands in the place of the line that has it."""
        names = {_name(line): index for index, line in enumerate(own) if _name(line)}
        mine = [(line, self._spots_of(line, (*at, index))) for index, line in enumerate(own)]
        theirs = [(_copied(line), self._spots_of(line, (*model_at, index))) for index, line in enumerate(model)]
        used: set[int] = set()
        lines: list[tuple[Any, dict[Path, Spot]]] = []
        for line, spots in theirs:
            other = names.get(_name(line))
            lines.append((line, spots) if other is None else mine[other])
            used |= set() if other is None else {other}
        lines += [one for index, one in enumerate(mine) if index not in used]
        for index, (_, spots) in enumerate(lines):
            self._set_spots((*at, index), spots)
        return [line for line, _ in lines]

    def _set_spots(self, at: Path, spots: dict[Path, Spot]) -> None:
        """Puts the places of a value and of all in it, by their paths from it, under where it stands now."""
        self.spots.update({(*at, *inner): spot for inner, spot in spots.items()})

    def _spots_of(self, value: Any, origin: Path) -> dict[Path, Spot]:
        """The places of a value and of all in it, by their paths from it."""
        self.taken += 1
        if self.taken > MOST_TAKEN:
            raise _TooMuchError
        spots: dict[Path, Spot] = {(): self.spots[origin]} if origin in self.spots else {}
        for step, inner in steps_into(value):
            spots.update({(step, *below): spot for below, spot in self._spots_of(inner, (*origin, step)).items()})
        return spots


def _other_faces(own: Entry, model: Entry, held: Entry) -> set[str]:
    """A face or size takes the place of the same one. One that the model does not give takes the place of all on its axis."""
    ours, theirs = axes_between(own, held), axes_between(model, held)
    twins = isinstance(model.get("between"), str)
    left: set[str] = set()
    for axis in AXES.values():
        known = {*model, *(axis[:2] if axis in theirs else ())}
        if axis in ours or {key for key in axis if key in own} - known:
            left |= {*axis, *(("between",) if twins and axis in theirs else ())}
    return left


def _entries(held: Any) -> Entry:
    return {name: entry for name, entry in held.items() if isinstance(entry, dict)} if isinstance(held, dict) else {}


def _name(line: Any) -> str | None:
    name = line.get("name") if isinstance(line, dict) else None
    return name if isinstance(name, str) else None


def _copied(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _copied(inner) for key, inner in value.items()}
    return [_copied(inner) for inner in value] if isinstance(value, list) else value
