"""Reads the designer's yarn: put-up, blend, weight names, strands, wraps, count."""

from decimal import Decimal

from shopdesk.craft.fibres import fibre_named
from shopdesk.craft.messages import Message, message
from shopdesk.craft.weights import category
from shopdesk.parsing.quantities import factor
from shopdesk.patterns.phrases.grammar import Match
from shopdesk.patterns.phrases.mentions import BallPutUp, Measure, Mention, Share, Sureness, Value
from shopdesk.patterns.phrases.page import Page
from shopdesk.patterns.tokens.joining import units_differ
from shopdesk.patterns.tokens.tokens import NumberToken, Shape, Token

METRES_PER_100G = (10.0, 3000.0)
MOST_STRANDS = 4
_METRIC = ("g", "kg", "m")
_PART_REACH = 30
_BLEND_REACH = 24
_INSIDE_A_BLEND = frozenset({"attribute", "comma", "slash", "join", "word", "small"})
_SIGNS_OF_BALLS = frozenset({"balls", "unit-balls", "mass", "by"})
_NAMES_A_BALL = frozenset({"unit-balls", "each", "of", "per", "over", "approx"})
_BALL_GRAMS = frozenset({20, 25, 40, 50, 75, 80, 100, 110, 113, 115, 120, 125, 150, 200, 250})
_WEIGHT_SECTIONS = ("yarn", "amount", "putup")
_SIGNS_OF_YARN = frozenset({"balls", "mass", "long", "percent", "unit-balls", "fibre", "wraps"})


def one(
    page: Page,
    match: Match,
    field: str,
    value: Value,
    sure: Sureness | None = None,
    others: tuple[Value, ...] = (),
    says: tuple[Message, ...] = (),
    part: str = "",
) -> Mention:
    """Returns a finding over the whole match."""
    span = page.span(match.start, match.end)
    level = sure or Sureness(match.phrase.sure)
    return Mention(
        field, value, span, level, match.phrase.name, match.start,
        part=part, others=others, says=says,
    )  # fmt: skip


def single(token: Token) -> Decimal | None:
    """Returns the token's number, or None if it is a range or a list."""
    numbers = token.numbers
    return numbers.values[0] if numbers is not None and numbers.shape is Shape.ONE else None


def in_metric(token: Token, kind: str) -> tuple[NumberToken, str]:
    """Returns the numbers and unit of a quantity, the metric ones where two are written."""
    both = [part for part in (token, token.also) if part is not None and part.numbers is not None]
    both.sort(key=lambda part: part.kinds[kind] not in (*_METRIC, "cm"))
    numbers = both[0].numbers
    assert numbers is not None
    return numbers, both[0].kinds[kind]


def read_put_up(page: Page, match: Match) -> list[Mention] | None:
    """Returns a ball's mass and length, or None if these are amounts of the whole item."""
    mass_token, length_token = page.tokens[match.kept["m"]], page.tokens[match.kept["l"]]
    if single(mass_token) is None or single(length_token) is None:
        return None
    (mass, mass_unit), (length, unit) = (
        in_metric(mass_token, "mass"),
        in_metric(length_token, "long"),
    )
    put_up = BallPutUp(mass.values[0], mass_unit, length.values[0], unit)
    grams = float(put_up.mass) * factor(put_up.mass_unit, "g")
    metres = float(put_up.length) * factor(put_up.length_unit, "m")
    if not grams or not METRES_PER_100G[0] <= metres / grams * 100 <= METRES_PER_100G[1]:
        return None
    named = any(
        not page.kinds[at].isdisjoint(_NAMES_A_BALL) for at in range(match.start, match.end)
    )
    if not named and round(grams) not in _BALL_GRAMS and mass_unit != "oz":
        return None
    differs = units_differ(mass_token) or units_differ(length_token)
    says = (message("intake.units_differ"),) if differs else ()
    sure = Sureness.UNCLEAR if differs else None
    return [one(page, match, "put_up", put_up, sure, says=says, part=part_of(page, match.start))]


