"""Hinges, magnets, catches, feet, table tops: where they go and what to look for, as one fits them."""

from __future__ import annotations

from dataclasses import replace

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.derive.operations.recesses import item_for
from drawleaf.english import definite
from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.model.hardware_family import HardwareFamily, family_of
from drawleaf.model.held import HeldBy
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, Fitting, Part
from drawleaf.model.run import run_of
from drawleaf.setting_out.hinging import pin_axis
from drawleaf.units import ZERO, Length


class Hardware(Speech):
    """Phrases for hardware that is let in, hung or stood on."""

    # Recesses

    def recess_marks(self) -> list[Markup]:
        """Where each square recess lies: its size, its middle along the part, which side it is open to."""
        lines = []
        for ids, cuts in self._by_part(BoxCut):
            part = self.plan.part(ids[0])
            alike: dict[tuple, list[BoxCut]] = {}
            for cut in cuts:
                alike.setdefault(self._recess_like(part, cut), []).append(cut)
            for group in alike.values():
                lines.append(self._recess_line(ids, part, group))
        return lines

    @staticmethod
    def _recess_run(part: Part, cut: BoxCut) -> tuple[Axis, Axis]:
        """The axis along which recesses are set out, and the one across it: the longer way of the recess, else of the part."""
        a, b = cut.into.axis.others()
        own, whole = cut.box, part.body
        long = own if own.extent(a) != own.extent(b) else whole
        return (a, b) if long.extent(a) >= long.extent(b) else (b, a)

    def _recess_like(self, part: Part, cut: BoxCut) -> tuple:
        run, across = self._recess_run(part, cut)
        return cut.into, cut.box.extent(run), cut.box.span(across), cut.open

    def _recess_line(self, ids: list[str], part: Part, cuts: list[BoxCut]) -> Markup:
        cut = cuts[0]
        run, across = self._recess_run(part, cut)
        long, wide = cut.box.extent(run), cut.box.extent(across)
        span, body = cut.box.span(across), part.body.span(across)
        words = Markup("{} on the {} of {}: {} × {}").format(
            f"{self.fmt.count_word(len(cuts))} recesses" if len(cuts) > 1 else "a recess",
            self.side(part, cut.into),
            self.the_parts(ids),
            self.fmt.length(long),
            self.fmt.length(wide),
        )
        places = []
        if span.low == body.low or span.high == body.high:
            face = across.low if span.low == body.low else across.high
            words += Markup(", open to the {}").format(self.twin_side(ids, part, face))
        else:
            face, room = self._nearest(part, across, span.middle)
            places.append(Markup("{} from the {}").format(self.fmt.length(room), self.twin_side(ids, part, face)))
        if long < part.body.extent(run) * 9 / 10:
            spots = sorted(one.box.span(run).middle - part.body.span(run).low for one in cuts)
            places.append(
                Markup("{} from the {}").format(self.distances(spots), self.twin_side(ids, part, run.low))
                if len(spots) > 1
                else self._from_nearer(ids, part, run, spots[0])
            )
        if places:
            words += Markup(", {} {}").format("middles" if len(cuts) > 1 else "the middle", Markup(", ").join(places))
        return words

    def _from_nearer(self, ids: list[str], part: Part, run: Axis, spot: Length) -> Markup:
        face, room = self._nearest(part, run, part.body.span(run).low + spot)
        return Markup("{} from the {}").format(self.fmt.length(room), self.twin_side(ids, part, face))

    def recess_guest(self) -> str:
        """What is laid in to try a recess: ``a leaf of the hinge``."""
        return self.recess_family.guest

    @property
    def recess_family(self) -> HardwareFamily:
        """The family of what lies in the recess."""
        return family_of(self.word("item"))

    def recess_fits(self) -> Markup:
        """How what is laid in lies: flush, or out by what the recess lacks."""
        item = self._item()
        leaf = item.measure("leaf") if item else None
        depth = self.value("depth")
        proud = leaf - depth if leaf is not None and isinstance(depth, Length) else ZERO
        if proud.mm < 0.5:
            return Markup("It lies flush with the wood, and does not rock")
        return Markup("It stands out by {} all round, and does not rock").format(self.bit(proud))

    def _item(self) -> HardwareItem | None:
        """The piece of hardware that the step's recesses are for."""
        for part_id, feature in self.op.features:
            item = item_for(self.plan, part_id, feature)
            if item is not None:
                return item
        return None

    def fine(self, name: str) -> Markup:
        """A setting to the 64th of an inch."""
        value = self.value(name)
        return self.bit(value) if isinstance(value, Length) else self.size(name)

    def breaks_edge(self) -> bool:
        """Whether a round recess of the step opens over an edge."""
        for operation in self.step.operations:
            for part_id, bore in operation.features:
                if not isinstance(bore, Bore):
                    continue
                body = self.plan.part(part_id).body
                for axis in bore.face.axis.others():
                    span, at = body.span(axis), bore.start.along(axis)
                    if min(at - span.low, span.high - at) < bore.diameter / 2:
                        return True
        return False

    # Measures of the item

    def length_value(self, name: str) -> Length:
        """A measure of the item that is fitted."""
        return self.op.fittings[0].item.measure(name) or ZERO

    def length_of(self, name: str) -> Markup:
        return self.fmt.length(self.length_value(name))

    # Hinges

    def hinged_part(self) -> list[str]:
        """The part of the door that carries the hinges."""
        return list(dict.fromkeys(fitting.parts[-1] for fitting in self.op.fittings))

    def hinge_post(self) -> list[str]:
        """What the door hangs on."""
        return list(dict.fromkeys(fitting.parts[0] for fitting in self.op.fittings))

    def hinge_lines(self) -> list[Markup]:
        """Where the hinges sit on the door and on what it hangs on."""
        first = self.op.fittings[0]
        if first.item.family.all_along:
            return []
        run = pin_axis(self.plan, first)
        lines = []
        for which in (-1, 0):
            by_part: dict[str, list[Fitting]] = {}
            for fitting in self.op.fittings:
                by_part.setdefault(fitting.parts[which], []).append(fitting)
            for part_id, fittings in by_part.items():
                part = self.plan.part(part_id)
                spots = sorted(fitting.at.along(run) - part.body.span(run).low for fitting in fittings)
                face = first.face.opposite if which else first.face
                lines.append(
                    Markup("The hinges sit on the {} of {}, {} {} from the {}").format(
                        self.side(part, face),
                        self.the_parts([part_id]),
                        "their middles" if len(spots) > 1 else "the middle",
                        self.distances(spots),
                        self.side(part, run.low),
                    )
                )
        return lines

    def hinge_gap(self) -> Markup:
        """The gap between the door and what it hangs on."""
        first = self.op.fittings[0]
        fixed, door = self.plan.part(first.parts[0]), self.plan.part(first.parts[-1])
        return self.fmt.length(abs(door.seen.face(first.face.opposite) - fixed.seen.face(first.face)))

    def hinge_length(self) -> Markup:
        """How long a piano hinge is sawn."""
        first = self.op.fittings[0]
        body = first.body
        return Markup("") if body is None else self.fmt.length(body.extent(pin_axis(self.plan, first)))

    def overlay_words(self) -> Markup:
        """``covers 11/16 in of the side``, or ``lies flush between the sides``."""
        first = self.op.fittings[0]
        fixed, door = self.plan.part(first.parts[0]), self.plan.part(first.parts[-1])
        overlay = (fixed.seen.face(first.face) - door.seen.face(first.face.opposite)) * first.face.side
        if overlay.exact_mm <= 0:
            return Markup("has {} beside it on the hinge side").format(self.fmt.length(-overlay))
        return Markup("covers {} of {}").format(self.fmt.length(overlay), self.the_parts([fixed.id]))

    # Magnets and catches

    def magnet_lines(self) -> list[Markup]:
        """Which part takes the magnets and which the plates."""
        holders = list(dict.fromkeys(fitting.parts[0] for fitting in self.op.fittings))
        mates = list(dict.fromkeys(fitting.parts[-1] for fitting in self.op.fittings))
        count = sum(fitting.count for fitting in self.op.fittings)
        return [
            Markup("Lay a magnet in each bore of {}, its countersunk side up: {} in all").format(
                self.the_parts(holders), self.fmt.count_word(count)
            ),
            Markup("Lay a steel plate in each recess of {}, its countersunk side up").format(self.the_parts(mates)),
        ]

    def magnet_holds(self) -> list[tuple[HeldBy, str, str]]:
        """For each way of holding that is used, which halves it holds: by screws, ``plate``, ``plates``."""
        ways: dict[HeldBy, list[str]] = {}
        for fitting in self.op.fittings:
            for half, held in (("magnet", fitting.held_by), ("plate", fitting.other_held_by)):
                halves = ways.setdefault(held, [])
                if half not in halves:
                    halves.append(half)
        return [
            (held, " and each ".join(halves), " and ".join(f"{half}s" for half in halves))
            for held, halves in ways.items()
        ]

    def catch_lines(self) -> list[Markup]:
        """Where a catch goes: against the closed door, so far along it."""
        lines = []
        for fitting in self.op.fittings:
            part, door = self.plan.part(fitting.parts[0]), self.plan.part(fitting.parts[-1])
            run = next(axis for axis in Axis if axis not in (fitting.face.axis, door.thickness))
            end, room = self._nearest(part, run, fitting.at.along(run))
            lines.append(
                Markup(
                    "Set the catch on the {} of {}, its middle {} from the {}. Its front stands {} behind the back of the closed door"
                ).format(
                    self.side(part, fitting.face),
                    self.the_parts([part.id]),
                    self.fmt.length(room),
                    self.side(part, end),
                    self.fmt.length(fitting.item.measure("strike") or ZERO),
                )
            )
        return lines

    def stay_lines(self) -> list[Markup]:
        """Where a lid stay goes on the inside of its side."""
        lines = []
        for fitting in self.op.fittings:
            part = self.plan.part(fitting.parts[0])
            body = fitting.body
            if body is None:
                continue
            lines.append(
                Markup(
                    "Screw the stay to the {} of {}: its middle {} from the {}, its top edge flush with the {}"
                ).format(
                    self.side(part, fitting.face),
                    self.the_parts([part.id]),
                    self.fmt.length(body.y.middle - part.body.y.low),
                    self.side(part, Face.FRONT),
                    self.side(part, Face.TOP),
                )
            )
        return lines

    # Feet

    def castor_lines(self) -> list[Markup]:
        """Where each castor goes, those with a brake named by themselves."""
        groups: dict[tuple[str, str, Face], list[Fitting]] = {}
        for fitting in self.op.fittings:
            groups.setdefault((fitting.item.id, fitting.parts[0], fitting.face), []).append(fitting)
        lines = []
        for fittings in groups.values():
            only = type(self)(self.derived, self.fmt, self.step, replace(self.op, fittings=tuple(fittings)))
            lines += [
                Markup("Mark the middle of each {} on {}").format(
                    self._lower(fittings[0].item.name).partition(",")[0], spot
                )
                for spot in only.fitting_spots()  # type: ignore[attr-defined]  # of the other phrases
            ]
        return lines

    # Pulls and pins

    def bolt_count(self) -> int:
        """How many bolts each pull has."""
        return 2 if self.op.fittings[0].item.measure("spacing") else 1

    def bolt_words(self) -> Markup:
        """The machine screw that takes the place of the packet's own where that does not suit."""
        for fitting in self.op.fittings:
            if fitting.item.kind == FastenerKind.MACHINE_SCREW:
                several = fitting.count > 1
                return Markup(": take {}, for {} in the packet {} not suit this thickness").format(
                    f"{self.fmt.count_word(fitting.count)} {fitting.item.plural}"
                    if several
                    else f"the {fitting.item.name}",
                    "those" if several else "the one",
                    "do" if several else "does",
                )
        return Markup("")

    def sleeve_count(self) -> int:
        return sum(fitting.count for fitting in self.op.fittings)

    def panel_side(self) -> str:
        """The side of the piece that a panel on magnets closes: ``front``, ``right side``."""
        held = set(self.op.parts)
        faces = (one.face for one in self.plan.fittings if one.parts[-1] in held and one.item.family.holds_panel)
        face = next(faces, Face.FRONT)
        return f"{face.value} side" if face.axis is Axis.X else face.value

    # Slides under the drawer

    def under_mount_lines(self) -> list[Markup]:
        """Where each slide goes on the case: how far from its front, how high."""
        lines = []
        for fitting in self.op.fittings:
            part, body, run = self.plan.part(fitting.parts[0]), fitting.body, run_of(fitting)
            if body is None:
                continue
            lines.append(
                Markup(
                    "On the inside of {} draw a line {} up from the bottom {}. Set the top of the slide on it, {} {}"
                ).format(
                    self.the_parts([part.id]),
                    self.fmt.length(body.z.high - part.body.z.low),
                    "end" if part.length_axis is Axis.Z else "edge",
                    self.slide_end(run),
                    self.set_back(
                        (part.body.face(run.out) - body.face(run.out)) * run.out.side,
                        run,
                        "end" if part.length_axis is run.along else "edge",
                    ),
                )
            )
        return lines

    def carried_name(self) -> Markup:
        moving = self.op.fittings[0].moving
        if moving is None:
            return Markup("the drawer")
        named = [assembly.name.lower() for assembly in self.plan.assemblies if assembly.id == moving]
        return Markup("{}").format(definite(named[0])) if named else self.the_parts([moving])

    # Table tops

    def top_fastener_lines(self) -> list[Markup]:
        """Which fasteners go on which rails, kind by kind."""
        by_item: dict[str, list[Fitting]] = {}
        for fitting in self.op.fittings:
            by_item.setdefault(fitting.item.id, []).append(fitting)
        lines = []
        for fittings in by_item.values():
            item = fittings[0].item
            rails = self.the_parts([fitting.parts[0] for fitting in fittings])
            count = self.fmt.count_word(len(fittings))
            if item.measure("across"):
                lines.append(
                    Markup(
                        "The bores are in the top edge of {}. Screw a {} into each, {} in all. Let each still turn a little"
                    ).format(rails, self._lower(item.name), count)
                )
            else:
                lines.append(
                    Markup("Push the tongue of a {} halfway into each slot in {}, {} in all. {}").format(
                        self._lower(item.name), rails, count, self._both_ways(fittings)
                    )
                )
        return lines

    def _both_ways(self, fittings: list[Fitting]) -> str:
        """Where in its slot a tongue has room for the top to move: in the middle of a slot that runs the way the top moves."""
        along = [fitting.face.axis is not self.plan.part(fitting.parts[-1]).width_axis for fitting in fittings]
        if all(along):
            return "Set it in the middle of the length of its slot: the top moves along it, to both sides"
        if any(along):
            return (
                "Where the slot is longer, set it in the middle of its length too. That leaves room to move both ways"
            )
        return "That leaves room to move both ways"

    @staticmethod
    def _lower(name: str) -> str:
        return name[:1].lower() + name[1:]

    @property
    def screwed_first(self) -> bool:
        """Whether the fasteners are screwed to the base while it stands; those that only lie in slots would fall out when it is turned over."""
        return any(fitting.item.measure("across") for fitting in self.op.fittings)

    def top_depth(self) -> Markup:
        """How deep the pilot goes into the top: three quarters of it at most."""
        top = self.plan.part(self.op.fittings[0].parts[-1])
        return self.fmt.length(top.seen.z.extent * 3 / 4)

    # Brackets

    def bracket_lines(self) -> list[Markup]:
        """Where brackets go along each corner."""
        corners: dict[tuple[str, str, Face], list[Fitting]] = {}
        for fitting in self.op.fittings:
            corners.setdefault((fitting.parts[0], fitting.parts[-1], fitting.face), []).append(fitting)
        lines = []
        for (part_id, mate_id, face), fittings in corners.items():
            part, mate = self.plan.part(part_id), self.plan.part(mate_id)
            run = next(axis for axis in Axis if axis not in (face.axis, mate.thickness))
            spots = sorted(fitting.at.along(run) - part.body.span(run).low for fitting in fittings)
            lines.append(
                Markup("Mark {} in the corner between the {} of {} and {}: {} from the {}").format(
                    f"{self.fmt.count_word(len(fittings))} brackets" if len(fittings) > 1 else "a bracket",
                    self.side(part, face),
                    self.the_parts([part_id]),
                    self.the_parts([mate_id]),
                    self.distances(spots),
                    self.side(part, run.low),
                )
            )
        return lines
