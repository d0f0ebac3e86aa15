"""Puts lists of sizes together: '5 (6, 7, 8)', '9:10:11', 'S/M/L', the columns of a table."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from string import ascii_lowercase
from types import MappingProxyType

from shopdesk.patterns.tokens.joining import Tokens, joined
from shopdesk.patterns.tokens.tokens import KEPT_KINDS, Gap, NumberToken, Shape, Token

MOST_ITEMS = 24
_LETTERS = ascii_lowercase
_SEPARATORS = ("comma", "colon", "slash", "dash", "join")


@dataclass(frozen=True, slots=True)
class ListEntry:
    """One entry of a list: its numbers or size name, its unit if it has its own, where it ends."""

    values: tuple[Decimal, ...]
    name: str
    unit: Token | None
    end: int
    doubtful: bool = False


Found = tuple[list[ListEntry], int]


def with_lists(tokens: Tokens) -> list[Token]:
    """Returns the tokens with every list of values or size names as one token."""
    made: list[Token] = []
    place = 0
    while place < len(tokens):
        found = _list_at(tokens, place)
        if found is None:
            made.append(tokens[place])
            place += 1
            continue
        items, end = found
        made.append(_list_token(tokens, place, end, items))
        place = end
    return made


def _list_at(tokens: Tokens, place: int) -> Found | None:
    finders: tuple[Callable[[Tokens, int], Found | None], ...] = (
        _lettered_at,
        _bracketed_at,
        _separated_at,
        _columns_at,
    )
    for find in finders:
        found = find(tokens, place)
        if found is not None and _one_unit(found[0]):
            return found
    return None


def _one_unit(items: list[ListEntry]) -> bool:
    """True if the items agree in unit: none has one, all have the same, or only the last."""
    units = [set(item.unit.kinds.values()) if item.unit is not None else set() for item in items]
    if not any(units) or all(_is_age(item) for item in items):
        return True
    if units[-1] and not any(units[:-1]):
        return len(items) > 2
    written = [unit for unit in units if unit]
    named = [i for i, item in enumerate(items) if not item.values]
    return bool(set.intersection(*written)) and len(written) + len(named) >= len(items)


def _item_at(tokens: Tokens, place: int) -> ListEntry | None:
    """Returns the item at `place`: a number, range or pair with or without unit, or a size."""
    if place >= len(tokens):
        return None
    token = tokens[place]
    numbers = token.numbers
    if numbers is not None and numbers.shape is not Shape.LIST and not _is_word_number(token):
        after = tokens[place + 1] if place + 1 < len(tokens) else None
        if after is not None and "dash" in after.kinds and place + 2 < len(tokens):
            hyphened = tokens[place + 2]
            if hyphened.is_unit and hyphened.gap is Gap.NONE and after.gap is Gap.NONE:
                return None
        has_unit = after is not None and after.is_unit and after.gap <= Gap.SPACE
        unit = after if has_unit else None
        end = place + 2 if has_unit else place + 1
        return ListEntry(numbers.values, numbers.names[0], unit, end, numbers.doubtful)
    if "sizename" in token.kinds and token.numbers is None:
        return ListEntry((), token.text, None, place + 1)
    if numbers is not None and numbers.shape is Shape.ONE:
        return ListEntry(numbers.values, token.text, None, place + 1)
    return None


def _is_word_number(token: Token) -> bool:
    ranged = token.numbers is not None and token.numbers.shape is Shape.RANGE
    return token.text[:1].isalpha() and not ranged


def _group_at(tokens: Tokens, place: int) -> Found | None:
    """Returns the items between a pair of brackets at `place`, if nothing else is in them."""
    if "open" not in tokens[place].kinds:
        return None
    items: list[ListEntry] = []
    place += 1
    while len(items) < MOST_ITEMS:
        entry = _item_at(tokens, place)
        inner = [entry] if entry is not None else _listed_inside(tokens, place)
        if not inner:
            return None
        items += inner
        place = inner[-1].end
        if place >= len(tokens):
            return None
        if "close" in tokens[place].kinds:
            return _spaced_range_split(tokens, place, items), place + 1
        if not _is_separator(tokens[place]):
            return None
        place += 1
        if place < len(tokens) and "join" in tokens[place].kinds:
            place += 1
    return None


def _spaced_range_split(tokens: Tokens, end: int, items: list[ListEntry]) -> list[ListEntry]:
    """Returns '(9 - 10)' as two sizes; a tight '(9-10)' stays one range."""
    only = tokens[end - 1]
    numbers = only.numbers
    if len(items) != 1 or numbers is None or numbers.shape is not Shape.RANGE:
        return items
    if " " not in only.text:
        return items
    names = numbers.names[0].split("-")
    return [ListEntry((v,), name, None, end) for v, name in zip(numbers.values, names, strict=True)]


def _listed_inside(tokens: Tokens, place: int) -> list[ListEntry]:
    numbers = tokens[place].numbers if place < len(tokens) else None
    if numbers is None or numbers.shape is not Shape.LIST:
        return []
    values: list[tuple[Decimal, ...]] = [(value,) for value in numbers.values]
    entries = zip(values or [()] * len(numbers.names), numbers.names, strict=True)
    return [ListEntry(value, name, None, place + 1) for value, name in entries]


def _is_separator(token: Token) -> bool:
    kinds = token.kinds
    return any(kind in kinds for kind in _SEPARATORS) or ("stop" in kinds and token.text == ";")


def _bracketed_at(tokens: Tokens, place: int) -> Found | None:
    """Finds '5 (6, 7)', 'XS (S, M) (L, XL)' and '(86) 92 (98) 106'."""
    items: list[ListEntry] = []
    start, was_group = place, True
    sizes: list[int] = []
    while place < len(tokens) and len(items) < MOST_ITEMS:
        if items and tokens[place].gap > Gap.LINE:
            break
        group = _group_at(tokens, place)
        if group is not None:
            items += group[0]
            sizes.append(len(group[0]))
            place, was_group = group[1], True
            continue
        entry = _item_at(tokens, place) if was_group else None
        if entry is None or (items and tokens[place].gap > Gap.SPACE):
            break
        if items and max(sizes) > 1:
            break
        items.append(entry)
        place, was_group = entry.end, False
    if len(items) < 2 or (len(items) == 2 and not _likely_two(tokens, start, items)):
        return None
    return items, place


def _likely_two(tokens: Tokens, start: int, items: list[ListEntry]) -> bool:
    """True if 'a (b)' is two sizes and not a tool's number with its millimetres."""
    before = tokens[start - 1].kinds if start else {}
    if any(kind in before for kind in ("system", "hookletter", "needle", "hook")):
        return False
    first, second = items
    if not first.values or not second.values:
        return bool(first.values) == bool(second.values)
    return first.values[0] <= second.values[0]


