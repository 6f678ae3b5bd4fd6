"""Laps, fingers and tails, as one marks and cuts them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.joinery import BENCH
from drawleaf.joinery.bench import Note
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.shapes import OutlineCut
from drawleaf.setting_out.wood_joints import finger_spans
from drawleaf.units import Length


class Interlocking(Speech):
    """Phrases for parts that are cut into one another."""

    def lap_marks(self) -> list[Markup]:
        """Each lap: on which face, from where to where along its part."""
        lines = []
        for ids, cuts in self._by_part(BoxCut):
            part = self.plan.part(ids[0])
            run = part.length_axis
            body = part.body.span(run)
            faces: dict[Face, list[str]] = {}
            for cut in cuts:
                span = cut.box.span(run)
                low, high = span.low - body.low, body.high - span.high
                if not low and not high:
                    words = Markup("its whole length")
                elif not low or not high:
                    end = run.low if not low else run.high
                    words = Markup("the {} {}").format(self.side(part, end), self.fmt.length(span.extent))
                else:
                    words = Markup("{} to {} from the {}").format(
                        self.fmt.length(low), self.fmt.length(low + span.extent), self.side(part, run.low)
                    )
                faces.setdefault(cut.into if cut.kind == CutKind.LAP else part.thickness.low, []).append(str(words))
            for face, words_ in faces.items():
                where = self.side(part, face) if cuts[0].kind == CutKind.LAP else "end"
                lines.append(
                    Markup("the {} of {}: {}").format(
                        where, self.the_parts(ids), self.fmt.join([Markup(one) for one in words_])
                    )
                )
        return lines

    def finger_marks(self) -> list[Markup]:
        """Which spans are sawn out of each part's ends, from the low edge; parts of one kind together."""
        lines = []
        for ids, cuts in self._by_part(BoxCut):
            lines += self._corner_pattern(ids, cuts)
        for ids, cuts in self._by_part(OutlineCut):
            lines += self._corner_pattern(ids, cuts)
        return lines

    def _corner_pattern(self, ids: Sequence[str], cuts: Sequence[BoxCut | OutlineCut]) -> Iterable[Markup]:
        part = self.plan.part(ids[0])
        run = self._corner_run(part, cuts[0])
        body = part.body.span(run)
        ends: dict[Face, list[tuple[Length, Length]]] = {}
        for cut in cuts:
            span = finger_spans(cut, run)
            low, high = max(span.low, body.low) - body.low, min(span.high, body.high) - body.low
            ends.setdefault(self._corner_end(part, cut), []).append((low, high))
        patterns: dict[tuple, list[Face]] = {}
        for face, spans in ends.items():
            patterns.setdefault(tuple(sorted(spans)), []).append(face)
        for spans, faces in patterns.items():
            kind = "end" if faces[0].axis is part.length_axis else "edge"
            where = f"both {kind}s" if len(faces) == 2 else f"the {self.side(part, faces[0])}"
            words = self.fmt.join(
                [Markup("{} to {}").format(self.fmt.length(low), self.fmt.length(high)) for low, high in spans]
            )
            yield Markup("{} of {}: {} from the {}").format(where, self.the_parts(ids), words, self.side(part, run.low))

    def finger_sides(self) -> str:
        """``end``, ``edge`` or ``end and edge``: where the parts of this operation get their fingers."""
        kinds = {
            "end" if self._corner_end(part, cut).axis is part.length_axis else "edge"
            for part_id, cut in self.op.features
            if isinstance(cut, (BoxCut, OutlineCut))
            for part in (self.plan.part(part_id),)
        }
        return " and ".join(sorted(kinds, reverse=True))

    def _corner_run(self, part: Part, cut: BoxCut | OutlineCut) -> Axis:
        end = self._corner_end(part, cut).axis
        return next(axis for axis in Axis if axis not in (end, part.thickness))

    def _corner_end(self, part: Part, cut: BoxCut | OutlineCut) -> Face:
        return cut.into

    def cut_marks(self) -> list[Markup]:
        """How each cut of a family's own kind is marked out: one line for each kind of part."""
        work = next(one for one in BENCH if one.operation == self.op.kind)
        assert work.marks is not None
        lines = []
        for ids, cuts in (*self._by_part(BoxCut), *self._by_part(OutlineCut)):
            part = self.plan.part(ids[0])
            mine = {id(cut) for cut in cuts if cut.kind == work.kind}
            pieces = [piece for piece in work.pieces(part) if any(id(cut) in mine for cut in piece)]
            told = [self.note(work.marks(part, piece), part, ids) for piece in pieces]
            lines.append(Markup("{}, {}").format(self.the_parts(ids), self.fmt.join(told)))
        return lines

    def note(self, note: Note, part: Part, ids: Sequence[str]) -> Markup:
        """A note that a family gives about a part, in the plan's units and with the sides as the piece stands."""
        return Markup("").join(
            self.fmt.length(piece)
            if isinstance(piece, Length)
            else self.twin_side(ids, part, piece)
            if isinstance(piece, Face)
            else piece
            for piece in note
        )

    def slope_words(self) -> str:
        """``1 in 8``: the slope of the dovetails of this operation."""
        slope = self.value("slope")
        return f"{slope.numerator} in {slope.denominator}" if slope else ""
