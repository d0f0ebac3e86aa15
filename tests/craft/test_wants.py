"""What items want of their yarns. Common practice, no source, unless named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.behaviour import Level, Traits, traits
from shopdesk.craft.fibres import fibres
from shopdesk.craft.items import item_models
from shopdesk.craft.wants import (
    ANY,
    UNDER_THREE,
    ItemNeeds,
    Severity,
    consequences,
    needs_of_item,
    wants,
)
from shopdesk.craft.yarn import Construction
from tests.factories import a_blend

BLOCKS, WARNS, NOTES = Severity
BABY = ("baby under 12 months", UNDER_THREE)


def behaves(blend: str, *attributes: str, construction: Construction | None = None) -> Traits:
    return traits(a_blend(blend), frozenset(attributes), construction)


def codes(
    yarn: Traits,
    item: str = "other",
    *features: str,
    wearers: tuple[str, ...] = ("adult",),
    pattern: str | None = None,
    original: Traits | None = None,
) -> dict[str, Severity]:
    needs = ItemNeeds(needs_of_item(item, wearers, features, pattern), original)
    return {
        one.message.code.removeprefix("behaviour."): one.severity
        for one in consequences(yarn, needs)
    }


def test_a_felted_item_needs_felting_yarn() -> None:
    felted = ("bag", "felted")
    assert codes(behaves("wool 100"), *felted) == {}
    assert codes(behaves("wool 100", "superwash"), *felted) == {"will_not_felt": BLOCKS}
    assert codes(behaves("acrylic 100"), *felted) == {"will_not_felt": BLOCKS}
    assert codes(behaves("alpaca 100"), *felted)["may_felt_little"] is WARNS
    assert codes(Traits(), *felted) == {"felting_unknown": WARNS}


def test_an_original_that_does_not_felt_helps_no_substitute_to_felt() -> None:
    cotton = behaves("cotton 100")
    assert codes(cotton, "bag", "felted", original=cotton)["will_not_felt"] is BLOCKS


def test_ribs_and_cables_want_spring_and_long_items_grow() -> None:
    cotton, viscose = behaves("cotton 100"), behaves("viscose 100")
    assert codes(cotton, "other", "ribs") == {"ribs_sag": WARNS}
    assert codes(cotton, "other", "cables") == {"cables_flat": WARNS}
    assert codes(behaves("acrylic 100"), "other", "ribs") == {"ribs_softer": NOTES}
    assert codes(viscose, "other", "long") == {"long_grows": WARNS}
    assert codes(cotton, "other", "long") == {"long_may_grow": NOTES}
    assert codes(behaves("wool 100"), "other", "ribs", "cables", "long") == {}


def test_cables_do_not_show_in_a_halo_or_in_loops() -> None:
    for yarn in (
        behaves("wool 100", construction=Construction.BRUSHED),
        behaves("wool 100", construction=Construction.BOUCLE),
    ):
        assert codes(yarn, "other", "cables")["cables_hidden"] is WARNS
    assert codes(behaves("wool 100"), "other", "cables") == {}


def test_a_halo_blurs_openwork() -> None:
    assert codes(behaves("mohair 100"), "other", "openwork") == {"openwork_blurs": WARNS}


def test_socks_want_what_stands_rubbing_and_springs_back() -> None:
    """A share of polyamide or a tight ply; plain cotton goes slack."""
    merino, sock_yarn = behaves("wool 100", "merino"), behaves("wool 75, polyamide 25")
    assert codes(sock_yarn, "socks") == {}
    assert codes(merino, "socks") == {"wears_through": WARNS}
    assert codes(merino, "socks", original=sock_yarn)["wears_through"] is BLOCKS
    tight = behaves("wool 100", "merino", construction=Construction.CABLED)
    assert codes(tight, "socks") == {}
    assert codes(behaves("cotton 100"), "socks")["socks_bag"] is BLOCKS
    assert "socks_bag" not in codes(behaves("cotton 74, polyamide 18, elastane 8"), "socks")
    assert codes(behaves("acrylic 60, polyamide 40"), "socks")["feet_get_damp"] is WARNS


def test_a_cloth_takes_up_water() -> None:
    assert codes(behaves("cotton 100"), "cloth") == {}
    assert codes(behaves("cotton 100", "mercerised"), "cloth") == {"takes_little_water": WARNS}
    assert codes(behaves("acrylic 100"), "cloth") == {"takes_no_water": BLOCKS}


def test_pile_stays_away_from_mouths_and_loops_from_fingers() -> None:
    chenille = behaves("polyester 100", construction=Construction.CHENILLE)
    boucle = behaves("acrylic 100", construction=Construction.BOUCLE)
    assert codes(chenille, "toy", wearers=("child",))["sheds_in_mouth"] is BLOCKS
    assert codes(chenille, "cardigan", wearers=BABY)["sheds_in_mouth"] is BLOCKS
    assert codes(boucle, "cardigan", wearers=BABY)["loops_catch"] is BLOCKS
    for yarn in (chenille, boucle):
        assert BLOCKS not in codes(yarn, "cardigan").values()


def test_what_a_baby_needs_outranks_that_the_original_does_it_too() -> None:
    mohair = behaves("mohair 72, silk 28", construction=Construction.BRUSHED)
    assert codes(mohair, "hat", wearers=BABY, original=mohair)["sheds_in_mouth"] is BLOCKS


def test_no_yarn_is_promised_for_a_childs_nightwear() -> None:
    for key in (fibre.key for fibre in fibres()):
        found = codes(behaves(f"{key} 100"), "other", "child's nightwear", wearers=("child",))
        assert found["nightwear_unsure"] is WARNS
    nightwear = ("other", "child's nightwear")
    assert codes(behaves("cotton 100"), *nightwear)["nightwear_burns"] is WARNS
    assert "nightwear_burns" not in codes(behaves("wool 100"), *nightwear)


def test_floats_cling_in_wool_that_is_not_treated() -> None:
    assert "floats_slip" not in codes(behaves("wool 100"), "pullover", "floats inside")
    treated = behaves("wool 100", "superwash")
    assert codes(treated, "pullover", "floats inside")["floats_slip"] is WARNS


@pytest.mark.parametrize("fibre", ["cotton", "silk", "linen", "viscose", "alpaca", "acrylic"])
def test_another_fibre_in_place_of_wool_shows_in_a_garment(fibre: str) -> None:
    wool = behaves("wool 100")
    assert WARNS in codes(behaves(f"{fibre} 100"), "pullover", original=wool).values()


def test_a_cotton_version_of_a_wool_sweater() -> None:
    """It stretches more and is less warm: common practice."""
    found = codes(behaves("cotton 100"), "pullover", original=behaves("wool 100", "merino"))
    for code in ("less_springs_back", "less_warmth", "more_grows"):
        assert found[code] is WARNS


def test_one_level_is_told_of_any_item_and_two_show() -> None:
    wool = behaves("wool 100")
    assert codes(behaves("acrylic 100"), original=wool)["less_springs_back"] is NOTES
    assert codes(behaves("cotton 100"), original=wool)["less_springs_back"] is WARNS


def test_the_same_yarn_is_unlike_nothing() -> None:
    yarn = behaves("silk 100")
    assert codes(yarn, original=yarn) == {}
    assert codes(yarn, original=Traits()) == {}


def test_what_the_original_does_too_is_only_told() -> None:
    cotton, alpaca = behaves("cotton 100"), behaves("alpaca 100")
    assert codes(cotton, "other", "ribs", original=cotton) == {"ribs_sag": NOTES}
    assert codes(alpaca, "other", "long", original=alpaca)["long_grows"] is NOTES
    # Cotton grows less than alpaca, so what is told of it is no worse.
    assert codes(cotton, "other", "long", original=alpaca)["long_may_grow"] is NOTES


def test_a_kind_of_item_wants_what_its_wider_kind_does() -> None:
    assert item_models()["felted bag"].kind_of == "bag"
    assert ("item", "bag") in needs_of_item("felted bag", ("adult",), (), None)
    assert ("group", "worn on the body") in needs_of_item("vest", ("adult",), (), None)
    assert ANY in needs_of_item("other", ("adult",), (), None)


LEVELS = st.sampled_from([None, *Level])
YARNS = st.builds(Traits, *[LEVELS] * len(Traits.__slots__))
NEEDS = st.builds(
    ItemNeeds,
    st.frozensets(st.sampled_from(sorted({want.of for want in wants()}))),
    st.none() | YARNS,
)


@given(YARNS, NEEDS)
def test_the_worst_comes_first_and_nothing_is_said_twice(yarn: Traits, needs: ItemNeeds) -> None:
    found = consequences(yarn, needs)
    order = [list(Severity).index(one.severity) for one in found]
    assert order == sorted(order)
    said = [one.message.code for one in found]
    assert len(said) == len(set(said))
    assert all(one.steps in (1, 2) for one in found)


@given(YARNS, NEEDS)
def test_more_wants_never_find_less(yarn: Traits, needs: ItemNeeds) -> None:
    every = ItemNeeds(frozenset(want.of for want in wants()), needs.original)
    worst = [list(Severity).index(one.severity) for one in consequences(yarn, needs)]
    among_all = [list(Severity).index(one.severity) for one in consequences(yarn, every)]
    assert min(among_all, default=9) <= min(worst, default=9)


def test_every_want_names_a_trait_and_a_group_that_there_is() -> None:
    for want in wants():
        assert want.trait in Traits.__slots__
        assert want.from_steps in (1, 2)
        if want.of[0] == "item":
            assert want.of[1] in item_models()
