"""Puts ranges together: '22-24', '110 to 130 yds', 'newborn to 3 months'."""

from collections.abc import Sequence
from decimal import Decimal
from types import MappingProxyType

from shopdesk.intake.tokens import Gap, Numbers, Shape, Token

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
        if place and "dash" in before and place > 1 and _is_one(tokens[place - 2]):
            return None
    elif dash.text.casefold() not in ("to", "bis", "à") or after is None or not after.is_unit:
        return None
    low, high = first.numbers, last.numbers
    if low is None or high is None or low.values[0] >= high.values[0]:
        return None
    name = f"{low.names[0]}-{high.names[0]}"
    numbers = Numbers(Shape.RANGE, (*low.values, *high.values), (name,))
    return joined(tokens, place, place + 3, numbers)


def _from_newborn(tokens: Tokens, place: int, last: Numbers) -> Token | None:
    """Returns 'newborn to 3 months' as a range of ages."""
    first, joint, _ = tokens[place : place + 3]
    ages = place + 3 < len(tokens) and "age" in tokens[place + 3].kinds
    if not ages or joint.text.casefold() not in ("to", "-", "bis", "à"):
        return None
    name = f"{first.text} {joint.text} {last.names[0]}"
    return joined(
        tokens, place, place + 3, Numbers(Shape.RANGE, (Decimal(0), *last.values), (name,))
    )


def _is_one(token: Token) -> bool:
    return token.numbers is not None and token.numbers.shape is Shape.ONE


def joined(tokens: Tokens, start: int, end: int, numbers: Numbers) -> Token:
    """Returns tokens [start, end) as one token of these numbers."""
    first, last = tokens[start], tokens[end - 1]
    kinds = {numbers.shape.value: ""} if numbers.values else {"sizelist": ""}
    text = "".join(_piece(token, index == 0) for index, token in enumerate(tokens[start:end]))
    return Token(first.start, last.end, text, first.gap, MappingProxyType(kinds), numbers)


def _piece(token: Token, first: bool) -> str:
    return token.text if first or token.gap is Gap.NONE else f" {token.text}"
