"""``mirrored:`` an assembly that is the mirror image of one beside it, as a second door is of the first, written out.

Every part of the image stands where the faces of its model say, seen in the mirror, and every line that says a side or a place says
the one on the other side. What follows then knows no difference between an image and an assembly that was written.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.source.between import AXES
from drawleaf.source.flattening import flattened
from drawleaf.source.likeness_names import LINES, WORDS, names_parts, with_own_name
from drawleaf.source.models import AssemblyEntry, ComponentSource
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Path, Positions, Spot, steps_into
from drawleaf.source.syntax import Refusal, parse
from drawleaf.source.validate import fits
from drawleaf.source.weights import weight_of_faces

Entry = dict[str, Any]
_BY_FACE = ("stopped", "offset", "rows")
_OTHERWISE = (
    *(key for axis in AXES.values() for key in axis),
    "like",
    "between",
    "mirror",
    "lean",
    "pivot",
    "turn",
    "level_ends",
)
"""Keys of a part that its image says in another way, or not at all: the rest it has from the model."""
_OPPOSITE = {one: other for low, high, _ in AXES.values() for one, other in ((low, high), (high, low))}


def with_images(
    tree: Any, positions: Positions, file: str, components: Mapping[str, ComponentSource]
) -> tuple[Any, Positions, tuple[Diagnostic, ...]]:
    """The tree of a plan with its images written out, where its nodes stand, and what is wrong with them."""
    if not isinstance(tree, dict) or not _any_image(tree):
        return tree, positions, ()
    spots = dict(positions.spots.get(file, {}))
    found: list[Diagnostic] = []
    _inside(tree, (), spots, file, components, found)
    return tree, Positions({**positions.spots, file: spots}, positions.shifted), tuple(found)


def _any_image(holder: Entry) -> bool:
    held = holder.get("assemblies")
    inner = [one for one in held.values() if isinstance(one, dict)] if isinstance(held, dict) else []
    return any("mirrored" in one or _any_image(one) for one in inner)


def _inside(
    holder: Entry,
    path: Path,
    spots: dict[Path, Spot],
    file: str,
    components: Mapping[str, ComponentSource],
    found: list[Diagnostic],
) -> None:
    held = holder.get("assemblies")
    if not isinstance(held, dict):
        return
    for name, entry in list(held.items()):
        if not isinstance(entry, dict):
            continue
        at = (*path, "assemblies", name)
        if "mirrored" in entry:
            trouble, image, model = _trouble(entry, held), None, str(entry.get("like"))
            # A model with mistakes has them told where it is written.
            if trouble is None and fits(AssemblyEntry, held[model]):
                image = _Image(model, name, held[model], entry, components)
                trouble = image.trouble()
            if trouble:
                where = Positions({file: spots}).of(file, (*at, "mirrored"))
                found.append(Diagnostic("mirrored-what", trouble[0], where, trouble[1], trouble[2]))
            if trouble or image is None:
                held.pop(name)
                continue
            held[name] = image.entry()
            _place(held[name], at, (*path, "assemblies", model), (*at, "mirrored"), spots)
        _inside(held[name], at, spots, file, components, found)


def _trouble(entry: Entry, held: Entry) -> tuple[str, str, str] | None:
    """What stands in the way of an image: message, cause and mend."""
    plane, model = entry["mirrored"], held.get(str(entry.get("like")))
    if (
        not isinstance(plane, dict)
        or len(plane) != 1
        or not all(key in AXES and isinstance(plane[key], str) for key in plane)
    ):
        return "A mirror has exactly one axis", "", "Write “mirrored: {x: width / 2}”."
    if not isinstance(model, dict) or "mirrored" in model:
        known = [name for name, one in held.items() if isinstance(one, dict) and "mirrored" not in one]
        mend = did_you_mean(str(entry.get("like", "")), known, otherwise="Write “like:” and its name beside it.")
        return "Nothing says what is mirrored", "It is an assembly beside it that is written out.", mend
    if "assemblies" in model:
        mend = "Write the inner assemblies beside it, and an image of each."
        return f"“{entry['like']}” holds assemblies of its own", "They are not mirrored with it.", mend
    return None


def _place(value: Any, at: Path, model: Path, otherwise: Path, spots: dict[Path, Spot]) -> None:
    """Each value is told where its model is written, or where the mirror is."""
    if at not in spots:
        spots[at] = spots.get(model) or spots[otherwise]
    for step, inner in steps_into(value):
        _place(inner, (*at, step), (*model, step), otherwise, spots)


class _Image:
    """Makes the entry of an image. ``own`` is what the author wrote of it."""

    def __init__(
        self, model_name: str, name: str, model: Entry, own: Entry, components: Mapping[str, ComponentSource]
    ) -> None:
        self.model_name, self.name, self.own = model_name, name, own
        self.model = with_own_name(flattened(model, components), model_name, name)
        self.axis: str = next(iter(own["mirrored"]))
        self.low, self.high, _ = AXES[self.axis]
        at = model.get("at")
        self.origin: str | None = at.get(self.axis) if isinstance(at, dict) else None
        self.twice = f"2 * ({own['mirrored'][self.axis]})"
        parts = self.model.get("parts", {})
        names = "|".join(sorted((re.escape(one) for one in parts), key=len, reverse=True))
        self.inside = re.compile(rf"(?<![\w.])({names})(?=\.[a-z0-9])") if names else None

    def trouble(self) -> tuple[str, str, str] | None:
        """What no image can be made of: message, cause and mend."""
        around = next(
            (key for key, part in self.model.get("parts", {}).items() if isinstance(part.get("around"), dict)), None
        )
        if around is None:
            return None
        mend = "Leave “mirrored” out, and say where it stands with “at:”."
        return (
            f"“{around}” stands around an upright",
            "Its copies are numbered one way round, and cannot be mirrored.",
            mend,
        )

    def entry(self) -> Entry:
        """The image as an assembly like any other."""
        taken = {key: value for key, value in self.model.items() if key not in ("name", "parts", *LINES)}
        if isinstance(taken.get("at"), dict):  # along the axis its faces count from where those of its neighbours do
            taken["at"] = {axis: text for axis, text in taken["at"].items() if axis != self.axis}
        for key in ("dimensions", "counts"):
            if key in taken:
                taken[key] = self._changed(taken[key], key)
        parts = {key: self._part(key, part) for key, part in self.model.get("parts", {}).items()}
        lines = {key: self._changed(self.model.get(key, []), key) for key in LINES if key in self.model}
        image: Entry = {**taken, "parts": parts, **lines}
        for key, value in self.own.items():
            if key in LINES and isinstance(value, list):
                image[key] = [*image.get(key, []), *value]
            elif key == "parts" and isinstance(value, dict):
                image[key] = {**parts, **value}
            else:
                image[key] = value
        return image

    def _part(self, key: str, part: Entry) -> Entry:
        """A part by the faces of its model."""
        new = {word: self._changed(value, word) for word, value in part.items() if word not in _OTHERWISE}
        number = ".1" if isinstance(part.get("repeat"), dict) else ""  # or “no”, where it is like one that has copies
        twin = isinstance(part.get("mirror"), dict)
        first = f"{self.model_name}.{key}{number}" + (".original" if twin else "")
        for axis, (low, high, _) in AXES.items():
            fixed = axis in (part.get("thickness"), part.get("full_width"))
            near, far = f"{first}.{low}", f"{first}.{high}"
            if axis == self.axis:
                near, far = self._reflected(far), self._reflected(near)
            new[low] = near
            if not fixed:
                new[high] = far
            if twin and axis in part["mirror"]:
                middle = f"({first}.{low} + {self.model_name}.{key}{number}.mirrored.{high}) / 2"
                new["mirror"] = {axis: self._reflected(middle) if axis == self.axis else middle}
        # Then the top leans to the other side, and a turn about the upright stays as it is.
        upside_down = self.axis == "z"
        if "lean" in part:
            flip = _OPPOSITE if upside_down else {self.low: self.high, self.high: self.low}
            new["lean"] = {flip.get(face, face): self._sum(text) for face, text in part["lean"].items()}
        if "pivot" in part:
            new["pivot"] = self._changed(part["pivot"], "pivot")
        if "turn" in part:
            new["turn"] = self._sum(part["turn"]) if upside_down else f"-({self._sum(part['turn'])})"
        if "level_ends" in part:
            new["level_ends"] = {
                self._face(face): self._place(text) if face in (self.low, self.high) else self._sum(text)
                for face, text in part["level_ends"].items()
            }
        return new

    def _reflected(self, text: str) -> str:
        return f"{self.twice} - {text}" if re.fullmatch(r"[\w.]+", text) else f"{self.twice} - ({text})"

    def _place(self, text: str) -> str:
        """A place along the axis: the model counts it from its own zero, but for faces, which are where they are."""
        term = parse(text)
        share = 1 if self.origin is None or isinstance(term, Refusal) else weight_of_faces(term, (self.low, self.high))
        place = self._sum(text)
        return self._reflected(place if share == 1 else f"{place} + {1 - share} * ({self.origin})")

    def _sum(self, text: Any) -> Any:
        """An expression as the model has it: its parts are those of the model."""
        if not isinstance(text, str) or self.inside is None:
            return text
        return self.inside.sub(rf"{self.model_name}.\1", text)

    def _face(self, word: Any) -> Any:
        return _OPPOSITE[word] if word in (self.low, self.high) else word

    def _changed(self, value: Any, key: str) -> Any:
        """A value of a line, seen in the mirror."""
        if isinstance(value, dict):
            return self._mapping(value, key)
        if key == "edges" and isinstance(value, list):
            return ["-".join(self._face(word) for word in str(edge).split("-")) for edge in value]
        if isinstance(value, list):
            return [self._changed(inner, key) for inner in value]
        if not isinstance(value, str) or key in WORDS:
            return value
        if names_parts(value, key):
            return self._named(value)
        return self._face(value) if value in (self.low, self.high) else self._sum(value)

    def _mapping(self, value: Entry, key: str) -> Entry:
        new: Entry = {}
        for name, inner in value.items():
            if name == "on" and key == "hardware":  # there alone a part, though it may be called as a side is
                new[name] = [self._named(one) for one in inner] if isinstance(inner, list) else self._named(inner)
            else:
                new[name] = self._changed(inner, key if name == "another_way" else name)
        if key in _BY_FACE:
            return {self._face(face): inner for face, inner in new.items()}
        if key == "repeat" and value.get("along") == self.axis:
            return {word: _negative(inner) if word in ("spacing", "at") else inner for word, inner in new.items()}
        if key in ("at", "outline", "pivot") and isinstance(value.get(self.axis), str):
            new[self.axis] = self._place(value[self.axis])
        return new

    def _named(self, name: str) -> str:
        """A part by its name: what is not of the model has its twin on the other side."""
        first, *rest = name.split(".")
        if first == self.name or first in self.model.get("parts", {}):
            return name
        return ".".join([first, *({"original": "mirrored", "mirrored": "original"}.get(word, word) for word in rest)])


def _negative(value: Any) -> Any:
    if isinstance(value, list):
        return [_negative(inner) for inner in value]
    return f"-({value})" if isinstance(value, str) else value
