"""Reads what single words tell: what is made, for whom, craft, features, attributes, care."""

from collections.abc import Iterator
from decimal import Decimal

from shopdesk.craft.care import axis_values
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.yarn import Craft
from shopdesk.patterns.phrases.grammar import Match
from shopdesk.patterns.phrases.mentions import Mention, Span, Sureness, Value
from shopdesk.patterns.phrases.page import Page
from shopdesk.patterns.phrases.read_yarn import one, single

_TITLE_LINES = 1
_LOOSE_ITEMS = frozenset({"sweater", "sweaters", "coat", "top", "tee", "jacket", "wrap", "cap"})
"""Words for an item that may also mean another: a sweater may open in front."""


def read_care(page: Page, match: Match) -> list[Mention] | None:
    """Returns one care axis; 'machine wash' alone names no temperature."""
    return [*_care_word(page, match, match.kept["c"])]


def read_wash_at(page: Page, match: Match) -> list[Mention] | None:
    """Returns the washing temperature of 'machine wash at 40'."""
    at = match.kept["t"] if "t" in match.kept else match.kept["n"]
    degrees = single(page.tokens[at])
    if degrees is None or degrees not in {Decimal(value) for value in axis_values("wash_c")}:
        return None
    word_at = match.start if page.is_kind(match.start, "careword") else match.end - 1
    words = page.meaning(word_at, "careword")
    if words != "machine" and not words.startswith("wash"):
        return None
    found = one(page, match, "care.wash_c", degrees)
    return [found, *_care_word(page, match, word_at)]


def _care_word(page: Page, match: Match, at: int) -> Iterator[Mention]:
    axis, _, value = page.meaning(at, "careword").partition("=")
    if not value:
        return
    written: Value = Decimal(value) if axis.endswith("_c") else value
    yield one(page, match, f"care.{axis}", written)


def word_findings(page: Page) -> list[Mention]:
    """Returns what single words say, all over the page."""
    found: list[Mention] = []
    for at, kinds in enumerate(page.kinds):
        for kind, read in _READERS.items():
            if kind in kinds:
                found += read(page, at)
    return found


def _word(page: Page, at: int, field: str, value: Value, sure: Sureness, phrase: str) -> Mention:
    token = page.tokens[at]
    return Mention(field, value, Span(token.start, token.end), sure, phrase, at)


def _item(page: Page, at: int) -> Iterator[Mention]:
    told = page.sections[at] == "item" or page.lines[at] < _TITLE_LINES
    sure = Sureness.SURE if told else Sureness.LIKELY
    if page.tokens[at].text.casefold() in _LOOSE_ITEMS:
        sure = Sureness.LIKELY
    yield _word(page, at, "item", page.meaning(at, "item"), sure, "item word")


def _wearer(page: Page, at: int) -> Iterator[Mention]:
    """Who wears it; a weight called 'baby' is knitted for adults too, so that it is asked."""
    who = page.meaning(at, "wearer")
    beside = page.near(at, frozenset({"weightname", "ply"}), 1) is not None
    if page.is_kind(at, "weightname") or (who.startswith("baby") and beside):
        yield _word(page, at, "wearer", who, Sureness.UNCLEAR, "word for the wearer")
        return
    yield _word(page, at, "wearer", who, Sureness.SURE, "word for the wearer")


def _relative(page: Page, at: int) -> Iterator[Mention]:
    who = page.meaning(at, "relative")
    yield _word(page, at, "wearer", who, Sureness.LIKELY, "word for a relative")


def _feature(page: Page, at: int) -> Iterator[Mention]:
    if _denied(page, at):
        return
    what = page.meaning(at, "feature")
    if what == "cables" and page.tokens[at].text.casefold() == "cable":
        return
    yield _word(page, at, "features", what, Sureness.LIKELY, "word for a feature")


def _attribute(page: Page, at: int) -> Iterator[Mention]:
    if _denied(page, at):
        return
    yield _word(page, at, "attributes", page.meaning(at, "attribute"), Sureness.SURE, "attribute")


def _denied(page: Page, at: int) -> bool:
    return page.near(at, frozenset({"negation"}), 2, -1) is not None


def _craft(page: Page, at: int) -> Iterator[Mention]:
    yield _word(page, at, "craft", page.meaning(at, "craft"), Sureness.SURE, "word for the craft")


def _craft_tool(page: Page, at: int) -> Iterator[Mention]:
    craft = "crochet" if page.is_kind(at, "hook") else "knit"
    yield _word(page, at, "craft", craft, Sureness.SURE, "word for the tool")


def _craft_stitch(page: Page, at: int) -> Iterator[Mention]:
    yield _word(page, at, "craft", "crochet", Sureness.SURE, "crochet stitch")


def _craft_pattern(page: Page, at: int) -> Iterator[Mention]:
    fabric = pattern_fabric(page.meaning(at, "pattern"))
    if fabric.names_craft and fabric.craft is not None:
        worked = "knitted" if fabric.craft is Craft.KNIT else "crocheted"
        said = fabric.craft.value
        yield _word(page, at, "craft", said, Sureness.SURE, f"{worked} stitch pattern")


def _craft_terms(page: Page, at: int) -> Iterator[Mention]:
    yield _word(page, at, "craft", "crochet", Sureness.LIKELY, "crochet terms")


_READERS = {
    "item": _item,
    "wearer": _wearer,
    "relative": _relative,
    "feature": _feature,
    "attribute": _attribute,
    "craft": _craft,
    "needle": _craft_tool,
    "hook": _craft_tool,
    "crochetstitch": _craft_stitch,
    "pattern": _craft_pattern,
    "terms": _craft_terms,
}