def _separated_at(tokens: Tokens, place: int) -> Found | None:
    """Finds '9:10:11', 'small, medium, large', '200 - 250 - 300', '2, 2, 3'."""
    first = _item_at(tokens, place)
    if first is None or first.end >= len(tokens):
        return None
    kind = next((kind for kind in _SEPARATORS if kind in tokens[first.end].kinds), None)
    if kind is None:
        return None
    items = [first]
    end = first.end
    while len(items) < MOST_ITEMS and end < len(tokens) and kind in tokens[end].kinds:
        entry = _item_at(tokens, end + 1)
        if entry is None or max(tokens[end].gap, tokens[end + 1].gap) > Gap.LINE:
            break
        if bool(entry.values) != bool(first.values) and not _is_age(entry):
            break
        items.append(entry)
        end = entry.end
    end = _with_last(tokens, items, end)
    return (items, end) if _enough(kind, items, tokens, place) else None


def _with_last(tokens: Tokens, items: list[ListEntry], end: int) -> int:
    """Adds the entry behind 'and' or 'or' ('3, 6 and 9 months')."""
    if end < len(tokens) and tokens[end].text.casefold() in (
        "and",
        "or",
        "und",
        "et",
        "&",
        "oder",
        "ou",
    ):
        entry = _item_at(tokens, end + 1)
        if entry is not None and bool(entry.values) == bool(items[-1].values) and len(items) > 1:
            items.append(entry)
            return entry.end
    return end