def read_ball_length(page: Page, match: Match) -> list[Mention] | None:
    """Returns the length of one ball; '2 colours, 300 yds each' is not one, but an amount."""
    token = page.tokens[match.kept["l"]]
    balls = page.near(match.start, _SIGNS_OF_BALLS, 14, -1) is not None
    if not balls and "unit-balls" not in page.kinds[match.end - 1] and single(token) is not None:
        numbers, unit = in_metric(token, "long")
        says = (message("intake.amount_each"),)
        amount = Measure(numbers.values, unit)
        return [one(page, match, "amount", amount, Sureness.UNCLEAR, says=says)]
    return _of_a_ball(page, match, "l", "long", "ball_length")


def read_ball_mass(page: Page, match: Match) -> list[Mention] | None:
    """Returns the mass of one ball."""
    return _of_a_ball(page, match, "m", "mass", "ball_mass")


def _of_a_ball(page: Page, match: Match, name: str, kind: str, field: str) -> list[Mention] | None:
    token = page.tokens[match.kept[name]]
    if single(token) is None:
        return None
    numbers, unit = in_metric(token, kind)
    return [one(page, match, field, Measure(numbers.values, unit))]


def part_of(page: Page, at: int) -> str:
    """Returns the colour or part ('MC', 'A') that the words at `at` belong to, or ''.

    The part's name stands directly behind, or before on the same line.
    """
    behind = at + 1
    while page.is_kind(behind, "small") or page.is_kind(behind, "open"):
        behind += 1
    name = _part_at(page, behind)
    if name and page.lines[behind] == page.lines[at] and not page.is_kind(at + 1, "comma"):
        return name
    for place in reversed(range(max(0, at - _PART_REACH), at)):
        if page.lines[place] != page.lines[at] or page.is_kind(place, "break"):
            return ""
        name = _part_at(page, place)
        if name:
            return name
    return ""


def _part_at(page: Page, at: int) -> str:
    if page.is_kind(at, "part") and page.tokens[at].numbers is None:
        return page.meaning(at, "part")
    if page.is_kind(at, "partword") and page.is_kind(at + 1, "letter"):
        return page.meaning(at + 1, "letter")
    if page.is_kind(at, "letter") and _letters_in_a_row(page, at):
        return page.meaning(at, "letter")
    named = page.is_kind(at, "letter") and page.sections[at] in _WEIGHT_SECTIONS
    if named and (page.is_kind(at + 1, "colon") or page.tokens[at + 1].text == "="):
        return page.meaning(at, "letter")
    return ""


def read_share(page: Page, match: Match) -> list[Mention] | None:
    """Returns one fibre's share of a blend."""
    at = match.kept["f"]
    percent = single(page.tokens[match.kept["p"]])
    if percent is None or not 0 < percent <= 100:
        return None
    if page.is_kind(match.start, "percent") is not _begins_with_share(page, match.start):
        return None
    fibre = fibre_at(page, at)
    return None if fibre is None else [one(page, match, "share", Share(fibre, percent))]


def _letters_in_a_row(page: Page, at: int) -> bool:
    """True for 'A 1 ball, B 2 balls': two letters of one line with an amount behind each."""
    near = range(max(0, at - _PART_REACH), min(len(page.kinds) - 1, at + _PART_REACH))
    letters = {
        page.meaning(place, "letter")
        for place in near
        if page.is_kind(place, "letter")
        and page.lines[place] == page.lines[at]
        and not page.kinds[place + 1].isdisjoint({"balls", "long", "mass", "comma", "colon"})
    }
    return len(letters) > 1 and page.meaning(at, "letter") in letters


def _begins_with_share(page: Page, at: int) -> bool:
    """True if the blend around `at` is written '40% alpaca 60% wool', not 'alpaca 40%'."""
    first = at
    for place in range(at, max(-1, at - _BLEND_REACH), -1):
        if not page.kinds[place].isdisjoint({"percent", "fibre"}):
            first = place
        elif page.kinds[place].isdisjoint(_INSIDE_A_BLEND):
            break
    return page.is_kind(first, "percent")


