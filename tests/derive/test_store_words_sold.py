"""Sizes that a store sells are printed as its labels have them."""

from fractions import Fraction

from drawleaf.derive.shop.store_words import length_words, sheet_words
from drawleaf.model.catalogue import SheetSize
from drawleaf.units import Length, LengthFormat, Units

METRIC = LengthFormat(Units.MM)


def test_an_eight_foot_board_is_2438_long_in_a_metric_list() -> None:
    assert length_words(Length.of_inches(96), METRIC) == "2438 mm"
    assert length_words(Length.of_inches(96), LengthFormat(Units.BOTH)) == "8 ft (2438 mm)"


def test_a_sheet_sold_in_feet_is_told_in_whole_millimetres() -> None:
    sheet = SheetSize("4 x 8 ft", Length.of_inches(96), Length.of_inches(48))
    assert sheet_words(sheet, METRIC) == "4 x 8 ft (2438 x 1219 mm)"


def test_parts_keep_the_finer_step_and_a_coarser_one_stays() -> None:
    assert METRIC.text(Length.of_inches(96)) == "2438.5 mm"
    assert METRIC.sold().text(Length.of_inches(96)) == "2438 mm"
    assert LengthFormat(Units.MM, mm_step=Fraction(5)).sold().mm_step == 5
