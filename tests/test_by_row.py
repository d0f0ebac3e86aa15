"""Additions that need rows and texts only: made on a copy, then asked for, shown and printed."""

import csv
import json
import re
from pathlib import Path
from typing import Any

import pytest

from shopdesk.bundled import bundled
from shopdesk.craft.blend import attribute_named
from tests.changed_copy import ChangedCopy, changed_copy

LANGUAGES = ("en", "de", "fr")


@pytest.fixture
def copy(tmp_path: Path, few_yarns_file: Path) -> ChangedCopy:
    return changed_copy(tmp_path, few_yarns_file)


def an_ask(example: str = "plain-pullover", **changed: Any) -> dict[str, Any]:
    path = bundled("seed_catalog/asks") / f"{example}.json"
    ask: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return ask | changed


def test_a_paper_is_a_row(copy: ChangedCopy) -> None:
    # ISO 216: A4 is 210 mm by 297 mm, B5 is 176 mm by 250 mm.
    papers = copy.table("papers")
    lines = papers.read_text(encoding="utf-8").splitlines(keepends=True)
    papers.write_text("".join(line for line in lines if not line.startswith("A4,")))
    margins = {"side_mm": 12, "top_mm": 12, "foot_mm": 14}
    sheet = {"key": "A4", "name": "Large A4", "width_mm": 210, "height_mm": 297}
    copy.add_row("papers", **sheet, **margins, body_pt=9, **{"for": "both"})
    other = {"key": "B5", "name": "B5", "width_mm": 176, "height_mm": 250}
    copy.add_row("papers", **other, **margins, body_pt=8, **{"for": "slip"})
    told = copy.visit(ask=an_ask(), slip={"paper": "A4"}, settings={"paper": "B5"})
    for page in ("settings", "yarn", "slip"):
        assert {"A4", "B5"} <= set(told["forms"][page]["paper"])
    assert told["settings"][0] == 303
    assert told["pdf"]["size_mm"] == told["command"]["pdf"]["size_mm"] == [210, 297]
    assert "Breakwater pullover" in told["pdf"]["text"]
    assert "A4, B5" in " ".join(told["command"]["help"].split())


def answered(told: dict[str, Any]) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(told["command"]["answer"])
    return document


def needs(told: dict[str, Any]) -> list[Any]:
    return [(need["part"], need["plan_m"]) for need in answered(told)["needs"]]


def made_up(kind: str) -> dict[str, Any]:
    """Returns an ask for something of 50 cm by 10 cm whose pattern does not say how much yarn."""
    sides = {name: {"value": cm, "unit": "cm"} for name, cm in (("around", 50), ("width", 10))}
    part = {"name": "main", "amount": {"kind": "unknown"}}
    return an_ask(title="Ear warmer", item={"kind": kind, "measurements": sides}, parts=[part])


def failed_in(output: str) -> list[str]:
    """Returns the languages that tests failed in."""
    return re.findall(r"^FAILED .*\[(\w+)\]", output, re.MULTILINE)


def test_an_item_kind_is_a_row(copy: ChangedCopy) -> None:
    copy.add_row(
        "item_kinds",
        kind="headband",
        area="tube",
        row_gauge="length",
        long="no",
        felted="no",
        kind_of="hat",
        factor=1,
        low=1,
        high=1,
        error=0.03,
        trim="trim_plain",
    )
    missing = copy.tests("tests/wording/test_terms.py", "tests/patterns/test_lexicon.py")
    assert failed_in(missing.stdout) == [*LANGUAGES, *LANGUAGES]
    copy.add_terms("item.headband", "headband", "Stirnband", "bandeau")
    copy.add_words("item,headband,en,headband", "item,headband,de,Stirnband|Stirnbänder")
    copy.add_row("item_groups", group="worn on the head", kind="item", name="headband")
    missing = copy.tests("tests/wording/test_terms.py", "tests/patterns/test_lexicon.py")
    assert failed_in(missing.stdout) == ["fr"]
    copy.add_words("item,headband,fr,bandeau")
    told = copy.visit(
        ask=made_up("headband") | {"wearer": "baby under 12 months"},
        text="Warm hat, a headband\nGauge: 22 sts = 10 cm in garter\n",
    )
    assert "headband" in told["forms"]["ask"]["item"]
    assert "item.kind: headband (sure)" in told["read"]["output"]
    assert "hat off" in [caution["code"] for caution in answered(told)["cautions"]]
    assert copy.tests("tests/craft/test_items.py", "-k", "every_kind or unknown").returncode == 0
    # A tube of 50 cm by 10 cm is 500 cm2, whatever it is called.
    assert needs(told) == needs(copy.visit(ask=made_up("cowl")))
    for printed in (told["slip"], told["pdf"]["text"], told["command"]["pdf"]["text"]):
        assert re.search(r"Item:\s*headband", printed)


