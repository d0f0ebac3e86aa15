"""A panel of asks over an invented shelf, each judged three times by hand, and what two agree on.

The asks, the shelf and the judgements were written from the facts alone, before the judgement in
the code was looked at. The sealed half is scored only when the judgement is said to be done.
"""

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
SHELF = HERE / "shelf.csv"
HALVES = ("open", "sealed")
PROPOSED = ("as_it_is", "swatch_first", "with_change")
"""The groups of a judgement, best first; a yarn in none of them is refused."""
JUDGES = 3
Groups = Mapping[str, Sequence[str]]


@dataclass(frozen=True, slots=True)
class Agreed:
    """What at least two of three judges say of an ask, as SKUs, the gladliest proposed first.

    `good` are sold without a change, `as_it_is` those of them that are promised; `listed` may be
    proposed with a change too. Every other yarn is refused.
    """

    good: tuple[str, ...]
    as_it_is: frozenset[str]
    listed: frozenset[str]


@dataclass(frozen=True, slots=True)
class Case:
    """An ask of the panel by its number, its document, and what the judges agree on."""

    number: str
    document: Mapping[str, Any]
    agreed: Agreed


def agreed_on(judgements: Sequence[Groups]) -> Agreed:
    """Returns what two of the judgements agree on.

    Only where they agree on no yarn that is good without a change do those with a change count
    as good.
    """
    places = [_places(one) for one in judgements]
    promised = Counter(sku for one in judgements for sku in one["as_it_is"])
    unchanged = Counter(sku for one in judgements for group in PROPOSED[:2] for sku in one[group])
    listed = Counter(sku for one in places for sku in one)
    all_listed = _of_two(listed)
    good = _of_two(unchanged) or all_listed
    last = len(listed)
    ranked = sorted(good, key=lambda sku: (sum(one.get(sku, last) for one in places), sku))
    return Agreed(tuple(ranked), _of_two(promised), all_listed)


def _of_two(votes: Counter[str]) -> frozenset[str]:
    return frozenset(sku for sku, number in votes.items() if number >= 2)


def _places(judgement: Groups) -> dict[str, int]:
    """Returns the place of each yarn that one judge would propose."""
    order = [sku for group in PROPOSED for sku in judgement[group]]
    return {sku: place for place, sku in enumerate(order)}


def judgements_of(half: str) -> list[Mapping[str, Groups]]:
    """Returns what each judge wrote about a half, by the ask's number."""
    paths = [HERE / half / "verdicts" / f"{judge}.json" for judge in range(1, JUDGES + 1)]
    return [json.loads(path.read_text(encoding="utf-8")) for path in paths]


def cases_of(half: str) -> Iterator[Case]:
    """Yields the cases of a half in the order of their numbers."""
    judgements = judgements_of(half)
    for path in sorted((HERE / half / "asks").glob("*.json")):
        document = json.loads(path.read_text(encoding="utf-8"))
        yield Case(path.stem, document, agreed_on([one[path.stem] for one in judgements]))
