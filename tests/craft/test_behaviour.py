"""How yarns behave. Common practice, no source, unless named."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.behaviour import TRAITS, Level, Traits, trait_sayings, traits
from shopdesk.craft.fibres import fibres
from shopdesk.craft.yarn import Construction, FibreShare
from tests.factories import a_blend

NO, SOME, YES = Level.NO, Level.SOME, Level.YES
RANK = {NO: 0, SOME: 1, YES: 2}


def behaves(blend: str, *attributes: str, construction: Construction | None = None) -> Traits:
    return traits(a_blend(blend), frozenset(attributes), construction)


def test_wool_springs_back_and_the_plant_fibres_do_not() -> None:
    assert behaves("wool 100").springs_back is YES
    for fibre in ("cotton", "linen", "silk", "alpaca", "viscose"):
        assert behaves(f"{fibre} 100").springs_back is NO
    assert behaves("acrylic 100").springs_back is SOME


def test_warmth_falls_from_hair_by_acrylic_and_silk_to_plants() -> None:
    for fibre in ("wool", "alpaca", "cashmere", "angora"):
        assert behaves(f"{fibre} 100").warmth is YES
    for fibre in ("acrylic", "silk"):
        assert behaves(f"{fibre} 100").warmth is SOME
    for fibre in ("cotton", "viscose", "linen"):
        assert behaves(f"{fibre} 100").warmth is NO


def test_elastic_recovery_keeps_the_measured_order() -> None:
    """Wool 69 of 100 from 5 percent strain and polyamide 89 lie above cotton's 45.

    Cotton: Handbook of Properties of Textile and Technical Fibres; the others are remembered
    from Meredith (1945) and only their order is used.
    """
    lowest = min(RANK[behaves(f"{f} 100").springs_back or NO] for f in ("wool", "polyamide"))
    assert lowest > RANK[behaves("cotton 100").springs_back or NO]


def test_viscose_is_weak_when_wet() -> None:
    """Viscose keeps about half its strength wet: handbook knowledge."""
    assert behaves("viscose 100").weak_wet is YES
    assert behaves("cotton 100").weak_wet is NO


def test_treated_wool_does_not_felt_and_fine_wool_does_not_prickle() -> None:
    assert behaves("wool 100").felts is YES
    assert behaves("wool 100", "superwash").felts is NO
    assert behaves("wool 100", "superwash").grows is SOME
    assert behaves("wool 100").prickles is SOME
    assert behaves("wool 100", "merino").prickles is NO
    assert behaves("cotton 100", "merino").prickles is NO


def test_brushed_yarns_shed() -> None:
    assert behaves("acrylic 100").sheds is NO
    assert behaves("acrylic 100", construction=Construction.BRUSHED).sheds is YES
    assert behaves("mohair 70, silk 30").sheds is YES


def test_a_blend_is_judged_by_mass_and_its_surface_by_its_strongest_fibre() -> None:
    assert behaves("wool 75, polyamide 25").springs_back is YES
    assert behaves("wool 50, cotton 50").springs_back is SOME
    assert behaves("cotton 90, wool 10").springs_back is NO
    assert behaves("cotton 90, mohair 10").sheds is SOME
    assert behaves("cotton 75, mohair 25").sheds is YES
    assert behaves("cotton 98, mohair 2").sheds is NO
    assert behaves("cotton 97, elastane 3").springs_back is YES


def test_unknown_stays_unknown() -> None:
    assert behaves("other 100") == Traits()
    assert traits((), frozenset(), None) == Traits()
    assert behaves("wool 70, other 30").springs_back is None
    assert behaves("wool 90, other 10").springs_back is YES
    assert [s.code for s in trait_sayings(Traits())] == ["behaviour.nothing_known"]


def test_what_is_said_ends_with_what_it_rests_on() -> None:
    said = [message.code for message in trait_sayings(behaves("wool 100"))]
    assert said[0] == "behaviour.springs_back_yes"
    assert said[-1] == "behaviour.basis"
    assert "behaviour.sheds_no" not in said


KEYS = [fibre.key for fibre in fibres()]


@st.composite
def blends(draw: st.DrawFn) -> list[FibreShare]:
    keys = draw(st.lists(st.sampled_from(KEYS), min_size=1, max_size=4, unique=True))
    cuts = sorted(draw(st.lists(st.integers(1, 99), min_size=len(keys) - 1, unique=True,
                                max_size=len(keys) - 1)))  # fmt: skip
    edges = [0, *cuts, 100]
    return [FibreShare(k, Decimal(edges[i + 1] - edges[i])) for i, k in enumerate(keys)]


@given(blends(), st.sampled_from([None, *Construction]))
def test_the_order_of_the_lines_changes_nothing(
    blend: list[FibreShare], construction: Construction | None
) -> None:
    nothing: frozenset[str] = frozenset()
    assert traits(blend, nothing, construction) == traits(blend[::-1], nothing, construction)


@given(blends())
def test_a_blend_does_no_more_than_its_extremes(blend: list[FibreShare]) -> None:
    if any(share.fibre == "elastane" for share in blend):
        return
    whole = traits(blend, frozenset(), None)
    alone = [traits([FibreShare(s.fibre, Decimal(100))], frozenset(), None) for s in blend]
    for trait in TRAITS:
        level = getattr(whole, trait)
        known = [RANK[getattr(a, trait)] for a in alone if getattr(a, trait) is not None]
        if level is not None:
            assert min(known) <= RANK[level] <= max(known)


@pytest.mark.parametrize("trait", TRAITS)
def test_each_trait_tells_some_fibres_or_constructions_apart(trait: str) -> None:
    of_fibres = {getattr(behaves(f"{key} 100"), trait) for key in KEYS}
    made = {getattr(behaves("wool 100", construction=each), trait) for each in Construction}
    assert len((of_fibres | made) - {None}) > 1


@pytest.mark.parametrize(
    ("blend", "trait", "level"),
    [
        # A mean by mass of no 0, some 1 and yes 2: up to 0.4 it is a no, from 1.3 a yes. Wool
        # springs back, cotton does not.
        ("wool 20, cotton 80", "springs_back", NO),
        ("wool 21, cotton 79", "springs_back", SOME),
        ("wool 64, cotton 36", "springs_back", SOME),
        ("wool 65, cotton 35", "springs_back", YES),
        # From 15 % of polyamide or polyester on a yarn stands rubbing: 15 to 25 is usual in
        # sock yarn, 10 does little (common practice).
        ("wool 85.1, polyamide 14.9", "wears", SOME),
        ("wool 85, polyamide 15", "wears", YES),
        ("cotton 80, polyamide 8, polyester 12", "wears", YES),
        # Elastane alone draws a yarn in.
        ("cotton 98, elastane 2", "draws_in", YES),
        ("cotton 98.1, elastane 1.9", "draws_in", NO),
        # From 2 % of elastane on a yarn springs back.
        ("cotton 98.1, elastane 1.9", "springs_back", NO),
        ("cotton 98, elastane 2", "springs_back", YES),
        # On the surface a fibre shows from 5 %, and from 20 % as if alone. Mohair sheds.
        ("cotton 95.1, mohair 4.9", "sheds", NO),
        ("cotton 95, mohair 5", "sheds", SOME),
        ("cotton 80.1, mohair 19.9", "sheds", SOME),
        ("cotton 80, mohair 20", "sheds", YES),
        # Up to 20 % may be of unknown behaviour.
        ("wool 80, other 20", "springs_back", YES),
        ("wool 79.9, other 20.1", "springs_back", None),
    ],
)
def test_from_what_share_a_fibre_decides(blend: str, trait: str, level: Level | None) -> None:
    # blend_models.csv: judgement and common practice.
    assert getattr(behaves(blend), trait) is level


def test_shares_that_do_not_add_up_are_taken_of_their_sum() -> None:
    half = [FibreShare("wool", Decimal(10)), FibreShare("cotton", Decimal(40))]
    assert traits(half, frozenset(), None).springs_back is NO
    more = [FibreShare("wool", Decimal(11)), FibreShare("cotton", Decimal(39))]
    assert traits(more, frozenset(), None).springs_back is SOME


def test_a_construction_makes_more_or_less_of_a_trait_but_never_the_other_way() -> None:
    # A roving sheds some, whatever it is of; mohair sheds anyway. A single wears poorly (common
    # practice), and a fibre that does so anyway no better; a cabled yarn wears best.
    assert behaves("acrylic 100", construction=Construction.ROVING).sheds is SOME
    assert behaves("mohair 100", construction=Construction.ROVING).sheds is YES
    assert behaves("wool 100", construction=Construction.SINGLE).wears is NO
    assert behaves("viscose 100", construction=Construction.SINGLE).wears is NO
    assert behaves("wool 100", construction=Construction.CABLED).wears is YES
    assert behaves("wool 100", construction=Construction.PLIED) == behaves("wool 100")


def test_of_unknown_fibres_only_what_the_construction_does_is_known() -> None:
    chenille = behaves("other 100", construction=Construction.CHENILLE)
    assert chenille.sheds is YES
    assert chenille.warmth is None
    assert behaves("other 100", construction=Construction.PLIED) == Traits()


def test_rubbing_wears_fibres_in_the_order_of_the_laboratory() -> None:
    """Polyamide best, polyester good, viscose and acetate lowest, wool and cotton between.

    A testing laboratory's text, worded as in Saville, Physical Testing of Textiles.
    """
    best, between, lowest = ("polyamide", "polyester"), ("wool", "cotton"), ("viscose", "acetate")
    levels = [[behaves(f"{f} 100").wears for f in some] for some in (best, between, lowest)]
    assert levels == [[YES, YES], [SOME, SOME], [NO, NO]]


def test_plants_burn_worst_and_wool_and_silk_least() -> None:
    """USDA and Iowa State University extension: cotton and linen first, wool and silk last."""
    assert {behaves(f"{f} 100").burns for f in ("cotton", "linen", "viscose")} == {YES}
    assert {behaves(f"{f} 100").burns for f in ("acrylic", "polyester", "polyamide")} == {SOME}
    assert {behaves(f"{f} 100").burns for f in ("wool", "silk")} == {NO}


def test_the_least_of_a_blend_has_its_traits_too() -> None:
    little = [FibreShare("wool", Decimal("0.2")), FibreShare("cotton", Decimal("0.8"))]
    assert traits(little, frozenset(), None).springs_back is NO
