"""What keeps hands from blades, at its very limits: which guide a cut runs on, and which pieces are sawn by hand. Figures by hand, in inches."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import Any, cast

import pytest

from drawleaf.derive.operations.cutting import _rip_kind, _stays_on_board, _way_across
from drawleaf.derive.operations.fitted import _way_to_fit
from drawleaf.derive.shop.limits import CARRY_KG, HIGHEST_RESAW, SHORTEST_HELD, THINNEST_PLANED, ShopLimits
from drawleaf.model.plan import Part
from drawleaf.setting_out.mitres import is_short, stands_up
from drawleaf.setting_out.slants import Slant
from drawleaf.units import Length

HAIR = Fraction(1, 16)
FULL = ShopLimits(table_saw=True, straightedge=Length.of_inches(50))
NO_FENCE = ShopLimits(table_saw=False, straightedge=Length.of_inches(50))


def inches(number: float | Fraction) -> Length:
    return Length.of_inches(Fraction(number))


def rip(
    shop: ShopLimits, setting: Fraction | float, run: Fraction | float, width: Fraction | float, **how: bool
) -> str:
    """The guide of a rip of a board, or of a sheet where ``board`` is false."""
    said = {"board": True, "heavy": False, **how}
    return shop.guide("rip", inches(setting), width=inches(width), run=inches(run), **said)


@pytest.mark.parametrize(
    ("setting", "run", "width", "guide"),
    [
        (2, 12, 6, "fence"),
        (2, 12 - HAIR, 6, "line"),
        (1, 30, 6, "fence"),
        (1 - HAIR, 30, 6, "straightedge"),
        (24, 30, 48, "fence"),
        (24 + HAIR, 30, 48, "straightedge"),
        (1 - HAIR, 30, 3, "straightedge"),
        (1 - HAIR, 30, 3 - HAIR, "line"),
        (1 - HAIR, 50, 6, "straightedge"),
        (1 - HAIR, 50 + HAIR, 6, "straightedge moved along"),
    ],
)
def test_a_rip_at_the_table_saw(setting: float, run: float, width: float, guide: str) -> None:
    """From 1 to 24 in at the fence; shorter than 12 in by hand to a line; a board under 3 in wide carries no circular saw."""
    assert rip(FULL, setting, run, width) == guide


def test_a_rip_without_a_fence_and_of_what_is_too_heavy() -> None:
    assert rip(NO_FENCE, 2, 30, 6) == "straightedge"
    assert rip(NO_FENCE, 2, 30, 3 - HAIR) == "line"
    assert rip(FULL, 12, 30, 48, heavy=True) == "straightedge"
    assert rip(FULL, 12, 30, 48, board=False) == "fence"
    by_hand = ShopLimits(table_saw=True, sheets_at_fence=False)
    assert rip(by_hand, 12, 30, 48, board=False) == "straightedge"
    assert rip(by_hand, 12, 30, 48) == "fence"


def test_a_sheet_is_never_crosscut_at_the_fence() -> None:
    """It would turn between blade and fence. The straightedge is moved where the sheet is wider than it is long."""
    cut = inches(30)
    assert FULL.guide("crosscut", cut, board=False, heavy=False, width=inches(48)) == "straightedge"
    assert FULL.guide("crosscut", cut, board=False, heavy=False, width=inches(60)) == "straightedge moved along"


@pytest.mark.parametrize(
    ("width", "guide"), [(None, "stop"), (3.5, "stop"), (5.5, "stop"), (5.5 + HAIR, "square"), (11.25, "square")]
)
def test_a_board_is_crosscut_at_a_stop_as_wide_as_the_saw_crosses(width: float | None, guide: str) -> None:
    """A 1x6 just passes; what is wider is sawn along a square, as is everything where no way of the kit has a stop."""
    wide = None if width is None else inches(width)
    assert FULL.across(wide, short=False) == FULL.across(wide, short=True) == guide
    assert FULL.guide("crosscut", inches(20), board=True, heavy=False, width=wide) == guide
    none = ShopLimits(table_saw=True, stop=False, stop_short=True)
    assert (none.across(wide, short=False), none.across(wide, short=True)) == ("square", guide)


@pytest.mark.parametrize(
    ("long", "way"),
    [
        (6, "crosscut"),
        (6 - HAIR, "crosscut-short"),
        (2, "crosscut-short"),
        (2 - HAIR, "crosscut-tiny"),
        (HAIR, "crosscut-tiny"),
    ],
)
def test_what_is_too_short_for_a_stop_is_cut_by_hand(long: float, way: str) -> None:
    """Under 2 in a piece is thrown by the blade; a wide board has a way of its own, however short the piece."""
    assert _way_across("crosscut", inches(long)) == way
    assert _way_across("crosscut-wide", inches(long)) == "crosscut-wide"


def piece(long: float, wide: float, thick: float, board: float, rest: float | None = None) -> Any:
    """A piece on a board so wide; ``rest`` is how long the rest of the board is that it is ripped with."""
    return SimpleNamespace(
        rest=None if rest is None else SimpleNamespace(run=inches(rest)),
        placed=SimpleNamespace(length=inches(long), width=inches(wide)),
        board=SimpleNamespace(
            stock=SimpleNamespace(thickness=inches(thick)), board=SimpleNamespace(width=inches(board))
        ),
    )


@pytest.mark.parametrize(
    ("one", "kind"),
    [
        (piece(12, 2, 0.75, 6), "rip"),
        (piece(12 - HAIR, 2, 0.75, 6), "rip-short"),
        (piece(4, 2, 0.75, 6, rest=12), "rip"),
        (piece(4, 2, 0.75, 6, rest=12 - HAIR), "rip-short"),
        (piece(30, 1 - HAIR, 0.25, 6), "rip"),
        (piece(30, 1 - HAIR, 0.25 - HAIR, 6), "rip-thin"),
        (piece(30, 1, 0.25 - HAIR, 6), "rip"),
        (piece(30, 2, 0.75, 3), "rip"),
        (piece(30, 2, 0.75, 3 - HAIR), "rip-narrow"),
        (piece(30, 1, 0.75, 3 - HAIR), "rip-narrow"),
        (piece(30, 1 - HAIR, 0.75, 3 - HAIR), "rip-thin"),
    ],
)
def test_which_rips_are_made_by_hand(one: Any, kind: str) -> None:
    assert _rip_kind(one) == kind


def test_what_is_ripped_with_the_rest_of_its_board_is_cut_off_last() -> None:
    assert _stays_on_board(cast("Any", None), piece(4, 2, 0.75, 6, rest=20))
    assert not _stays_on_board(cast("Any", None), piece(12, 2, 0.75, 6))


def test_a_mitred_piece_under_6_in_is_worked_on_a_longer_one() -> None:
    assert not is_short(cast("Part", SimpleNamespace(size=(inches(6),))))
    assert is_short(cast("Part", SimpleNamespace(size=(inches(6 - HAIR),))))


@pytest.mark.parametrize(
    ("wide", "sort", "tilt", "mitre", "stands"),
    [
        (3.5, "end", 45.0, 0.0, True),
        (3.5 + HAIR, "end", 45.0, 0.0, False),
        (2, "edge", 45.0, 0.0, False),
        (2, "end", 45.0, 10.0, False),
        (2, "end", 0.0, 45.0, False),
    ],
)
def test_narrow_stock_stands_on_edge_at_the_saw(
    wide: float, sort: str, tilt: float, mitre: float, stands: bool
) -> None:
    """Up to 3-1/2 in, for a plain bevel across its end."""
    part = cast("Part", SimpleNamespace(size=(inches(20), inches(wide))))
    assert stands_up(part, cast("Slant", SimpleNamespace(sort=sort, tilt=tilt, mitre=mitre))) is stands


def test_the_limits_themselves() -> None:
    """51 lb for one person (NIOSH 94-110); 6 in to clamp, 1/4 in at the planer and 6 in upright at a bandsaw: common practice, no source."""
    assert pytest.approx(51 * 0.45359237, abs=0.2) == CARRY_KG
    assert (inches(6), inches(0.25), inches(6)) == (SHORTEST_HELD, THINNEST_PLANED, HIGHEST_RESAW)


@pytest.mark.parametrize(
    ("thick", "wide", "way"),
    [
        (Length.of_mm(4), 3.0, "fit-panel-thin"),
        (Length.of_mm(3), 20.0, "fit-panel-thin"),
        (Length.of_mm(Fraction(41, 10)), 5.5, "fit-strip"),
        (Length.of_mm(Fraction(41, 10)), 5.5 + HAIR, "fit-panel"),
        (Length.of_mm(18), 20.0, "fit-panel"),
    ],
)
def test_thin_plywood_is_fitted_with_a_knife(thick: Length, wide: float, way: str) -> None:
    """Up to 4 mm a saw tears it, and there is nothing to hold; from there on a mitre saw does what it crosses."""
    part = SimpleNamespace(stock=SimpleNamespace(thickness=thick), size=(inches(12), inches(wide)))
    assert _way_to_fit(cast("Part", part)) == way
