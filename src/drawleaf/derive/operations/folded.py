"""Steps that are one piece of work are told as one: a part fitted and then fixed, and bodies that go together dry one after the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.derive.operations.drafts import Draft, Stage
from drawleaf.english import listed
from drawleaf.model.plan import Plan
from drawleaf.model.steps import JOINING

FITTING = ("fit-panel",)
"""Kinds of work that give a part its last size at the place where it is then fixed. A moulding's drawing shows it at the saw: it keeps a step
of its own."""


def folded(plan: Plan, drafts: Sequence[Draft]) -> tuple[Draft, ...]:
    """The steps in their order, each that only prepares or continues the one beside it told with that."""
    done: list[Draft] = []
    for draft in drafts:
        before = done[-1] if done else None
        if before is None or before.copies or draft.copies:
            done.append(draft)
        elif _prepares(before, draft):
            done[-1] = _fitted_and_fixed(plan, before, draft)
        elif _is_dry(before) and _is_dry(draft) and _apart(before, draft):
            done[-1] = _together(plan, before, draft)
        else:
            done.append(draft)
    return tuple(done)


def _prepares(before: Draft, draft: Draft) -> bool:
    """Whether a step only fits the very parts that the next one fixes."""
    if draft.scene is None or draft.operations[0].kind not in JOINING or before.stage is not draft.stage:
        return False
    fits = all(operation.kind in FITTING for operation in before.operations)
    return fits and {part for operation in before.operations for part in operation.parts} == set(draft.scene.new)


def _fitted_and_fixed(plan: Plan, fitting: Draft, draft: Draft) -> Draft:
    joints = [joint for operation in draft.operations for joint in operation.joints]
    many = len({part for operation in fitting.operations for part in operation.parts}) > 1
    title = ("{}, and glue it on", "{}, and glue them on")
    if not any(joint.glued for joint in joints):
        title = ("{}, and fix it", "{}, and fix them")
    return replace(
        draft,
        title=plan.words.tell(title[many], fitting.title),
        operations=(*fitting.operations, *draft.operations),
        cautions=(*fitting.cautions, *draft.cautions),
        also=(fitting.id, *fitting.also, *draft.also),
    )


def _is_dry(draft: Draft) -> bool:
    """Whether bodies are brought together in a step without glue and without anything that is driven."""
    return draft.stage is Stage.FIT and all(
        operation.kind == "join-body"
        and operation.joints
        and not operation.fasteners
        and not any(joint.glued for joint in operation.joints)
        for operation in draft.operations
    )


def _apart(before: Draft, draft: Draft) -> bool:
    """Whether one drawing can show both on their way: nothing comes the way of what it goes into, which would hide that they are two."""
    assert before.scene is not None
    assert draft.scene is not None
    ways = {move.part: move.direction for move in (*before.scene.moves, *draft.scene.moves)}
    pairs = ((joint.insert, joint.receiver) for operation in draft.operations for joint in operation.joints)
    new = set(before.scene.new)
    return all(ways.get(one) != ways.get(other) for one, other in pairs if new & {one, other})


def _together(plan: Plan, before: Draft, draft: Draft) -> Draft:
    """Two steps without glue as one. Its drawing shows all that comes, each on its way."""
    assert before.scene is not None
    assert draft.scene is not None
    names = dict.fromkeys(plan.assembly(plan.part(part).assembly).name.lower() for part in draft.scene.new)
    scene = replace(
        before.scene, new=(*before.scene.new, *draft.scene.new), moves=(*before.scene.moves, *draft.scene.moves)
    )
    return replace(
        before,
        title=plan.words.tell("{}, and add the {}", before.title, listed(list(names))),
        operations=(*before.operations, *draft.operations),
        cautions=(*before.cautions, *draft.cautions),
        scene=scene,
        also=(*before.also, draft.id, *draft.also),
    )
