"""Every example ask with its first yarn: answered, chosen, kept and printed in three languages."""

import json
from pathlib import Path

import pytest
from sqlalchemy import Engine

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Answer, Candidate, LotTaken, SelectedPart, Selection
from shopdesk.bundled import bundled
from shopdesk.services.answers import answer_again, judge_yarn
from shopdesk.services.slip_records import SlipRecord
from shopdesk.services.slips import SlipOrder, make_slip
from tests.services.slips_at_counter import shop_on
from tests.slip_factories import texts_of
from tests.slip_reading import page_sizes_mm, squeezed, text_by_pypdf

ASKS = sorted((bundled("seed_catalog") / "asks").glob("*.json"))
REFERENCES = ("EN 71-1", "EN 14682", "Pediatrics 2022;150(1):e2022057990", "16 CFR 1120.3")


def chosen(candidate: Candidate, found: Answer) -> Selection:
    """Takes for each part the colour with most skeins, and tells every flagged caution."""
    parts = []
    for amount in candidate.amounts:
        colours = [one for one in candidate.colours if one.part == amount.part]
        colour = max(colours, key=lambda one: (one.short_by == 0, one.available))
        lots = tuple(LotTaken(pick.lot, pick.skeins) for pick in colour.picks)
        parts.append(SelectedPart(amount.part, colour.colour_code, lots or (LotTaken(None, 1),)))
    cautions = (*candidate.cautions, *found.cautions)
    return Selection(candidate.sku, tuple(parts), frozenset(c.code for c in cautions if c.flag))


def slip_of(shelf: Engine, path: Path) -> SlipRecord:
    document = json.loads(path.read_text(encoding="utf-8"))
    shop, ask = shop_on(shelf), read_ask(document)
    found = answer_again(shop, ask)
    choice = chosen(found.candidates[0], found)
    judged = judge_yarn(shop, ask, [choice.sku])[choice.sku]
    return make_slip(shop, judged, SlipOrder(document, choice, "AB"))


@pytest.mark.parametrize("path", ASKS, ids=lambda path: path.stem)
def test_the_slip_is_whole_in_every_language(demo_shelf: Engine, path: Path) -> None:
    record = slip_of(demo_shelf, path)
    own = " ".join(texts_of(record.words))
    for language in (None, "de", "fr"):
        said = " ".join(texts_of(record.words_in(language)))
        printed = squeezed(text_by_pypdf(record.pdf(language=language)))
        for line in record.content.lines:
            assert str(line.skeins) in said
            assert squeezed(line.yarn) in printed
            assert str(line.gtin) in printed
        # The rules are those of the shop's country whatever the language.
        assert [r for r in REFERENCES if r in said] == [r for r in REFERENCES if r in own]


TWO_PAGES = {("small-bear", "de")}
"""Law and advice for a baby's toy are all told, however long, and German takes the most room."""


@pytest.mark.parametrize("path", ASKS, ids=lambda path: path.stem)
def test_a_slip_of_one_yarn_is_one_page(demo_shelf: Engine, path: Path) -> None:
    record = slip_of(demo_shelf, path)
    if len(record.content.lines) == 1:
        for language in (None, "de", "fr"):
            pages = 2 if (path.stem, language) in TWO_PAGES else 1
            assert len(page_sizes_mm(record.pdf("A5", language))) == pages
