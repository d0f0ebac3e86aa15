"""Reads how much yarn: metres, balls or grams, for each size, for each colour."""

from decimal import Decimal

from shopdesk.craft.messages import message
from shopdesk.patterns.phrases.grammar import Match
from shopdesk.patterns.phrases.mentions import Measure, Mention, Sureness, Value
from shopdesk.patterns.phrases.page import Page
from shopdesk.patterns.phrases.read_yarn import in_metric, one, part_of, single
from shopdesk.patterns.tokens.joining import units_differ
from shopdesk.patterns.tokens.tokens import Shape, Token

MOST_BALLS = Decimal(200)
LONGEST_M, HEAVIEST_G = Decimal(30_000), Decimal(20_000)
_EACH = frozenset({"each", "chaque", "jeder", "jede"})
_KINDS = ("balls", "long", "mass")


def read_amount(page: Page, match: Match) -> list[Mention] | None:
    """Returns the amount of the whole item or of one colour; two readings of a range."""
    at = match.kept["a"]
    token = page.tokens[at]
    kind = next(kind for kind in _KINDS if kind in token.kinds)
    if kind == "long" and _may_be_stitches(page, token, at):
        return None
    measure, others = _measure(token, kind)
    if measure is None:
        return None
    differs = units_differ(token)
    doubtful = token.numbers is not None and token.numbers.doubtful
    sure = Sureness.UNCLEAR if others or differs else (Sureness.LIKELY if doubtful else None)
    says = (message("intake.units_differ"),) if differs else ()
    if differs and token.also is not None and token.also.numbers is not None:
        others = (Measure(token.also.numbers.values, token.also.kinds[kind]),)
        measure = Measure(token.numbers.values if token.numbers else (), token.kinds[kind])
    if _of_each(page, at):
        sure, says = Sureness.UNCLEAR, (message("intake.amount_each"),)
    return [one(page, match, "amount", measure, sure, others, says, part_of(page, at))]


def _of_each(page: Page, at: int) -> bool:
    """True for '1 ball each of six shades': how many colours there are is not known."""
    near = page.tokens[at + 1 : at + 3]
    return any(token.text.casefold() in _EACH for token in near)


def _may_be_stitches(page: Page, token: Token, at: int) -> bool:
    """True for the 'm' of French mailles where a gauge is spoken of."""
    return "stitches" in token.kinds and page.sections[at] == "gauge"


def _measure(token: Token, kind: str) -> tuple[Measure | None, tuple[Value, ...]]:
    if kind == "balls":
        numbers, unit = token.numbers, "balls"
    else:
        numbers, unit = in_metric(token, kind)
    if numbers is None or any(value > _most(unit) for value in numbers.values):
        return None, ()
    if numbers.shape is Shape.PAIR:
        return None, ()
    if numbers.shape is Shape.RANGE:
        low, high = (Measure((value,), unit) for value in numbers.values)
        return low, (high,)
    return Measure(numbers.values, unit), ()


def _most(unit: str) -> Decimal:
    if unit == "balls":
        return MOST_BALLS
    return LONGEST_M if unit in ("m", "yd") else HEAVIEST_G


def read_times_mass(page: Page, match: Match) -> list[Mention] | None:
    """Returns balls and their mass from '5 x 50 g'; the mass may also be part of a put-up."""
    numbers = page.tokens[match.kept["n"]].numbers
    assert numbers is not None
    if any(value > MOST_BALLS for value in numbers.values):
        return None
    return _balls_of_mass(page, match, Measure(numbers.values, "balls"))


def read_balls_of_mass(page: Page, match: Match) -> list[Mention] | None:
    """Returns balls and their mass from '8 balls of 50 g'."""
    measure, others = _measure(page.tokens[match.kept["b"]], "balls")
    return None if measure is None else _balls_of_mass(page, match, measure, others)


def _balls_of_mass(
    page: Page, match: Match, balls: Measure, others: tuple[Value, ...] = ()
) -> list[Mention] | None:
    mass = single(page.tokens[match.kept["m"]])
    if mass is None:
        return None
    numbers, unit = in_metric(page.tokens[match.kept["m"]], "mass")
    part = part_of(page, match.start)
    sure = Sureness.UNCLEAR if others else None
    return [
        one(page, match, "amount", balls, sure, others, part=part),
        one(page, match, "ball_mass", Measure(numbers.values, unit)),
    ]


def read_amount_row(page: Page, match: Match) -> list[Mention] | None:
    """Returns the amounts of a row whose unit stands before them: 'Skeins: 5 (6, 7)'."""
    at = match.kept["u"]
    kind = next(kind for kind in _KINDS if f"unit-{kind}" in page.kinds[at])
    unit = "balls" if kind == "balls" else page.meaning(at, kind)
    numbers = page.tokens[match.kept["n"]].numbers
    assert numbers is not None
    if any(value > _most(unit) for value in numbers.values):
        return None
    return [one(page, match, "amount", Measure(numbers.values, unit), part=part_of(page, at))]


def read_size_line(page: Page, match: Match) -> list[Mention] | None:
    """Returns one size's amount from a line of its own: 'M: 6 balls'."""
    token = page.tokens[match.kept["b"]]
    kind = next(kind for kind in _KINDS if kind in token.kinds)
    measure, others = _measure(token, kind)
    name = page.tokens[match.kept["n"]]
    if measure is None or others or len(measure.values) != 1:
        return None
    found = one(page, match, "size_amount", measure)
    return [
        Mention(
            found.field, measure, found.span, found.sure, found.phrase, found.at, extra=name.text
        )
    ]
