"""Reads sizes, ages, body sizes the item is to fit, and the finished item's measurements."""

from decimal import Decimal

from shopdesk.answering.model.ask import Wearer
from shopdesk.craft.messages import message
from shopdesk.patterns.phrases.grammar import Match
from shopdesk.patterns.phrases.mentions import Measure, Mention, Sureness, WordList
from shopdesk.patterns.phrases.page import Page
from shopdesk.patterns.phrases.read_yarn import in_metric, one
from shopdesk.patterns.tokens.joining import units_differ
from shopdesk.patterns.tokens.tokens import Gap, NumberToken, Shape

OLDEST_CHILD_YEARS = Decimal(16)
BABY_MONTHS = Decimal(12)
_MEASURED = frozenset({"finished", "label-finished"})


def read_sizes(page: Page, match: Match) -> list[Mention] | None:
    """Returns the names of the sizes, as written."""
    token = page.tokens[match.kept["n"]]
    if token.numbers is None or len(set(token.numbers.names)) != len(token.numbers.names):
        return None
    return [one(page, match, "sizes", WordList(token.numbers.names))]


def read_ages(page: Page, match: Match) -> list[Mention] | None:
    """Returns who wears it by age, and the sizes if several ages are listed."""
    token = page.tokens[match.kept["n"]]
    numbers = token.numbers
    if numbers is None:
        return None
    found: list[Mention] = []
    if numbers.shape is Shape.LIST and len(set(numbers.names)) == len(numbers.names):
        found.append(one(page, match, "sizes", WordList(numbers.names)))
    months = token.kinds["age"] == "month"
    if months:
        baby = not numbers.values or min(numbers.values) <= BABY_MONTHS
        word = (Wearer.BABY if baby else Wearer.CHILD).value
        found.append(one(page, match, "wearer", word, Sureness.SURE))
    elif numbers.values and max(numbers.values) <= OLDEST_CHILD_YEARS:
        found.append(one(page, match, "wearer", Wearer.CHILD.value, Sureness.SURE))
    return found


def read_to_fit(page: Page, match: Match) -> list[Mention] | None:
    """Returns the body sizes as size names; a body size is not the item's own measure."""
    token = page.tokens[match.kept["n"]]
    numbers, _ = in_metric(token, "short")
    if numbers.shape is not Shape.LIST or len(set(numbers.names)) != len(numbers.names):
        return []
    return [one(page, match, "body_sizes", WordList(numbers.names))]


def read_measure(page: Page, match: Match) -> list[Mention] | None:
    """Returns one finished measurement; a chest not said to be the garment's stays unclear."""
    at, what = match.kept["m"], page.meaning(match.kept["m"], "measure")
    token, named_first = page.tokens[match.kept["q"]], at == match.start
    if not named_first and _belongs_below(page, match.kept["q"], at):
        return None
    if _of_something_else(page, match.start, what):
        return []
    if what == "around" and page.is_kind(match.end, "measure") and named_first:
        return None
    amid = named_first and page.is_kind(match.start - 1, "short")
    if amid and page.is_kind(match.end, "measure") and page.tokens[match.start].gap <= Gap.SPACE:
        return None
    if what == "around" and named_first:
        before = _on_line(page, at, "measure", 3)
        what = what if before is None else page.meaning(before, "measure")
    numbers: NumberToken | None
    if "u" in match.kept:
        numbers, unit = token.numbers, page.meaning(match.kept["u"], "short")
    else:
        numbers, unit = in_metric(token, "short")
    if numbers is None or numbers.shape in (Shape.RANGE, Shape.PAIR) or not numbers.values:
        return []
    body = page.sections[at] == "body" or _on_line(page, at, "body", 6) is not None
    if body and what != "around":
        return []
    sure = _measure_sureness(page, match, what, body)
    says = (message("intake.units_differ"),) if units_differ(token) else ()
    return [one(page, match, what, Measure(numbers.values, unit), sure, says=says)]


