"""Reads a gauge: stitches, rows, the length they are counted over, in what, washed or not."""

from decimal import Decimal

from shopdesk.answering.model.ask import OTHER_PATTERN, SINGLE_CROCHET, StitchPattern
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.messages import Message, message
from shopdesk.patterns.phrases.grammar import Match
from shopdesk.patterns.phrases.mentions import Measure, Mention, Span, Sureness, Value
from shopdesk.patterns.phrases.page import Page
from shopdesk.patterns.tokens.joining import units_differ
from shopdesk.patterns.tokens.tokens import NumberToken, Shape, Token

LONGEST_OVER_CM = Decimal(30)
_CM = {"cm": Decimal(1), "in": Decimal("2.54")}
_REACH = 12
_STITCH_WORDS = ("stitch", "perlmuster", "point de riz")
_US = {
    "sc": SINGLE_CROCHET,
    "dc": StitchPattern("double crochet"),
    "hdc": StitchPattern("half double crochet"),
    "tr": OTHER_PATTERN,
}
_UK = {
    "dc": SINGLE_CROCHET,
    "htr": StitchPattern("half double crochet"),
    "tr": StitchPattern("double crochet"),
}
_PLAIN = {
    "single": SINGLE_CROCHET,
    "half": StitchPattern("half double crochet"),
    "double": StitchPattern("double crochet"),
}


def read_gauge(page: Page, match: Match) -> list[Mention] | None:
    """Returns the gauge's findings, or None if the numbers cannot be one."""
    stitches = page.tokens[match.kept["s"]]
    rows = page.tokens[match.kept["r"]] if "r" in match.kept else None
    if not _is_count(stitches.numbers) or (rows is not None and not _is_count(rows.numbers)):
        return None
    over = _over(page, match)
    if over is None:
        return None
    found = [_count(page, match, "stitches", match.kept["s"]), over]
    if rows is not None:
        found.append(_count(page, match, "rows", match.kept["r"]))
    pattern = _pattern(page, match)
    washed = _washed(page, match)
    return [*found, *(each for each in (pattern, washed) if each is not None)]


def read_gauge_pair(page: Page, match: Match) -> list[Mention] | None:
    """Returns the gauge of '22/30 = 10 cm', if it stands where a gauge is said."""
    numbers = page.tokens[match.kept["p"]].numbers
    over = _over(page, match)
    if numbers is None or over is None or page.sections[match.start] != "gauge":
        return None
    values = zip(("stitches", "rows"), numbers.values, strict=True)
    span = page.span(match.start, match.end)
    found = [_finding(match, name, value, span, Sureness.LIKELY) for name, value in values]
    extra = (_pattern(page, match), _washed(page, match))
    return [*found, over, *(each for each in extra if each is not None)]


def _is_count(numbers: NumberToken | None) -> bool:
    return numbers is not None and numbers.shape in (Shape.ONE, Shape.RANGE)


def _finding(
    match: Match,
    field: str,
    value: Value,
    span: Span,
    sure: Sureness | None = None,
    others: tuple[Value, ...] = (),
    says: tuple[Message, ...] = (),
) -> Mention:
    level = sure or Sureness(match.phrase.sure)
    return Mention(
        field, value, span, level, match.phrase.name, match.start,
        others=others, says=says, extra=f"gauge {match.start}",
    )  # fmt: skip


def _count(page: Page, match: Match, field: str, at: int) -> Mention:
    numbers = page.tokens[at].numbers
    assert numbers is not None
    span = page.span(at, at + 1)
    if numbers.shape is Shape.RANGE:
        low, high = numbers.values
        return _finding(match, field, low, span, Sureness.UNCLEAR, (high,))
    return _finding(match, field, numbers.values[0], span)


def _over(page: Page, match: Match) -> Mention | None:
    if "u" in match.kept:
        at = match.kept["u"]
        if page.tokens[at].text == "in" and page.kinds[at - 1].isdisjoint({"per", "slash"}):
            return None
        unit = page.meaning(at, "short")
        return _finding(match, "over", Measure((Decimal(1),), unit), page.span(at, at + 1))
    at = match.kept["o"]
    token = page.tokens[at]
    readings = [_length(part) for part in (token, token.also) if part is not None]
    lengths = [each for each in readings if each is not None]
    if not lengths or any(_cm(each) > LONGEST_OVER_CM for each in lengths):
        return None
    lengths.sort(key=lambda each: each.unit != "cm")
    span = page.span(at, at + 1)
    if units_differ(token):
        others = tuple(lengths[1:])
        return _finding(
            match,
            "over",
            lengths[0],
            span,
            Sureness.UNCLEAR,
            others,
            (message("intake.units_differ"),),
        )
    return _finding(match, "over", lengths[0], span)