def test_a_stitch_pattern_is_a_row(copy: ChangedCopy) -> None:
    copy.add_row(
        "stitch_multipliers",
        stitch_pattern="moss",
        craft="knit",
        multiplier=1.2,
        low=1.15,
        high=1.25,
        width_ratio=0.98,
        width_low=0.92,
        width_high=1,
        **dict.fromkeys(("tells_gauge", "openwork", "strands_inside", "ribs", "cables"), "no"),
        **dict.fromkeys(("names_craft", "names_fabric"), "yes"),
    )
    copy.add_terms("stitch.moss", "double moss stitch", "Doppelperlmuster", "double point de riz")
    copy.add_words(
        "pattern,moss,en,double moss|double moss stitch",
        "pattern,moss,de,Doppelperlmuster",
        "pattern,moss,fr,double point de riz",
    )
    ask = an_ask()
    ask["gauge"]["stitch_pattern"] = "moss"
    told = copy.visit(ask=ask, text="Gauge: 22 sts and 30 rows = 10 cm in double moss stitch\n")
    assert "moss" in told["forms"]["ask"]["stitch_pattern"]
    assert "gauge.stitch_pattern: moss (sure)" in told["read"]["output"]
    assert "craft: knit (sure)" in told["read"]["output"]
    for printed in (told["slip"], told["pdf"]["text"], told["command"]["pdf"]["text"]):
        assert "rows to 10 cm, double moss stitch" in " ".join(printed.split())
    crocheted = copy.visit(ask=ask | {"craft": "crochet"})
    assert "'moss' is a knitted stitch but the craft is crochet" in crocheted["refused"]


def test_an_attribute_is_rows(copy: ChangedCopy) -> None:
    for name, language in (("space-dyed", "en"), ("spacegefärbt", "de"), ("teint par zones", "fr")):
        copy.add_row("attributes", name=name, language=language, attribute="space-dyed")
    copy.add_terms("attribute.space_dyed", "space-dyed", "abschnittsgefärbt", "teint par zones")
    ask = an_ask()
    ask["designer_yarn"]["attributes"] = ["spacegefärbt"]
    told = copy.visit(ask=ask, text="Yarn: 50 g = 120 m, 100% wool, space-dyed\n")
    assert attribute_named("spacegefärbt") is None
    assert "designer_yarn.attributes: space-dyed (sure)" in told["read"]["output"]
    assert told["command"]["slip"][0] == 0
    assert "Breakwater pullover" in told["pdf"]["text"]


WORD = re.compile(r"[^\W\d_]{2,}(?![^{]*\})")


def write_dutch(copy: ChangedCopy, state: str, *, invented: bool) -> None:
    """Adds 'nl': every English text as it is, or with an ending on each word that no one uses."""
    ways = dict.fromkeys(("decimal_comma", "metric_tools", "compounds"), "yes")
    copy.add_row(
        "languages", language="nl", name="Dutch", state=state, blank_thousands="no", **ways
    )
    texts = copy.root / "shopdesk/wording/texts"
    for path in texts.glob("*.en.po"):
        lines = (
            path.read_text(encoding="utf-8").replace("Language: en", "Language: nl").splitlines()
        )
        header, body = lines[:5], lines[5:]
        if invented:
            body = [line if line.startswith("msgid") else dutch(line) for line in body]
        name = path.name.replace(".en.", ".nl.")
        texts.joinpath(name).write_text("\n".join([*header, *body]) + "\n", encoding="utf-8")