def _belongs_below(page: Page, value_at: int, name_at: int) -> bool:
    """True if the measure's name opens a line of its own that has its own value."""
    if page.lines[value_at] == page.lines[name_at]:
        return False
    behind = page.kinds[name_at + 1] if name_at + 1 < len(page.kinds) else frozenset()
    return not behind.isdisjoint(
        {"short", "colon", "comma", "open", "list", "unit-short", "finished"}
    )


def read_square(page: Page, match: Match) -> list[Mention] | None:
    """Returns the sides of an item that is '9 in square'."""
    token = page.tokens[match.kept["q"]]
    numbers, unit = in_metric(token, "short")
    if numbers.shape is not Shape.ONE or _of_something_else(page, match.start, "width"):
        return None
    side = Measure(numbers.values, unit)
    return [one(page, match, name, side) for name in ("width", "length")]


def _of_something_else(page: Page, start: int, what: str) -> bool:
    """True for a sleeve, one motif of many, or a needle's length."""
    other = page.near(start, frozenset({"othermeasure", "short"}), 3, -1)
    if other is not None and page.is_kind(other, "othermeasure"):
        return page.lines[other] == page.lines[start]
    if _on_line(page, start, "motif", 5) is not None:
        return True
    return what == "length" and _on_line(page, start, "needle", 7) is not None


def _on_line(page: Page, at: int, kind: str, reach: int) -> int | None:
    """Returns where a word of this kind stands before `at` on its line, or None."""
    place = page.near(at, frozenset({kind}), reach, -1)
    return place if place is not None and page.lines[place] == page.lines[at] else None


def read_actual_size(page: Page, match: Match) -> list[Mention] | None:
    """Returns the garment's chest where 'actual size' stands below 'to fit bust'."""
    token = page.tokens[match.kept["q"]]
    body = [at for at in range(match.start) if page.is_kind(at, "body")]
    behind = page.tokens[body[-1] + 1 : body[-1] + 4] if body else ()
    to_chest = any(each.kinds.get("measure") == "chest" for each in behind)
    if "short" not in token.kinds or not to_chest:
        return None
    numbers, unit = in_metric(token, "short")
    return [one(page, match, "chest", Measure(numbers.values, unit), Sureness.LIKELY)]


def _measure_sureness(page: Page, match: Match, what: str, body: bool) -> Sureness:
    if units_differ(page.tokens[match.kept["q"]]):
        return Sureness.UNCLEAR
    measured = page.sections[match.start] == "finished" or any(
        not page.kinds[at].isdisjoint(_MEASURED)
        for at in range(max(0, match.start - 3), min(len(page.kinds), match.end + 6))
        if page.lines[at] == page.lines[match.start]
    )
    if what == "chest":
        return Sureness.SURE if measured else Sureness.UNCLEAR
    if what == "around" and not measured:
        return Sureness.UNCLEAR if body else Sureness.LIKELY
    return Sureness.SURE


def read_sides(page: Page, match: Match) -> list[Mention] | None:
    """Returns width and length of '70 x 90 cm' or '20 cm wide and 160 cm long'."""
    if "w1" in match.kept or "l1" in match.kept:
        named = [
            page.meaning(match.kept[key], "measure") for key in ("w1", "l1") if key in match.kept
        ]
        if sorted(named) != ["length", "width"]:
            return None
    else:
        named = ["width", "length"]
        if not any(page.is_kind(at, "by") for at in range(match.start, match.end)):
            return None
    found: list[Mention] = []
    numbers: NumberToken | None
    for name, key in zip(named, ("w", "l"), strict=True):
        token = page.tokens[match.kept[key]]
        if "short" in token.kinds:
            numbers, unit = in_metric(token, "short")
        else:
            numbers, unit = token.numbers, page.meaning(match.kept["l"], "short")
        if numbers is None or numbers.shape in (Shape.RANGE, Shape.PAIR):
            return None
        found.append(one(page, match, name, Measure(numbers.values, unit)))
    return found
