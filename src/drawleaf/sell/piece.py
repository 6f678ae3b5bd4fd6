"""A compiled plan as its ``plan.json`` tells it, typed: what two revisions are compared by. Lengths are exact millimeters."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any, TypeVar

from drawleaf.book.output.data import SCHEMA_VERSION
from drawleaf.sell.mistakes import SellingError

Told = TypeVar("Told")
Triple = tuple[Fraction, Fraction, Fraction]
AXES = ("x", "y", "z")
SIDES = {"left": (0, -1), "right": (0, 1), "front": (1, -1), "back": (1, 1), "bottom": (2, -1), "top": (2, 1)}
"""Of each face the axis (0 to 2) and the side."""


class NotAPlanError(SellingError):
    """A file is no ``plan.json`` of ours; the text says why."""


@dataclass(frozen=True, slots=True)
class Hole:
    """A bore: the face it starts at, its place from the low corner of its part, its diameter and depth (None: right through)."""

    kind: str
    face: str
    at: Triple
    diameter: Fraction
    depth: Fraction | None


@dataclass(frozen=True, slots=True)
class Cut:
    """A channel, notch or recess: the face it is cut into, and its box from the low corner of its part."""

    kind: str
    into: str
    low: Triple
    high: Triple


@dataclass(frozen=True, slots=True)
class Piece:
    """One part. ``size`` is its body along x, y and z, ``sides`` its length, width and thickness; ``shaped`` are marks of other shapes."""

    id: str
    name: str
    item: int
    stock: str
    material: str
    form: str
    sides: Triple
    size: Triple
    low: Triple
    grain: str | None
    holes: tuple[Hole, ...]
    cuts: tuple[Cut, ...]
    shaped: Counter[tuple[str, str]]

    @property
    def center(self) -> Triple:
        """The middle of the part on the standing piece."""
        x, y, z = (low + side / 2 for low, side in zip(self.low, self.size, strict=True))
        return (x, y, z)


@dataclass(frozen=True, slots=True)
class Driven:
    """One fastener: what it is, and where its head sits on the standing piece."""

    item: str
    at: Triple
    length: Fraction | None
    through: str
    into: str


@dataclass(frozen=True, slots=True)
class JointFact:
    """One joint."""

    id: str
    family: str
    part: str
    into: str
    face: str
    glued: bool
    driven: tuple[Driven, ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting of a kind of work: a length in millimeters, a count or a flag, a word; what is none of these stays as it is written."""

    kind: str
    name: str
    value: Fraction | int | str

    def same_thing(self, other: Setting) -> bool:
        """Whether both set one thing of one kind of work."""
        return (self.kind, self.name) == (other.kind, other.name)


@dataclass(frozen=True, slots=True)
class StepFact:
    """One step: what is compared of it, and what tells from where on a change matters."""

    number: int
    id: str
    title: str
    parts: tuple[str, ...]
    tools: tuple[str, ...]
    cautions: tuple[str, ...]
    hardware: Mapping[str, int]
    joints: tuple[str, ...]
    settings: tuple[Setting, ...]


@dataclass(frozen=True, slots=True)
class Bought:
    """A row of hardware."""

    item: str
    name: str
    count: int
    packs: int


