"""The example asks: each is valid, and together they cover what customers come with."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from shopdesk.answering.ask.ask_reading import check_document
from shopdesk.answering.ask.document import AskDoc, ask_schema
from shopdesk.answering.model.ask import ItemKind, StitchPattern, Washing, Wearer
from shopdesk.bundled import bundled
from shopdesk.craft.counts import count_tex
from shopdesk.craft.tools import tool_mm
from shopdesk.craft.weights import categories_named
from shopdesk.craft.yarn import Craft, YarnCount

FILES = sorted((bundled("seed_catalog") / "asks").glob("*.json"))


def document(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))


def ask(name: str) -> AskDoc:
    return check_document(document(bundled("seed_catalog") / "asks" / f"{name}.json"))


def test_there_are_at_least_fourteen() -> None:
    assert len(FILES) >= 14


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_is_valid_by_the_models_and_by_the_schema(path: Path) -> None:
    assert check_document(document(path)).title != "pattern"
    Draft202012Validator(ask_schema()).validate(document(path))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_tools_weights_and_counts_are_known_to_the_trade(path: Path) -> None:
    found = ask(path.stem)
    if found.tool is not None:
        assert tool_mm(found.tool.size, found.tool.system, Craft(found.craft)) > 0
    yarn = found.designer_yarn
    if yarn is not None:
        assert all(categories_named(name) for name in yarn.weight)
        if yarn.count is not None:
            assert count_tex(YarnCount(yarn.count.written, yarn.count.system)) > 0


CASES: dict[str, Callable[[AskDoc], object]] = {
    "plain-pullover": lambda a: a.item.kind is ItemKind.PULLOVER and a.designer_yarn and a.sizes,
    "baby-cardigan": lambda a: a.wearer is Wearer.BABY and a.washing is Washing.MACHINE_40,
    "lace-shawl": lambda a: a.gauge and a.gauge.stitch_pattern is StitchPattern.LACE,
    "crochet-blanket": lambda a: a.craft is Craft.CROCHET and a.item.kind is ItemKind.BLANKET,
    "everyday-socks": lambda a: a.item.kind is ItemKind.SOCKS,
    "felted-bag": lambda a: a.item.kind is ItemKind.FELTED_BAG,
    "held-double-jacket": lambda a: a.designer_yarn and a.designer_yarn.strands == 2,
    "stranded-yoke": lambda a: len(a.parts) >= 3,
    "hat-without-amount": lambda a: (
        a.parts[0].amount.kind == "unknown" and a.item.measurements.around
    ),
    "vest-from-a-cone": lambda a: a.designer_yarn and a.designer_yarn.count,
    "scarf-with-own-yarn": lambda a: a.parts[0].own,
    "cotton-summer-top": lambda a: "wool" in a.wishes.avoid_fibres,
    "school-pullover-on-a-budget": lambda a: a.wishes.price_limit and a.wearer is Wearer.CHILD,
    "long-viscose-cardigan": lambda a: "long" in a.item.features,
    "small-bear": lambda a: a.item.kind is ItemKind.TOY and "toy eyes" in a.item.features,
    "openwork-wrap": lambda a: a.gauge is None and a.designer_yarn and a.designer_yarn.weight,
}


@pytest.mark.parametrize("name", CASES)
def test_the_case_is_what_its_name_says(name: str) -> None:
    assert CASES[name](ask(name))
