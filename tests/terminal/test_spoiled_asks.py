"""Five thousand spoiled asks: each is refused in words or answered, and none breaks anything."""

import copy
import json
import random
from collections.abc import Iterator
from typing import Any

import pytest

from shopdesk.answering.answer.answer_document import answer_document
from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.ask.document import AskRefused
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.parsing.json_text import JsonRefused, read_json
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.shop.location import find_place
from shopdesk.shop.shop import opened_shop
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import english, translate
from tests.factories import shop_terms
from tests.terminal.demo_shop import demo_asks, demo_shop

VOICE = ReaderPreferences("en", "both", "US", "EUR")
SPOILED = 5000
BATCHES = 5
EVERY_NTH_YARN = 16
AWKWARD: list[Any] = [
    None, True, False, 0, -1, 1e-300, 1e300, 10**30, 0.1, "", " ", "abc", "3,5", "1 1/2", "1e9",
    "NaN", "-0", "½", "٣", "二十二", "22-24", "24-22", "<b>x</b>", "'; --", "x" * 5000, "\u202e",
    [], {}, [[]], [1, 2, 3], {"value": 1}, {"value": "1,5", "unit": "in"}, "unknown", "machine 95",
    "\U0001f9f6", "crochet", "baby under 12 months", 99999, "0,0001", "100000",
]  # fmt: skip


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yields the path of everything inside a document."""
    inner = value.items() if isinstance(value, dict) else enumerate(value)
    for step, below in inner:
        yield (*path, step)
        if isinstance(below, dict | list):
            yield from places(below, (*path, step))


def spoil(document: dict[str, Any], chance: random.Random) -> None:
    """Changes one place: something awkward instead, the field gone, or a field too many."""
    *above, last = chance.choice(list(places(document)))
    holder: Any = document
    for step in above:
        holder = holder[step]
    kind, before = chance.random(), holder[last]
    if kind < 0.5 and isinstance(before, int | float) and not isinstance(before, bool):
        holder[last] = before * chance.choice([0.001, 0.1, 0.5, 1.01, 2, 10, 1000])
    elif kind < 0.75:
        holder[last] = copy.deepcopy(chance.choice(AWKWARD))
    elif kind < 0.9:
        del holder[last]
    elif isinstance(holder, dict):
        holder[chance.choice(["x", "unit", "value", "kind", "values", ""])] = 1
    else:
        holder.append(copy.deepcopy(holder[last]))


@pytest.fixture(scope="module")
def yarns(tmp_path_factory: pytest.TempPathFactory) -> list[ShelfYarn]:
    """A few yarns of the demo shop, over its whole width."""
    place = find_place(str(demo_shop(tmp_path_factory.mktemp("demo") / "shop")), {})
    with opened_shop(place) as shop, shop.read() as session:
        return list(shelf_yarns(session))[::EVERY_NTH_YARN]


@pytest.fixture(scope="module")
def asks() -> list[Any]:
    return [json.loads(path.read_text(encoding="utf-8")) for path in demo_asks()]


def refusal_of(data: bytes) -> AskRefused | JsonRefused | None:
    try:
        read_ask(read_json(data))
    except (AskRefused, JsonRefused) as refusal:
        return refusal
    return None


def outcome(data: bytes, yarns: list[ShelfYarn]) -> str:
    """Returns 'refused' or 'answered'; a refusal must tell both halves, an answer be JSON."""
    refusal = refusal_of(data)
    if refusal is not None:
        assert refusal.problems
        assert all(english(each.wrong) and english(each.right) for each in refusal.problems)
        return "refused"
    ask = read_ask(read_json(data))
    document = answer_document(
        answer(ask, yarns, shop_terms()), lambda said: translate(said, VOICE)
    )
    json.dumps(document, allow_nan=False)
    return "answered"


@pytest.mark.slow
@pytest.mark.parametrize("batch", range(BATCHES))
def test_spoiled_asks_are_refused_or_answered(
    batch: int, asks: list[Any], yarns: list[ShelfYarn]
) -> None:
    chance = random.Random(batch)
    counts = {"refused": 0, "answered": 0}
    for _ in range(SPOILED // BATCHES):
        document = copy.deepcopy(chance.choice(asks))
        for _ in range(chance.choice([1, 1, 1, 2, 3])):
            if document:
                spoil(document, chance)
        data = json.dumps(document).encode()
        try:
            counts[outcome(data, yarns)] += 1
        except Exception as error:
            raise AssertionError(f"this ask breaks something: {document}") from error
    assert min(counts.values()) > SPOILED // BATCHES // 20
