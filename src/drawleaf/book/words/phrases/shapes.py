"""Where outlines and openings go, as one marks them out."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.draw.template.subjects import template_subjects
from drawleaf.english import definite, plural
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.settings import TapeSettings
from drawleaf.model.shapes import Outline, OutlineCut, show_face
from drawleaf.setting_out.channels import bounds
from drawleaf.setting_out.outlines import arcs_of, rectangle_of
from drawleaf.units import Length

SIDES = {"left": "left side", "right": "right side", "front": "front", "back": "back", "bottom": "bottom", "top": "top"}
BEHIND = {Face.LEFT: "right", Face.RIGHT: "left"}
"""Where the sides of the piece are for someone who stands behind it."""


class Shapes(Speech):
    """Phrases for curves and openings."""

    def notches(self) -> list[Markup]:
        """The corner and the two distances of each notch; parts with a notch in the same corner in one line."""
        lines: dict[Markup, list[str]] = {}
        for ids, cuts in self._by_part(BoxCut):
            part = self.plan.part(ids[0])
            for cut in cuts:
                a, b = part.thickness.others()
                sides = Markup("{} and {}").format(*(self._notch_side(part, cut, axis) for axis in (b, a)))
                lines.setdefault(sides, []).extend(ids)
        return [Markup("{}: {}").format(self.the_parts(ids), sides) for sides, ids in lines.items()]

    @property
    def notched_twins(self) -> bool:
        """Whether a part is notched as its mirror image, so that what is left on the one is right on the other."""
        return any(len({self.plan.part(one).mirrored for one in ids}) > 1 for ids, _ in self._by_part(BoxCut))

    def _notch_side(self, part: Part, cut: BoxCut, axis: Axis) -> Markup:
        span, body = cut.box.span(axis), part.body.span(axis)
        face = axis.low if span.low == body.low else axis.high
        return Markup("{} from the {}").format(self.fmt.length(span.extent), self.side(part, face))

    def outlined(self) -> Markup:
        """The faces that outlines are marked on, as their template shows them: ``the outside face of both Sides 2``."""
        drawn = {cut: subject.lay.face for subject in template_subjects(self.derived) for cut in subject.serves}
        clauses = []
        for ids, cuts in self._by_part(OutlineCut):
            part = self.plan.part(ids[0])
            face = drawn[cuts[0]] if cuts[0] in drawn else cuts[0].into
            clauses.append(Markup("the {} of {}").format(self.twin_side(ids, part, face), self.the_parts(ids)))
        return self.fmt.join(clauses)

    def openings(self) -> list[Markup]:
        """What is cut, how large, where: one line for each opening of each kind of part."""
        lines = []
        for ids, cuts in self._by_part(OutlineCut):
            part = self.plan.part(ids[0])
            for run, some in self._mirrored(part, cuts):
                size, where = self._size(some[0], part.body, len(some)), self._from_edges(part, some[0], run)
                on = self.side(part, some[0].into)
                lines.append(Markup("{} on the {} of {}: {}").format(size, on, self.the_parts(ids), where))
        return lines

    @staticmethod
    def _mirrored(part: Part, cuts: Sequence[OutlineCut]) -> list[tuple[Axis | None, list[OutlineCut]]]:
        """Each opening, two that stand alike from opposite ends of the part together, with the axis along which they do."""
        left, found = list(cuts), list[tuple[Axis | None, list[OutlineCut]]]()
        while left:
            cut = left.pop(0)
            pairs = (
                (axis, other) for other in left for axis in cut.outline.axis.others() if _twin(part, cut, other, axis)
            )
            run, other = next(pairs, (None, None))
            if other is not None:
                left.remove(other)
            found.append((run, [cut] if other is None else [cut, other]))
        return found

    def standing_opening(self) -> Markup:
        """An opening through one or several parts of the standing piece, measured from the sides of what stands."""
        part_id, cut = next((one, f) for one, f in self.op.features if isinstance(f, OutlineCut))
        home = self.plan.part(part_id).assembly
        around = bounds(self.plan.parts_in(home))
        name = self.plan.assembly(home).name.lower()
        words = []
        through = bounds(
            [
                self.plan.part(one)
                for one, f in self.op.features
                if isinstance(f, OutlineCut) and f.outline == cut.outline
            ]
        )
        for axis, (low, high) in _places(cut.outline):
            whole = around.span(axis)
            runs_out = next((side for side in (axis.low, axis.high) if _reaches(cut.outline, side, through)), None)
            if runs_out is not None:
                words.append(Markup("open at the {}").format(SIDES[runs_out.value]))
                continue
            near_low = low - whole.low.mm <= whole.high.mm - high
            face = axis.low if near_low else axis.high
            span = _exact(cut.outline, axis)
            room = span.low - whole.low if near_low else whole.high - span.high
            hand = BEHIND.get(face) if cut.into is Face.BACK else None
            seen = f" (on your {hand} as you stand behind it)" if hand else ""
            words.append(Markup("{} from the {}{}").format(self.fmt.length(room), SIDES[face.value], seen))
        return Markup("{}, on the {} of {}: {}").format(
            self._size(cut, through), SIDES[cut.into.value], definite(name), self.fmt.join(words)
        )

    @property
    def standing_edge(self) -> bool:
        """Whether the opening in the standing piece runs out through an edge of what it is cut in."""
        found = [(self.plan.part(one), f) for one, f in self.op.features if isinstance(f, OutlineCut)]
        through = bounds([part for part, _ in found])
        return any(
            _reaches(cut.outline, side, through)
            for _, cut in found
            for side in Face
            if side.axis is not cut.outline.axis
        )

    def opened_parts(self) -> Markup:
        """The parts that a cut in the standing piece goes through."""
        return self.the_parts(list(dict.fromkeys(part for part, f in self.op.features if isinstance(f, OutlineCut))))

    def pocket_depth(self) -> Markup:
        """How deep the first pocket is."""
        cut = next(f for _, f in self.op.features if isinstance(f, OutlineCut))
        return self.fmt.length(cut.span.extent)

    def profile_side(self) -> Markup:
        """Which way the section lies: ``its flat back on the back face``."""
        part = self.plan.part(self.op.parts[0])
        assert part.section is not None
        back = show_face(part.section, part.thickness).opposite
        return Markup("its flat back on the {}").format(self.side(part, back))

    def profile_cuts(self) -> Markup:
        """The curves and slopes of a section in words: ``a hollow of 1-1/4 in radius, a slope and straight steps``; steps where it has none."""
        section = self.plan.part(self.op.parts[0]).section
        assert section is not None
        words = []
        for arc in arcs_of(section.outline):
            kind = "hollow" if arc.rise.exact_mm < 0 else "round"
            words.append(Markup("a {} of {} radius").format(kind, self.fmt.length(arc.radius)))
        words = list(dict.fromkeys(words))
        if has_slopes(section.outline):
            words.append(Markup("a slope"))
        return self.fmt.join([*words, "straight steps"]) if words else Markup("straight steps alone")

    def tape_lengths(self) -> list[Markup]:
        """How long each kind of tape is cut."""
        groups: dict[Length, list[str]] = {}
        assert isinstance(self.op.settings, TapeSettings)
        for part, length in self.op.settings.lengths:
            groups.setdefault(length, []).append(part)
        return [
            Markup("Cut {} {} long").format(self.names(ids), self.fmt.length(length)) for length, ids in groups.items()
        ]

    def taped_edges(self) -> list[Markup]:
        """Each kind of tape with the edge that it goes on."""
        lines: dict[str, Markup] = {}
        for joint in self.op.joints:
            receiver = self.plan.part(joint.receiver)
            words = Markup("{} on the {} of {}").format(
                self.the_parts([joint.insert]), self.side(receiver, joint.face.opposite), self.the_parts([receiver.id])
            )
            lines.setdefault(str(words), words)
        return list(lines.values())

    def eighth(self, size: Length) -> Markup:
        """From the edge of a square to the corner of an even octagon in it: its side over 2 plus the square root of 2."""
        return self.fmt.length(size * Fraction(29289, 100000))

    @property
    def has_template(self) -> bool:
        """Whether any outline of the step has curves beyond rounded corners."""
        return any(isinstance(f, OutlineCut) and rectangle_of(f.outline) is None for _, f in self.op.features)

    def _size(self, cut: OutlineCut, body: Box, count: int = 1) -> Markup:
        rectangle = rectangle_of(cut.outline)
        word = "an opening" if {cut.outline.axis.low, cut.outline.axis.high} <= set(cut.open) else "a pocket"
        if count > 1:
            word = f"{self.fmt.count_word(count)} {plural(word.split()[-1])}"
        if rectangle is None:
            return Markup("{} of the shape in the full-size template").format(word)
        spans = zip(cut.outline.axis.others(), (rectangle.u, rectangle.v), strict=True)
        # One that runs over an edge is as large as what it takes from the wood.
        sizes = [self.fmt.length((span.overlap(body.span(axis)) or span).extent) for axis, span in spans]
        size = Markup("{} {} by {}").format(word, *sizes)
        if not rectangle.radius:
            return size
        return Markup("{} with corners of {} radius").format(size, self.fmt.length(rectangle.radius))

    def _from_edges(self, part: Part, cut: OutlineCut, run: Axis | None = None) -> Markup:
        """How far from which sides; along ``run`` two of them, one from either end."""
        words = []
        for axis in cut.outline.axis.others():
            span, body = _exact(cut.outline, axis), part.body.span(axis)
            if axis is run:
                room = min(span.low - body.low, body.high - span.high)
                words.append(
                    Markup("one {} from each {}").format(self.fmt.length(room), self.side(part, axis.low).kind)
                )
                continue
            near_low = span.low - body.low <= body.high - span.high
            face, room = (axis.low, span.low - body.low) if near_low else (axis.high, body.high - span.high)
            words.append(self._edge_words(part, face, room.exact_mm <= 0, span, body, self.fmt.length(room)))
        return self.fmt.join(words)

    def _edge_words(self, part: Part, face: Face, at_edge: bool, span: Span, body: Span, room: Markup) -> Markup:
        if at_edge:
            return Markup("open at the {}").format(self.side(part, face))
        if abs((span.low - body.low - body.high + span.high).mm) < 0.01:
            return Markup("{} from either {}").format(room, self.side(part, face).kind)
        return Markup("{} from the {}").format(room, self.side(part, face))


def _twin(part: Part, cut: OutlineCut, other: OutlineCut, run: Axis) -> bool:
    """Whether two rectangular openings are alike, but that one stands as far from one end of the part along ``run`` as the other from the
    other."""
    a, b = rectangle_of(cut.outline), rectangle_of(other.outline)
    if a is None or b is None or a.radius != b.radius or (cut.into, cut.open) != (other.into, other.open):
        return False
    for axis in cut.outline.axis.others():
        one, two, body = _exact(cut.outline, axis), _exact(other.outline, axis), part.body.span(axis)
        if axis is run:
            if one == two or one.low - body.low != body.high - two.high or one.high - body.low != body.high - two.low:
                return False
            if min(one.low - body.low, body.high - one.high) <= Length.of_mm(0):
                return False
        elif one != two:
            return False
    return True


def _reaches(outline: Outline, side: Face, body: Box) -> bool:
    """Whether an outline runs to a side of what it is cut in, or beyond."""
    span = outline.span(side.axis)
    end = span.low if side.side < 0 else span.high
    return (end - body.face(side)).exact_mm * side.side >= 0


def _places(outline: Outline) -> list[tuple[Axis, tuple[float, float]]]:
    bounds_uv = outline.bounds
    return [(axis, (span.low.mm, span.high.mm)) for axis, span in zip(outline.axis.others(), bounds_uv, strict=True)]


def _exact(outline: Outline, axis: Axis) -> Span:
    return outline.bounds[outline.axis.others().index(axis)]


def has_slopes(outline: Outline) -> bool:
    """Whether any straight side of it lies at a slant."""
    corners = outline.corners
    return any(
        not a.turn and a.u != b.u and a.v != b.v for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    )
