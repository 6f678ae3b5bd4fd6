"""Last sizes marked from the standing piece, and mouldings at the saw and the router, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.derive.operations.fitted import is_edging
from drawleaf.english import definite
from drawleaf.model.fitted import FittedAs
from drawleaf.model.lists import BoardLayout
from drawleaf.model.near import Near
from drawleaf.model.openings import Opening, opening_of
from drawleaf.model.plan import Part
from drawleaf.model.settings import FittedSettings
from drawleaf.model.shapes import PlaneCut
from drawleaf.setting_out.channels import bounds
from drawleaf.setting_out.hinging import runs_on_slides
from drawleaf.setting_out.mouldings import BitCut, bit_cuts, down_edge, flat_at, swings_right
from drawleaf.units import Length

MOST_NAMED = 3


class FittedWords(Speech):
    """Phrases for fitted parts."""

    def marked_from(self) -> Markup:
        """The standing parts that the operation's parts are marked from; by their assembly where there are many."""
        return self._told(self._marks_of())

    def held_against(self) -> Markup:
        """Of what the parts are marked from, what stands by now."""
        later = set(self._not_here())
        return self._told([one for one in self._marks_of() if one not in later])

    def _told(self, ids: Sequence[str]) -> Markup:
        if not ids:
            return Markup("its place")
        if len(ids) <= MOST_NAMED:
            return self.the_parts(list(ids))
        return self._assemblies(ids)

    def comes_later(self) -> Markup:
        """Of what the parts are marked from, what does not stand yet; empty where all does."""
        later = self._not_here()
        return self.the_parts(later) if later else Markup("")

    def _not_here(self) -> list[str]:
        scene = self.step.scene
        here = {*scene.standing, *scene.new} if scene is not None else set(self._marks_of())
        return [one for one in self._marks_of() if one not in here]

    def _marks_of(self) -> list[str]:
        return list(dict.fromkeys(one for part in self._parts() if part.fitted for one in part.fitted.marked_from))

    def _assemblies(self, ids: Iterable[str]) -> Markup:
        """The assemblies of these parts, each once: ``the case and the base``."""
        return self.fmt.join([definite(name) for name in self._assembly_names(ids)])

    def _assembly_names(self, ids: Iterable[str]) -> list[str]:
        return list(dict.fromkeys(self.plan.assembly(self.plan.part(one).assembly).name.lower() for one in ids))

    @property
    def on_floor(self) -> bool:
        """Whether what the operation fits stands on the floor that the piece stands on."""
        floor = min(part.body.z.low for part in self.plan.parts)
        return any(part.body.z.low == floor for part in self._parts())

    @property
    def beside_dry(self) -> bool:
        """Whether these are mitred to a part that comes off again."""
        ids = set(self.op.parts)
        return any(
            joint.family.mitred and not joint.glued and ids & {joint.insert, joint.receiver}
            for joint in self.plan.joints
        )

    def over_words(self) -> Markup:
        """``1/4 in too long and 1/4 in too wide for this``."""
        settings = self.op.settings
        assert isinstance(settings, FittedSettings)
        words = [(settings.longer, "long"), (settings.wider, "wide")]
        return self.fmt.join([Markup("{} too {}").format(self.fmt.length(more), word) for more, word in words if more])

    def proud_words(self) -> Markup:
        """How far an edging stands proud on each side and over at each end."""
        settings = self.op.settings
        assert isinstance(settings, FittedSettings)
        words = Markup("{} proud on each face").format(self.fmt.length(settings.wider / 2))
        if not settings.longer:
            return words
        return Markup("{} and {} over at each end").format(words, self.fmt.length(settings.longer / 2))

    def opening_sums(self) -> list[Markup]:
        """For each kind of part and way: between what to measure, what to take off for what, and what is left if all is as drawn."""
        sums: dict[tuple[bool, Length, Opening], list[str]] = {}
        plain: list[Markup] = []
        for part in self._parts():
            assert part.fitted is not None
            own = [one for one in self.plan.parts if one.assembly == part.assembly]
            standing = Near(one for one in self.plan.parts if one.assembly != part.assembly)
            for axis, _ in part.fitted.over:
                found = opening_of(part, own, standing, axis)
                if found is not None:
                    key = (axis is part.length_axis, part.body.extent(axis), found)
                    sums.setdefault(key, []).append(part.id)
            if part.glue_up is not None:
                plain += self._without_opening(part, [key for key, ids in sums.items() if part.id in ids])
        return [*(self._sum(ids, *key) for key, ids in sums.items()), *plain]

    def _without_opening(self, part: Part, told: list[tuple[bool, Length, Opening]]) -> list[Markup]:
        """A glued-up panel is too large all round: what no opening gives of it is cut to its figure."""
        known = {along for along, *_ in told}
        length, width, _ = part.size
        return [
            Markup("{} of {}: {}, square to the edges").format(word, self.the_parts([part.id]), self.fmt.length(size))
            for word, size, along in (("Length", length, True), ("Width", width, False))
            if along not in known
        ]

    def _sum(self, alike: list[str], along: bool, size: Length, found: Opening) -> Markup:
        part = self.plan.part(alike[0])
        slides = any(f.moving == part.assembly and runs_on_slides(f) for f in self.plan.fittings)
        gaps = "for the slides" if slides and found.gaps.inches >= 0.5 else "for the gaps"
        off = [Markup("{} {}").format(self.fmt.length(found.gaps), gaps)] if found.gaps else []
        if found.beside.exact_mm > 0:
            off.append(Markup("{} for the parts at its ends").format(self.fmt.length(found.beside)))
        words = Markup("{} of {}: {} between {}").format(
            "Length" if along else "Width",
            self.the_parts(alike),
            self.fmt.length(found.size),
            self.the_parts([found.low, found.high]),
        )
        if off:
            words += Markup(". Take off {}").format(self.fmt.join(off))
        if found.beside.exact_mm < 0:
            words += Markup(". Add {} for what its ends are let in").format(self.fmt.length(abs(found.beside)))
        return words + Markup(". As drawn, {} is left").format(self.fmt.length(size))

    def over_what(self) -> Markup:
        """What a top lies on that is trimmed over it; empty for any other panel."""
        part = self._parts()[0]
        if part.fitted is None or part.fitted_as is not FittedAs.TOP:
            return Markup("")
        return self._assemblies(part.fitted.marked_from)

    @property
    def over_several(self) -> bool:
        """Whether that is more than one assembly."""
        fitted = self._parts()[0].fitted
        return fitted is not None and len(self._assembly_names(fitted.marked_from)) > 1

    def overhang_sums(self) -> Markup:
        """``42 in and 3/4 in at either end make 43-1/2 in``, along the top and across it."""
        part = self._parts()[0]
        assert part.fitted is not None
        around = bounds([self.plan.part(one) for one in part.fitted.marked_from])
        words = []
        for axis, what in ((part.length_axis, "Length"), (part.width_axis, "Width")):
            span, under = part.body.span(axis), around.span(axis)
            over = [(under.low - span.low, axis.low.value), (span.high - under.high, axis.high.value)]
            sums = [
                Markup("{} at the {}").format(self.fmt.length(more), side) for more, side in over if more.exact_mm > 0
            ]
            extent, size = self.fmt.length(under.extent), self.fmt.length(span.extent)
            added = Markup(" and ") + self.fmt.join(sums) if sums else Markup("")
            words.append(Markup("{} of the {}: {}{} make {}.").format(what, part.name.lower(), extent, added, size))
        return Markup(" ").join(words)

    @property
    def edging(self) -> bool:
        """Whether all that comes here is glued on proud, to be trimmed flush."""
        return all(is_edging(part) for part in self._parts())

    def _parts(self) -> list[Part]:
        return [self.plan.part(one) for one in self.op.parts]

    # Mouldings

    def down_edge(self) -> Markup:
        """``3/4 in wide bottom edge``, as it lies on the piece: what a moulding stands on at the saw."""
        part = self._parts()[0]
        edge = down_edge(part)
        alike = {down_edge(one) for one in self._parts()} == {edge}
        wide = self.fmt.length(flat_at(part, edge))
        return Markup("{} wide edge{}").format(wide, f" (the {edge.value} one on the piece)" if alike else "")

    def hands(self) -> Markup:
        """Which way the saw is swung for each mitre, a sentence each: `` Swing the handle to the left for the left end.``."""
        if self.tool != "mitre saw" or not self.flag("stands"):
            return Markup("")
        ways: dict[bool, list[str]] = {}
        for part_id, cut in self.op.features:
            assert isinstance(cut, PlaneCut)
            part = self.plan.part(part_id)
            of = f" of the {part.name.lower()}" if len(self.op.parts) > 1 else ""
            ways.setdefault(swings_right(part, cut.face), []).append(f"the {cut.face.value} end{of}")
        words = [
            Markup(" Swing the handle to the {} for {}.").format(
                "right" if right else "left", self.fmt.join([Markup(end) for end in ends])
            )
            for right, ends in sorted(ways.items())
        ]
        return Markup("").join(words)

    def long_points(self) -> Markup:
        """``43-1/2 in from long point to long point``; ``17-1/2 in from the long point to the tail``."""
        part = self._parts()[0]
        length = self.fmt.length(part.size[0])
        two = sum(one == part.id for one, _ in self.op.features) > 1
        return Markup("{} from {}").format(length, "long point to long point" if two else "the long point to the tail")

    def not_moulded(self) -> Markup:
        """What lies on the boards beside the mouldings and is cut off them first; empty where nothing does."""
        own = set(self.op.parts)
        others = dict.fromkeys(piece.part for one in self._boards() for piece in one.placed if piece.part not in own)
        return self.the_parts(list(others)) if others else Markup("")

    @property
    def several_boards(self) -> bool:
        """Whether the mouldings come from more than one board."""
        return len(self._boards()) > 1

    def _boards(self) -> list[BoardLayout]:
        own = set(self.op.parts)
        return [one for one in self.derived.layouts.boards if own & {piece.part for piece in one.placed}]

    def bit_name(self, cut: BitCut) -> Markup:
        """``cove bit of 3/8 in radius``."""
        return Markup("{} bit of {} radius").format(cut.bit.value, self.fmt.length(cut.radius))

    def bit_edge(self, cut: BitCut) -> str:
        """Which edge of the moulding a bit runs along."""
        part = self._parts()[0]
        alike = {one.edge for own in self._parts() for one in bit_cuts(own) or ()} == {cut.edge}
        return self.side(part, cut.edge) if alike else "edge that the section shows"

    def bit_cuts(self) -> tuple[BitCut, ...]:
        """The set-ups that run the section; empty where it takes more than bits with a bearing."""
        return bit_cuts(self._parts()[0]) or ()
