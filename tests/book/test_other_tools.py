"""Other tools for the work of a step: on paper once for all steps, at the end of the chapter; on a screen with the step."""

from __future__ import annotations

import re
from dataclasses import replace

from drawleaf.book.chapters.step_elsewhere import where_told
from drawleaf.book.output.booklet import make_html
from drawleaf.book.words.other_tools import other_tools
from drawleaf.book.words.wording import way_needs
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Method, Step


def with_others(derived: Derived, *others: tuple[Method, ...]) -> Derived:
    """The plan with these other methods for its steps, one after another."""

    def offered(step: Step, methods: tuple[Method, ...]) -> Step:
        return replace(step, operations=tuple(replace(one, others=methods) for one in step.operations))

    steps = [offered(step, methods) for step, methods in zip(derived.steps, others, strict=True)]
    return replace(derived, steps=tuple(steps))


def by_hand(derived: Derived, note: str = "") -> Method:
    """A method with a tool that no step has."""
    own = derived.steps[0].operations[0].method
    saw = replace(own.tools[0], id="fret-saw", name="Fret saw", power=False)
    return replace(own, id="by-hand", name="fret saw along the line", tools=(saw,), cautions=(), note=note)


def at_the_table(derived: Derived) -> Method:
    """A method with power, and with a caution that no step gives."""
    own = derived.steps[0].operations[0].method
    saw = replace(own.tools[0], id="table", name="Table saw", power=True)
    guard = replace(own.cautions[0], id="guard", short="Guard on.", every_use=False)
    return replace(own, id="table", name="table saw", tools=(saw,), cautions=(guard,), note="")


def test_a_method_is_told_once_for_all_steps_that_it_does(derived: Derived):
    hand = by_hand(derived)
    (told,) = other_tools(with_others(derived, (hand,), (), (hand,)))
    assert (told.name, told.named, told.steps, str(told.words)) == ("Fret saw along the line", "fret saw", (1, 3), "")


def test_the_same_method_with_another_tool_in_a_step_is_one_with_all_that_it_needs(derived: Derived):
    hand = by_hand(derived)
    horses = replace(hand.tools[0], id="horses", name="Pair of sawhorses")
    (told,) = other_tools(with_others(derived, (hand,), (), (replace(hand, tools=(*hand.tools, horses)),)))
    assert (told.steps, str(told.words)) == ((1, 3), "You need a pair of sawhorses too.")


def test_a_method_with_another_note_is_told_for_itself(derived: Derived):
    first, second = other_tools(with_others(derived, (by_hand(derived),), (), (by_hand(derived, "Slowly."),)))
    assert (first.steps, second.steps, str(second.words)) == ((1,), (3,), "Slowly.")


def test_what_the_name_of_a_method_tells_is_not_asked_for_again(derived: Derived):
    hand = by_hand(derived)
    centers = replace(hand.tools[0], id="centers", name="Set of dowel centers")
    drill = replace(hand, name="drill and dowel centers", tools=(centers,))
    assert way_needs(drill, drill.tools, derived.plan.words) == ""


def test_a_caution_is_told_once_and_not_where_the_steps_tell_it(derived: Derived):
    table = at_the_table(derived)
    rip = replace(table, id="rip", name="table saw, ripping")
    told = other_tools(with_others(derived, (table,), (), (rip,)))
    assert [str(one.words).count("Guard on.") for one in told] == [1, 0]
    own = replace(table, cautions=derived.steps[0].operations[0].method.cautions)
    (alone,) = other_tools(with_others(derived, (own,), (), ()))
    assert own.cautions[0].short not in str(alone.words)


def test_a_step_names_two_other_tools_and_says_where_there_are_more(derived: Derived):
    ways = [replace(by_hand(derived), name=name, id=name) for name in ("fret saw", "bow saw", "jigsaw")]
    tools = [replace(way.tools[0], id=way.name, name=way.name.capitalize()) for way in ways]
    others = tuple(replace(way, tools=(tool,)) for way, tool in zip(ways, tools, strict=True))
    first = derived.steps[0]
    leads = 'page&nbsp;<a class="page" href="#other-tools-1"></a>'
    two = other_tools(with_others(derived, others[:2], (), ()))
    assert where_told(two, first) == f"Fret saw or bow saw ({leads})."
    three = other_tools(with_others(derived, others, (), ()))
    assert where_told(three, first) == f"Fret saw, bow saw and others ({leads})."
    assert where_told(three, derived.steps[1]) == ""


def test_on_paper_a_step_says_on_which_page_its_other_tools_stand(derived: Derived, drawings, plain_words):
    hand = by_hand(derived)
    html = make_html(with_others(derived, (hand,), (), (hand,)), drawings, for_print=True)
    steps = dict(re.findall(r'data-step="(\d)"(.*?)</section>', html, re.DOTALL))
    leads = '<a class="page" href="#other-tools-1"></a>'
    assert [leads in steps[number] for number in "123"] == [True, False, True]
    assert html.count("Fret saw along the line") == 1
    assert html.index("Fret saw along the line") > html.index('data-step="3"')


def test_on_a_screen_other_ways_stand_with_their_step(derived: Derived, drawings, plain_words):
    html = make_html(with_others(derived, (by_hand(derived),), (), ()), drawings, for_print=False)
    assert "other-tools" not in html
    assert "With a hand saw." in html
