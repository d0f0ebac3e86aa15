"""What must hold of every answer, whatever the shelf."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.judging.grades import order_of
from shopdesk.answering.model.answer import Answer, Suitability
from shopdesk.craft.yarn import ShelfYarn
from tests.answering.shelves import shelves
from tests.ask_documents import a_designer_yarn, a_gauge, a_length, a_part, an_ask
from tests.factories import shop_terms
from tests.machine import examples

TERMS = shop_terms()
ASKS: tuple[dict[str, Any], ...] = (
    {},
    {"designer_yarn": a_designer_yarn()},
    {"designer_yarn": a_designer_yarn(28, 200, "cotton") | {"strands": 2}},
    {"gauge": a_gauge(18, 24), "item": {"kind": "felted bag"}},
    {"craft": "crochet", "gauge": a_gauge(14, 16, stitch_pattern="single crochet")},
    {"gauge": a_gauge(20, 28, stitch_pattern="lace"), "wearer": "baby under 12 months"},
    {"gauge": None, "designer_yarn": {"weight": ["aran"]}, "washing": "machine 40"},
)
some_asks = st.sampled_from(ASKS).map(lambda fields: an_ask(**fields))
modest = settings(max_examples=examples(60))


def names(found: Answer) -> list[tuple[str, str, int]]:
    return [(c.sku, c.group.value, c.strands) for c in found.candidates]


@modest
@given(shelves(), some_asks, st.randoms(use_true_random=False))
def test_order_of_the_catalog_changes_nothing(
    yarns: list[ShelfYarn], ask: Any, random: Any
) -> None:
    shuffled = list(yarns)
    random.shuffle(shuffled)
    assert answer(ask, yarns, TERMS) == answer(ask, shuffled, TERMS)


@modest
@given(shelves(), st.sampled_from(ASKS), st.sampled_from(["wool", "cotton", "mohair", "acrylic"]))
def test_a_fibre_to_avoid_is_in_no_yarn_and_every_yarn_is_counted_once(
    yarns: list[ShelfYarn], fields: dict[str, Any], fibre: str
) -> None:
    found = answer(an_ask(**fields, wishes={"avoid_fibres": [fibre]}), yarns, TERMS)
    listed = [c.sku for c in found.candidates]
    out = [sku for one in found.ruled_out for sku in one.skus]
    assert len({*listed, *out}) == len(listed) + len(out) == len(yarns) - found.beyond
    by_sku = {yarn.sku: yarn for yarn in yarns}
    assert all(by_sku[sku].label.fibres for sku in listed)
    assert not any(share.fibre == fibre for sku in listed for share in by_sku[sku].label.fibres)


@modest
@given(shelves(), some_asks)
def test_groups_are_in_order_and_not_for_this_names_a_reason(
    yarns: list[ShelfYarn], ask: Any
) -> None:
    found = answer(ask, yarns, TERMS)
    ranks = [order_of(c.group) for c in found.candidates]
    assert ranks == sorted(ranks)
    for candidate in found.in_group(Suitability.NOT_FOR_THIS):
        assert candidate.reasons
        assert candidate.start_tool is None
    for candidate in found.in_group(Suitability.WITH_A_CHANGE):
        assert candidate.change is not None


@modest
@given(shelves(), some_asks)
def test_skeins_hold_the_need_and_lots_never_promise_more_than_there_is(
    yarns: list[ShelfYarn], ask: Any
) -> None:
    by_sku = {yarn.sku: yarn for yarn in yarns}
    for candidate in answer(ask, yarns, TERMS).candidates:
        put_up = by_sku[candidate.sku].label.put_up
        for amount in candidate.amounts:
            if amount.skeins is not None and amount.need.skein_m is not None and put_up:
                # What whole skeins must hold, and never less than the pattern says.
                assert amount.need.pattern_m is not None
                at_least = amount.need.pattern_m.value - amount.need.own_m
                need = max(amount.need.skein_m, at_least) * amount.strands
                assert amount.skeins * put_up.metres >= need * (1 - 1e-9)
        for choice in candidate.colours:
            wanted = next(a.skeins for a in candidate.amounts if a.part == choice.part) or 0
            picked = sum(pick.skeins for pick in choice.picks)
            assert picked <= choice.available
            assert picked + choice.short_by == wanted
            assert all(pick.left_in_lot >= 0 for pick in choice.picks)


@modest
@given(shelves(), st.integers(100, 3000), st.integers(0, 500))
def test_more_need_never_takes_fewer_skeins(yarns: list[ShelfYarn], need: int, more: int) -> None:
    less = answer(an_ask(parts=[a_part(need)]), yarns, TERMS)
    greater = answer(an_ask(parts=[a_part(need + more)]), yarns, TERMS)
    for candidate in less.candidates:
        other = greater.candidate(candidate.sku)
        assert other is not None
        mine, theirs = candidate.amounts[0].skeins, other.amounts[0].skeins
        if mine is not None and theirs is not None:
            assert mine <= theirs


@modest
@given(shelves())
def test_units_change_no_answer(yarns: list[ShelfYarn]) -> None:
    metric = an_ask(
        gauge=a_gauge(20, 28) | {"over": a_length("5.08")},
        parts=[{"amount": {"kind": "length", "values": ["914.4"], "unit": "m"}}],
    )
    imperial = an_ask(
        gauge=a_gauge(20, 28) | {"over": a_length(2, "in")},
        parts=[{"amount": {"kind": "length", "values": [1000], "unit": "yd"}}],
    )
    one, other = answer(metric, yarns, TERMS), answer(imperial, yarns, TERMS)
    assert names(one) == names(other)
    assert [[a.skeins for a in c.amounts] for c in one.candidates] == [
        [a.skeins for a in c.amounts] for c in other.candidates
    ]
