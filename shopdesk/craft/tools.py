"""Needle and hook sizes: millimetres are the key, US and old UK numbers are names for them.

US numbers that charts use for different sizes are refused with the sizes they may mean.
"""

import re
from functools import cache

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.craft.yarn import Craft
from shopdesk.reference.tables import table

SMALLEST_MM, LARGEST_MM = 0.5, 50.0
_TABLES = {Craft.KNIT: "needles", Craft.CROCHET: "hooks"}
_WORDS = re.compile(r"\b(?:size|no|nr|number|needles?|hook)\b\.?|[#№]", re.IGNORECASE)
_SYSTEM_WORDS = re.compile(r"(?<![A-Z])(USA?|UK|mm)\b\.?", re.IGNORECASE)
_LETTER_AND_NUMBER = re.compile(r"([A-Z](?:/[A-Z])?)\s*[-/ ]?\s*([0-9]+½?)")


class ToolRefused(InputError):
    """A size that names no tool, or more than one."""


def tool_mm(size: str, system: str, craft: Craft) -> float:
    """Returns the size in mm of a needle or hook written as `size` in `system`: mm, US or UK.

    Reads '4', '4,5', '4.0 mm'; US '10½', '10 1/2', '10-1/2', hooks 'H-8', 'H' or '8'; old UK
    needle numbers '8', '00'. Raises ToolRefused for an unknown or ambiguous size; old UK hook
    numbers have no table here. Source: size charts of the trade.
    """
    if system not in ("mm", "US", "UK"):
        raise ToolRefused(
            message("problem_yarn.tool_system", text=system),
            message("problem_yarn.choose_tool_system"),
        )
    bare = _without_words(size, system)
    if not bare:
        raise ToolRefused(message("problem_yarn.no_tool"), _right(system, craft))
    if len(bare) > 20:
        wrong = message("problem_yarn.tool_long", count=len(bare))
        raise ToolRefused(wrong, _right(system, craft))
    if system == "mm":
        return _metric(bare, craft)
    if craft is Craft.CROCHET and system == "US":
        return _us_hook(bare)
    return _numbered_needle(bare, system, craft)


def tool_numbers(mm: float, craft: Craft) -> tuple[str | None, str | None]:
    """Returns the US and the old UK number of a size in mm, None where there is none.

    The mm must be shown with them: 17 and 19 stand for two sizes each in the US.
    """
    for row in table(_TABLES[craft]):
        if float(row["mm"]) == mm:
            return row["us"] or None, row.get("uk") or None
    return None, None


@cache
def made_sizes(craft: Craft) -> tuple[float, ...]:
    """Returns the sizes in mm in which needles or hooks are made, smallest first."""
    return tuple(sorted(float(row["mm"]) for row in table(_TABLES[craft])))


def nearest_made(mm: float, craft: Craft) -> float:
    """Returns the made size in mm nearest to `mm`; of two equally near the smaller."""
    return min(made_sizes(craft), key=lambda made: (abs(made - mm), made))


def stepped(mm: float, steps: int, craft: Craft) -> float:
    """Returns the made size so many steps above the nearest to `mm` (below, if negative).

    At the ends of the table it stays at the last size.
    """
    sizes = made_sizes(craft)
    wanted = sizes.index(nearest_made(mm, craft)) + steps
    return sizes[max(0, min(wanted, len(sizes) - 1))]


def _right(system: str, craft: Craft) -> Message:
    if system == "mm":
        return message("problem_yarn.write_mm")
    if craft is Craft.CROCHET:
        return message("problem_yarn.write_hook")
    return message("problem_yarn.write_needle", system=system)


def _without_words(size: str, system: str) -> str:
    for word in _SYSTEM_WORDS.findall(size):
        said = {"USA": "US", "MM": "mm"}.get(word.upper(), word.upper())
        if said != system:
            raise ToolRefused(
                message(
                    "problem_yarn.systems_differ",
                    text=size.strip()[:20],
                    said=said,
                    system=system,
                ),
                message("problem_yarn.make_agree"),
            )
    return _WORDS.sub(" ", _SYSTEM_WORDS.sub(" ", size)).strip(" .\u00a0")


def _metric(bare: str, craft: Craft) -> float:
    right = _right("mm", craft)
    try:
        mm = float(read_number(bare, right))
    except NumberRefused as refusal:
        raise ToolRefused(refusal.problem.wrong, refusal.problem.right) from None
    if not SMALLEST_MM <= mm <= LARGEST_MM:
        raise ToolRefused(message("problem_yarn.no_such_mm", text=bare), right)
    return mm


def _canonical(bare: str) -> str:
    """Returns a number as the tables write it: '10 1/2', '10-1/2' and '10.5' as '10½'."""
    if re.fullmatch(r"0{1,4}", bare):
        return bare
    try:
        value = read_number(bare)
    except NumberRefused:
        return bare
    halves = {"0": "", "0.5": "½", "0.75": "¾"}
    whole, part = divmod(value, 1)
    written = halves.get(f"{part.normalize():f}")
    if value <= 0 or written is None or (part == 0 and not bare.isdigit()):
        return bare
    return f"{int(whole)}{written}"


def _numbered_needle(bare: str, system: str, craft: Craft) -> float:
    if craft is Craft.CROCHET:
        raise ToolRefused(message("problem_yarn.old_uk_hooks"), message("problem_yarn.hook_in_mm"))
    number = _canonical(bare)
    if system == "US":
        _refuse_disputed(number)
    sizes = [float(row["mm"]) for row in table("needles") if row[system.lower()] == number]
    if not sizes:
        wrong = message("problem_yarn.no_such_needle", system=system, text=bare)
        raise ToolRefused(wrong, _right(system, craft))
    return sizes[0]


def _refuse_disputed(number: str) -> None:
    for row in table("needle_numbers_disputed"):
        if row["us"] == number:
            raise ToolRefused(
                message("problem_yarn.needle_disputed", number=number),
                _often(*row["mm_by_some"].split()),
            )


def _often(one: str, other: str = "") -> Message:
    if not other:
        return message("problem_yarn.often", one=one)
    return message("problem_yarn.often_either", one=one, other=other)


def _us_hook(bare: str) -> float:
    letters, number = _hook_parts(bare.upper())
    rows = [row for row in table("hooks") if row["us"]]
    if number:
        found = [row for row in rows if _number_of(row["us"]) == number]
        found = [row for row in found if letters <= _letters_of(row["us"])]
    else:
        found = [row for row in rows if letters & _letters_of(row["us"])]
    if not found:
        wrong = message("problem_yarn.no_such_hook", text=bare)
        raise ToolRefused(wrong, _right("US", Craft.CROCHET))
    if number or letters == _letters_of(found[0]["us"]):
        return float(found[0]["mm"])
    raise ToolRefused(
        message("problem_yarn.hook_disputed", text=bare),
        message("problem_yarn.mm_or_number"),
    )


def _hook_parts(text: str) -> tuple[frozenset[str], str]:
    """Returns the letters and the number in a hook's name: {'M', 'N'} and '13' of 'M/N-13'."""
    both = _LETTER_AND_NUMBER.fullmatch(re.sub(r"[ -]1/2$", "½", text))
    if both is not None:
        return frozenset(both[1].split("/")), both[2]
    if re.fullmatch(r"[A-Z](/[A-Z])?", text):
        return frozenset(text.split("/")), ""
    return frozenset(), _canonical(text)


def _letters_of(us: str) -> frozenset[str]:
    return frozenset(re.findall(r"[A-Z]", us))


def _number_of(us: str) -> str:
    return us.rpartition("-")[2]
