"""``shelf_pins: sleeves`` rows of holes that are lined: bored as the sleeve asks for, one sleeve to a hole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.looking_through import hole_linings
from drawleaf.model.place import Face
from drawleaf.model.plan import Bore, Feature, Fitting
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import AssemblyDraft
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.names import did_you_mean


def line_with_sleeves(
    features: dict[str, list[Feature]],
    assemblies: Iterable[AssemblyDraft],
    hardware: Mapping[str, HardwareItem],
    sources: Sources,
    findings: Findings,
) -> list[Fitting]:
    """The sleeves to buy; their holes in ``features`` get the sleeve's bore."""
    sleeves = {item.id: item for item in hole_linings(hardware)}
    fittings: list[Fitting] = []
    for assembly in assemblies:
        for _, entry in assembly.machining():
            rows = entry.shelf_pins
            if rows is None or rows.sleeves is None:
                continue
            item = sleeves.get(rows.sleeves)
            if item is None:
                findings.error(
                    "unknown-hardware",
                    f"There is no sleeve “{rows.sleeves}” in shared/hardware",
                    sources.at(rows, "sleeves"),
                    mend=did_you_mean(rows.sleeves, sleeves),
                )
                continue
            position = sources.at(entry, "shelf_pins")
            for part_id, found in features.items():
                lined = [bore for bore in found if isinstance(bore, Bore) and bore.position == position]
                if not lined:
                    continue
                features[part_id] = [_bored(one, item) if one in lined else one for one in found]
                first = lined[0]
                fittings.append(
                    Fitting(
                        f"{part_id}.sleeves-{position.line}",
                        item,
                        len(lined),
                        (part_id,),
                        first.face if isinstance(first, Bore) else Face.LEFT,
                        first.start,
                        None,
                        None,
                        f"{part_id}.sleeves-{position.line}",
                        position,
                    )
                )
    return fittings


def _bored(feature: Feature, item: HardwareItem) -> Feature:
    if not isinstance(feature, Bore):
        return feature
    return replace(feature, diameter=item.hole or feature.diameter, depth=item.measure("bore deep") or feature.depth)