def _length(token: Token) -> Measure | None:
    numbers = token.numbers
    if numbers is None or numbers.shape is not Shape.ONE or token.kinds["short"] not in _CM:
        return None
    return Measure(numbers.values, token.kinds["short"])


def _cm(length: Measure) -> Decimal:
    return length.values[0] * _CM[length.unit]


def _pattern(page: Page, match: Match) -> Mention | None:
    """The stitch pattern behind the gauge, in it, or before it; crochet stitches say their own."""
    crochet = page.tokens[match.kept["s"]].kinds.get("crochetstitch") if "s" in match.kept else None
    if crochet is not None:
        return _crochet_pattern(page, match, crochet, match.kept["s"])
    wanted = frozenset({"pattern"})
    at = _until_next_gauge(page, match.end - 1)
    if at is None:
        at = next((i for i in range(match.start, match.end) if page.is_kind(i, "pattern")), None)
    if at is None:
        at = page.near(match.start, wanted, _REACH, -1)
    if at is None:
        return _crochet_named_beside(page, match) or _only_pattern(page, match)
    span = page.span(at, at + 1)
    return _finding(match, "pattern", page.meaning(at, "pattern"), span)


def _crochet_named_beside(page: Page, match: Match) -> Mention | None:
    """The crochet stitch of '13 sts and 8 rows in dc = 4 in'."""
    for at in range(match.start, min(len(page.kinds), match.end + 3)):
        if page.is_wall(at):
            return None
        if page.is_kind(at, "crochetstitch") and page.tokens[at].numbers is None:
            return _crochet_pattern(page, match, page.meaning(at, "crochetstitch"), at)
    return None


def _only_pattern(page: Page, match: Match) -> Mention | None:
    """The one stitch pattern that is named anywhere else; only likely the gauge's."""
    places = [at for at in range(len(page.kinds)) if page.is_kind(at, "pattern")]
    named = {page.meaning(at, "pattern") for at in places}
    if not places:
        return None
    says_stitch = any(word in page.tokens[places[0]].text.casefold() for word in _STITCH_WORDS)
    pattern = named.pop()
    if named or not (pattern_fabric(pattern).names_fabric or says_stitch):
        return None
    span = page.span(places[0], places[0] + 1)
    return _finding(match, "pattern", pattern, span, Sureness.LIKELY)


def _until_next_gauge(page: Page, last: int) -> int | None:
    place = page.near(last, frozenset({"pattern", "stitches"}), _REACH)
    return place if place is not None and page.is_kind(place, "pattern") else None


def _crochet_pattern(page: Page, match: Match, stitch: str, at: int) -> Mention:
    span = page.span(at, at + 1)
    if stitch in _PLAIN:
        return _finding(match, "pattern", _PLAIN[stitch].value, span)
    american, british = _US.get(stitch), _UK.get(stitch)
    if american is None or british is None:
        known = american or british or OTHER_PATTERN
        return _finding(match, "pattern", known.value, span)
    terms, sure = _terms(page)
    if terms == "US":
        return _finding(match, "pattern", american.value, span, sure, (british.value,))
    if terms == "UK":
        return _finding(match, "pattern", british.value, span, sure, (american.value,))
    return _finding(
        match, "pattern", american.value, span, Sureness.UNCLEAR, (british.value,),
        (message("intake.crochet_terms_unsaid"),),
    )  # fmt: skip


def _terms(page: Page) -> tuple[str, Sureness]:
    """Whose crochet terms the text uses: as it says, or as a stitch only one of them has."""
    for place, kinds in enumerate(page.kinds):
        if "terms" in kinds:
            return page.meaning(place, "terms"), Sureness.SURE
    for place, kinds in enumerate(page.kinds):
        alone = page.is_kind(place - 1, "open") and page.is_kind(place + 1, "close")
        if "system" in kinds and alone:
            return page.meaning(place, "system"), Sureness.LIKELY
    stitches = {token.kinds.get("crochetstitch") for token in page.tokens}
    american, british = bool(stitches & {"sc", "hdc"}), "htr" in stitches
    if american != british:
        return ("US" if american else "UK"), Sureness.LIKELY
    if any("ukword" in kinds for kinds in page.kinds):
        return "UK", Sureness.LIKELY
    return "", Sureness.UNCLEAR


def _washed(page: Page, match: Match) -> Mention | None:
    wanted = frozenset({"washed"})
    at = page.near(match.end - 1, wanted, _REACH)
    if at is None:
        at = next((i for i in range(match.start, match.end) if page.is_kind(i, "washed")), None)
    if at is None:
        at = page.near(match.start, wanted, _REACH, -1)
    if at is None:
        return None
    span = page.span(at, at + 1)
    return _finding(match, "washed", page.meaning(at, "washed") == "yes", span)
