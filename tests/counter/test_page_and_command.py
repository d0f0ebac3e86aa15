"""The counter's page and the terminal's command give the same answer to the same ask."""

import json
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from click.testing import CliRunner
from sqlalchemy import Engine

from shopdesk.bundled import bundled
from shopdesk.counter.forms.ask_form import ask_form_data
from shopdesk.terminal.main import main
from tests.counter.conftest import Counter
from tests.pages import read_page

EXAMPLES = sorted(path.stem for path in bundled("seed_catalog/asks").glob("*.json"))


@pytest.mark.compares("answers.ask_the_shelf", "answers.answer_again")
@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_ask_is_answered_the_same_by_page_and_command(
    example: str,
    demo_counter: Counter,
    demo_shelf: Engine,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    written = bundled("seed_catalog/asks") / f"{example}.json"
    document = json.loads(written.read_text(encoding="utf-8"))
    # The form has no boxes for how the designer's yarn is washed.
    document.get("designer_yarn", {}).pop("care", None)
    path = tmp_path / "ask.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    typed = ask_form_data(document)
    told = demo_counter.fill(**{name: typed.getlist(name) for name in typed})
    assert told.status_code == 303, told.text
    page = demo_counter.look(f"{told.headers['Location']}?all=1")
    listed = [parse_qs(urlsplit(link).query)["sku"][0] for link in page.links if "sku=" in link]

    monkeypatch.setenv("SHOPDESK_DATABASE_URL", str(demo_shelf.url))
    done = CliRunner().invoke(main, ["answer", str(Path(path))])
    assert done.exit_code == 0, done.output
    candidates = [c for group in json.loads(done.stdout)["groups"].values() for c in group]
    assert candidates
    assert listed == [c["sku"] for c in candidates]
    for candidate in candidates:
        skeins = [a["skeins"] for a in candidate["amounts"] if a["skeins"] is not None]
        if len(skeins) == 1 and candidate["group"] != "not for this":
            assert f"{skeins[0]} skein" in page.text


ROUGH = {
    "en": "Rough guide only, for the size of a ball is not known: between 700 m and 2080 m.",
    "de": "Nur ein grober Anhalt, denn die Größe eines Knäuels ist nicht bekannt: "
    "zwischen 700 m und 2080 m.",
    "fr": "Simple repère, car la taille d’une pelote n’est pas connue\u00a0: "
    "entre 700 m et 2080 m.",
}


@pytest.mark.parametrize("language", ROUGH)
def test_balls_of_no_known_size_are_a_rough_guide_on_page_and_command(
    language: str, demo_counter: Counter, demo_shelf: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Eight balls of DK: seven of 50 g at 200 m to eight of 100 g at 260 m in 100 g.
    typed = {"stitches": "22", "designer-weight": "DK", "parts-0-count": "8"}
    told = demo_counter.fill(**typed, **{"parts-0-counted_in": "balls"})
    assert told.status_code == 303, told.text
    page = demo_counter.look(told.headers["Location"])
    assert "rough guide only:" in page.text
    assert ROUGH["en"] in page.text
    assert "common practice" in page.text

    ask = {
        "gauge": {"stitches": 22, "over": {"value": 10, "unit": "cm"}},
        "designer_yarn": {"weight": ["DK"]},
        "parts": [{"amount": {"kind": "balls", "values": [8]}}],
    }
    monkeypatch.setenv("SHOPDESK_DATABASE_URL", str(demo_shelf.url))
    done = CliRunner().invoke(main, ["answer", "-", "--language", language], json.dumps(ask))
    assert done.exit_code == 0, done.output
    answer = json.loads(done.stdout)
    [need] = answer["needs"]
    assert need["rough"]
    assert (need["pattern_m"]["low"], need["pattern_m"]["high"]) == pytest.approx((700, 2080))
    said = [why["text"].replace("\u202f", " ") for why in need["why"]]
    assert any(text.startswith(ROUGH[language]) for text in said), said
    groups = [candidate for group in answer["groups"].values() for candidate in group]
    codes = [[why["code"] for why in one["amounts"][0]["why"]] for one in groups if one["amounts"]]
    assert any("needs.rough_skeins" in each for each in codes)


def test_a_weight_name_and_a_size_are_a_rough_guide(demo_counter: Counter) -> None:
    typed = {"item": "scarf", "width": "20", "length": "150", "designer-weight": "DK"}
    told = demo_counter.fill(**typed)
    assert told.status_code == 303, told.text
    page = demo_counter.look(told.headers["Location"])
    assert "rough guide only:" in page.text
    assert "21 to 24 stitches to 10 cm are usual for DK" in page.text


@pytest.mark.compares("answers.require_known_yarns")
def test_a_yarn_in_hand_that_the_shop_does_not_know_is_refused_by_page_and_commands(
    demo_counter: Counter, demo_shelf: Engine, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    written = bundled("seed_catalog/asks") / "scarf-with-own-yarn.json"
    document = json.loads(written.read_text(encoding="utf-8"))
    document["parts"][0]["own"] = {"length": {"value": 90, "unit": "m"}, "sku": "NONE-1"}
    path = tmp_path / "ask.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    typed = ask_form_data(document)
    refused = demo_counter.fill(**{name: typed.getlist(name) for name in typed})
    said = read_page(refused.text).message("parts-0-own_sku")
    assert (refused.status_code, "NONE-1" in said) == (422, True)

    monkeypatch.setenv("SHOPDESK_DATABASE_URL", str(demo_shelf.url))
    slip = tmp_path / "slip.pdf"
    for command in (["answer"], ["slip", "--yarn", "OY-3105", "-o", str(slip)]):
        done = CliRunner().invoke(main, [*command, str(path)])
        assert (done.exit_code, slip.exists()) == (2, False)
        assert said.split(".")[0].lower() in done.stderr.lower()
