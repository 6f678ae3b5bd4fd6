"""The ways to do each operation, as a table: which tools it takes, which are powered is the catalogue's word.

Order is preference: the first method that the kit can do is the step's own, the others are printed as another way.
Which method suits which shop is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from drawleaf.model.catalogue import Catalogue, Caution
from drawleaf.model.steps import Method

SEVERITY = {"DANGER": 0, "WARNING": 1, "CAUTION": 2, "NOTICE": 3}


@dataclass(frozen=True, slots=True)
class MethodSpec:
    """One way: its name as printed, the tool ids it takes (the one that does the work first), and what a tool is used for.

    ``uses`` names uses of a tool that carry cautions of their own (``rip`` on a table saw).
    """

    id: str
    name: str
    tools: tuple[str, ...]
    uses: tuple[str, ...] = ()


def _way(name: str, *tools: str, uses: tuple[str, ...] = ()) -> MethodSpec:
    return MethodSpec(name.lower().replace(" ", "-"), name, tools, uses)


MARKING = ("tape measure", "pencil")
MARKED = ("combination square", *MARKING)

METHODS: dict[str, tuple[MethodSpec, ...]] = {
    "break-down": (
        _way(
            "circular saw along a clamped straightedge",
            "circular saw",
            "straightedge",
            "sacrificial board",
            "clamps",
            *MARKING,
            uses=("sheet",),
        ),
        _way("table saw, with a helper", "table saw", "push stick", "helper", *MARKING, uses=("sheet", "rip")),
        _way(
            "hand saw along a clamped straightedge",
            "hand saw",
            "straightedge",
            "sawhorses",
            "clamps",
            "block plane",
            *MARKING,
        ),
    ),
    "crosscut": (
        _way("mitre saw with a stop block", "mitre saw", "stop block", "clamps", *MARKED),
        _way("circular saw along a square", "circular saw", "clamps", *MARKED),
        _way("hand saw in a mitre box", "mitre box", "stop block", "clamps", *MARKED),
    ),
    "rip": (
        _way("table saw", "table saw", "push stick", *MARKING, uses=("rip",)),
        _way("circular saw along a clamped straightedge", "circular saw", "straightedge", "clamps", *MARKING),
        _way("hand saw and block plane", "hand saw", "block plane", "clamps", *MARKING),
    ),
    "rip-narrow": (
        _way("table saw", "table saw", "push stick", *MARKING, uses=("rip", "small part")),
        _way("jigsaw and block plane", "jigsaw", "block plane", "clamps", *MARKED),
        _way("hand saw and block plane", "hand saw", "block plane", "clamps", *MARKED),
    ),
    "crosscut-short": (
        _way("mitre saw with a stop block", "mitre saw", "stop block", "clamps", *MARKED, uses=("small part",)),
        _way("hand saw in a mitre box", "mitre box", "stop block", "clamps", *MARKED),
    ),
    "rip-short": (
        _way("jigsaw and block plane", "jigsaw", "block plane", "clamps", *MARKED),
        _way("hand saw and block plane", "hand saw", "block plane", "clamps", *MARKED),
    ),
    "glue-up": (_way("bar clamps", "bar clamps", "glue brush", "straightedge", "scraper"),),
    "trim-panel": (
        _way("circular saw along a clamped straightedge", "circular saw", "straightedge", "clamps", *MARKED),
        _way("table saw", "table saw", "push block", *MARKING, uses=("rip",)),
        _way("hand saw and block plane", "hand saw", "block plane", "clamps", *MARKED),
    ),
    "notch": (
        _way("jigsaw", "jigsaw", "chisel", "clamps", *MARKED),
        _way("hand saw and chisel", "hand saw", "chisel", "clamps", *MARKED),
    ),
    "clip-corner": (
        _way("mitre saw turned to 45°", "mitre saw", "clamps", *MARKED, uses=("small part",)),
        _way("hand saw along the line", "hand saw", "sanding block", "clamps", *MARKED),
    ),
    "dado": (
        _way(
            "router with a straight bit in a dado guide",
            "router",
            "straight bit",
            "dado guide",
            "clamps",
            "caliper",
            *MARKED,
            uses=("channel",),
        ),
        _way("table saw with a dado set", "table saw", "dado set", "push block", "caliper", *MARKING, uses=("dado",)),
        _way("hand saw and chisel", "hand saw", "chisel", "clamps", "caliper", *MARKED),
    ),
    "groove": (
        _way(
            "router with a straight bit along a guide",
            "router",
            "straight bit",
            "straightedge",
            "clamps",
            "chisel",
            "caliper",
            *MARKED,
            uses=("channel",),
        ),
        _way("table saw in several passes", "table saw", "push block", "caliper", *MARKING, uses=("dado",)),
    ),
    "rabbet": (
        _way(
            "router with a straight bit along a guide",
            "router",
            "straight bit",
            "straightedge",
            "clamps",
            "chisel",
            "caliper",
            *MARKED,
            uses=("channel",),
        ),
        _way(
            "router with a rabbeting bit",
            "router",
            "rabbeting bit",
            "clamps",
            "chisel",
            "caliper",
            *MARKED,
            uses=("edge",),
        ),
        _way("table saw in two cuts", "table saw", "push block", "chisel", "caliper", *MARKING, uses=("dado",)),
        _way("hand saw and chisel", "hand saw", "chisel", "clamps", "caliper", *MARKED),
    ),
    "shelf-pins": (
        _way("drill in a shelf-pin jig", "drill", "drill bits", "shelf-pin jig", "depth stop", "clamps", *MARKED),
        _way("hand drill in a strip of scrap with holes", "hand drill", "strip of scrap with holes", "clamps", *MARKED),
    ),
    "bore": (
        _way("drill over a backing board", "drill", "drill bits", "clamps", *MARKED),
        _way("hand drill over a backing board", "hand drill", "clamps", *MARKED),
    ),
    "bore-wide": (
        _way(
            "drill with a Forstner bit over a backing board",
            "drill",
            "forstner bits",
            "clamps",
            *MARKED,
            uses=("large hole",),
        ),
        _way("drill with a hole saw", "drill", "hole saw", "clamps", *MARKED, uses=("large hole",)),
        _way("hand drill over a backing board", "hand drill", "clamps", *MARKED),
    ),
    "pocket-holes": (_way("drill in a pocket-hole jig", "drill", "pocket-hole jig", "clamps", *MARKING),),
    "round-over": (
        _way("router with a round-over bit", "router", "round-over bit", "clamps", uses=("edge",)),
        _way("block plane and sanding block", "block plane", "sanding block", "clamps"),
    ),
    "chamfer": (
        _way("router with a chamfer bit", "router", "chamfer bit", "clamps", uses=("edge",)),
        _way("block plane", "block plane", "clamps", *MARKED),
    ),
    "sand": (
        _way("random-orbit sander", "random-orbit sander", "sanding block"),
        _way("sanding block, along the grain", "sanding block"),
    ),
    "dry-fit": (_way("clamps", "clamps", "tape measure", "combination square"),),
    "assemble-screws": (
        _way("drill and driver", "drill", "drill bits", "countersink bit", "driver bits", "clamps", *MARKED),
        _way("hand drill and screwdriver", "hand drill", "screwdriver", "clamps", *MARKED),
    ),
    "assemble-pockets": (_way("drill and driver", "drill", "pocket-hole jig", "straightedge", "clamps", *MARKED),),
    "assemble-brads": (
        _way("hammer and nail set", "hammer", "nail set", "clamps", *MARKED),
        _way("brad nailer", "brad nailer", "clamps", *MARKED),
    ),
    "assemble-brads-hard": (
        _way("hammer and nail set", "hammer", "nail set", "drill", "drill bits", "clamps", *MARKED),
        _way("brad nailer", "brad nailer", "clamps", *MARKED),
    ),
    "assemble-clamps": (_way("clamps", "clamps", "tape measure", "combination square"),),
    "square": (_way("tape measure and a bar clamp", "tape measure", "bar clamps"),),
    "fill": (
        _way("random-orbit sander", "random-orbit sander", "sanding block", "putty knife", "scraper"),
        _way("sanding block, along the grain", "sanding block", "putty knife", "scraper"),
    ),
    "coat-wipe": (_way("cloth", "lint-free rags", "nitrile gloves", "metal can with lid"),),
    "coat-brush": (_way("brush", "brush", "sanding block"), _way("foam pad", "foam pad", "sanding block")),
    "fit-hardware": (
        _way("drill and driver", "drill", "drill bits", "driver bits", *MARKED),
        _way("hand drill and screwdriver", "hand drill", "screwdriver", *MARKED),
    ),
    "set-in-place": (_way("your hands", "tape measure"),),
    "wall": (
        _way("drill and driver", "drill", "drill bits", "driver bits", "level", "stud finder", *MARKING),
        _way("hand drill and screwdriver", "hand drill", "screwdriver", "level", "stud finder", *MARKING),
    ),
}

FULL_SHOP = frozenset(tool for ways in METHODS.values() for way in ways for tool in way.tools)
KITS: dict[str, frozenset[str]] = {
    "full shop": FULL_SHOP,
    "common power tools": FULL_SHOP - {"table saw", "dado set", "brad nailer"},
    "hand-held only": FULL_SHOP - {"table saw", "dado set", "brad nailer", "mitre saw"},
}
DEFAULT_KIT = "common power tools"


def ways_for(kind: str, kit: str) -> tuple[MethodSpec, tuple[MethodSpec, ...]]:
    """The way that the kit can do best, and all others. Where the kit can do none, the first stands: the tool list then says so."""
    owned = KITS.get(kit, KITS[DEFAULT_KIT])
    ways = METHODS[kind]
    best = next((way for way in ways if owned.issuperset(way.tools)), ways[0])
    return best, tuple(way for way in ways if way is not best)


def method_of(spec: MethodSpec, catalogue: Catalogue) -> Method:
    """The way with the catalogue's tools and the cautions of this use of them. Tools that the catalogue lacks are left out:
    ``missing_tools`` reports them."""
    tools = tuple(catalogue.tools[tool] for tool in spec.tools if tool in catalogue.tools)
    ids = dict.fromkeys(caution for tool in tools for caution in tool.cautions_for(*spec.uses))
    return Method(
        spec.id, spec.name, tools, by_severity(catalogue.cautions[id_] for id_ in ids if id_ in catalogue.cautions)
    )


def missing_tools(catalogue: Catalogue) -> tuple[str, ...]:
    """Tool ids that the table names and the catalogue lacks."""
    return tuple(sorted(tool for tool in FULL_SHOP if tool not in catalogue.tools))


def by_severity(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Each caution once, the gravest first; equals in the order given."""
    once = {caution.id: caution for caution in cautions}
    return tuple(sorted(once.values(), key=lambda caution: SEVERITY[caution.signal]))