@dataclass(frozen=True, slots=True)
class Laid:
    """A sheet or board of the layouts with the items on it and where they lie."""

    kind: str
    number: int
    stock: str
    placed: tuple[tuple[str, Fraction, Fraction, Fraction, Fraction], ...]


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution of the steps."""

    id: str
    signal: str
    text: str


@dataclass(frozen=True, slots=True)
class Compiled:
    """All of one revision."""

    title: str
    number: str
    revision: str
    date: str
    author: str
    language: str
    units: str
    paper: str
    parts: tuple[Piece, ...]
    joints: tuple[JointFact, ...]
    steps: tuple[StepFact, ...]
    hardware: Mapping[str, Bought]
    laid: tuple[Laid, ...]
    boards: Counter[tuple[str, str, Fraction]]
    """How many sheets and boards to buy, by stock, name and length."""
    cautions: Mapping[str, Caution]
    stocks: Mapping[str, str] = field(default_factory=dict)
    """The names of stocks by their ids."""

    def first_step(self, part: str) -> StepFact | None:
        """The first step that works on a part."""
        return next((step for step in self.steps if part in step.parts), None)

    def first_with(self, item: str, parts: Sequence[str] = ()) -> StepFact | None:
        """The first step that uses a piece of hardware, on all of the parts where any are named."""
        using = [step for step in self.steps if item in step.hardware]
        return next((step for step in using if set(parts) <= set(step.parts)), using[0] if using else None)


def read_compiled(file: Path) -> Compiled:
    """The revision that a ``plan.json`` holds. Raises OSError where it cannot be read, NotAPlanError where it is none."""
    return compiled_from(file.read_bytes(), file.as_posix())


def compiled_from(text: str | bytes, name: str = "plan.json") -> Compiled:
    """The same from its text; ``name`` is for messages. Raises NotAPlanError where it is none."""
    return told_by(text, name, _compiled)


def told_by(text: str | bytes, name: str, read: Callable[[Any], Told]) -> Told:
    """What ``read`` makes of the data of a ``plan.json``; ``name`` is for messages. Raises NotAPlanError where it is none."""
    try:
        data = json.loads(text)
        if data["schema"] != SCHEMA_VERSION:
            raise NotAPlanError(f"{name} has layout {data['schema']}, and this drawleaf knows layout {SCHEMA_VERSION}")
        return read(data)
    except NotAPlanError:
        raise
    except KeyError as error:
        raise NotAPlanError(
            f"{name} has no {error}: it was made by an older drawleaf. Compile that revision anew"
        ) from None
    except (ValueError, TypeError, AttributeError, IndexError, ZeroDivisionError, RecursionError) as error:
        raise NotAPlanError(f"{name} is no plan.json of drawleaf: {error}") from None


def _compiled(data: Any) -> Compiled:
    plan = data["plan"]
    layouts = data["layouts"]
    screws: dict[str, list[Any]] = {}
    for joint in data["joints"]:
        for one in joint["driven"]:
            if one["clearance"] and one["shank"] is not None:
                screws.setdefault(one["through"], []).append(one)
    return Compiled(
        title=plan["title"],
        number=plan["number"],
        revision=plan["revision"],
        date=plan["date"],
        author=plan["author"],
        language=plan["language"],
        units=plan["units"],
        paper=plan["paper"],
        parts=tuple(_piece(part, screws.get(part["id"], [])) for part in data["parts"]),
        joints=tuple(_joint(joint) for joint in data["joints"]),
        steps=tuple(_step(step) for step in data["steps"]),
        hardware={
            row["item"]: Bought(row["item"], row["name"], row["count"], row["packs"]) for row in data["hardware"]
        },
        laid=(
            *(_laid("sheet", one) for one in layouts["sheets"]),
            *(_laid("board", one) for one in layouts["boards"]),
        ),
        stocks={one["id"]: one["name"] for one in data.get("stocks", [])},
        boards=Counter(
            (one["stock"], one[kind], _exact(one["length"]))
            for kind in ("sheet", "board")
            for one in layouts[f"{kind}s"]
        ),
        cautions={
            one["id"]: Caution(one["id"], one["signal"], " ".join([one["hazard"], *one["avoid"]]))
            for one in data["cautions"]
        },
    )


def _screw_hole(screw: Any, low: Triple) -> Hole:
    """The clearance hole of a screw in the part that it goes through, which is bored before the parts meet."""
    axis = max(range(3), key=lambda at: abs(screw["direction"][at]))
    side = -1 if screw["direction"][axis] > 0 else 1
    face = next(name for name, where in SIDES.items() if where == (axis, side))
    return Hole(
        "screw hole", face, _less(_triple([screw["at"][one] for one in AXES]), low), _exact(screw["shank"]), None
    )


def _piece(part: Any, screws: Sequence[Any]) -> Piece:
    low = _triple([part["body"][axis][0] for axis in AXES])
    high = _triple([part["body"][axis][1] for axis in AXES])
    return Piece(
        id=part["id"],
        name=part["name"],
        item=part["item"],
        stock=part["stock"],
        material=part["material"],
        form=part["form"],
        sides=_triple([part["length"], part["width"], part["thickness"]]),
        size=_less(high, low),
        low=low,
        grain=part["grain"],
        holes=(
            *(
                Hole(
                    one["kind"],
                    one["face"],
                    _less(_triple([one["at"][axis] for axis in AXES]), low),
                    _exact(one["diameter"]),
                    None if one["depth"] is None else _exact(one["depth"]),
                )
                for one in part["bores"]
            ),
            *(_screw_hole(one, low) for one in screws),
        ),
        cuts=tuple(
            Cut(
                one["kind"],
                one["into"],
                _less(_triple([one["body"][axis][0] for axis in AXES]), low),
                _less(_triple([one["body"][axis][1] for axis in AXES]), low),
            )
            for one in part["recesses"]
        ),
        shaped=Counter((one["kind"], one["mark"]) for one in part["shaped"]),
    )


def _joint(joint: Any) -> JointFact:
    driven = tuple(
        Driven(
            one["item"],
            _triple([one["at"][axis] for axis in AXES]),
            None if one["length"] is None else _exact(one["length"]),
            one["through"],
            one["into"],
        )
        for one in joint["driven"]
    )
    return JointFact(joint["id"], joint["family"], joint["part"], joint["into"], joint["face"], joint["glued"], driven)


def _step(step: Any) -> StepFact:
    settings = tuple(
        Setting(operation["kind"], one["name"], _setting_value(one["value"]))
        for operation in step["operations"]
        for one in operation["settings"]
    )
    return StepFact(
        number=step["number"],
        id=step["id"],
        title=step["title"],
        parts=tuple(dict.fromkeys([*step["parts"], *(part for one in step["operations"] for part in one["parts"])])),
        tools=tuple(step["tools"]),
        cautions=tuple(step["cautions"]),
        hardware={use["item"]: use["count"] for use in step["hardware"]},
        joints=tuple(dict.fromkeys(joint for one in step["operations"] for joint in one["joints"])),
        settings=settings,
    )


def _setting_value(value: Any) -> Fraction | int | str:
    if isinstance(value, dict) and "mm" in value:  # a slope or an angle is exact too, and no length
        return _exact(value)
    return value if isinstance(value, int | str) else json.dumps(value, sort_keys=True)


def _laid(kind: str, layout: Any) -> Laid:
    placed = tuple(
        (one["part"], _exact(one["x"]), _exact(one["y"]), _exact(one["length"]), _exact(one["width"]))
        for one in layout["placed"]
    )
    return Laid(kind, layout["number"], layout["stock"], placed)


def _exact(length: Any) -> Fraction:
    return Fraction(length["exact"])


def _triple(lengths: Sequence[Any]) -> Triple:
    x, y, z = (_exact(one) for one in lengths)
    return (x, y, z)


def _less(one: Triple, other: Triple) -> Triple:
    x, y, z = (a - b for a, b in zip(one, other, strict=True))
    return (x, y, z)
