"""What single words of short texts tell: item, wearer, craft, features, attributes, care."""

import pytest

from tests.patterns.short_texts import told


@pytest.mark.parametrize(
    ("text", "item"),
    [
        ("Hat", "hat sure"),
        ("Hat\n22 sts", "hat sure"),
        ("22 sts\nhat", "hat likely"),
        ("22 sts\nItem: hat", "hat sure"),
        ("Cardigan", "cardigan sure"),
        ("Sweater", "pullover likely"),
        ("Sweaters", "pullover likely"),
        ("Coat", "cardigan likely"),
        ("Jacket", "cardigan likely"),
        ("Top", "pullover likely"),
        ("Tee", "pullover likely"),
        ("Wrap", "shawl likely"),
        ("Cap", "hat likely"),
    ],
)
def test_an_item_is_sure_where_it_is_the_title(text: str, item: str) -> None:
    assert told(text)["item"] == item


@pytest.mark.parametrize(
    ("text", "language", "wearer"),
    [
        ("Hat for women", "en", "adult sure"),
        ("Hat for children", "en", "child sure"),
        ("Baby hat", "en", "baby under 12 months sure"),
        ("Hat in baby wool", "en", "baby under 12 months unclear"),
        ("Hat in baby DK", "en", "baby under 12 months unclear"),
        ("Hat in baby 4-ply", "en", "baby under 12 months unclear"),
        ("Hat for baby in DK", "en", "baby under 12 months sure"),
        ("Child's DK hat", "en", "child sure"),
        ("Adult 4-ply hat", "en", "adult sure"),
        ("Hat for my husband", "en", "adult likely"),
        ("Damenmütze", "de", "adult sure"),
    ],
)
def test_who_wears_it_is_asked_where_the_yarn_is_called_so(
    text: str, language: str, wearer: str
) -> None:
    assert told(text, language)["wearer"] == wearer


@pytest.mark.parametrize(
    ("text", "features"),
    [
        ("Hat with buttons", "buttons likely"),
        ("Hat with cables", "cables likely"),
        ("Hat, cabled, with buttons", "cables | buttons likely"),
        ("Hat with a cable needle", "cables likely"),
        ("Hat without buttons", None),
        ("Hat with no large buttons", None),
        ("Hat with no very large buttons", "buttons likely"),
        ("Hat. No. Buttons", "buttons likely"),
        ('Hat on 32" cable', None),
    ],
)
def test_a_feature_is_read_unless_it_is_denied(text: str, features: str | None) -> None:
    assert told(text).get("features") == features


@pytest.mark.parametrize(
    ("text", "attributes"),
    [
        ("superwash wool", "superwash sure"),
        ("Yarn: superwash", "superwash sure"),
        ("not superwash", None),
        ("not really superwash", None),
        ("not so very superwash", "superwash sure"),
    ],
)
def test_an_attribute_is_read_unless_it_is_denied(text: str, attributes: str | None) -> None:
    assert told(text).get("attributes") == attributes


@pytest.mark.parametrize(
    ("text", "language", "craft"),
    [
        ("a knitted hat", "en", "knit sure"),
        ("a crocheted hat", "en", "crochet sure"),
        ("4 mm needles", "en", "knit sure"),
        ("4 mm hook", "en", "crochet sure"),
        ("12 sc", "en", "crochet sure"),
        ("hat in stockinette", "en", "knit sure"),
        ("hat in garter stitch", "en", "knit sure"),
        ("hat in brioche", "en", "knit sure"),
        ("hat in rib", "en", None),
        ("hat in lace pattern", "en", None),
        ("US terms", "en", "crochet likely"),
        ("Mütze häkeln", "de", "crochet sure"),
    ],
)
def test_the_craft_shows_in_tools_stitches_and_patterns(
    text: str, language: str, craft: str | None
) -> None:
    assert told(text, language).get("craft") == craft


@pytest.mark.parametrize(
    ("text", "language", "care"),
    [
        ("hand wash only, dry flat", "en", {"wash_action": "hand", "natural_drying": "flat"}),
        ("machine wash at 40", "en", {"wash_c": "40"}),
        ("machine wash 30 °C", "en", {"wash_c": "30"}),
        ("Maschinenwäsche 40 °C", "de", {"wash_c": "40"}),
        ("bei 30 °C waschbar", "de", {"wash_c": "30"}),
        ("60 °C machine washable", "en", {"wash_c": "60"}),
        ("machine wash cold 30 °C", "en", {"wash_c": "30"}),
        ("machine wash cold", "en", {"wash_c": "30"}),
        ("machine wash", "en", {}),
        ("machine wash at 45", "en", {}),
        ("machine wash at 30-40", "en", {}),
        ("dry flat at 40 °C", "en", {"natural_drying": "flat"}),
        ("do not iron", "en", {"iron_c": "0"}),
        ("do not tumble dry, do not bleach", "en", {"tumble": "none", "bleach": "none"}),
        ("tumble dry low", "en", {"tumble": "low"}),
        ("dry clean only", "en", {"dry_clean": "any"}),
        ("ne pas mettre au sèche-linge", "fr", {"tumble": "none"}),
    ],
)
def test_care_words_name_their_axis(text: str, language: str, care: dict[str, str]) -> None:
    read = told(text, language)
    found = {name[5:]: value for name, value in read.items() if name.startswith("care.")}
    assert found == {axis: f"{value} sure" for axis, value in care.items()}
