"""Loose tenons made before the joints close: a strip milled to their section, its edges rounded like the mortises' ends, cut to length."""

from __future__ import annotations

from drawleaf.derive.cut_list.strips import make_strips
from drawleaf.derive.operations.drafts import Stage, Work, Workshop
from drawleaf.derive.shop.store_words import stock_words
from drawleaf.model.lists import Strip
from drawleaf.model.settings import StripSettings
from drawleaf.model.steps import Operation


def make_loose_tenons(shop: Workshop) -> None:
    """One step for all strips. The mortises are there by then, and the strip is fitted to them."""
    if shop.at_work is not None:
        return
    operations = [_milled(shop, strip) for strip in make_strips(shop.plan, shop.layouts)]
    if operations:
        shop.add(operations[0].id, Stage.MACHINE, shop.words.put("Make the loose tenons"), operations, None)


def _milled(shop: Workshop, strip: Strip) -> Operation:
    assert strip.item.length is not None
    settings = StripSettings(
        strip.thickness,
        strip.width,
        strip.item.length,
        strip.length,
        strip.count,
        strip.strips,
        strip.board or 0,
        stock_words(strip.stock),
    )
    return shop.operation("mill-strip", "mill-strip", (), pieces=strip.count, settings=settings)


LOOSE_TENONS = Work(make_loose_tenons, ("mill-strip",))
