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

EXAMPLES = sorted(path.stem for path in bundled("seed_catalog/asks").glob("*.json"))


@pytest.mark.compares("answers.ask_the_shelf", "answers.answer_again")
@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_ask_is_answered_the_same_by_page_and_command(
    example: str, demo_counter: Counter, demo_shelf: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = bundled("seed_catalog/asks") / f"{example}.json"
    typed = ask_form_data(json.loads(path.read_text(encoding="utf-8")))
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
