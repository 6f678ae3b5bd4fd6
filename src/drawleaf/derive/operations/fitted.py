"""Last sizes marked from the piece as it stands: panels into their rabbets, strips between what stands, mouldings round a case, edgings."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Workshop, by_setting, key_of, title_names
from drawleaf.derive.operations.panels import trim_panel
from drawleaf.derive.shop.limits import BY_KNIFE, WIDEST_MITRE
from drawleaf.model.fitted import FittedAs
from drawleaf.model.plan import Bore, BoxCut, Part, Plan
from drawleaf.model.settings import FittedMouldingSettings, FittedSettings
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Operation, Scene
from drawleaf.setting_out.mitres import mitres, stands_up

TRIM_EDGING, TRIM_TAIL, TRIM_FLUSH = "trim-edging", "trim-tail", "trim-flush"
KINDS = ("fit-panel", "fit-panel-thin", "fit-strip", "fit-moulding", TRIM_EDGING, TRIM_TAIL, TRIM_FLUSH)
"""Kinds of work of ``shared/methods``."""
LAST_FITTED = "Fit the parts to the piece"
"""The heading of the work on parts that got their size from the standing piece."""
AT_LAST = (FittedAs.PANEL, FittedAs.BETWEEN, FittedAs.PART)
"""What gets its last size just before it goes in."""


def fits_late(part: Part) -> bool:
    """Whether a part is cut to its last size just before it goes to what stands."""
    return part.fitted_as in (*AT_LAST, FittedAs.MOULDING, FittedAs.TOP)


def fit_parts(shop: Workshop, new: Sequence[str], standing: Sequence[str], heading: str = "") -> list[Operation]:
    """What must be cut to size before these parts come to what stands, each part once; what is worked on them then comes under the heading."""
    todo = [part for part in (shop.plan.part(one) for one in new) if fits_late(part) and part.id not in shop.fitted]
    before = frozenset(shop.fitted)
    mouldings = [part for part in todo if goes_round(part)]
    operations = _fit_mouldings(shop, mouldings, standing) if mouldings else []
    tops = [part for part in todo if part.fitted_as is FittedAs.TOP]
    operations += [trim_panel(shop, alike, standing) for alike in _by_kind(tops)]
    rest = [part for part in todo if part.fitted_as in AT_LAST]
    for setting, parts in by_setting(rest, _settings, apart=lambda part: part.kind):
        operations.append(_fit(shop, setting, parts, standing))
    shop.fitted.update(part.id for part in todo)
    shop.work_late(shop.fitted - before, heading)
    return operations


def late_parts(plan: Plan) -> frozenset[str]:
    """The parts whose further work waits until they are fitted: tops, all of a drawer or door that is made to its opening, and what has
    holes or cuts of its own that are measured from its ends."""
    made = made_to_opening(plan)
    return frozenset(part.id for part in plan.parts if part.assembly in made or _waits(part))


def made_to_opening(plan: Plan) -> frozenset[str]:
    """The drawers and doors that are made to their openings, by assembly."""
    return frozenset(part.assembly for part in plan.parts if part.fitted_as is FittedAs.OPENING)


def _waits(part: Part) -> bool:
    if part.fitted_as is FittedAs.MOULDING:
        # Its mitres are what it is fitted by; a hole is measured from an end that is not there before.
        return any(isinstance(cut, Bore | BoxCut) for cut in part.features)
    if part.fitted_as in AT_LAST:
        return any(not (isinstance(cut, OutlineCut) and cut.after_assembly) for cut in part.features)
    return part.fitted_as is FittedAs.TOP


def _by_kind(parts: Sequence[Part]) -> list[list[Part]]:
    kinds: dict[str, list[Part]] = {}
    for part in parts:
        kinds.setdefault(part.kind, []).append(part)
    return list(kinds.values())


def fit_opening(shop: Workshop, parts: Sequence[str]) -> None:
    """The parts of a drawer or door cut to the opening as it stands, and all further work on them."""
    plan = shop.plan
    own = [plan.part(one) for one in parts]
    fitted = [part for part in own if part.fitted_as is FittedAs.OPENING]
    after = dict.fromkeys(one for part in fitted if part.fitted for one in part.fitted.marked_from)
    ways: dict[str, list[Part]] = {}
    for part in fitted:
        ways.setdefault(_way_to_fit(part), []).append(part)
    operations = [
        shop.operation(
            f"fit-{key_of(plan, some[0])}", "fit-opening", [part.id for part in some], way=way, standing=tuple(after)
        )
        for way, some in ways.items()
    ]
    shop.fitted.update(part.id for part in fitted)
    home = plan.assembly(own[0].assembly).name.lower()
    scene = Scene(tuple(after), tuple(part.id for part in fitted), (), (), ())
    title = plan.words.tell("Cut the {} to the opening", home)
    heading = plan.words.tell("Build the {}", home)
    shop.add(operations[0].id, Stage.ASSEMBLE, title, operations, scene, assembly=own[0].assembly, heading=heading)
    shop.work_late(parts, heading)


def _settings(part: Part) -> FittedSettings:
    length, width, _ = part.size
    rough = part.rough
    return FittedSettings(length, width, rough[0] - length, rough[1] - width)


def _fit(shop: Workshop, setting: FittedSettings, parts: Sequence[Part], standing: Sequence[str]) -> Operation:
    both = bool(setting.longer) and bool(setting.wider)
    way = "fit-strip" if not both else "fit-panel-thin" if parts[0].stock.thickness <= BY_KNIFE else "fit-panel"
    return shop.operation(
        f"fit-{key_of(shop.plan, parts[0])}",
        "fit-panel" if both else "fit-strip",
        [part.id for part in parts],
        way=way,
        settings=setting,
        standing=standing,
    )


def _way_to_fit(part: Part) -> str:
    """How a part is cut to its opening: thin plywood with a knife, what a mitre saw crosses there, wider parts along a straightedge."""
    if part.stock.thickness <= BY_KNIFE:
        return "fit-panel-thin"
    return "fit-panel" if part.size[1] > WIDEST_MITRE else "fit-strip"


def _fit_mouldings(shop: Workshop, parts: Sequence[Part], standing: Sequence[str]) -> list[Operation]:
    """The mouldings' mitres; first those of the pieces that they run into and that nothing fastens before them."""
    new = {part.id for part in parts}
    most = max(len(mitres(part)) for part in parts)
    held = [
        mate
        for mate in _ring_mates(shop.plan, parts)
        if mate.id not in (*standing, *new) and mate.id not in shop.fitted and len(mitres(mate)) > most
    ]
    shop.fitted.update(part.id for part in held)
    firsts = [part for part in parts if len(mitres(part)) == most and most > 1]
    rest = [part for part in parts if part not in firsts]
    return [
        *_moulding_operations(shop, held, standing, front=True, dry=True),
        *_moulding_operations(shop, firsts, standing, front=True, dry=False),
        *_moulding_operations(shop, rest, (*standing, *(part.id for part in held)), front=False, dry=False),
    ]


