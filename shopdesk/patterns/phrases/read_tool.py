"""Reads needles and hooks: millimetres first, US and UK numbers by the table of tools."""

from decimal import Decimal
from math import isclose

from shopdesk.craft.messages import Message, message
from shopdesk.craft.tools import ToolRefused, named_size, tool_mm
from shopdesk.craft.yarn import Craft
from shopdesk.patterns.phrases.grammar import Match
from shopdesk.patterns.phrases.mentions import Mention, Sureness, Tool, plain
from shopdesk.patterns.phrases.page import Page
from shopdesk.patterns.tokens.tokens import Shape, Token
from shopdesk.reference.languages import languages

SMALLEST_MM, LARGEST_MM = Decimal("0.5"), Decimal(50)
_OTHER_THINGS = frozenset({"feature"})


def read_tool(page: Page, match: Match) -> list[Mention] | None:
    """Returns the tool found, with other readings where its number has no stated system."""
    craft = craft_of_tool(page, match)
    if _is_other_thing(page, match):
        return None
    if "m" in match.kept:
        return _with_mm(page, match, craft)
    if "letter" in match.kept:
        return _hook_letter(page, match)
    number = _written(page.tokens[match.kept["n"]])
    if craft is Craft.CROCHET and _is_steel(page, match):
        number = f"steel {number}"
    if "sys" in match.kept:
        system = page.meaning(match.kept["sys"], "system")
        return _named(page, match, Tool(number, system), craft)
    if languages()[page.language].metric_tools:
        fits = SMALLEST_MM <= _value(page.tokens[match.kept["n"]]) <= LARGEST_MM
        return _one(page, match, Tool(number, "mm"), Sureness.SURE) if fits else None
    return _bare_number(page, match, number, craft)


def read_two_tools(page: Page, match: Match) -> list[Mention] | None:
    """Returns both tools of '3.5 and 4 mm', the larger first; which is meant stays open."""
    first = page.tokens[match.kept["a"]]
    last = page.tokens[match.kept["m"] if "m" in match.kept else match.kept["n"]]
    if _is_other_thing(page, match) or not _one_number(last):
        return None
    if not all(SMALLEST_MM <= _value(token) <= LARGEST_MM for token in (first, last)):
        return None
    system = page.meaning(match.kept["sys"], "system") if "sys" in match.kept else "mm"
    low, high = sorted((first, last), key=_value)
    if _value(high) > 2 * _value(low) and system == "mm":
        return None
    tools = [Tool(_written(token), system) for token in (high, low)]
    craft = craft_of_tool(page, match)
    sizes = {size: tool for tool in tools if (size := _mm(tool.size, system, craft)) is not None}
    if len(sizes) < len(tools):
        return None
    by_size = (sizes[size] for size in sorted(sizes, reverse=True))
    return [each for tool in by_size for each in _one(page, match, tool, Sureness.SURE)]


def craft_of_tool(page: Page, match: Match) -> Craft:
    """Crochet if the match or what stands beside it says hook."""
    near = range(max(0, match.start - 4), min(len(page.kinds), match.end + 3))
    if any("hook" in page.kinds[at] for at in near):
        return Craft.CROCHET
    if any(not page.kinds[at].isdisjoint({"needle"}) for at in near):
        return Craft.KNIT
    return Craft.CROCHET if any("hook" in kinds for kinds in page.kinds) else Craft.KNIT


def _one(
    page: Page,
    match: Match,
    tool: Tool,
    sure: Sureness,
    others: tuple[Tool, ...] = (),
    says: tuple[Message, ...] = (),
) -> list[Mention]:
    span = page.span(match.start, match.end)
    return [
        Mention(
            "tool", tool, span, sure, match.phrase.name, match.start,
            others=others, says=says, extra=_role(page, match),
        )
    ]  # fmt: skip


def _with_mm(page: Page, match: Match, craft: Craft) -> list[Mention] | None:
    token = page.tokens[match.kept["m"]]
    if not _one_number(token):
        return None
    if not SMALLEST_MM <= _value(token) <= LARGEST_MM:
        return None
    tool = Tool(_written(token), "mm")
    number = page.tokens[match.kept["n"]] if "n" in match.kept else None
    if number is None or "letter" in match.kept or _is_steel(page, match):
        return _one(page, match, tool, Sureness.SURE)
    systems = (page.meaning(match.kept["sys"], "system"),) if "sys" in match.kept else ("US", "UK")
    sizes = {name: _mm(_written(number), name, craft) for name in systems}
    known = {name: size for name, size in sizes.items() if size is not None}
    if not known or any(_is_about(size, _value(token)) for size in known.values()):
        return _one(page, match, tool, Sureness.SURE)
    others = tuple(Tool(_written(number), name) for name in known)
    says = (message("intake.tool_differs", written=shown_words(page, match)),)
    return _one(page, match, tool, Sureness.UNCLEAR, others, says)


