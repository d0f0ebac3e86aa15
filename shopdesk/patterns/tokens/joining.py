"""Puts numbers and their units together, ranges, and the same quantity in two units."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType

from shopdesk.parsing.quantities import factor
from shopdesk.patterns.tokens.tokens import KEPT_KINDS, Gap, NumberToken, Shape, Token

Tokens = Sequence[Token]


def with_ranges(tokens: Tokens) -> list[Token]:
    """Returns the tokens with '22-24', '110 to 130 yds' and '3 bis 4' as one range each."""
    made: list[Token] = []
    place = 0
    while place < len(tokens):
        joined = _range_at(tokens, place)
        made.append(joined or tokens[place])
        place += 3 if joined else 1
    return made


def _range_at(tokens: Tokens, place: int) -> Token | None:
    if place + 2 >= len(tokens):
        return None
    first, dash, last = tokens[place : place + 3]
    if "sizename" in first.kinds and _is_one(last) and last.numbers is not None:
        return _from_newborn(tokens, place, last.numbers)
    if not (_is_one(first) and _is_one(last)) or max(dash.gap, last.gap) > Gap.SPACE:
        return None
    before = tokens[place - 1].kinds if place else {}
    after = tokens[place + 3] if place + 3 < len(tokens) else None
    if "dash" in dash.kinds:
        if "system" in before or (after is not None and "dash" in after.kinds):
            return None
        if place > 1 and "dash" in before and _is_one(tokens[place - 2]):
            return None
    elif dash.text.casefold() not in ("to", "bis", "à") or after is None or not after.is_unit:
        return None
    low, high = first.numbers, last.numbers
    if low is None or high is None or low.values[0] >= high.values[0]:
        return None
    name = f"{low.names[0]}-{high.names[0]}"
    numbers = NumberToken(Shape.RANGE, (*low.values, *high.values), (name,))
    return joined(tokens, place, place + 3, numbers)


def _from_newborn(tokens: Tokens, place: int, last: NumberToken) -> Token | None:
    """Returns 'newborn to 3 months' as a range of ages."""
    first, joint, _ = tokens[place : place + 3]
    ages = place + 3 < len(tokens) and "age" in tokens[place + 3].kinds
    if not ages or joint.text.casefold() not in ("to", "-", "bis", "à"):
        return None
    name = f"{first.text} {joint.text} {last.names[0]}"
    return joined(
        tokens, place, place + 3, NumberToken(Shape.RANGE, (Decimal(0), *last.values), (name,))
    )


def _is_one(token: Token) -> bool:
    return token.numbers is not None and token.numbers.shape is Shape.ONE


def joined(tokens: Tokens, start: int, end: int, numbers: NumberToken) -> Token:
    """Returns tokens [start, end) as one token of these numbers."""
    first, last = tokens[start], tokens[end - 1]
    kinds = {numbers.shape.value: ""} if numbers.values else {"sizelist": ""}
    text = "".join(_piece(token, index == 0) for index, token in enumerate(tokens[start:end]))
    return Token(first.start, last.end, text, first.gap, MappingProxyType(kinds), numbers)


def _piece(token: Token, first: bool) -> str:
    return token.text if first or token.gap is Gap.NONE else f" {token.text}"


TWO_UNITS_AGREE = 0.04
"""Both units of one quantity may differ by so much of it, from rounding and 4 in = 10 cm."""
SAME_QUANTITY = 0.35
_DUAL_KINDS = ("short", "long", "mass")


def with_quantities(tokens: Sequence[Token]) -> list[Token]:
    """Returns the tokens with '22 sts', '10-cm', '5 (6, 7) balls' as one quantity each."""
    made: list[Token] = []
    place = 0
    while place < len(tokens):
        token = tokens[place]
        unit_at = _unit_place(tokens, place)
        if token.numbers is None or not token.numbers.values or token.merged or unit_at is None:
            made.append(token)
            place += 1
            continue
        made.append(_quantity(token, tokens[place : unit_at + 1], tokens[unit_at]))
        place = unit_at + 1
    return made


def _unit_place(tokens: Sequence[Token], place: int) -> int | None:
    """Returns where the unit of the number at `place` stands, or None if it has none."""
    after = place + 1
    if after < len(tokens) and "dash" in tokens[after].kinds and tokens[after].gap is Gap.NONE:
        after += 1
        if after < len(tokens) and tokens[after].gap is not Gap.NONE:
            return None
    if after >= len(tokens) or not tokens[after].is_unit:
        return None
    label = any(kind.startswith("label-") for kind in tokens[after].kinds)
    return after if tokens[after].gap <= (Gap.WIDE if label else Gap.LINE) else None


def _quantity(token: Token, parts: Sequence[Token], unit: Token) -> Token:
    kinds = {kind: value for kind, value in unit.kinds.items() if kind in KEPT_KINDS}
    if token.numbers is not None and token.numbers.shape is Shape.LIST:
        kinds["listed"] = ""
    text = "".join(
        part.text if part.gap is Gap.NONE or index == 0 else f" {part.text}"
        for index, part in enumerate(parts)
    )
    return replace(
        token, end=unit.end, text=text, kinds=MappingProxyType(kinds), merged=True, also=None
    )


def with_second_units(tokens: Sequence[Token]) -> list[Token]:
    """Returns the tokens with '4 in / 10 cm' and '220 yd (200 m)' as one quantity each."""
    made: list[Token] = []
    place = 0
    while place < len(tokens):
        second_at, end = _second(tokens, place)
        if second_at is None:
            made.append(tokens[place])
            place += 1
            continue
        made.append(_both(tokens[place], tokens[second_at], tokens[end - 1]))
        place = end
    return made


def _second(tokens: Sequence[Token], place: int) -> tuple[int | None, int]:
    first = tokens[place]
    if not first.merged or place + 1 >= len(tokens):
        return None, place
    between = tokens[place + 1]
    at = place + 2
    if between.merged and _same(first, between) and between.gap <= Gap.WIDE:
        return place + 1, at
    if at >= len(tokens) or not _may_join(between) or not _same(first, tokens[at]):
        return None, place
    if "open" not in between.kinds:
        return at, at + 1
    if at + 1 < len(tokens) and "close" in tokens[at + 1].kinds:
        return at, at + 2
    return at, at + 1


def _may_join(token: Token) -> bool:
    joins = ("open", "slash", "comma", "join", "dash", "approx")
    words = ("or", "=", "oder", "ou")
    return any(kind in token.kinds for kind in joins) or token.text.casefold() in words


def _same(first: Token, second: Token) -> bool:
    """True if the two say about the same length or mass in different units."""
    mine, other = _values(first), _values(second)
    if not second.merged or len(mine) != len(other):
        return False
    for kind in _DUAL_KINDS:
        if kind in first.kinds and kind in second.kinds:
            if first.kinds[kind] == second.kinds[kind]:
                return False
            rate = factor(second.kinds[kind], first.kinds[kind])
            return all(
                abs(float(b) * rate / float(a) - 1) < SAME_QUANTITY if a else False
                for a, b in zip(mine, other, strict=True)
            )
    return False


def _values(token: Token) -> tuple[Decimal, ...]:
    return token.numbers.values if token.numbers is not None else ()


def _both(first: Token, second: Token, last: Token) -> Token:
    kinds = {kind: value for kind, value in first.kinds.items() if kind in second.kinds}
    if "listed" in first.kinds:
        kinds["listed"] = ""
    words = f"{first.text} / {second.text}"
    return replace(first, end=last.end, text=words, kinds=MappingProxyType(kinds), also=second)


def units_differ(token: Token) -> bool:
    """True if the quantity's two units do not say the same."""
    if token.also is None:
        return False
    kind = next(kind for kind in _DUAL_KINDS if kind in token.kinds)
    rate = factor(token.also.kinds[kind], token.kinds[kind])
    pairs = zip(_values(token), _values(token.also), strict=True)
    return any(
        abs(float(b) * rate - float(a)) > max(TWO_UNITS_AGREE * float(a), _rounding(token, rate))
        for a, b in pairs
    )


def _rounding(token: Token, rate: float) -> float:
    """Half a unit of the coarser of the two, as whole numbers are rounded to it."""
    return 0.5 * max(1.0, rate) if "long" not in token.kinds else 0.0