def fibre_at(page: Page, at: int) -> str | None:
    """Returns the key of the fibre named at `at`, also where a kind of it is named (merino)."""
    if page.is_kind(at, "fibre"):
        return fibre_named(page.meaning(at, "fibre"))
    return page.tokens[at].kinds.get("attribute-of")


def read_weight(page: Page, match: Match) -> list[Mention] | None:
    """Returns a weight name; sure where yarn is spoken of, likely elsewhere (a title)."""
    at = match.kept["w"]
    name = page.meaning(at, "weightname")
    written = page.tokens[at].text.casefold()
    in_yarn = page.sections[at] in _WEIGHT_SECTIONS or _beside_yarn(page, at)
    counted = page.near(at, frozenset({"stitches"}), 12, -1) is not None
    if name == "lace" and written == "lace" and (counted or not in_yarn):
        return None
    says_so = any(word in written for word in ("weight", "yarn", "garn", "wolle", "knit", "dk"))
    or_a_wearer = page.is_kind(at, "wearer")
    surely = (in_yarn or says_so) and not or_a_wearer and written != "double-knit"
    sure = Sureness.SURE if surely else Sureness.LIKELY
    return [one(page, match, "weight", name, sure, part=part_of(page, at))]


def _beside_yarn(page: Page, at: int) -> bool:
    line = page.lines[at]
    near = range(max(0, at - 12), min(len(page.kinds), at + 13))
    return any(
        page.lines[i] == line and not page.kinds[i].isdisjoint(_SIGNS_OF_YARN)
        for i in near
        if i != at
    )


def read_ply(page: Page, match: Match) -> list[Mention] | None:
    """Returns a ply name such as '8-ply' as a weight name."""
    count = single(page.tokens[match.kept["n"]])
    if count is None or count != int(count) or not 1 <= count <= 16:
        return None
    part = part_of(page, match.start)
    return [one(page, match, "weight", f"{int(count)}-ply", part=part)]


def read_standard(page: Page, match: Match) -> list[Mention] | None:
    """Returns a category number of the standard, if its name agrees with it."""
    number = single(page.tokens[match.kept["n"]])
    if number is None or number != int(number) or not 0 <= number <= 7:
        return None
    names = [
        page.meaning(at, "standardname")
        for at in range(match.start, match.end)
        if page.is_kind(at, "standardname")
    ]
    if names and names[0] != str(int(number)):
        return None
    return [one(page, match, "weight", str(category(int(number)).number))]


def read_strands(page: Page, match: Match) -> list[Mention] | None:
    """Returns how many strands are held together."""
    if "n" not in match.kept:
        return [one(page, match, "strands", Decimal(2))]
    counts = [single(page.tokens[match.kept[name]]) for name in ("n", "more") if name in match.kept]
    if any(count is None for count in counts):
        return None
    strands = sum((count for count in counts if count is not None), Decimal(0))
    if strands != int(strands) or not 2 <= strands <= MOST_STRANDS:
        return None
    return [one(page, match, "strands", strands)]


def read_wraps(page: Page, match: Match) -> list[Mention] | None:
    """Returns wraps per inch; of a range both ends are offered."""
    numbers = page.tokens[match.kept["n"]].numbers
    if numbers is None or numbers.shape not in (Shape.ONE, Shape.RANGE):
        return None
    if numbers.shape is Shape.RANGE:
        low, high = numbers.values
        return [one(page, match, "wraps", low, Sureness.UNCLEAR, (high,))]
    return [one(page, match, "wraps", numbers.values[0])]


def read_count(page: Page, match: Match) -> list[Mention] | None:
    """Returns a yarn count with its system, such as '2/28 Nm'."""
    written = page.tokens[match.kept["p"]].text
    system = page.meaning(match.kept["sys"], "countsystem")
    return [one(page, match, "count", f"{written} {system}")]
