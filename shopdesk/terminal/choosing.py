"""From the options of `shopdesk slip` to what is wanted of each part.

An option holds for every part, or for one as 'part=value'. What is not given is taken from the
answer: its first colour, and the lots that it planned.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.answering.model.answer import Selection
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.messages import message
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.services.answers import JudgedYarn
from shopdesk.services.selection import PartWanted, select
from shopdesk.terminal.boundary import BadUsage
from shopdesk.wording.translate import english

MOST_SKEINS = 1000


@dataclass(frozen=True, slots=True)
class Wanted:
    """The values of the options as they were written."""

    colours: tuple[str, ...] = ()
    lots: tuple[str, ...] = ()
    skeins: tuple[str, ...] = ()
    told: tuple[str, ...] = ()


def choice_of(judged: JudgedYarn, wanted: Wanted) -> Selection:
    """Returns the whole choice of a judged yarn. Raises BadUsage, naming the option."""
    parts = [amount.part for amount in judged.candidate.amounts]
    colours = _by_part("--colour", wanted.colours, parts)
    lots = _by_part("--lot", wanted.lots, parts)
    skeins = _by_part("--skeins", wanted.skeins, parts)
    each = [
        PartWanted(part, colours.get(part), lot=lots.get(part), skeins=_number(skeins.get(part)))
        for part in parts
    ]
    try:
        return select(judged, each, wanted.told)
    except InputErrors as refusal:
        lines = (f"--{one.path[-1]}: {english(one.sentence)}" for one in refusal.problems)
        raise BadUsage("\n".join(lines)) from None


def _by_part(option: str, values: Sequence[str], parts: Sequence[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for written in values:
        name, equals, value = written.partition("=")
        named = [name] if equals and name in parts else parts
        for part in named:
            if part in found and found[part] is not None and len(named) == 1:
                raise BadUsage(f"{option}: '{part}' is given twice; give it once")
            found.setdefault(part, value if len(named) == 1 and equals else written)
    return found


def _number(written: str | None) -> int | None:
    if written is None:
        return None
    right = message("problem_file.write_whole", low=1, high=MOST_SKEINS)
    try:
        number = read_number(written, right)
    except NumberRefused as refusal:
        raise BadUsage(f"--skeins: {refusal}") from None
    if number != int(number) or not 1 <= number <= MOST_SKEINS:
        raise BadUsage(f"--skeins: {written.strip()} skeins cannot be; {english(right)}")
    return int(number)
