"""How fibres wear, pill and burn, as laboratories, journals and extension services print it."""

from collections.abc import Mapping

from tests.reference.published import Rows, published


def levels(rows: Rows, trait: str) -> dict[str, str]:
    return {row["fibre"]: row["level"] for row in _seen(rows) if row["trait"] == trait}


def sources(rows: Rows, trait: str) -> dict[str, str]:
    """Returns the first words of each source, for what each level rests on."""
    of_trait = [row for row in _seen(rows) if row["trait"] == trait]
    return {row["fibre"]: row["source"].split(" ")[0] for row in of_trait}


def _seen(rows: Rows) -> list[Mapping[str, str]]:
    return [row for row in rows if row["status"] == "S"]


@published("fibre_measured", "as in Saville, Physical Testing of Textiles; a furnishing table")
def wear_by_rubbing(rows: Rows) -> None:
    """Best polyamide, good polyester; between them and the lowest acrylic, cotton and wool.

    Viscose and acetate are lowest. Alpaca: single fibres outlast wool (Liu, Hurren, Wang 2005).
    Elastane raises the rub life of socks (Özdil and others 2009).
    """
    assert levels(rows, "wears") == {
        "polyamide": "yes", "polyester": "yes", "elastane": "yes",
        "acrylic": "some", "cotton": "some", "wool": "some", "alpaca": "some",
        "viscose": "no", "acetate": "no",
    }  # fmt: skip
    assert sources(rows, "wears") == {
        "polyamide": "abrasion", "polyester": "abrasion", "viscose": "abrasion",
        "acetate": "abrasion", "acrylic": "between", "cotton": "between", "wool": "between",
        "alpaca": "single", "elastane": "raises",
    }  # fmt: skip


@published("fibre_measured", "IJCST 2016, doi 10.1108/ijcst-07-2016-0078; Masudur Rahman 2018")
def pilling(rows: Rows) -> None:
    """Wool pills, the finer the more; all-cotton pills less than cotton with polyester."""
    assert levels(rows, "pills") == {"wool": "some", "cotton": "no"}


@published("fibre_measured", "USDA and Iowa State University extension: burning, worst first")
def burning(rows: Rows) -> None:
    """Cotton, linen; viscose, lyocell; acetate; acrylic; polyamide and its like; wool, silk."""
    worst = dict.fromkeys(("cotton", "linen", "viscose", "lyocell"), "yes")
    melt = ("acetate", "acrylic", "polyamide", "polyester", "elastane")
    least = dict.fromkeys(("wool", "silk"), "no")
    assert levels(rows, "burns") == worst | dict.fromkeys(melt, "some") | least


@published("fibre_measured", "the three above: nothing else is measured here")
def nothing_else(rows: Rows) -> None:
    assert {row["trait"] for row in _seen(rows)} == {"wears", "pills", "burns"}


@published("behaviour_changes", "Özdemir and Çeven 2004; Fabric Science; IJCST 2016; Saville")
def what_is_made_of_them(rows: Rows) -> None:
    """Chenille loses pile and rubs through; finer wool pills more and wears less; air warms."""
    seen = [row for row in rows if row["status"] == "S"]
    keys = ("made", "kind", "fibre", "trait", "bound", "level")
    assert {tuple(row[key] for key in keys) for row in seen} == {
        ("merino", "attribute", "wool", "pills", "exactly", "yes"),
        ("merino", "attribute", "wool", "wears", "exactly", "no"),
        ("chenille", "construction", "", "sheds", "at least", "yes"),
        ("chenille", "construction", "", "wears", "at most", "no"),
        ("chainette", "construction", "", "warmth", "at least", "some"),
    }
