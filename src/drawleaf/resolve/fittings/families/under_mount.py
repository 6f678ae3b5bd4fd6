"""Undermount slides: a pair under the floor of a drawer whose box is made to their measures."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.channel import broken_through
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.run import Run
from drawleaf.resolve.fittings.families.task import HAIR, Carried, Task, block, outwards
from drawleaf.resolve.fittings.running import run_between
from drawleaf.units import Length

NARROWER = Length.of_mm(Fraction(3, 2))
"""The inside of the drawer may be this much narrower than the slides ask, and not wider: common practice, no source."""
SLACK = Length.of_inches(Fraction(1, 32))


@dataclass(frozen=True, slots=True)
class _Drawer:
    """The box of a drawer: its two sides (the one low on its axis first), its floor, its back."""

    left: Part
    right: Part
    floor: Part
    back: Part
    run: Run

    @property
    def inside(self) -> Length:
        across = self.run.across
        return self.right.seen.span(across).low - self.left.seen.span(across).high


def fit(task: Task) -> None:
    """One to each side. They come as a pair, so the first counts one and the other none."""
    carried = task.carried()
    if carried is None:
        return
    if len(task.parts) != 2:
        task.error(
            "slides-sides",
            f"{task.item.name} run on two parts, one to each side; {len(task.parts)} named",
            "on",
            mend="Write “on: [left part, right part]”.",
        )
        return
    run = _run(task, carried)
    if run is None:
        return
    fixed = sorted(task.parts, key=lambda part: part.seen.span(run.across).low.exact_mm)
    drawer = _drawer(task, carried, run)
    if drawer is None or not _fits(task, fixed[0], fixed[1], drawer, carried):
        return
    _cut_back(task, drawer)
    for number, (part, face) in enumerate(zip(fixed, (run.across.high, run.across.low), strict=True)):
        body = _body(task, part, face, drawer)
        at = body.center.moved(run.across, part.seen.face(face))
        task.place((part,), face, at, body, count=1 - number, moving=carried.id, opens=run.out)


def _run(task: Task, carried: Carried) -> Run | None:
    return run_between(task.item.name, task.entry, task.parts, carried.parts, task.tools.sources, task.tools.findings)


def _drawer(task: Task, carried: Carried, run: Run) -> _Drawer | None:
    """The parts of the box; reported where one is missing."""
    across = run.across
    sides = sorted((p for p in carried.parts if p.thickness is across), key=lambda p: p.seen.span(across).low.exact_mm)
    floors = [part for part in carried.parts if part.thickness is Axis.Z]
    backs = [part for part in carried.parts if part.thickness is run.along]
    if len(sides) < 2 or not floors or len(backs) < 2:
        task.error(
            "hardware-unmet",
            f"{task.item.name}: “{task.entry.carries}” has no box with two sides, a floor, a front and a back",
            "carries",
        )
        return None
    floor = min(floors, key=lambda part: part.seen.z.low.exact_mm)
    back = min(backs, key=lambda part: part.seen.face(run.out.opposite).exact_mm * run.out.side)
    return _Drawer(sides[0], sides[-1], floor, back, run)


def _fits(task: Task, left: Part, right: Part, drawer: _Drawer, carried: Carried) -> bool:
    """Every measure that the slides ask for, reported one by one with its numbers."""
    say = task.say
    run = drawer.run
    opening = right.seen.span(run.across).low - left.seen.span(run.across).high
    wanted = opening - task.measure("narrower")
    sound = True

    def wrong(message: str, cause: str = "", mend: str = "") -> None:
        nonlocal sound
        sound = False
        task.error("hardware-clearance", f"{task.item.name}: {message}", "item", cause, mend)

    if not wanted - NARROWER <= drawer.inside <= wanted + HAIR:
        wrong(
            f"the drawer is {say(drawer.inside)} wide inside; the opening of {say(opening)} asks for {say(wanted)}",
            f"Inside it is {say(task.measure('narrower'))} narrower than the opening.",
            f"Make the drawer {say(abs(wanted - drawer.inside))} {'wider' if drawer.inside < wanted else 'narrower'}.",
        )
    thick = max(side.seen.extent(run.across) for side in (drawer.left, drawer.right))
    if thick > task.measure("thickest side") + HAIR:
        wrong(f"the drawer's sides are {say(thick)} thick; {say(task.measure('thickest side'))} is the most")
    deep = drawer.left.seen.extent(run.along)
    if abs(deep - task.measure("long")) > SLACK:
        wrong(
            f"the drawer's sides are {say(deep)} deep; they must be as long as the slides, {say(task.measure('long'))}",
            mend="Change “deep”, or take the slides of that length.",
        )
    low = drawer.left.seen.z.low
    recess = drawer.floor.seen.z.low - low
    if abs(recess - task.measure("recess")) > SLACK:
        wrong(f"the drawer's floor lies {say(recess)} above its lower edge; {say(task.measure('recess'))} is asked for")
    inner = run.out.opposite
    behind = min((one.seen.face(inner) - drawer.left.seen.face(inner)) * inner.side for one in (left, right))
    if behind < task.measure("behind"):
        wrong(f"behind the drawer there are {say(behind)}; {say(task.measure('behind'))} are asked for")
    return _above_and_below(task, drawer, carried) and sound


def _above_and_below(task: Task, drawer: _Drawer, carried: Carried) -> bool:
    """Room over the box and under it, to whatever stands still there."""
    own = {part.id for part in carried.parts}
    low = min(side.seen.z.low for side in (drawer.left, drawer.right))
    high = max(side.seen.z.high for side in (drawer.left, drawer.right))
    run = drawer.run
    wide = Span(drawer.left.seen.span(run.across).low, drawer.right.seen.span(run.across).high)
    deep, inner = drawer.left.seen.span(run.along), run.out.opposite
    end = drawer.left.seen.face(inner)
    middle = (low + high) / 2
    for part in task.tools.shop.values():
        if part.id in own or part.seen.span(run.across).overlap(wide) is None:
            continue
        # What is over the box must let it pass on its way out, so all that lies before its back counts.
        before = ((end - part.seen.face(run.out)) * inner.side).exact_mm > 0
        over = part.seen.z.low >= middle and before
        below = part.seen.z.high <= middle and part.seen.span(run.along).overlap(deep) is not None
        room = part.seen.z.low - high if over else low - part.seen.z.high
        needed, where = (task.measure("above"), "above") if over else (task.measure("under"), "under")
        if (over or below) and room < needed:
            task.error(
                "hardware-clearance",
                f"{task.item.name}: {where} the drawer there are {task.say(room)} to “{part.id}”; {task.say(needed)} are asked for",
                "item",
                mend=f"Make the box {task.say(needed - room)} lower."
                if over
                else f"Raise the box by {task.say(needed - room)}.",
            )
            return False
    return True


def _cut_back(task: Task, drawer: _Drawer) -> None:
    """A back that reaches below the floor is notched for both slides; each hooks into a hole above its notch."""
    back, under, across = drawer.back, drawer.floor.seen.z.low, drawer.run.across
    for side, inner in ((drawer.left, across.high), (drawer.right, across.low)):
        edge = side.seen.face(inner)
        if back.body.z.low < under:
            wide = outwards(inner, edge, task.measure("notch wide"))
            own = back.body.span(across)
            reach = (
                Span(min(wide.low, own.low), wide.high) if inner.side > 0 else Span(wide.low, max(wide.high, own.high))
            )
            void = back.body.with_span(across, reach).with_span(Axis.Z, Span(back.body.z.low, under))
            inside = back.body.overlap(void)
            if inside is not None:
                opened = tuple(broken_through(inside, back.body, Face.BOTTOM))
                task.cuts.append((back.id, BoxCut("notch", inside, Face.BOTTOM, opened, None, task.position)))
        at = back.seen.center.moved(across, edge + task.measure("hook in") * inner.side)
        at = at.moved(Axis.Z, under + task.measure("hook up"))
        depth = min(task.measure("hook deep"), back.body.extent(drawer.run.along) - Length.of_mm(2))
        task.cut_bore(back, drawer.run.out.opposite, at, task.measure("hook"), depth, kind="hole")


def _body(task: Task, part: Part, face: Face, drawer: _Drawer) -> Box:
    """From the case to under the floor, below the lower edge of the drawer's side."""
    run = drawer.run
    side = drawer.left if face.side > 0 else drawer.right
    surface = part.seen.face(face)
    wide = task.item.body[1] if task.item.body else Length.of_mm(35)
    reach = (side.seen.face(face) - surface) * face.side + wide / 2
    low, front = side.seen.z.low, side.seen.face(run.out)
    return block(
        side.seen.center,
        {
            run.across: outwards(face, surface, reach),
            run.along: Span.between(front, front - task.measure("long") * run.out.side),
            Axis.Z: Span(low - task.measure("under") + Length.of_mm(2), low),
        },
    )