def _is_age(item: ListEntry) -> bool:
    return item.unit is not None and "age" in item.unit.kinds


def _enough(kind: str, items: list[ListEntry], tokens: Tokens, place: int) -> bool:
    """True if so many items with this separator are sizes and not an ordinary sentence."""
    if any(_is_age(item) for item in items):
        return len(items) >= 2
    if not items[0].values:
        return len(items) >= (2 if kind in ("comma", "slash") else 3) and kind != "join"
    if kind == "colon":
        return len(items) >= 2 and tokens[place + 1].gap is Gap.NONE
    if kind == "join" or len(items) < 3:
        return False
    values = [item.values[0] for item in items]
    return values == sorted(values)


def _columns_at(tokens: Tokens, place: int) -> Found | None:
    """Finds the cells of a table's row: parted by wide gaps, or each on a line of its own."""
    items: list[ListEntry] = []
    start = place
    style: Gap | None = None
    while place < len(tokens) and len(items) < MOST_ITEMS:
        gap = tokens[place].gap
        if items and (gap is Gap.PARAGRAPH or (style is not None and not _same_row(gap, style))):
            break
        entry = _item_at(tokens, place)
        if entry is None or (items and gap is Gap.NONE):
            break
        if items and bool(entry.values) != bool(items[0].values):
            break
        style = max(gap, style or gap) if items else None
        items.append(entry)
        place = entry.end
    if style is None or not _is_row(tokens, start, place, items, style):
        return None
    return items, place


def _same_row(gap: Gap, style: Gap) -> bool:
    """True if the gap goes on with the row: wide and narrow gaps may mix, lines may not."""
    return gap is style or {gap, style} == {Gap.SPACE, Gap.WIDE}


def _is_row(tokens: Tokens, start: int, end: int, items: list[ListEntry], style: Gap) -> bool:
    if style is Gap.SPACE:
        return len(items) >= 3
    if style is Gap.LINE:
        alone = tokens[start].gap >= Gap.LINE
        return alone and len(items) >= 2 and all(item.unit is None for item in items[:-1])
    return len(items) >= 2


def _lettered_at(tokens: Tokens, place: int) -> Found | None:
    """Finds 'a) 2 b) 2 c) 3', with or without a unit behind each."""
    items: list[ListEntry] = []
    while len(items) < MOST_ITEMS:
        if not _opens_with(tokens, place, _LETTERS[len(items)]):
            break
        entry = _item_at(tokens, place + 2)
        if entry is None:
            break
        if entry.unit is not None and _opens_with(tokens, entry.end - 1, _LETTERS[len(items) + 1]):
            entry = replace(entry, unit=None, end=entry.end - 1)
        items.append(entry)
        place = entry.end
    return (items, place) if len(items) >= 2 else None


def _opens_with(tokens: Tokens, place: int, letter: str) -> bool:
    """True if 'a)' stands at `place`; the 'g)' behind a number is no gram then."""
    pair = tokens[place : place + 2]
    return len(pair) == 2 and pair[0].text.casefold() == letter and "close" in pair[1].kinds


def _list_token(tokens: Tokens, start: int, end: int, items: list[ListEntry]) -> Token:
    values = tuple(item.values[0] for item in items if item.values)
    if len(values) != len(items):
        values = ()
    names = tuple(_name_of(item) for item in items)
    doubtful = any(item.doubtful for item in items)
    token = joined(tokens, start, end, NumberToken(Shape.LIST, values, names, doubtful))
    units = [item.unit for item in items if item.unit is not None]
    unit = (units[0] if "age" in units[0].kinds else units[-1]) if units else None
    if unit is None:
        return token
    kinds = {kind: value for kind, value in unit.kinds.items() if kind in KEPT_KINDS}
    return Token(
        token.start, token.end, token.text, token.gap,
        MappingProxyType({**kinds, "listed": ""}), token.numbers, None, True,
    )  # fmt: skip


def _name_of(item: ListEntry) -> str:
    return f"{item.name} {item.unit.text}" if _is_age(item) and item.unit else item.name
