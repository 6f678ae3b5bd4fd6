"""Bought hardware and finish: where it goes, how it is held, what is coated."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import takewhile

from markupsafe import Markup

from drawleaf.book.words.phrases.base import MANY, Speech
from drawleaf.derive.buying.finish_amounts import one_coat
from drawleaf.derive.operations.finish import masked_parts
from drawleaf.derive.shop.bits import mount_pilot, mount_screw, stud_pilot
from drawleaf.english import definite
from drawleaf.model.catalogue import FinishProduct, HardwareItem
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fitting, Part
from drawleaf.model.run import Run, run_of
from drawleaf.setting_out.channels import bounds
from drawleaf.setting_out.feet import stands_bare, trodden
from drawleaf.setting_out.hinging import carried_sides
from drawleaf.setting_out.runways import runway
from drawleaf.units import ZERO, Length, Units

ONE_HAND_KG = 5.0
"""What one holds up with one hand while the other marks and bores: common practice, no source."""


class Fittings(Speech):
    """Phrases for hardware and coats."""

    # Hardware

    def fitting_spots(self) -> list[Markup]:
        """Where each fitting goes: ``the front face of the board 1: 2 in from the bottom edge, 3 in from the left end``."""
        return [Markup("{}: {}").format(on, room) for on, room in self._fitting_places()]

    def _fitting_places(self) -> list[tuple[Markup, Markup]]:
        """For each kind of fitting on a part the face, and how far from which of its edges."""
        lines = []
        groups: dict[tuple, list[Fitting]] = {}
        for fitting in self.op.fittings:
            groups.setdefault((fitting.item.id, fitting.parts[0], fitting.face), []).append(fitting)
        for fittings in groups.values():
            part = self.plan.part(fittings[0].parts[0])
            face = fittings[0].face
            a, b = face.axis.others()
            run, across = (a, b) if self._spread(fittings, a) >= self._spread(fittings, b) else (b, a)
            if len(fittings) == 1 and part.body.extent(b) > part.body.extent(a):
                run, across = b, a
            edge, up = self._nearest(part, across, fittings[0].at.along(across))
            spots = sorted(fitting.at.along(run) - part.body.span(run).low for fitting in fittings)
            lines.append(
                (
                    Markup("the {} of {}").format(self.side(part, face), self.the_parts([part.id])),
                    Markup("{} from the {}, {} from the {}").format(
                        self.fmt.length(up), self.side(part, edge), self.distances(spots), self.side(part, run.low)
                    ),
                )
            )
        return lines

    @staticmethod
    def _spread(fittings: Sequence[Fitting], axis: Axis) -> Length:
        values = [fitting.at.along(axis) for fitting in fittings]
        return max(values) - min(values)

    def fitting_notes(self) -> list[Markup]:
        """The author's words on these fittings, each once."""
        notes = dict.fromkeys(fitting.note for fitting in self.op.fittings if fitting.note)
        return [self.fmt.markdown_line(note) for note in notes]

    # Screws of hardware

    def _mount_screw(self) -> HardwareItem | None:
        """The screw that these fittings are mounted with."""
        return mount_screw(self.plan, self.op)

    def mount_pilot(self) -> Markup:
        """The pilot hole for those screws in the part they go into; empty where none is named."""
        hole = mount_pilot(self.plan, self.op)
        return self.bit(hole) if hole is not None else Markup("")

    def through_into(self) -> Markup:
        """``, through the back panel into the back top rail``: where a screw goes through one part into the next; else nothing."""
        first = self.op.fittings[0].parts
        if len(first) != 2:
            return Markup("")
        return Markup(", through {} into {}").format(self.the_parts(first[:1]), self.the_parts(first[1:]))

    def mount_depth(self) -> Markup:
        """How deep the pilot is: the screw's length less a little, and never near the far face."""
        screw = self._mount_screw()
        if screw is None or screw.length is None:
            return Markup("")
        thinnest = min(self.plan.part(part).size[2] for fitting in self.op.fittings for part in fitting.parts)
        return self.fmt.length(min(screw.length - Length.of_inches(Fraction(1, 8)), thinnest * Fraction(3, 4)))

    def mount_length(self) -> Markup:
        """How long the mounting screw is."""
        screw = self._mount_screw()
        return Markup("") if screw is None or screw.length is None else self.fmt.length(screw.length)

    def supplied_words(self) -> str:
        """``that come with it``, or the screws by name where they are bought."""
        screws = [screw for fitting in self.op.fittings for screw in fitting.item.screws]
        if not screws:
            return "named on its packet"
        if all(screw.supplied for screw in screws):
            return "that come with it" if len(self.op.fittings) == 1 else "that come with them"
        items = dict.fromkeys(self.plan.catalogue.hardware[screw.item] for screw in screws if not screw.supplied)
        metric = self.fmt.units is not Units.INCH
        names = [f"{item.plural}, {item.metric}" if item.metric and metric else item.plural for item in items]
        return f"({'; '.join(names)})"

    def stud_pilot(self) -> Markup:
        """The pilot hole in a softwood stud for a wall screw."""
        return self.bit(stud_pilot(self.op))

    @property
    def heavy_to_hang(self) -> bool:
        """Whether the piece is too heavy to hold up with one hand while the other marks and bores."""
        return self.derived.mass_kg > ONE_HAND_KG

    def hang_spots(self) -> Markup:
        """Where the holes for the wall screws are."""
        return self.fmt.join([room for _, room in self._fitting_places()])

    # Slides

    def slide_lines(self) -> list[Markup]:
        """Where the case half of each slide goes: one line for each part it is screwed to."""
        lines = []
        for fitting in self.op.fittings:
            for part_id in fitting.parts:
                part = self.plan.part(part_id)
                run = run_of(fitting)
                start = self._slide_start(fitting, part)
                lines.append(
                    Markup(
                        "On {} draw a line along the {}, {} up from the bottom {}. Set the middle of the slide on it, "
                        "{} {}"
                    ).format(
                        self.the_parts([part_id]),
                        self._towards(fitting, part, run),
                        self.fmt.length(fitting.at.z - part.body.z.low),
                        "end" if part.length_axis is Axis.Z else "edge",
                        self.slide_end(run),
                        self.set_back(start, run, "end" if part.length_axis is run.along else "edge"),
                    )
                )
        return lines

    @staticmethod
    def _slide_start(fitting: Fitting, part: Part) -> Length:
        """How far the slide's outer end lies behind that of a part; a fitting's place is its middle."""
        run, half = run_of(fitting), fitting.item.length / 2 if fitting.item.length else ZERO
        start = fitting.at.along(run.along) + half * run.out.side
        return (part.body.face(run.out) - start) * run.out.side

    def _towards(self, fitting: Fitting, part: Part, run: Run) -> str:
        """The face that looks at what the slides carry."""
        carried = self.plan.parts_in(fitting.moving) if fitting.moving else ()
        if not carried:
            return "inside face"
        across = run.across
        middle = bounds(carried).span(across).middle
        return self.side(part, across.high if middle > part.body.span(across).middle else across.low)

    def drawer_rail_lines(self) -> list[Markup]:
        """Where the drawer's rails go, measured from the drawer's own bottom edge and front."""
        lines = []
        for fitting in self.op.fittings:
            sides = carried_sides(self.plan, fitting)
            if not sides:
                continue
            up = fitting.at.z - sides[0].body.z.low
            run = run_of(fitting)
            behind = self.set_back(self._slide_start(fitting, sides[0]), run, "end")
            lines.append(
                Markup(
                    "On the outside face of {} draw a line {} up from the bottom edge. Set the middle of the thin member on it, "
                    "{} {}"
                ).format(self.the_parts([side.id for side in sides]), self.fmt.length(up), self.slide_end(run), behind)
            )
        return lines

    def slide_opening(self) -> Markup:
        """The clear width between what the two slides are screwed to: the drawer's width and the room that the slides ask for."""
        parts = dict.fromkeys(part for fitting in self.op.fittings for part in fitting.parts)
        across = run_of(self.op.fittings[0]).across
        spans = sorted((self.plan.part(part).body.span(across) for part in parts), key=lambda span: span.low)
        return self.fmt.length(spans[-1].low - spans[0].high)

    def assembly(self) -> Markup:
        """``the Drawer``: the assembly that this step works on."""
        return Markup("{}").format(definite(self.plan.assembly(self.step.assembly or "").name.lower()))

    # Coats

    def coat_parts(self) -> Markup:
        """What is coated: everything, or the parts by name, assemblies that are coated whole under their own name."""
        coated = set(self.op.coat.parts) if self.op.coat else set()
        left_out = [part.id for part in self.plan.parts if part.id not in coated]
        if not left_out:
            return Markup("all faces")
        if len(left_out) < len(coated):
            return Markup("all faces. Leave out {}").format(self.the_parts(left_out))
        whole, rest = self._by_assembly(coated)
        return self.fmt.join([*(Markup("{}").format(definite(name)) for name in whole), *self._each_named(rest)])

    def glued_when_coated(self) -> bool:
        """Whether what is coated is glued to something later."""
        coated = set(self.op.coat.parts) if self.op.coat else set()
        return any(joint.glued and coated & {joint.insert, joint.receiver} for joint in self.plan.joints)

    def coated_panels(self) -> Markup:
        """Of what is coated, the solid panels that stay free in their grooves; empty where there are none."""
        coated = set(self.op.coat.parts) if self.op.coat else set()
        free = [joint.insert for joint in self.plan.joints if joint.family.panel and not joint.glued]
        panels = [one for one in dict.fromkeys(free) if one in coated and self.plan.part(one).stock.material.solid]
        return self.the_parts(panels) if panels else Markup("")

    def _by_assembly(self, coated: set[str]) -> tuple[list[str], list[str]]:
        whole, rest = [], []
        for assembly in self.plan.assemblies:
            own = set(assembly.parts)
            if own and own <= coated and len(own) > 1:
                whole.append(assembly.name.lower())
            else:
                rest += [part for part in assembly.parts if part in coated]
        return whole, rest

    def coated_by_now(self) -> Markup:
        """What was coated before it was joined, so that no paper may touch it now; empty where nothing was."""
        coats = [coat for coat in self.plan.finish if coat.product is not None and coat.before_assembly]
        coated = dict.fromkeys(part for coat in coats for part in coat.parts)
        if not coated:
            return Markup("")
        return self.the_parts(list(coated)) if len(coated) <= MANY else Markup("what is coated already")

    def bare_before_water(self) -> Markup:
        """What is still bare when the first water-borne coat comes; empty where nothing is, or the coat is none."""
        coat = self.op.coat
        if coat is None or coat.product is None or not coat.product.water_borne:
            return Markup("")
        earlier = takewhile(lambda one: one.position != coat.position, self.plan.finish)
        coated = {part for one in earlier if one.product is not None for part in one.parts}
        bare = [part for part in coat.parts if part not in coated]
        if not bare:
            return Markup("")
        return self.the_parts(bare) if len(bare) <= MANY else Markup("what is bare" if coated else "all of it")

    def masked(self) -> Markup:
        """Bare parts that are glued to coated ones by now."""
        bare = masked_parts(self.plan, self.op.coat) if self.op.coat else ()
        return self.the_parts(bare) if bare else Markup("")

    def coated_ways(self) -> Markup:
        """What has finish on it of the wood that a drawer runs with and on; empty where all of it is bare."""
        coated = {part for coat in self.plan.finish if coat.product is not None for part in coat.parts}
        ways = [part.id for part in runway(self.plan, self.op.parts) if part.id in coated]
        return self.the_parts(ways) if ways else Markup("")

    @property
    def stands_bare(self) -> bool:
        """Whether the piece stands on its own wood, which no foot levels."""
        return stands_bare(self.plan)

    def trodden(self) -> Markup:
        """The parts that people stand on and that this coat leaves smooth; empty where there are none."""
        parts = trodden(self.plan, self.op.coat) if self.op.coat else ()
        return self.the_parts(parts) if parts else Markup("")

    def coat_amount(self) -> Markup:
        """``, about 90 ml each``: what one coat of this line takes by its area."""
        coat = self.op.coat
        if coat is None or coat.product is None:
            return Markup("")
        each = " each" if coat.coats > 1 else ""
        return Markup(", about {}{}").format(self.fmt.volume(one_coat(self.plan, coat)), each)

    @staticmethod
    def lowered(text: str) -> str:
        """With a small first letter, for the middle of a sentence."""
        return text[:1].lower() + text[1:]

    def wipe_wait(self, product: FinishProduct) -> str:
        """How long a wiped finish stays on, from the catalogue's own words where they say it."""
        return product.note or "Wait as long as the can says, then wipe off all that stays wet."
