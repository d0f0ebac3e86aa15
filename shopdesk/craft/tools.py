"""Needle and hook sizes: millimetres are the key, US and old UK numbers are names for them.

What charts or makers use for different sizes is refused with every size that it may mean; a name
of one size that is not on every chart, or is from memory, is read, and the doubt said.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.craft.yarn import Craft
from shopdesk.reference.tables import table

SMALLEST_MM, LARGEST_MM = 0.5, 50.0
_TABLES = {Craft.KNIT: "needles", Craft.CROCHET: "hooks"}
SYSTEMS = ("mm", "US", "UK", "JP")
"""Systems of sizes: millimetres, US numbers and letters, old UK numbers, Japanese numbers."""

_WORDS = re.compile(r"\b(?:size|no|nr|number|needles?|hook|steel)\b\.?|[#№]", re.IGNORECASE)
_STEEL = re.compile(r"\bsteel\b", re.IGNORECASE)
_SYSTEM_WORDS = re.compile(r"(?<![A-Z])(USA?|UK|JP|Japan(?:ese)?|mm)\b\.?", re.IGNORECASE)
_SYSTEM_OF_WORD = {"USA": "US", "MM": "mm", "JAPAN": "JP", "JAPANESE": "JP"}
_LETTER_AND_NUMBER = re.compile(r"([A-Z](?:/[A-Z])?)\s*[-/ ]?\s*([0-9]+½?)")


class ToolRefused(InputError):
    """A size that names no tool, or more than one."""


@dataclass(frozen=True, slots=True)
class NamedSize:
    """What a name of a tool may mean: sizes in mm, several where makers or charts disagree.

    `doubt` says what to tell of a name whose one size is not beyond doubt.
    """

    mm: tuple[float, ...]
    doubt: Message | None = None


def tool_mm(size: str, system: str, craft: Craft) -> float:
    """Returns the size in mm of a needle or hook written as `size` in one of SYSTEMS.

    Reads '4', '4,5', '4.0 mm'; US '10½', '10 1/2', '10-1/2', hooks 'H-8', 'H', '8', 'steel 9';
    old UK numbers '8', '00'; Japanese needles '5'. Raises ToolRefused for an unknown size, and
    for one that makers or charts do not agree on, with every size that it may be.
    """
    named = named_size(size, system, craft)
    if len(named.mm) == 1:
        return named.mm[0]
    shown = [f"{mm:g}" for mm in named.mm]
    wrong = message("problem_yarn.size_disputed", text=size.strip()[:20])
    raise ToolRefused(wrong, _often(shown))


def named_size(size: str, system: str, craft: Craft) -> NamedSize:
    """Returns every size in mm that a name may mean. Raises ToolRefused where it means none.

    Source: size charts of the trade (reference/needles.csv, hooks.csv and the tables beside).
    """
    if system not in SYSTEMS:
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
        return NamedSize((_metric(bare, craft),))
    if _STEEL.search(size) and (system, craft) != ("UK", Craft.KNIT):
        return _steel(bare, system, craft)
    if craft is Craft.CROCHET:
        return _us_hook(bare) if system == "US" else _numbered_hook(bare, system)
    return _numbered_needle(bare, system)


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
        said = _SYSTEM_OF_WORD.get(word.upper(), word.upper())
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


def _numbered_needle(bare: str, system: str) -> NamedSize:
    number = _canonical(bare)
    if system == "US":
        found = _listed("needle_numbers_disputed", "us", number)
        if found is not None:
            said = message("tool.size_on_some_charts", number=number, tool_mm=found.mm[0])
            return NamedSize(found.mm, found.doubt or said)
    name, column = ("needles_japanese", "jp") if system == "JP" else ("needles", system.lower())
    sizes = [float(row["mm"]) for row in table(name) if row[column] == number]
    if not sizes:
        wrong = message("problem_yarn.no_such_needle", system=system, text=bare)
        raise ToolRefused(wrong, _right(system, Craft.KNIT))
    return NamedSize((sizes[0],))


def _numbered_hook(bare: str, system: str) -> NamedSize:
    found = _listed("hooks_old_uk", "uk", _canonical(bare)) if system == "UK" else None
    if found is None:
        wrong = message("problem_yarn.no_such_numbered_hook", system=system, text=bare)
        raise ToolRefused(wrong, message("problem_yarn.hook_in_mm"))
    return found


def _steel(bare: str, system: str, craft: Craft) -> NamedSize:
    """US steel hooks run from 00, the thickest, to 14; old steel needles have no chart in mm."""
    if craft is Craft.KNIT:
        wrong = message("problem_yarn.steel_needles")
        raise ToolRefused(wrong, message("problem_yarn.write_mm"))
    found = _listed("hooks_steel", "us", _canonical(bare)) if system == "US" else None
    if found is None:
        wrong = message("problem_yarn.no_steel_hook", system=system, text=bare)
        raise ToolRefused(wrong, message("problem_yarn.hook_in_mm"))
    return found


def _listed(name: str, column: str, number: str) -> NamedSize | None:
    """Returns a row of a table that keeps every size which some makers or charts give."""
    for row in table(name):
        if row[column] == number:
            sizes = tuple(sorted(float(mm) for mm in row["mm_by_some"].split()))
            return NamedSize(sizes, _doubt(row, number, sizes))
    return None


def _doubt(row: Mapping[str, str], number: str, sizes: tuple[float, ...]) -> Message | None:
    if len(sizes) > 1:
        listed = ", ".join(f"{mm:g}" for mm in sizes)
        return message("tool.size_disputed", number=number, sizes=listed)
    if row["status"] == "M":
        return message("tool.size_from_memory", number=number, tool_mm=sizes[0])
    return None


def _often(sizes: Iterable[str]) -> Message:
    *others, last = sizes
    if not others:
        return message("problem_yarn.often", one=last)
    return message("problem_yarn.often_either", one=", ".join(others), other=last)


def _us_hook(bare: str) -> NamedSize:
    letters, number = _hook_parts(bare.upper())
    rows = [row for row in table("hooks") if letters <= _letters_of(row["us"])]
    if not number:
        return _lettered_hook(bare, letters)
    found = [row for row in rows if _number_of(row["us"]) == number]
    if not found:
        raise _no_such_hook(bare)
    return NamedSize((float(found[0]["mm"]),))


def _lettered_hook(bare: str, letters: frozenset[str]) -> NamedSize:
    """A letter alone: of one size today, of one that charts disagree on, or one of a pair."""
    disputed = _listed("hook_letters_disputed", "us", bare.upper())
    rows = [row for row in table("hooks") if letters & _letters_of(row["us"])]
    of_it_alone = [float(row["mm"]) for row in rows if _letters_of(row["us"]) == letters]
    if of_it_alone:
        return NamedSize((of_it_alone[0],), disputed.doubt if disputed else None)
    if disputed is not None:
        return disputed
    if not rows:
        raise _no_such_hook(bare)
    wrong = message("problem_yarn.hook_disputed", text=bare)
    raise ToolRefused(wrong, message("problem_yarn.mm_or_number"))


def _no_such_hook(bare: str) -> ToolRefused:
    wrong = message("problem_yarn.no_such_hook", text=bare)
    return ToolRefused(wrong, _right("US", Craft.CROCHET))


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
