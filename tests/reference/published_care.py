"""Care axes after ISO 3758, and where the law or a standard stands behind a caution."""

from tests.reference.published import Rows, published

ISO_3758 = "ISO 3758 (values), mildest first; GINETEX guidance: milder is always allowed"


@published("care_axes", ISO_3758)
def axes_from_mild_to_severe(rows: Rows) -> None:
    printed = {
        "wash_c": "30 40 50 60 70 95",
        "wash_action": "do not wash, hand, very mild, mild, normal",
        "bleach": "none, oxygen only, any",
        "tumble": "none, low, normal",
        "iron_c": "0 110 150 200",
        "wet_clean": "none, very mild, mild, normal",
    }
    for axis, values in printed.items():
        wanted = values.split(", ") if "," in values else values.split()
        places = [(row["value"], row["severity"]) for row in rows if row["axis"] == axis]
        assert places == [(value, str(place)) for place, value in enumerate(wanted, 1)]
        assert all(row["strength"] == "1" for row in rows if row["axis"] == axis)


@published("care_axes", ISO_3758)
def dry_cleaning_by_solvent_and_mildness(rows: Rows) -> None:
    ours = [row for row in rows if row["axis"] == "dry_clean"]
    places = {row["value"]: (row["severity"], row["strength"]) for row in ours}
    assert places == {
        "none": ("1", "1"), "hydrocarbon mild": ("2", "1"), "hydrocarbon": ("2", "2"),
        "any mild": ("3", "1"), "any": ("3", "2"),
    }  # fmt: skip


@published("care_axes", "each value's text stands under its axis")
def texts_of_their_axis(rows: Rows) -> None:
    prefixes = {
        "wash_action": "action", "bleach": "bleach", "tumble": "tumble", "iron_c": "iron",
        "natural_drying": "dry", "dry_clean": "dry_clean", "wet_clean": "wet_clean",
    }  # fmt: skip
    for row in rows:
        if row["text_code"]:
            assert row["text_code"].startswith(f"care.{prefixes[row['axis']]}_")


NECK = "US CPSC; DGUV; Unfallkassen of Berlin and Niedersachsen; bfu"
# (caution, whose rules): law or advice, and who stands behind it.
BEHIND = {
    ("sleep", "US"): ("advice", "American Academy of Pediatrics"),
    ("sleep", ""): ("advice", "American Academy of Pediatrics"),
    ("sleep under a blanket", "US"): ("advice", "American Academy of Pediatrics"),
    ("sleep under a blanket", "GB"): ("advice", "NHS"),
    ("sleep under a blanket", ""): ("advice", "American Academy of Pediatrics"),
    ("sleep", "DE"): ("advice", "BZgA"),
    ("sleep under a blanket", "DE"): ("advice", "BZgA"),
    ("sleep", "FR"): ("advice", "HAS (2020)"),
    ("sleep under a blanket", "FR"): ("advice", "HAS (2020)"),
    ("sleep", "CH"): ("advice", "an adviser of Zürich's children's hospital"),
    ("sleep under a blanket", "CH"): ("advice", "an adviser of Zürich's children's hospital"),
    ("loose ends", "*"): ("advice", "the shop"),
    ("open over fingers or toes", "*"): ("advice", "the shop"),
    ("cords", "US"): ("law", "16 CFR 1120.3; ASTM F1816"),
    ("cords", "GB"): ("advice", "EN 14682"),
    ("cords", "EU"): ("advice", "EN 14682"),
    ("cords", ""): ("law", "16 CFR 1120.3; ASTM F1816; EN 14682"),
    ("toy parts", "US"): ("law", "16 CFR 1501"),
    ("toy parts", "GB"): ("law", "EN 71-1"),
    ("toy parts", "EU"): ("law", "EN 71-1"),
    ("toy parts", ""): ("law", "16 CFR 1501; EN 71-1"),
    ("round the neck", ""): (
        "advice",
        NECK,
    ),
    ("open blanket", "GB"): ("advice", "a neonatal unit in Oxford"),
    ("open blanket", ""): ("advice", "a neonatal unit in Oxford"),
    ("buttons", "US"): ("advice", "the shop; 16 CFR 1501.3(d) leaves clothing buttons out"),
    ("nightwear", "US"): ("law", "16 CFR 1615; 16 CFR 1616"),
    ("nightwear", "GB"): ("law", "Nightwear (Safety) Regulations 1985"),
    ("nightwear", ""): ("law", "16 CFR 1615; 16 CFR 1616; Nightwear (Safety) Regulations 1985"),
}
PLACES = {
    "US": "United States",
    "GB": "United Kingdom",
    "EU": "European Union",
    "DE": "Germany",
    "FR": "France",
    "CH": "Switzerland",
    "*": "everywhere",
}


@published("cautions", "the laws, standards and journals named in each row")
def who_stands_behind_a_caution(rows: Rows) -> None:
    seen = [row for row in rows if row["status"] == "S"]
    found = {(r["caution"], r["country"]): (r["law_or_advice"], r["by_whom"]) for r in seen}
    assert {key: (law, whom.split(",")[0]) for key, (law, whom) in found.items()} == BEHIND
    assert all(row["flag"] == "yes" for row in seen)


@published("cautions", "each caution's text bears its name")
def texts_of_their_caution(rows: Rows) -> None:
    for row in rows:
        assert row["text_code"].startswith(f"cautions.{row['caution'].split()[0]}")


@published("cautions", "where each law or standard holds")
def where_a_caution_holds(rows: Rows) -> None:
    for row in rows:
        if row["country"] in PLACES:
            assert row["where"] == PLACES[row["country"]]
        else:
            assert row["where"] not in PLACES.values() or row["status"] == "M"
    strict = {row["caution"]: row["where"] for row in rows if row["country"] == ""}
    for sleep in ("sleep", "sleep under a blanket"):
        assert strict[sleep].startswith("United States, the stricter")
    assert strict["cords"].startswith("United States; as a standard")
    assert strict["toy parts"] == "United States; European Union; United Kingdom"
    assert strict["round the neck"] == "United States, for the cot; Germany and Switzerland"
    assert strict["open blanket"] == "United Kingdom, the stricter advice known"
    assert strict["nightwear"] == "United States; United Kingdom"


@published("rule_countries", "ISO 3166-1 codes")
def own_rules(rows: Rows) -> None:
    own = [(row["country"], row["rules"]) for row in rows if row["rules"] != "EU"]
    assert own == [("US", "US"), ("GB", "GB")]