def _ring_mates(plan: Plan, parts: Sequence[Part]) -> list[Part]:
    """The mouldings that these meet in a mitre."""
    own = {part.id for part in parts}
    ends = dict.fromkeys(
        end
        for joint in plan.joints
        if joint.family.mitred and own & {joint.insert, joint.receiver}
        for end in (joint.insert, joint.receiver)
        if end not in own
    )
    return [part for part in (plan.part(end) for end in ends) if part.fitted is not None]


def _moulding_operations(
    shop: Workshop, parts: Sequence[Part], standing: Sequence[str], *, front: bool, dry: bool
) -> list[Operation]:
    found = [(part, one) for part in parts for one in mitres(part)]
    groups = by_setting(
        found,
        lambda pair: FittedMouldingSettings(pair[1].mitre, pair[1].tilt, stands_up(*pair), front, dry),
    )
    return [
        shop.operation(
            f"mitre-{key_of(shop.plan, group[0][0])}",
            "fit-moulding",
            list(dict.fromkeys(part.id for part, _ in group)),
            pieces=len(group),
            settings=setting,
            features=[(part.id, one.cut) for part, one in group],
            standing=standing,
        )
        for setting, group in groups
    ]


def fitting_scene(operations: Sequence[Operation], standing: Sequence[str]) -> Scene:
    """The parts that are fitted, in their places on what stands."""
    new = tuple(dict.fromkeys(part for operation in operations for part in operation.parts))
    return Scene(tuple(part for part in standing if part not in new), new, (), (), ())


def fitting_title(plan: Plan, operations: Sequence[Operation], standing: str) -> str:
    """``Fit the back panel to the case``."""
    ids = dict.fromkeys(part for operation in operations for part in operation.parts)
    parts = [plan.part(one) for one in ids]
    if all(part.fitted_as is FittedAs.TOP for part in parts):
        return plan.words.tell("Trim the {} to the piece as it stands", title_names(parts))
    return plan.words.tell("Fit the {} to the {}", title_names(parts), standing)


def trim_flush(shop: Workshop, new: Sequence[str], standing: Sequence[str]) -> list[Operation]:
    """What is trimmed off the new parts when their glue is dry: edgings, and the tails of mouldings that return along a side."""
    parts = [shop.plan.part(one) for one in new]
    tails = [part for part in parts if goes_round(part) and len(mitres(part)) == 1]
    operations = []
    if tails:
        name = f"trim-{key_of(shop.plan, tails[0])}"
        operations.append(shop.operation(name, TRIM_TAIL, [part.id for part in tails], standing=standing))
    for sort, kind in ((FittedAs.EDGING, TRIM_EDGING), (FittedAs.FLUSH, TRIM_FLUSH)):
        for setting, some in by_setting([part for part in parts if part.fitted_as is sort], _settings):
            name = f"trim-{key_of(shop.plan, some[0])}"
            ids = [part.id for part in some]
            operations.append(shop.operation(name, kind, ids, settings=setting, standing=standing))
    return operations


def goes_round(part: Part) -> bool:
    """Whether a part is a moulding that is mitred to the case it goes round."""
    return part.fitted_as is FittedAs.MOULDING


def is_edging(part: Part) -> bool:
    """Whether a part is glued on proud and trimmed flush."""
    return part.fitted_as is FittedAs.EDGING


def fit_the_rest(shop: Workshop, whole: Sequence[str]) -> None:
    """Fitted parts that come to nothing with a joint before the finish. ``whole`` is what stands by then: they are shown on all of it."""
    for part in shop.plan.parts:
        if not fits_late(part) or part.id in shop.fitted:
            continue
        assert part.fitted is not None
        standing = part.fitted.marked_from
        operations = fit_parts(shop, [part.id], standing, shop.words.put(LAST_FITTED))
        if operations:
            home = shop.plan.assembly(part.assembly).name.lower()
            shop.add(
                operations[0].id,
                Stage.ASSEMBLE,
                fitting_title(shop.plan, operations, home),
                operations,
                fitting_scene(operations, whole if set(standing) <= set(whole) else standing),
                assembly=part.assembly,
                heading=shop.words.put(LAST_FITTED),
            )
