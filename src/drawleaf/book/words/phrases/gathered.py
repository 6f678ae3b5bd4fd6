"""Several moves gathered in one step, in fewer words: each joint in a line of its own."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.joints import Joints
from drawleaf.book.words.phrases.sides import GluePlace
from drawleaf.derive.shop.bits import screws_in_hardwood
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.plan import Fastener, Joint
from drawleaf.model.pose import Pose
from drawleaf.model.steps import Operation
from drawleaf.setting_out.feet import legs_of
from drawleaf.setting_out.lying import lies_flat
from drawleaf.setting_out.screws import ScrewLine, screw_lines
from drawleaf.units import Length

CHECKED = ("join", "square")
"""Operations that may share a step and have each a check of their own."""

GRABS = 20.0
"""Minutes after which wood glue lets no joint be pulled any more: common practice, no source; labels say that clamps may come off after half an hour."""


class Gathered(Joints):
    """Phrases for steps of several moves."""

    @property
    def gathered(self) -> bool:
        """Whether the step makes more than one such joint, so that the manner is described once and each joint has a line."""
        return len(self.peers()) > 1

    @property
    def waxed(self) -> str:
        """What is said of threads that go into hardwood, once a step."""
        hard = [op for op in self.step.operations if screws_in_hardwood(self.plan, op)]
        told_here = any(peer.op in hard for peer in self.peers()) if self.gathered else self.op in hard[:1]
        return " Rub candle wax on the threads: it eases them into hardwood." if told_here else ""

    @property
    def gathered_step(self) -> bool:
        """The same, asked by an operation that adds fasteners to a joint."""
        return sum(op.kind == "join" for op in self.step.operations) > 1

    @property
    def after_joins(self) -> bool:
        """Whether joints were made in this step before this operation."""
        return any(op.kind == "join" for op in self._earlier())

    @property
    def pegs_follow(self) -> bool:
        """Whether pegs are driven in this step when the corners have been pulled square."""
        return any(fastener.item.kind == FastenerKind.PEG for op in self._later() for fastener in op.fasteners)

    @property
    def squared_by_now(self) -> bool:
        """Whether this step has pulled the corners square before this operation."""
        return any(op.kind == "square" for op in self._earlier())

    def _earlier(self) -> Sequence[Operation]:
        """What this step does before this operation."""
        return self.step.operations[: self.step.operations.index(self.op)]

    def _later(self) -> Sequence[Operation]:
        """What this step does after this operation."""
        return self.step.operations[self.step.operations.index(self.op) + 1 :]

    def clamps_stay(self) -> Markup:
        """How long the clamps stay on: until the corners are square, where this step or the next one squares them."""
        them = Markup("it" if self.all_clamp_count() == 1 else "them")
        if any(op.kind == "square" for op in self._later()):
            return Markup("Leave {} on, and go straight on.").format(them)
        following = next((one for one in self.derived.steps if one.number == self.step.number + 1), None)
        if following is not None and following.operations[0].kind == "square":
            return Markup("Leave {} on, and go straight on to step {}.").format(them, following.number)
        return Markup("Leave {} on for {}.").format(them, self.clamp_time)

    @property
    def opens(self) -> bool:
        """Whether this is the first of the step's operations of its kind."""
        return self.peers()[0].op is self.op

    @property
    def closes(self) -> bool:
        """Whether this is the last of the step's operations of its kind."""
        return self.peers()[-1].op is self.op

    @property
    def several_checks(self) -> bool:
        """Whether the step checks more than one sort of thing, so that what to do when one fails must name it."""
        kind = type(self)
        closing = [kind(self.derived, self.fmt, self.step, op) for op in self.step.operations if op.kind in CHECKED]
        return (
            len(
                {
                    (one.op.kind, one.way, one.way == "clamps" and any(joint.glued for joint in one.op.joints))
                    for one in closing
                }
            )
            > 1
        )

    @property
    def flat_on_the_bench(self) -> str:
        """``, with the frame lying on a flat bench`` where the step builds a shallow frame that would not stand; ``, upside down on a flat bench``
        where legs and what is between them end level at the top; else nothing."""
        scene = self.step.scene
        parts = (
            [self.plan.part(one) for one in dict.fromkeys((*scene.standing, *scene.new))] if scene is not None else []
        )
        if parts and lies_flat(parts):
            return ", with the frame lying on a flat bench"
        return ", upside down on a flat bench" if self._lands and self.turned_over else ""

    @property
    def squared_too_late(self) -> int:
        """The number of the step that pulls this body square, where the glue of this step will have set by then; else 0."""
        assembly = self.step.assembly
        joints = [joint for op in self.step.operations for joint in op.joints]
        leans = any(self.plan.part(end).tilt for joint in joints for end in (joint.insert, joint.receiver))
        if assembly is None or self.step.copies or leans or not self.glued_anywhere or not self.ends_glue:
            return 0
        minutes = 0.0
        for step in self.derived.steps[self.step.number - 1 :]:
            if any(op.kind == "square" for op in step.operations):
                late = minutes > GRABS and step.assembly == assembly and step.number > self.step.number + 1
                return step.number if late else 0
            if step.assembly != assembly or any(op.wait_hours for op in step.operations):
                return 0
            minutes += sum(op.minutes for op in step.operations)
        return 0

    @property
    def turned_over(self) -> bool:
        """Whether the step works on the piece upside down."""
        return self.step.scene is not None and self.step.scene.pose is Pose.OVER

    @property
    def lands(self) -> bool:
        """Whether the piece has all its legs for the first time when this operation has closed the last joint of its step."""
        return self._lands and self.ends_glue

    @property
    def _lands(self) -> bool:
        scene, legs = self.step.scene, legs_of(self.plan)
        if scene is None or not legs or not legs.intersection(scene.new) or self.step.copies:
            return False
        return legs <= {*scene.standing, *scene.new}

    @property
    def glued_anywhere(self) -> bool:
        """Whether any joint of the step takes glue."""
        return any(joint.glued for op in self.step.operations for joint in op.joints)

    @property
    def ends_glue(self) -> bool:
        """Whether this is the last operation of the step that closes joints, so that the glue is wiped off after it."""
        closing = [op for op in self.step.operations if op.kind in ("join", "fasten")]
        return closing[-1] is self.op

    def step_way(self) -> str:
        """What drives the step's joints home, from the first operation that drives anything; pins of wood drive nothing home."""
        ways = [peer.way for peer in self.peers() if peer.op.fasteners]
        return next((way for way in ways if way != "clamps"), ways[0] if ways else self.way)

    @property
    def glued_up_so_before(self) -> int:
        """The number of the first step in which several joints were glued and clamped in one go, where it came before this one; else 0.
        How glue is spread and clamps are tightened is told there."""
        for step in self.derived.steps:
            if step.number >= self.step.number:
                break
            joins = [op for op in step.operations if op.kind == self.op.kind]
            if len(joins) > 1 and type(self)(self.derived, self.fmt, step, joins[0]).clamps_in_one_go:
                return step.number
        return 0

    @property
    def clamps_in_one_go(self) -> bool:
        """Whether clamps hold what the step glues together until it has set."""
        return self.step_way() in ("clamps", "pegs") and self.glued_anywhere and not self.all_knocked and not self.taped

    def gathered_lines(self) -> list[Markup]:
        """One line for each kind of part that comes: where it goes, where its glue goes, what is driven."""
        lines = []
        for choices in self._by_mover():
            joints = [joint for group in choices for joint in group]
            tail = [*self._short_glue(joints), *self._short_fasteners(joints)]
            if tail and self.glued_anywhere and not any(joint.glued for joint in joints):
                tail.append(Markup("no glue"))
            place = self._between(joints, choices) or self._place(min(choices, key=self._trouble))
            lines.append(
                place + Markup(". ") + self.sentence(Markup(", ").join(tail) if tail else Markup("no glue here"))
            )
        return lines

    def _short_glue(self, joints: Sequence[Joint]) -> list[Markup]:
        """``glue in the dado``, ``glue on its left end``."""
        words: dict[str, bool] = {}  # whether it is one end of the part itself, of which both are named as such
        for joint in joints:
            if joint.family.glued_at:
                words[f"on the {joint.family.glued_at} alone"] = False
        for group in self._alike(joint for joint in joints if joint.glued):
            if group[0].depth:
                words[self._in_channel(group).words] = False
            elif (telling := group[0].family.telling) is not None and telling.glue:
                words[GluePlace(telling.glue_where, self.words.put(telling.glue)).words] = False
            else:
                side = self._side_word(group)
                coming = group[0].insert in self.op.parts
                whose = "the" if not coming else "their" if len({joint.insert for joint in group}) > 1 else "its"
                tail = Markup("") if coming else Markup(" of {}").format(self.the_parts([one.insert for one in group]))
                words[Markup("on {} {}{}").format(whose, side, tail)] = whose == "its" and side.kind == "end"
        ends = [word for word, own_end in words.items() if own_end]
        told = [word for word in words if word not in ends] if len(ends) > 1 else list(words)
        if len(ends) > 1:
            told.insert(0, Markup("on both its ends"))
        return [Markup("glue {}").format(self.fmt.join(told))] if told else []

    def _short_fasteners(self, joints: Sequence[Joint]) -> list[Markup]:
        """``4 screws``; brads with where they stand."""
        ids = {joint.id for joint in joints}
        driven = tuple(fastener for fastener in self.op.fasteners if fastener.joint in ids)
        if not driven:
            return []
        kind = driven[0].item.kind
        if driven[0].item.pin:
            return [Markup(self.fmt.count(len(driven), kind))]
        if kind != FastenerKind.BRAD:
            return [self._short_screws(driven)]
        lines = screw_lines(self.plan, driven)
        groups: dict[Length, list[ScrewLine]] = {}
        for line in lines:
            groups.setdefault(line.across, []).append(line)
        return [
            Markup("{} through {}, {} from the {}").format(
                self.fmt.count(sum(line.count for line in some), "brad"),
                self.the_parts([line.through for line in some]),
                self.fmt.length(some[0].across),
                self._common_side(some, [line.edge for line in some]),
            )
            for some in groups.values()
        ]

    def _short_screws(self, driven: Sequence[Fastener]) -> Markup:
        """``4 screws``; with their size where the step drives more than one."""
        kind = driven[0].item.kind
        sizes = {f.item.name for op in self.step.operations for f in op.fasteners if f.item.kind == kind}
        if len(sizes) > 1:
            return Markup(self.fmt.join(self.by_item(driven)))
        return Markup(self.fmt.count(len(driven), "pocket screw" if kind == FastenerKind.POCKET_SCREW else "screw"))