def dutch(line: str) -> str:
    """Returns a line of a file of texts in invented Dutch."""
    keyword, quote, text = line.partition('"')
    return keyword + quote + WORD.sub(lambda word: f"{word[0]}ijk", text).replace("'", "\u2019")


def write_dutch_promises(path: Path) -> None:
    """Adds what no text may promise, as the English has it."""
    with path.open(encoding="utf-8", newline="") as file:
        english = [row for row in csv.DictReader(file) if row["language"] == "en"]
    with path.open("a", encoding="utf-8", newline="") as file:
        for row in english:
            said = WORD.sub(lambda word: f"{word[0]}ijk", row["said"])
            csv.writer(file).writerow([row["meaning"], "nl", re.escape(said), said])


def test_a_copied_language_is_noticed_and_as_a_draft_it_prints_nothing(copy: ChangedCopy) -> None:
    table = copy.table("languages")
    before = table.read_text(encoding="utf-8")
    write_dutch(copy, "complete", invented=False)
    copied = copy.tests("tests/wording/test_texts.py", "-k", "copied or complete")
    assert failed_in(copied.stdout) == ["nl"]
    (copy.root / "shopdesk/wording/texts/slip.nl.po").unlink()
    lacking = copy.tests("tests/wording/test_texts.py", "-k", "complete")
    assert "[nl-slip]" in lacking.stdout
    table.write_text(before, encoding="utf-8")
    assert copy.tests("tests/wording/test_texts.py", "-k", "table").returncode == 1
    write_dutch(copy, "draft", invented=False)
    assert copy.tests("tests/wording/test_texts.py").returncode == 0
    told = copy.visit(ask=an_ask(), slip={"language": "nl"}, settings={"language": "nl"})
    assert told["settings"][0] == 422
    assert "The texts in 'nl' are a draft" in told["settings"][1]
    assert (told["slip"], told["command"]["pdf"]) == (None, None)
    assert "'nl' is not one of 'en', 'de', 'fr'" in told["command"]["slip"][1]
    told = copy.visit(ask=an_ask(), stored={"language": "nl"})
    assert "draft, which prints no slip" in told["command"]["slip"][1]
    assert "nl" not in told["forms"]["slip"]["language"]


def test_a_complete_language_is_a_row_and_its_texts(copy: ChangedCopy) -> None:
    write_dutch(copy, "complete", invented=True)
    words = copy.root / "shopdesk/patterns/tokens/words.csv"
    for line in words.read_text(encoding="utf-8").splitlines():
        kind, value, language, spellings = line.split(",", 3)
        if language == "en":
            copy.add_words(f"{kind},{value},nl,{WORD.sub(lambda word: word[0] + 'ijk', spellings)}")
    checked = ("tests/wording/test_texts.py", "tests/wording/test_terms.py")
    promises = "tests/wording/test_no_promise.py"
    done = copy.tests(*checked, promises, "tests/patterns/test_lexicon.py")
    assert failed_in(done.stdout) == ["nl"], done.stdout
    write_dutch_promises(copy.root / "tests/wording/promises.csv")
    assert copy.tests(promises).returncode == 0
    text = "Pulloverijk voor een kind\n22 stitchesijk = 10 cm in garterijk\n"
    told = copy.visit(ask=an_ask(), settings={"language": "nl-BE"}, text=text)
    assert told["settings"][0] == 303
    assert "nl" in told["forms"]["ask"]["language"]
    assert "nl-BE" in told["forms"]["yarn"]["language"]
    assert "gauge.stitch_pattern: garter" in told["read"]["output"]
    assert "item.kind: pullover" in told["read"]["output"]
    for printed in (told["pdf"]["text"], told["command"]["pdf"]["text"]):
        assert "Washijk" in printed
        assert re.search(r"\bWash\b", printed) is None
