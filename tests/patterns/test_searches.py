"""No regular expression of the intake takes more than twice the steps for twice the text."""

import importlib
import pkgutil
import re
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

import shopdesk.patterns
from tests.pattern_steps import Search, TooManySteps, signs_of

TIMES = (40, 150)
"""How often a unit is repeated: a repeat that has a bound grows with the square only below it."""
MOST_FOR_A_SIGN = 200
LINEAR = 2.6
"""How many times as many steps twice the text may take; 4 where they grow with the square."""
END = "€"


def patterns() -> Iterator[tuple[re.Pattern[str], str]]:
    """Yields every pattern that a module of the intake keeps, with its name."""
    for module in pkgutil.walk_packages(shopdesk.patterns.__path__, "shopdesk.patterns."):
        for name, kept in vars(importlib.import_module(module.name)).items():
            if isinstance(kept, re.Pattern):
                yield kept, f"{module.name.rpartition('.')[2]}.{name}"


PATTERNS = {name: pattern for pattern, name in dict(patterns()).items()}
by_name = pytest.mark.parametrize("name", sorted(PATTERNS))


def repeated(pattern: re.Pattern[str]) -> Iterator[tuple[str, str]]:
    """Yields beginnings and what to repeat behind them: one sign or two that the pattern knows."""
    signs = signs_of(pattern)
    for one in signs:
        yield "", one
        for other in signs:
            yield other, one
            yield "", other + one


def grows(pattern: re.Pattern[str], head: str, unit: str, times: int) -> bool:
    """True if a sign takes very many steps, or twice the text more than twice the steps."""
    once, twice = (head + unit * n + END for n in (times, 2 * times))
    try:
        search = Search(pattern, once, most=MOST_FOR_A_SIGN * len(once))
        list(search.spans())
        list(Search(pattern, twice, most=LINEAR * search.steps).spans())
    except (TooManySteps, RecursionError):
        return True
    return False


def slow_texts(pattern: re.Pattern[str]) -> list[str]:
    """Returns what makes the pattern slow, if anything."""
    return [
        f"{head}{unit}..."
        for head, unit in repeated(pattern)
        if all(grows(pattern, head, unit, times) for times in TIMES)
    ]


@by_name
def test_twice_the_text_takes_no_more_than_twice_the_steps(name: str) -> None:
    assert slow_texts(PATTERNS[name]) == []


@pytest.mark.parametrize("slow", [r"[ \t]+\n", r"a*a*b", r"<.*>", r"(?:a|ab?)+c"])
def test_a_slow_pattern_is_found(slow: str) -> None:
    assert slow_texts(re.compile(slow))


@by_name
@given(data=st.data())
def test_the_steps_are_those_of_a_true_search(name: str, data: st.DataObject) -> None:
    pattern = PATTERNS[name]
    signs = st.sampled_from([*signs_of(pattern), *"a1 ,\n", END])
    text = data.draw(st.lists(signs, max_size=30).map("".join))
    found = [match.span() for match in pattern.finditer(text) if match.group()]
    assert list(Search(pattern, text).spans()) == found