def _is_about(size_mm: float, written: Decimal) -> bool:
    """True if the sizes that two makers give one number differ by no more."""
    return isclose(size_mm, written, rel_tol=0.0, abs_tol=0.13)


def shown_words(page: Page, match: Match) -> str:
    """Returns the match's own words on one line, with the bracket that closes behind them."""
    opened = any(page.is_kind(at, "open") for at in range(match.start, match.end))
    closed = opened and page.is_kind(match.end, "close")
    span = page.span(match.start, match.end + closed)
    return " ".join(page.text[span.start : span.end].split())


def _named(page: Page, match: Match, tool: Tool, craft: Craft) -> list[Mention] | None:
    """A tool by its name: every size that it may be where charts differ, with what is to be said.

    None where there is no such tool.
    """
    try:
        named = named_size(tool.size, tool.system, craft)
    except ToolRefused:
        return None
    says = (named.doubt,) if named.doubt else ()
    if len(named.mm) == 1:
        sure = Sureness.LIKELY if says else Sureness.SURE
        return _one(page, match, tool, sure, says=says)
    first, *others = (Tool(f"{mm:g}", "mm") for mm in named.mm)
    return _one(page, match, first, Sureness.UNCLEAR, tuple(others), says)


def _hook_letter(page: Page, match: Match) -> list[Mention]:
    size = page.meaning(match.kept["letter"], "hookletter")
    if "n" in match.kept:
        size = f"{size}-{_written(page.tokens[match.kept['n']])}"
    tool = Tool(size, "US")
    return _named(page, match, tool, Craft.CROCHET) or _one(page, match, tool, Sureness.LIKELY)


def _bare_number(page: Page, match: Match, number: str, craft: Craft) -> list[Mention] | None:
    """A number with no system: US or old UK, each if it has such a tool; decimals are mm."""
    if "." in number and _value(page.tokens[match.kept["n"]]) >= 2:
        return _one(page, match, Tool(number, "mm"), Sureness.LIKELY)
    if page.sections[match.start] == "gauge" and "numbersign" not in page.kinds[match.start]:
        return None
    if number.startswith("steel"):
        return _named(page, match, Tool(number, "US"), craft)
    readings = tuple(Tool(number, name) for name in ("US", "UK") if _mm(number, name, craft))
    if not readings:
        return None
    says = (message("intake.tool_system_unsaid", written=number),)
    return _one(page, match, readings[0], Sureness.UNCLEAR, readings[1:], says)


def _mm(size: str, system: str, craft: Craft) -> float | None:
    try:
        return tool_mm(size, system, craft)
    except ToolRefused:
        return None


def _one_number(token: Token) -> bool:
    return token.numbers is not None and token.numbers.shape is Shape.ONE


def _value(token: Token) -> Decimal:
    assert token.numbers is not None
    return token.numbers.values[0]


def _written(token: Token) -> str:
    assert token.numbers is not None
    name = token.numbers.names[0]
    return name.replace(",", ".") if "," in name else name or plain(_value(token))


def _is_other_thing(page: Page, match: Match) -> bool:
    """True for millimetres of something else: '9 mm safety eyes'."""
    behind = page.near(match.end - 1, _OTHER_THINGS, 3)
    if behind is not None and page.lines[behind] == page.lines[match.end - 1]:
        return True
    return any(page.is_kind(match.start - 1, kind) for kind in _OTHER_THINGS)


def _is_steel(page: Page, match: Match) -> bool:
    near = range(max(0, match.start - 3), match.end)
    return any("steel" in page.tokens[at].text.casefold() for at in near)


def _role(page: Page, match: Match) -> str:
    """What the text says this tool is for: the gauge, the main part, or ribs and edges."""
    for wanted in ("minor", "main"):
        at = page.near(match.end - 1, frozenset({wanted, "mm", "system"}), 4)
        if at is not None and page.is_kind(at, wanted):
            return wanted
    return "gauge" if _beside_gauge(page, match) else ""


def _beside_gauge(page: Page, match: Match) -> bool:
    wanted = frozenset({"stitches"})
    for step, start in ((-1, match.start), (1, match.end - 1)):
        at = page.near(start, wanted, 14, step)
        if at is not None and page.tokens[at].merged and page.lines[at] == page.lines[start]:
            return True
    return False
