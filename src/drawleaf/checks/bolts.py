"""Bolts that carry what people sit or lie on: a bed's rails, loaded across the bolts that hold their ends to the posts."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import WEIGHT_OF_KG, Bench, called, figures, judged, result, sentence
from drawleaf.checks.load_path import LoadPath
from drawleaf.checks.shear import INCH, yield_loads
from drawleaf.english import lower_first
from drawleaf.model.checks import CheckResult, Load, Quantity
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fitting, Part
from drawleaf.units.measures import convert

SOURCE = "NDS-2018 12.3.1 for bolts in single shear, with the end-grain factor 0.67 of 12.5.2.2 (from memory); that a bolt drawn tight also holds by friction is left out"
END_GRAIN = 0.67
SHARES = {"lying": 0.5}
"""Of a person's weight at one end of one rail: who lies on a bed, or sits on its long edge, bears on both ends. Common practice, no source."""
MOST = 2.0
"""Beyond so many times the design value it stops: design values are under half of what breaks."""
CROSS = 1.25
"""The K of a load across the grain, by which the reduction terms grow."""
REDUCTIONS = (4.0, 4.0, 3.6, 3.2, 3.2, 3.2)


def bolt_shear(
    shank: float, side: float, main: float, side_gravity: float, main_gravity: float, fyb: float, *, along: bool
) -> float:
    """Design value in newtons of one bolt through a ``side`` member into the end grain of a ``main`` one, which it enters along the grain.
    Lengths in mm, ``fyb`` in psi; ``along`` is whether the load runs along the grain of the side member. 0 where it enters nothing."""
    wire, side, main = shank / INCH, side / INCH, main / INCH
    if wire <= 0 or side <= 0 or main <= 0:
        return 0.0
    fe_side = parallel(side_gravity) if along else across(side_gravity, wire)
    loads = yield_loads(wire, side, main, fe_side, across(main_gravity, wire), fyb)
    least = min(load / (term * CROSS) for load, term in zip(loads, REDUCTIONS, strict=True))
    return convert(least * END_GRAIN, "lbf", "N")


def parallel(gravity: float) -> float:
    """Pounds to the square inch that wood bears along the grain under a bolt: NDS-2018 Table 12.3.3, from memory."""
    return 11200 * gravity


def across(gravity: float, diameter: float) -> float:
    """Pounds to the square inch that wood bears across the grain under a bolt of that diameter in inches: NDS-2018 Table 12.3.3, from memory."""
    return 6100 * gravity**1.45 / diameter**0.5


def reckoned(fitting: Fitting) -> bool:
    """Whether the strength of such hardware is known."""
    return bool(fitting.item.family.bending_yield) and fitting.item.measure("shank") is not None


def bolt_results(bench: Bench, load: Load, path: LoadPath, name: str, title: str) -> Iterator[CheckResult]:
    """The weakest of the ends that bolts hold up, with a person on that very end; half of one who lies."""
    ends = {part.id for part in path.ends}
    corners: dict[tuple[str, ...], list[Fitting]] = {}
    for fitting in bench.plan.fittings:
        if reckoned(fitting) and ends & set(fitting.parts):
            corners.setdefault(fitting.parts, []).append(fitting)
    if not corners:
        return
    held, bolts = min(
        ((sum(_held(bench, one) for one in some), some) for some in corners.values()), key=lambda one: one[0]
    )
    post, rail = (bench.parts[one] for one in bolts[0].parts)
    item = bolts[0].item
    share = SHARES.get(load.word, 1.0)
    force = load.value * share
    words = (
        "With {most} on one end of the {rail}, " if share == 1 else "With {share} of {most} on one end of the {rail}, "
    )
    yield result(
        name,
        title,
        judged(force / held if held else float("inf"), 1.0, MOST),
        [rail, post],
        sentence(
            words
            + (
                "the {count} × {bolt} that hold it to the {post} are good for {held}."
                if len(bolts) > 1
                else "the {bolt} that holds it to the {post} is good for {held}."
            ),
            share=Quantity(100 * share, "percent"),
            most=Quantity(load.value / WEIGHT_OF_KG, "mass"),
            rail=called(rail),
            post=called(post),
            count=len(bolts),
            bolt=lower_first(item.name),
            held=Quantity(held, "force"),
        ),
        figures=figures(load=Quantity(force, "force"), held=Quantity(held, "force")),
        limit=sentence("no more than {held}", held=Quantity(held, "force")),
        source=SOURCE,
        remedy=sentence("Add a bolt to each end, or set the rail on a ledge of the post."),
        position=bolts[0].position,
    )


def _held(bench: Bench, fitting: Fitting) -> float:
    """Newtons, across the bolt, up and down."""
    post, rail = (bench.parts[one] for one in fitting.parts)
    shank, long = fitting.item.measure("shank"), fitting.item.measure("long")
    assert shank is not None
    side = post.seen.extent(fitting.face.axis)
    return bolt_shear(
        shank.mm,
        side.mm,
        long.mm - side.mm if long is not None else 0.0,
        _gravity(post),
        _gravity(rail),
        fitting.item.family.bending_yield,
        along=post.grain is Axis.Z,
    )


def _gravity(part: Part) -> float:
    return part.stock.material.specific_gravity
