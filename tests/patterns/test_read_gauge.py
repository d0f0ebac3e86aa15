"""The gauge in short texts: stitches, rows, the length they are counted over, in what, washed."""

import pytest

from tests.patterns.short_texts import only, said, sources, told, words_said

GAUGE = ("stitches", "rows", "over", "pattern", "washed")


def gauge(text: str, language: str = "en") -> dict[str, str]:
    return only(told(text, language), GAUGE)


def sure(**values: str) -> dict[str, str]:
    return {name: f"{value} sure" for name, value in values.items()}


@pytest.mark.parametrize(
    ("text", "language", "read"),
    [
        ("22 sts = 10 cm", "en", sure(stitches="22", over="10 cm")),
        ("22 sts and 30 rows = 10 cm", "en", sure(stitches="22", rows="30", over="10 cm")),
        ("22 sts and 30 rows = 4 in", "en", sure(stitches="22", rows="30", over="4 in")),
        ("22 sts and 30 rows = 4 in / 10 cm", "en", sure(stitches="22", rows="30", over="10 cm")),
        ("22 sts and 30 rows = 10 x 10 cm", "en", sure(stitches="22", rows="30", over="10 cm")),
        ("5.5 sts per inch", "en", sure(stitches="5.5", over="1 in")),
        ("5.5 sts / in", "en", sure(stitches="5.5", over="1 in")),
        ("5.5 sts and 7 rows per inch", "en", sure(stitches="5.5", rows="7", over="1 in")),
        ("22 sts = 30 cm", "en", sure(stitches="22", over="30 cm")),
        ("22 sts = 11.8 in", "en", sure(stitches="22", over="11.8 in")),
        ("22 M und 30 R = 10 cm", "de", sure(stitches="22", rows="30", over="10 cm")),
        (
            "22 sts = 10 cm in stockinette after blocking",
            "en",
            sure(stitches="22", over="10 cm", pattern="stockinette", washed="yes"),
        ),
        (
            "22 sts, unblocked, in garter stitch = 10 cm",
            "en",
            sure(stitches="22", over="10 cm", pattern="garter", washed="no"),
        ),
        (
            "Blocked, in seed stitch: 22 sts = 10 cm",
            "en",
            sure(stitches="22", over="10 cm", pattern="seed", washed="yes"),
        ),
    ],
)
def test_a_gauge_is_read(text: str, language: str, read: dict[str, str]) -> None:
    assert gauge(text, language) == read


@pytest.mark.parametrize(
    "text",
    [
        "22 sts = 31 cm",
        "22 sts = 33 cm",
        "22 sts = 12 in",
        "22 sts = 10-12 cm",
        "22 (24, 26) sts = 10 cm",
        "22 sts and 30 (32, 34) rows = 10 cm",
        "22/24 sts = 10 cm",
        "work 22 sts in the round",
        "22 sts",
    ],
)
def test_what_is_no_gauge_is_not_read(text: str) -> None:
    assert gauge(text) == {}


@pytest.mark.parametrize(
    ("text", "read"),
    [
        (
            "22-24 sts = 10 cm",
            {"stitches": "22 or 24 unclear", "over": "10 cm sure"},
        ),
        (
            "22 sts and 30-32 rows = 10 cm",
            {"stitches": "22 sure", "rows": "30 or 32 unclear", "over": "10 cm sure"},
        ),
        # 5 in are 12.7 cm.
        ("22 sts = 10 cm (5 in)", {"stitches": "22 sure", "over": "10 cm or 5 in unclear"}),
        ("22 sts = 5 in (10 cm)", {"stitches": "22 sure", "over": "10 cm or 5 in unclear"}),
    ],
)
def test_of_two_readings_both_are_offered(text: str, read: dict[str, str]) -> None:
    assert gauge(text) == read
    assert ("units_differ" in said(text)) is ("5 in" in text)


def test_units_that_differ_are_pointed_to() -> None:
    assert words_said("22 sts = 10 cm (5 in)", "units_differ") == [["10 cm (5 in)"]]


@pytest.mark.parametrize(
    ("text", "read"),
    [
        (
            "Gauge: 22/30 = 10 cm",
            {"stitches": "22 likely", "rows": "30 likely", "over": "10 cm likely"},
        ),
        (
            "Gauge: in garter stitch, washed, 22/30 = 10 cm",
            {
                "stitches": "22 likely",
                "rows": "30 likely",
                "over": "10 cm likely",
                "pattern": "garter likely",
                "washed": "yes likely",
            },
        ),
        ("Size: 22/30 = 10 cm", {}),
        ("Gauge: 22/30 = 40 cm", {}),
    ],
)
def test_a_pair_is_a_gauge_where_one_is_said(text: str, read: dict[str, str]) -> None:
    assert gauge(text) == read


@pytest.mark.parametrize(
    ("text", "pattern"),
    [
        ("22 sts = 10 cm in stockinette", "stockinette sure"),
        ("in stockinette 22 sts = 10 cm", "stockinette sure"),
        ("22 sts in stockinette = 10 cm", "stockinette sure"),
        ("garter 22 sts = 10 cm in stockinette", "stockinette sure"),
        ("garter 22 sts in stockinette = 10 cm", "stockinette sure"),
        ("22 sts = 10 cm. In stockinette", "stockinette likely"),
        ("Garter hat\n\n22 sts = 10 cm", "garter likely"),
        ("Brioche hat\n\n22 sts = 10 cm", "brioche likely"),
        ("Stranded hat\n\n22 sts = 10 cm", "stranded likely"),
        ("Moss stitch hat\n\n22 sts = 10 cm", "seed likely"),
        ("Ribbed hat\n\n22 sts = 10 cm", None),
        ("Moss hat\n\n22 sts = 10 cm", None),
        ("Garter hat with brioche\n\n22 sts = 10 cm", None),
        ("Garter hat in garter stitch\n\n22 sts = 10 cm", "garter likely"),
        ("Hat\n\n22 sts = 10 cm", None),
    ],
)
def test_the_stitch_pattern_is_the_one_beside_the_gauge(text: str, pattern: str | None) -> None:
    assert gauge(text).get("pattern") == pattern


