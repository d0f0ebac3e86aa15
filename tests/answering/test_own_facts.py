"""A yarn that is asked for by its own facts stands first, whatever is made of it and how tightly.

The bounds of tightness are those that patterns are met with: socks, toys and mitts are worked
tighter than the yarn's usual gauge, shawls and fabric before felting looser.
"""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.model.answer import Suitability
from shopdesk.answering.model.ask import (
    Ask,
    DesignerYarn,
    Drying,
    ItemKind,
    Part,
    PatternGauge,
    StitchPattern,
    Washing,
    Wearer,
)
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.yarn import Construction, Craft, LabelFacts, ShelfYarn
from tests.answering.shelves import BLENDS, NAMES, shelf_yarns
from tests.factories import (
    a_band_gauge,
    a_care,
    a_label,
    a_length,
    a_lot,
    a_yarn,
    an_ask,
    shop_terms,
)
from tests.machine import examples

TERMS = shop_terms()


@st.composite
def stated(draw: st.DrawFn) -> LabelFacts:
    """Draws a band that states what a pattern says of a yarn: put-up, fibres and how it is made."""
    gauge = draw(st.none() | st.integers(12, 32).map(lambda n: a_band_gauge(n)))
    return a_label(
        draw(st.sampled_from(NAMES)),
        draw(st.integers(80, 800)),
        50.0,
        draw(st.sampled_from([blend for blend in BLENDS if blend])),
        gauge=gauge,
        construction=draw(st.none() | st.sampled_from(Construction)),
        attributes=draw(st.sampled_from((frozenset(), frozenset({"superwash"})))),
        care=draw(st.none() | st.just(a_care(30, "mild"))),
    )


@st.composite
def patterns(draw: st.DrawFn, label: LabelFacts) -> Ask:
    """Draws an ask for the yarn of this band: any item, stitch pattern and tightness."""
    pattern = draw(st.sampled_from(StitchPattern))
    craft = draw(st.sampled_from([one for one in Craft if pattern_fabric(pattern).is_of(one)]))
    usual = label.gauge.stitches_low if label.gauge else draw(st.integers(12, 32))
    stitches = usual * draw(st.floats(0.75, 1.30))
    yarn = DesignerYarn(
        weight_names=(label.weight_name,) if label.weight_name else (),
        put_up=label.put_up,
        gauge=draw(st.sampled_from((None, label.gauge))),
        fibres=label.fibres,
        attributes=label.attributes,
        construction=label.construction,
        care=label.care,
    )
    item, wearer = draw(st.sampled_from(ItemKind)), draw(st.sampled_from(Wearer))
    washing = draw(st.sampled_from((Washing.UNKNOWN, Washing.HAND, *Washing)))
    drying = draw(st.sampled_from((Drying.UNKNOWN, Drying.FLAT, *Drying)))
    worn = {"wearer": wearer, "washing": washing, "drying": drying}
    return replace(
        an_ask(20, craft=craft, item=item, designer_yarn=yarn, **worn),
        gauge=PatternGauge(stitches, None, pattern),
        parts=(Part("main", a_length(draw(st.integers(50, 1500)))),),
    )


@st.composite
def asked_by_their_own_facts(draw: st.DrawFn) -> tuple[Ask, list[ShelfYarn]]:
    """Draws an ask, and a shelf on which the yarn called SELF is the designer's.

    Others are drawn by chance, some with its put-up and gauge.
    """
    label = draw(stated())
    lots = tuple(a_lot(draw(st.integers(0, 20)), f"L{n}") for n in range(draw(st.integers(0, 2))))
    price = Decimal(draw(st.integers(100, 3000))) / 100
    own = a_yarn("SELF", price=str(price), label=label, lots=lots)
    others = [draw(shelf_yarns(f"Y-{n}")) for n in range(draw(st.integers(0, 4)))]
    near = [
        a_yarn(f"N-{n}", label=replace(draw(stated()), put_up=label.put_up, gauge=label.gauge))
        for n in range(draw(st.integers(0, 2)))
    ]
    return draw(patterns(label)), [own, *others, *near]


@settings(max_examples=examples(300))
@given(asked_by_their_own_facts())
def test_the_designers_yarn_stands_first_or_the_answer_says_why_not(
    drawn: tuple[Ask, list[ShelfYarn]],
) -> None:
    ask, yarns = drawn
    found = answer(ask, yarns, TERMS)
    own = found.candidate("SELF")
    assert own is not None
    told = [why.code for why in found.target.why]
    if "judging.original_ruled_out" in told:
        assert told.index("judging.original_ruled_out") < len(told) - 1
        assert own.group is Suitability.NOT_FOR_THIS
    elif "judging.original_lacks" in told:
        assert told.index("judging.original_lacks") < len(told) - 1
        assert own.group in (Suitability.SWATCH_FIRST, Suitability.WITH_A_CHANGE)
    else:
        assert own.group is Suitability.AS_IT_IS
        first = found.candidates[0].sku
        assert first == "SELF" or is_twin(ask, next(y for y in yarns if y.sku == first))


def is_twin(ask: Ask, yarn: ShelfYarn) -> bool:
    """True if a yarn states the designer's fibres, treatment, make and length per mass."""
    wanted, label = ask.designer_yarn, yarn.label
    if wanted is None or wanted.put_up is None or label.put_up is None:
        return False
    length, too = (one.metres / one.grams for one in (wanted.put_up, label.put_up))
    return (
        set(label.fibres) == set(wanted.fibres)
        and label.attributes == wanted.attributes
        and len({label.construction, wanted.construction} - {None}) <= 1
        and abs(too / length - 1) <= 0.03
    )
