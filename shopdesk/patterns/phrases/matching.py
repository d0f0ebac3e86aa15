"""Finds every phrase in a page; a number belongs to the first phrase that reads it."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice

from shopdesk.patterns.phrases.grammar import Match, Phrase, matches, phrases
from shopdesk.patterns.phrases.mentions import Mention, Sureness, has_zero, with_number
from shopdesk.patterns.phrases.page import Page
from shopdesk.patterns.phrases.read_amount import (
    read_amount,
    read_amount_row,
    read_balls_of_mass,
    read_size_line,
    read_times_mass,
)
from shopdesk.patterns.phrases.read_gauge import read_gauge, read_gauge_pair
from shopdesk.patterns.phrases.read_size import (
    read_actual_size,
    read_ages,
    read_measure,
    read_sides,
    read_sizes,
    read_square,
    read_to_fit,
)
from shopdesk.patterns.phrases.read_tool import read_tool, read_two_tools
from shopdesk.patterns.phrases.read_words import read_care, read_wash_at, word_findings
from shopdesk.patterns.phrases.read_yarn import (
    read_ball_length,
    read_ball_mass,
    read_count,
    read_ply,
    read_put_up,
    read_share,
    read_standard,
    read_strands,
    read_weight,
    read_wraps,
)

Reader = Callable[[Page, Match], list[Mention] | None]


def _nothing(page: Page, match: Match) -> list[Mention]:
    return []


READERS: dict[str, Reader] = {
    "gauge": read_gauge,
    "gauge pair": read_gauge_pair,
    "put-up": read_put_up,
    "balls of mass": read_balls_of_mass,
    "times mass": read_times_mass,
    "ball length": read_ball_length,
    "ball mass": read_ball_mass,
    "tool": read_tool,
    "two tools": read_two_tools,
    "nothing": _nothing,
    "fibre share": read_share,
    "count": read_count,
    "weight": read_weight,
    "standard weight": read_standard,
    "ply": read_ply,
    "wraps": read_wraps,
    "strands": read_strands,
    "wash at": read_wash_at,
    "care": read_care,
    "ages": read_ages,
    "sizes": read_sizes,
    "to fit": read_to_fit,
    "sides": read_sides,
    "measure": read_measure,
    "actual size": read_actual_size,
    "square": read_square,
    "size line": read_size_line,
    "amount": read_amount,
    "amount row": read_amount_row,
}
MOST_OF_A_PHRASE = 60
"""More than a header has; a text that repeats one phrase for ever is read only so far."""
_SHARES_ITS_MASS = frozenset({"times mass", "balls of mass"})
"""Phrases whose mass of a ball may also be the mass of a put-up ('5 x 50 g, each 125 m')."""


def mentions_of(page: Page) -> list[Mention]:
    """Returns all findings of the page in the order of its words; marks what numbers are read."""
    found: list[Mention] = []
    lent: set[int] = set()
    places = _places(page)
    for phrase in phrases():
        if phrase.language and page.language not in phrase.language.split():
            continue
        starts = _starts(places, phrase)
        for match in islice(_accepted(page, phrase, starts, lent), MOST_OF_A_PHRASE):
            found += match
    found += word_findings(page)
    return sorted(found, key=lambda each: (each.span.start, each.span.end))


def _accepted(
    page: Page, phrase: Phrase, starts: list[int], lent: set[int]
) -> Iterator[list[Mention]]:
    """Yields what each match of the phrase reads, and claims its numbers.

    `lent` are claimed masses that a put-up may still use.
    """
    for match in matches(phrase, page.kinds, starts):
        numbers = _numbers_kept(page, match)
        taken = page.claimed - lent if phrase.gives == "put-up" else page.claimed
        if not numbers.isdisjoint(taken) or _crosses_a_wall(page, match):
            continue
        read = READERS[phrase.gives](page, match)
        if read is None or any(map(_is_nothing, read)):
            continue
        page.claimed |= numbers
        if phrase.gives in _SHARES_ITS_MASS:
            lent.add(match.kept["m"])
        yield [_unclear_if_two_ways(page, each) for each in read]


def _is_nothing(found: Mention) -> bool:
    """True for a zero, which nothing can be but the heat of care: 0 degrees is 'do not'."""
    return has_zero(found.value) and not found.field.startswith("care.")


def _unclear_if_two_ways(page: Page, found: Mention) -> Mention:
    """Returns the finding as it is, or unclear if one of its numbers can be read in two ways."""
    start, end = found.span.start, found.span.end
    numbers = [each for each in page.two_ways if start <= each.span.start < end]
    if not numbers:
        return found
    ways = (with_number(found.value, each.value, each.other) for each in numbers)
    others = (*found.others, *(way for way in ways if way != found.value))
    return replace(found, sure=Sureness.UNCLEAR, others=others)


def _places(page: Page) -> dict[str, list[int]]:
    """Returns each kind's places on the page."""
    places: dict[str, list[int]] = {}
    for at, kinds in enumerate(page.kinds):
        for kind in kinds:
            places.setdefault(kind, []).append(at)
    return places


def _starts(places: dict[str, list[int]], phrase: Phrase) -> list[int]:
    return sorted({at for kind in phrase.first_kinds for at in places.get(kind, ())})


def _numbers_kept(page: Page, match: Match) -> set[int]:
    return {at for at in match.kept.values() if page.tokens[at].numbers is not None}


def _crosses_a_wall(page: Page, match: Match) -> bool:
    if match.phrase.one_line and page.lines[match.start] != page.lines[match.end - 1]:
        return True
    return any(page.is_wall(at) for at in range(match.start, match.end))