@pytest.mark.parametrize(("words", "level"), [(11, "sure"), (12, "likely")])
def test_a_stitch_pattern_and_a_washing_reach_a_line(words: int, level: str) -> None:
    between = "so " * words
    assert gauge(f"22 sts = 10 cm {between}garter")["pattern"] == f"garter {level}"
    assert gauge(f"garter {between}22 sts = 10 cm")["pattern"] == f"garter {level}"
    for text in (f"22 sts = 10 cm {between}washed", f"washed {between}22 sts = 10 cm"):
        assert gauge(text).get("washed") == ("yes sure" if level == "sure" else None)


def test_a_pattern_behind_other_stitches_is_theirs() -> None:
    assert gauge("22 sts = 10 cm so 18 sts in garter stitch")["pattern"] == "garter likely"


@pytest.mark.parametrize(
    ("text", "language", "pattern"),
    [
        ("12 fM = 10 cm", "de", "single crochet sure"),
        ("12 hStb = 10 cm", "de", "half double crochet sure"),
        ("12 Stb = 10 cm", "de", "double crochet sure"),
        ("12 brides = 10 cm", "fr", "double crochet sure"),
        ("12 sc = 10 cm", "en", "single crochet sure"),
        ("12 hdc = 10 cm", "en", "half double crochet sure"),
        ("12 htr = 10 cm", "en", "half double crochet sure"),
        ("12 dtr = 10 cm", "en", None),
        ("12 dc = 10 cm, US terms", "en", "double crochet or single crochet sure"),
        ("12 dc = 10 cm, UK terms", "en", "single crochet or double crochet sure"),
        ("12 tr = 10 cm, US terms", "en", "other or double crochet sure"),
        ("12 tr = 10 cm, UK terms", "en", "double crochet or other sure"),
        ("12 dc = 10 cm (US)", "en", "double crochet or single crochet likely"),
        ("12 dc = 10 cm (UK)", "en", "single crochet or double crochet likely"),
        ("12 dc = 10 cm (UK", "en", "double crochet or single crochet unclear"),
        ("12 dc = 10 cm UK)", "en", "double crochet or single crochet unclear"),
        ("12 dc = 10 cm, then sc", "en", "double crochet or single crochet likely"),
        ("12 dc = 10 cm, then hdc", "en", "double crochet or single crochet likely"),
        ("12 dc = 10 cm, then htr", "en", "single crochet or double crochet likely"),
        ("12 dc = 10 cm, sc and htr", "en", "double crochet or single crochet unclear"),
        ("Tension: 12 dc = 10 cm", "en", "single crochet or double crochet likely"),
        ("12 dc = 10 cm", "en", "double crochet or single crochet unclear"),
        ("13 sts and 8 rows in dc = 4 in, US terms", "en", "double crochet or single crochet sure"),
        ("13 sts = 4 in in sc", "en", "single crochet sure"),
        ("13 sts = 4 in so sc", "en", "single crochet sure"),
        ("13 sts = 4 in so so so sc", "en", None),
        ("13 sts = 4 in. Sc", "en", None),
        ("13 sts = 4 in, 12 sc", "en", None),
    ],
)
def test_a_crochet_stitch_is_the_gauges_pattern_in_its_own_terms(
    text: str, language: str, pattern: str | None
) -> None:
    assert gauge(text, language).get("pattern") == pattern
    unsaid = pattern is not None and pattern.endswith("unclear")
    assert ("crochet_terms_unsaid" in said(text, language)) is unsaid


def test_the_side_of_a_square_is_not_its_stitches() -> None:
    assert gauge("10 x 10 cm = 22 sts and 30 rows") == sure(stitches="22", rows="30", over="10 cm")


def test_each_of_two_gauges_keeps_its_own_findings() -> None:
    text = "22 sts and 30 rows = 10 cm in stockinette\n\n24 sts = 10 cm in garter stitch"
    assert gauge(text) == {
        "stitches": "22 or 24 sure",
        "rows": "30 sure",
        "over": "10 cm sure",
        "pattern": "stockinette or garter sure",
    }


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            "hat, 22 sts and 30 rows = 10 cm in garter stitch after washing",
            {
                "stitches": ["22 sts"],
                "rows": ["30 rows"],
                "over": ["10 cm"],
                "pattern": ["garter stitch"],
                "washed": ["after washing"],
            },
        ),
        ("hat, 5.5 sts per inch", {"stitches": ["5.5 sts"], "over": ["inch"]}),
        (
            "garter hat\n\n12 sts = 10 cm",
            {"stitches": ["12 sts"], "over": ["10 cm"], "pattern": ["garter"]},
        ),
        (
            "hat, 12 sc = 10 cm",
            {"stitches": ["12 sc"], "over": ["10 cm"], "pattern": ["12 sc"]},
        ),
        (
            "Gauge: 22/30 = 10 cm",
            {"stitches": ["22/30 = 10 cm"], "rows": ["22/30 = 10 cm"], "over": ["10 cm"]},
        ),
    ],
)
def test_each_finding_points_to_its_own_words(text: str, words: dict[str, list[str]]) -> None:
    read = sources(text)
    assert {name: read[name] for name in GAUGE if name in read} == words
