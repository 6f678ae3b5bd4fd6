"""Two revisions compared: every change of the piece with its consequence, what is for safety first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from drawleaf.english import capitalized, listed, noun
from drawleaf.sell.change import Change, Kind, Subject
from drawleaf.sell.pairing import Pairs, pair_up
from drawleaf.sell.piece import Bought, Compiled, Driven, JointFact, Laid, Setting, StepFact
from drawleaf.sell.remaking import NEAR, Fate, Verdict, verdict
from drawleaf.sell.words import Teller


def compare(old: Compiled, new: Compiled) -> tuple[Change, ...]:
    """Every change, by subject in the order of ``Subject``; what is for safety stands first. Parts that are alike in all are told once."""
    tell, pairs = Teller.of(new), pair_up(old.parts, new.parts)
    parts = list(_parts(old, new, pairs, tell))
    found = [
        *_cautions(old, new, tell),
        *_together(parts),
        *_joints(old, new, pairs, tell),
        *_hardware(old, new, tell),
        *_stock(old, new, parts, tell),
        *_layouts(old, new, pairs, tell),
        *_steps(old, new, pairs, tell),
    ]
    return tuple(sorted(found, key=lambda one: not one.safety))


def _cautions(old: Compiled, new: Compiled, tell: Teller) -> Iterator[Change]:
    for name, caution in new.cautions.items():
        before = old.cautions.get(name)
        if before == caution:
            continue
        step = next((step for step in new.steps if name in step.cautions), None)
        kind = Kind.ADDED if before is None else Kind.CHANGED
        todo = tell.words.put("Read it before you go on, also where that step is done.")
        yield Change(Subject.CAUTION, kind, (caution.signal,), caution.text, todo, _same(old, step), step, safety=True)
    for name, caution in old.cautions.items():
        if name not in new.cautions:
            step = next((step for step in old.steps if name in step.cautions), None)
            todo = tell.words.put("The work that it was for is no longer in the plan.")
            yield Change(Subject.CAUTION, Kind.DROPPED, (caution.signal,), caution.text, todo, step, None)


def _same(old: Compiled, step: StepFact | None) -> StepFact | None:
    return next((one for one in old.steps if step is not None and one.id == step.id), None)


def _parts(old: Compiled, new: Compiled, pairs: Pairs, tell: Teller) -> Iterator[Change]:
    for before, after in pairs.pairs:
        first, later = old.first_step(before.id), new.first_step(after.id)
        found = verdict(before, after)
        if found.fate is not Fate.FITS:
            what = tell.sizes(before, after)
            if before.material != after.material:
                what.append(tell.words.tell("of {} (it was {})", after.material, before.material))
            if not what:
                what = [tell.words.put("its holes, channels or edges are others")]
            sentence = capitalized(f"{'; '.join(what)}.")
            todo = " ".join([tell.fate(found), *_once_glued(old, before.id, found, tell)])
            yield Change(
                Subject.PART, Kind.CHANGED, (after.name,), sentence, todo, first, later,
                old=before, new=after, verdict=found,
            )  # fmt: skip
        if before.name != after.name:
            what = tell.words.tell("It was called “{}”.", before.name)
            todo = tell.words.put("Only its name is another.")
            yield Change(Subject.PART, Kind.RENAMED, (after.name,), what, todo, first, later, old=before, new=after)
    for part in pairs.added:
        sizes = " × ".join(tell.length(side) for side in part.sides)
        todo = tell.words.put("Make it.")
        yield Change(Subject.PART, Kind.ADDED, (part.name,), f"{sizes}.", todo, None, new.first_step(part.id), new=part)
    for part in pairs.dropped:
        todo = tell.words.put("Leave it out.")
        what = tell.words.put("It is no longer in the plan.")
        yield Change(Subject.PART, Kind.DROPPED, (part.name,), what, todo, old.first_step(part.id), None, old=part)


def _once_glued(old: Compiled, part: str, found: Verdict, tell: Teller) -> Iterator[str]:
    """What holds for a part that is glued in already."""
    joints = [joint for joint in old.joints if joint.glued and part in (joint.part, joint.into)]
    steps = [step.number for joint in joints if (step := _joined(old, joint)) is not None]
    if not steps or found.fate is Fate.ADD:
        return
    if found.fate is Fate.REMAKE:
        yield tell.words.tell(
            "Where step {} has glued it in, what it is glued to is lost with it, unless the joint can be sawn apart.",
            min(steps),
        )
    else:
        yield tell.words.tell("Do it before step {} glues it in; afterwards it is to be made anew.", min(steps))


def _together(changes: Sequence[Change]) -> list[Change]:
    """Parts that changed alike as one, with their names and how many there are."""
    kept: dict[tuple[object, ...], Change] = {}
    for change in changes:
        key = (
            (change.kind, change.what, change.todo)
            if change.kind is Kind.CHANGED
            else (change.kind, change.name, change.what)
        )
        kept[key] = kept[key].and_also(change) if key in kept else change
    return list(kept.values())


def _joints(old: Compiled, new: Compiled, pairs: Pairs, tell: Teller) -> Iterator[Change]:
    names = {part.id: part.name for part in (*old.parts, *new.parts)}
    here = {_where(joint, {}): joint for joint in new.joints}
    told: dict[tuple[str, str], Change] = {}
    for joint in old.joints:
        other = here.get(_where(joint, pairs.names))
        if other is None:
            continue
        between = tell.words.tell("{} to {}", names[other.part], names[other.into])
        for what, todo in _between(joint, other, (old, new), tell):
            change = Change(
                Subject.JOINT, Kind.CHANGED, (between,), what, todo,
                _joined(old, joint), _joined(new, other),
            )  # fmt: skip
            key = (what, todo)
            told[key] = told[key].and_also(change) if key in told else change
    yield from told.values()


def _where(joint: JointFact, names: dict[str, str]) -> tuple[str, str, str]:
    return names.get(joint.part, joint.part), names.get(joint.into, joint.into), joint.face


def _joined(plan: Compiled, joint: JointFact) -> StepFact | None:
    """The step that puts the two together: the last that works on the joint."""
    return next((step for step in reversed(plan.steps) if joint.id in step.joints), None)


def _between(
    joint: JointFact, other: JointFact, plans: tuple[Compiled, Compiled], tell: Teller
) -> Iterator[tuple[str, str]]:
    if joint.family != other.family:
        what = tell.words.tell("A {} (it was a {}).", other.family.replace("_", " "), joint.family.replace("_", " "))
        yield (
            what,
            tell.words.put("If it is put together, it holds as it was planned then; if not, see its parts above."),
        )
    if joint.glued and not other.glued:
        yield (
            tell.words.put("No glue any more."),
            tell.words.put("What is glued cannot be undone: look whether the parts must come apart or move."),
        )
    elif other.glued and not joint.glued:
        yield tell.words.put("Glued now."), tell.words.put("If it is put together dry, take it apart and glue it.")
    before, after = _items(joint), _items(other)
    if {item: len(all_) for item, all_ in before.items()} == {item: len(all_) for item, all_ in after.items()}:
        return
    was, words = (
        [f"{len(all_)} {_item_name(plan, item, len(all_))}" for item, all_ in items.items()]
        or [tell.words.put("no fasteners")]
        for plan, items in zip(plans, (before, after), strict=True)
    )
    yield (
        tell.words.tell("{} (it was {}).", capitalized(listed(words)), listed(was)),
        _driven_words(before, after, tell),
    )


def _items(joint: JointFact) -> dict[str, list[Driven]]:
    found: dict[str, list[Driven]] = {}
    for one in joint.driven:
        found.setdefault(one.item, []).append(one)
    return found


def _item_name(plan: Compiled, item: str, count: int) -> str:
    row = plan.hardware.get(item)
    return noun(count, row.name) if row is not None else item


def _driven_words(before: dict[str, list[Driven]], after: dict[str, list[Driven]], tell: Teller) -> str:
    """What to do with fasteners that are already driven."""
    gone = [one for item, all_ in before.items() if item not in after for one in all_]
    come = [one for item, all_ in after.items() if item not in before for one in all_]
    more = sum(map(len, after.values())) - sum(map(len, before.values()))
    if not gone and more > 0:
        return tell.words.tell("Drive {} more; those that are driven stay.", more)
    if not come and more < 0:
        return tell.words.put("Those that are driven may stay.")
    if gone and come and len(gone) == len(come):
        longer = (come[0].length or Fraction(0)) - (gone[0].length or Fraction(0))
        if longer > NEAR:
            return tell.words.tell(
                "If they are driven, take one after the other out, deepen its pilot hole by {} and drive the longer one into it.",
                tell.length(longer),
            )
        if longer < -NEAR:
            return tell.words.put(
                "If they are driven, look at the far side: where no point shows or lifts the wood they may stay; else change them."
            )
        return tell.words.put("If they are driven, change them one after the other.")
    return tell.words.put(
        "If they are driven, take them out and drive the new ones; what is left of old holes is plugged."
    )


def _hardware(old: Compiled, new: Compiled, tell: Teller) -> Iterator[Change]:
    for item, row in new.hardware.items():
        before = old.hardware.get(item)
        count = before.count if before is not None else 0
        if count == row.count:
            continue
        kind = Kind.ADDED if before is None else Kind.CHANGED
        what = tell.words.tell("{} now ({} before).", row.count, count)
        yield Change(
            Subject.HARDWARE, kind, (row.name,), what, _buying(before, row, tell),
            old.first_with(item), new.first_with(item),
        )  # fmt: skip
    for item, row in old.hardware.items():
        if item not in new.hardware:
            what = tell.words.tell("None now ({} before).", row.count)
            todo = tell.words.put("Do not buy it; what is bought is left over.")
            yield Change(Subject.HARDWARE, Kind.DROPPED, (row.name,), what, todo, old.first_with(item), None)


def _buying(before: Bought | None, row: Bought, tell: Teller) -> str:
    count, packs = (before.count, before.packs) if before is not None else (0, 0)
    if row.count < count:
        return tell.words.tell("{} are left over.", count - row.count)
    if row.packs > packs:
        one_by_one = row.packs == row.count and (before is None or before.packs == before.count)
        if one_by_one:
            return tell.words.tell("Buy {} more.", row.count - count)
        return tell.words.tell(
            "Buy {} more, which is {} more.",
            row.count - count,
            f"{row.packs - packs} {noun(row.packs - packs, 'pack')}",
        )
    return tell.words.tell("{} more; the packs that you bought hold them.", row.count - count)


def _stock(old: Compiled, new: Compiled, parts: Sequence[Change], tell: Teller) -> Iterator[Change]:
    """What is to buy. Whoever bought by the old list needs more only where a part is new or made anew."""
    more = {
        one.new.stock
        for one in parts
        if one.new is not None
        and (one.kind is Kind.ADDED or (one.verdict is not None and one.verdict.fate is Fate.REMAKE))
    }
    for stock in other_boards(old, new):
        now, before = (_boards_of(plan, stock) for plan in (new, old))
        what = tell.words.tell("{} (it was {}).", _boards(now, tell), _boards(before, tell))
        if stock not in more:
            todo = tell.words.put("If you bought by the old list you have enough: nothing of it is new or made anew.")
        elif all(now.get(key, 0) >= count for key, count in before.items()):
            extra = {key: now[key] - before.get(key, 0) for key in now if now[key] > before.get(key, 0)}
            todo = tell.words.tell(
                "If you bought by the old list, buy {} more, and wood for what is made anew.", _boards(extra, tell)
            )
        else:
            todo = tell.words.put(
                "If you bought by the old list, lay out what is new or made anew on what is left before you buy."
            )
        yield Change(
            Subject.STOCK,
            Kind.CHANGED,
            (_stock_name(stock, old, new),),
            capitalized(what),
            todo,
            *_cut(old, new, stock),
        )


def other_boards(old: Compiled, new: Compiled) -> list[str]:
    """The ids of stocks of which other sheets or boards are bought."""
    stocks = dict.fromkeys(stock for stock, _, _ in (*new.boards, *old.boards))
    return [stock for stock in stocks if _boards_of(new, stock) != _boards_of(old, stock)]


def _boards_of(plan: Compiled, stock: str) -> dict[tuple[str, str, Fraction], int]:
    return {key: count for key, count in plan.boards.items() if key[0] == stock}


def _stock_name(stock: str, *plans: Compiled) -> str:
    """A stock as the newest of the plans that has it calls it."""
    return next((plan.stocks[stock] for plan in reversed(plans) if stock in plan.stocks), stock)


def _boards(counts: Mapping[tuple[str, str, Fraction], int], tell: Teller) -> str:
    """``2 × 1x6 of 48 in and 1 × 1x6 of 72 in``; ``none``."""
    listing = [f"{count} × {name}, {tell.length(length)}" for (_, name, length), count in counts.items()]
    return listed(listing) if listing else tell.words.put("none")


def _cut(old: Compiled, new: Compiled, stock: str) -> tuple[StepFact | None, StepFact | None]:
    """The first steps that work on parts of a stock."""
    found = []
    for plan in (old, new):
        own = {part.id for part in plan.parts if part.stock == stock}
        found.append(next((step for step in plan.steps if own & set(step.parts)), None))
    return found[0], found[1]


def _layouts(old: Compiled, new: Compiled, pairs: Pairs, tell: Teller) -> Iterator[Change]:
    moved = laid_otherwise(old, new, pairs)
    if moved:
        what = tell.words.put("Their sheets or boards are laid out otherwise.")
        todo = tell.words.put(
            "If they are cut by the old layout, all parts that are not listed above still serve; else cut by the new one."
        )
        steps = [_cut(old, new, stock) for stock in moved]
        first, later = (
            min((step for step in some if step is not None), key=lambda step: step.number, default=None)
            for some in zip(*steps, strict=True)
        )
        names = tuple(_stock_name(stock, old, new) for stock in moved)
        yield Change(Subject.LAYOUT, Kind.CHANGED, names, what, todo, first, later, count=len(moved))


def laid_otherwise(old: Compiled, new: Compiled, pairs: Pairs) -> list[str]:
    """The ids of stocks whose sheets or boards are laid out otherwise."""
    moved = []
    for stock in dict.fromkeys(one.stock for one in new.laid):
        before = [_lying(one, pairs.names) for one in old.laid if one.stock == stock]
        after = [_lying(one, {}) for one in new.laid if one.stock == stock]
        if before and before != after:
            moved.append(stock)
    return moved


def _lying(laid: Laid, names: dict[str, str]) -> tuple[object, ...]:
    return laid.kind, laid.number, tuple((names.get(part, part), *where) for part, *where in laid.placed)


def _steps(old: Compiled, new: Compiled, pairs: Pairs, tell: Teller) -> Iterator[Change]:
    before = {step.id: step for step in old.steps}
    kept = {step.id for step in new.steps}
    for step in new.steps:
        other = before.pop(step.id, None)
        if other is None:
            # Its name follows from its parts' names; one of the same title is the same work.
            other = next((one for one in before.values() if one.title == step.title and one.id not in kept), None)
            if other is not None:
                before.pop(other.id)
        if other is None:
            todo = tell.words.put("Do it when you come to its place.")
            yield Change(Subject.STEP, Kind.ADDED, (step.title,), tell.words.put("It is new."), todo, None, step)
            continue
        what = list(_differs(other, step, pairs, tell))
        if what:
            todo = tell.words.put("If it is done, the parts above say what to do; else follow the new booklet.")
            yield Change(Subject.STEP, Kind.CHANGED, (step.title,), f"{'; '.join(what)}.", todo, other, step)
    for step in before.values():
        what = tell.words.put("It is no longer there.")
        todo = tell.words.put("Pass it over.")
        yield Change(Subject.STEP, Kind.DROPPED, (step.title,), what, todo, step, None)


def _differs(one: StepFact, other: StepFact, pairs: Pairs, tell: Teller) -> Iterator[str]:
    if {pairs.names.get(part, part) for part in one.parts} != set(other.parts):
        yield tell.words.put("Other parts")
    if one.tools != other.tools:
        yield tell.words.put("Other tools")
    if dict(one.hardware) != dict(other.hardware):
        yield tell.words.put("Other hardware")
    gone = [told for told in one.settings if told not in other.settings]
    come = [told for told in other.settings if told not in one.settings]
    for setting in come:
        olds = [told for told in gone if told.same_thing(setting)]
        news = [told for told in come if told.same_thing(setting)]
        was = olds[news.index(setting)] if len(olds) == len(news) else None
        told, before = _figure(setting, tell), None if was is None else _figure(was, tell)
        if told is not None:
            yield tell.words.tell("{} {}", capitalized(setting.name.replace("_", " ")), told) + (
                tell.words.tell(" (it was {})", before) if before is not None else ""
            )


def _figure(setting: Setting, tell: Teller) -> str | None:
    """A setting that is a length or a number; None for what is no figure."""
    if isinstance(setting.value, Fraction):
        return tell.length(setting.value)
    return str(setting.value) if isinstance(setting.value, int) and not isinstance(setting.value, bool) else None
