"""The phrases a pattern's header is written in, and how one phrase is found in the tokens.

They stand in phrases.toml, each with an example that a test reads. A phrase is a row of kinds
of token: `name=kind` keeps the token under that name, `a|b` is either kind, `?` may be missing,
`( a b )?` a part that may be missing, `_` up to four small words or signs, `~` up to ten tokens
that may stand inside a gauge. A bare unit word ('per inch') is of the kind 'unit-short', a
quantity ('4 in') of the kind 'short'.
"""

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from shopdesk.patterns.tokens.tokens import UNIT_KINDS, Token

_SOFT = "small over per open close comma colon slash dash join approx each square by"
_IN_GAUGE = (
    "pattern needle hook mm number numbersign system washed craft main finished part word"
    " crochetstitch"
)
SOFT_KINDS = frozenset(_SOFT.split())
GAUGE_KINDS = SOFT_KINDS | frozenset(_IN_GAUGE.split())
MOST_SOFT, MOST_INSIDE = 4, 10


@dataclass(frozen=True, slots=True)
class Step:
    """One node of a phrase: takes a token of `kinds`, or forks to `ways` without taking one."""

    kinds: frozenset[str]
    name: str | None
    ways: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Phrase:
    """One way of writing something; `gives` names what it is read as.

    `first_kinds` are the kinds of token that a match can begin with. `example` and what it
    `reads` are tried by the tests.
    """

    name: str
    gives: str
    pattern: str
    sure: str
    language: str
    one_line: bool
    example: str
    reads: str
    steps: tuple[Step, ...]
    first_kinds: frozenset[str]


@dataclass(frozen=True, slots=True)
class Match:
    """A phrase found at tokens [start, end), with what it kept."""

    phrase: Phrase
    start: int
    end: int
    kept: Mapping[str, int]


class PhraseFault(ValueError):
    """A phrase in phrases.toml is not written as phrases are."""


@cache
def phrases() -> tuple[Phrase, ...]:
    """Returns the phrases in the order in which they claim tokens. Raises PhraseFault."""
    text = files(__package__).joinpath("phrases.toml").read_text(encoding="utf-8")
    return tuple(_phrase(row) for row in tomllib.loads(text)["phrase"])


def _phrase(row: Mapping[str, Any]) -> Phrase:
    steps = tuple(_Compiler(row["pattern"]).steps())
    return Phrase(
        name=row["name"],
        gives=row["gives"],
        pattern=row["pattern"],
        sure=row.get("sure", "sure"),
        language=row.get("language", ""),
        one_line=row.get("one_line", False),
        example=row["example"],
        reads=row["reads"],
        steps=steps,
        first_kinds=_first_kinds(steps),
    )


def _first_kinds(steps: Sequence[Step]) -> frozenset[str]:
    kinds: set[str] = set()
    open_ways, seen = [0], set[int]()
    while open_ways:
        way = open_ways.pop()
        if way in seen or way >= len(steps):
            continue
        seen.add(way)
        kinds |= steps[way].kinds
        open_ways += steps[way].ways
    return frozenset(kinds)


class _Compiler:
    """Turns a phrase's pattern into steps; each part is compiled behind the one before."""

    def __init__(self, pattern: str) -> None:
        self._parts = pattern.replace("(", " ( ").replace(")?", " )? ").replace(")", " ) ").split()
        self._parts = " ".join(self._parts).replace(") ?", ")?").split()
        self._steps: list[Step] = []
        self._at = 0

    def steps(self) -> list[Step]:
        self._sequence()
        if self._at < len(self._parts):
            raise PhraseFault(f"a bracket too many in {' '.join(self._parts)}")
        return self._steps

    def _sequence(self) -> None:
        while self._at < len(self._parts) and not self._parts[self._at].startswith(")"):
            part = self._parts[self._at]
            self._at += 1
            if part == "(":
                self._group()
            elif part in ("_", "~"):
                kinds, most = (SOFT_KINDS, MOST_SOFT) if part == "_" else (GAUGE_KINDS, MOST_INSIDE)
                for _ in range(most):
                    self._optional(kinds, None, lazy=True)
            else:
                self._single(part)

    def _group(self) -> None:
        fork = len(self._steps)
        self._steps.append(Step(frozenset(), None, ()))
        self._sequence()
        if self._at >= len(self._parts):
            raise PhraseFault("a bracket is missing")
        optional = self._parts[self._at] == ")?"
        self._at += 1
        ways = (fork + 1, len(self._steps)) if optional else (fork + 1,)
        self._steps[fork] = Step(frozenset(), None, ways)

    def _single(self, part: str) -> None:
        optional = part.endswith("?")
        name, _, kinds = part.removesuffix("?").rpartition("=")
        wanted = frozenset(kinds.split("|"))
        if optional:
            self._optional(wanted, name or None, lazy=False)
        else:
            self._steps.append(Step(wanted, name or None, ()))

    def _optional(self, kinds: frozenset[str], name: str | None, *, lazy: bool) -> None:
        fork = len(self._steps)
        ways = (fork + 2, fork + 1) if lazy else (fork + 1, fork + 2)
        self._steps += [Step(frozenset(), None, ways), Step(kinds, name, ())]


def kinds_of(token: Token) -> frozenset[str]:
    """Returns the kinds a phrase may ask of this token."""
    if not token.is_unit:
        return frozenset(token.kinds)
    return frozenset(f"unit-{kind}" if kind in UNIT_KINDS else kind for kind in token.kinds)


def matches(
    phrase: Phrase, kinds: Sequence[frozenset[str]], starts: Sequence[int]
) -> Iterator[Match]:
    """Yields the phrase's matches that begin at one of `starts`, longest way first.

    Each (step, place) is tried once from a start, so the time grows only with the length of the
    phrase times the length it may span.
    """
    for start in starts:
        kept: list[tuple[str, int]] = []
        end = _follow(phrase.steps, kinds, 0, start, kept, set())
        if end is not None:
            yield Match(phrase, start, end, dict(kept))


def _follow(
    steps: Sequence[Step],
    kinds: Sequence[frozenset[str]],
    step_at: int,
    place: int,
    kept: list[tuple[str, int]],
    failed: set[tuple[int, int]],
) -> int | None:
    if step_at >= len(steps):
        return place
    if (step_at, place) in failed:
        return None
    step = steps[step_at]
    if step.ways:
        for way in step.ways:
            end = _follow(steps, kinds, way, place, kept, failed)
            if end is not None:
                return end
    elif place < len(kinds) and step.kinds & kinds[place]:
        if step.name is not None:
            kept.append((step.name, place))
        end = _follow(steps, kinds, step_at + 1, place + 1, kept, failed)
        if end is not None:
            return end
        if step.name is not None:
            kept.pop()
    failed.add((step_at, place))
    return None
