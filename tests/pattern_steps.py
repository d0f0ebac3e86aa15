"""A second, slow matcher for regular expressions that counts the steps of a search.

It walks through Python's own parse of a pattern in the order in which Python's matcher tries. What
that skips by tricks of its own is counted all the same; a look around counts as one step.
"""

import math
import re
from collections.abc import Iterator, Sequence
from itertools import islice
from re import _compiler as compiler  # type: ignore[attr-defined]
from re import _constants as code  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

Node = tuple[Any, Any]
OF_PARTS = {code.BRANCH, code.SUBPATTERN, code.MAX_REPEAT, code.POSSESSIVE_REPEAT}
NOT_WALKED = {code.MIN_REPEAT, code.GROUPREF, code.GROUPREF_EXISTS, code.ATOMIC_GROUP}


class TooManySteps(RuntimeError):
    """A search was given up."""


class Search:
    """One pattern looked for in one text, from place to place; `steps` grows with what is tried.

    Raises TooManySteps beyond `most`.
    """

    def __init__(self, pattern: re.Pattern[str], text: str, most: float = math.inf) -> None:
        self.steps = 0
        self._most = most
        self._tree = parser.parse(pattern.pattern, pattern.flags)
        self._flags = pattern.flags
        self._text = text
        self._simple: dict[int, re.Pattern[str]] = {}

    def spans(self) -> Iterator[tuple[int, int]]:
        """Yields where the pattern is found, as `finditer` does but for empty finds."""
        place = 0
        while place <= len(self._text):
            end = next((end for end in self._ends(self._tree.data, place) if end > place), None)
            if end is not None:
                yield place, end
            place = place + 1 if end is None else end

    def _ends(self, nodes: Sequence[Node], place: int) -> Iterator[int]:
        """Yields every end of these nodes, one after the other, from a place on."""
        if not nodes:
            yield place
            return
        for end in self._ends_of_one(nodes[0], place):
            yield from self._ends(nodes[1:], end)

    def _ends_of_one(self, node: Node, place: int) -> Iterator[int]:
        self.steps += 1
        if self.steps > self._most:
            raise TooManySteps
        kind, parts = node
        if kind is code.BRANCH:
            for way in parts[1]:
                yield from self._ends(way.data, place)
        elif kind is code.SUBPATTERN:
            yield from self._ends(parts[3].data, place)
        elif kind is code.MAX_REPEAT:
            yield from self._repeated(*parts, place)
        elif kind is code.POSSESSIVE_REPEAT:
            yield from islice(self._repeated(*parts, place), 1)
        else:
            found = self._matcher(node).match(self._text, place)
            if found is not None:
                yield found.end()

    def _repeated(self, least: int, most: int, what: Any, place: int) -> Iterator[int]:
        if len(what.data) == 1 and what.data[0][0] not in OF_PARTS:
            yield from self._repeated_signs(least, most, what.data[0], place)
            return
        if most:
            for end in self._ends(what.data, place):
                if end > place:
                    yield from self._repeated(max(0, least - 1), most - 1, what, end)
        if not least:
            yield place

    def _repeated_signs(self, least: int, most: int, node: Node, place: int) -> Iterator[int]:
        """Does the same for what takes one sign, without a call within a call for each."""
        first, matcher = place, self._matcher(node)
        while place - first < most and matcher.match(self._text, place):
            place += 1
            self.steps += 1
        for end in range(place, first + least - 1, -1):
            self.steps += 1
            yield end

    def _matcher(self, node: Node) -> re.Pattern[str]:
        """Returns Python's own matcher of a node that has no parts."""
        if node[0] in NOT_WALKED:
            raise NotImplementedError(f"{node[0]} is not walked through")
        if id(node) not in self._simple:
            alone = parser.SubPattern(self._tree.state, [node])
            self._simple[id(node)] = compiler.compile(alone, self._flags)
        return self._simple[id(node)]


def signs_of(pattern: re.Pattern[str]) -> list[str]:
    """Returns signs that the pattern tells apart: each of its own, and one of each set."""
    found: dict[str, None] = {}

    def look(nodes: Any) -> None:
        for kind, parts in nodes:
            if kind in (code.LITERAL, code.NOT_LITERAL):
                found[chr(parts)] = None
            elif kind is code.IN:
                found[_sign_in(parts)] = None
            elif kind is code.BRANCH:
                for way in parts[1]:
                    look(way.data)
            elif kind not in (code.AT, code.ANY):
                look(parts[-1].data)

    look(parser.parse(pattern.pattern, pattern.flags).data)
    return list(found)


def _sign_in(items: Sequence[Node]) -> str:
    """Returns a sign of a set, or one outside it."""
    for kind, value in items:
        if kind is code.LITERAL:
            return chr(value)
        if kind is code.RANGE:
            return chr(value[0])
        if kind is code.CATEGORY:
            return "1" if value is code.CATEGORY_DIGIT else "a"
    return "a"
