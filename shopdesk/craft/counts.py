"""Yarn counts as mills and cones write them ('2/28', '30 tex'), and what they mean in tex.

Definitions of the systems: ASTM D2260, ISO 1144. tex is grams per kilometre. An indirect count
is a length per mass, so a higher number is a finer yarn. The order of plies and single differs
between systems: worsted writes the plies first, cotton last, metric either way.
"""

import re
from dataclasses import dataclass
from functools import cache

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message, significant
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.craft.yarn import LabelFacts, PutUp, YarnCount
from shopdesk.reference.tables import table

ASK = "ask"
MOST_PLIES = 32
FINEST_TEX, COARSEST_TEX = 0.5, 50_000.0


@dataclass(frozen=True, slots=True)
class CountSystem:
    """A system: direct ones are a mass per length, indirect ones a length per mass.

    `tex_of_one` is the tex of count 1. `plies_written` is 'first', 'last', 'either', or '' where
    the system has no custom for plies. `asked` marks the systems that a bare count may be in.
    """

    key: str
    name: str
    direct: bool
    tex_of_one: float
    plies_written: str
    asked: bool


@dataclass(frozen=True, slots=True)
class CountReading:
    """What a written count would be in the system of this name, in metres per 100 g."""

    name: str
    metres_per_100g: float


class CountRefused(InputError):
    """A count that cannot be read in its system."""


class CountAmbiguous(InputError):
    """A count whose system is not known; it asks back with every reading."""

    def __init__(self, written: str, systems: tuple[CountReading, ...]) -> None:
        listed = ", ".join(f"{r.name} {r.metres_per_100g:.0f} m/100 g" for r in systems)
        super().__init__(
            message("problem_yarn.count_depends", text=written, readings=listed),
            message("problem_yarn.give_count_system"),
        )


@cache
def count_systems() -> tuple[CountSystem, ...]:
    """Returns every system that is known."""
    si = {row["unit"]: float(row["si_value"]) for row in table("units")}
    found = []
    for row in table("counts"):
        metres = float(row["length"]) * si[row["length_unit"]]
        tex = float(row["mass"]) * si[row["mass_unit"]] / metres * 1000
        found.append(
            CountSystem(
                row["system"],
                row["name"],
                row["kind"] == "direct",
                tex,
                row["plies_written"],
                row["asked"] == "yes",
            )
        )
    return tuple(found)


def count_tex(count: YarnCount) -> float:
    """Returns the resultant tex of a count, plies and all.

    The system is a key or name of reference/counts.csv ('nm', 'Ne', 'worsted' ...), or 'ask' if
    it is unknown; a system written in the text itself ('Nm 2/28') also counts. Raises
    CountAmbiguous if it stays unknown, CountRefused if the count cannot be read in its system.
    """
    named, figures = _system_in(count.written.strip())
    given = count.system.strip().casefold()
    system = _system_named(given) if given not in ("", ASK, "unknown") else None
    if system is None and given not in ("", ASK, "unknown"):
        wrong = message("problem_yarn.count_system", text=count.system[:30])
        raise CountRefused(wrong, _known_systems())
    if system is not None and named is not None and system != named:
        raise CountRefused(
            message(
                "problem_yarn.counts_differ",
                text=count.written,
                said=named.name,
                system=system.name,
            ),
            message("problem_yarn.make_agree"),
        )
    system = system or named
    if system is None:
        raise CountAmbiguous(count.written.strip(), _readings(figures))
    return _tex(figures, system)


def metres_per_100g(tex: float) -> float:
    """Returns the length of 100 g in metres; exact, from the definition of tex."""
    return 100_000 / tex


def put_up_tex(put_up: PutUp) -> float:
    """Returns the tex of a ball of so many grams and metres. Raises ValueError if not above 0."""
    if put_up.grams <= 0 or put_up.metres <= 0:
        raise ValueError("a put-up has grams and metres above zero")
    return put_up.grams / put_up.metres * 1000


def sold_put_up(label: LabelFacts) -> PutUp | None:
    """Returns what one skein or cone holds: as printed, or a cone's length from mass and count.

    None where neither is known. Raises as `count_tex`.
    """
    if label.put_up is not None or label.count is None or label.net_grams is None:
        return label.put_up
    return PutUp(label.net_grams, label.net_grams / count_tex(label.count) * 1000)


def _known_systems() -> Message:
    listed = ", ".join(system.name for system in count_systems())
    return message("problem_yarn.choose_count_system", systems=listed)


@cache
def _names() -> dict[str, CountSystem]:
    systems = {system.key: system for system in count_systems()}
    return systems | {row["name"]: systems[row["system"]] for row in table("count_names")}


def _system_named(text: str) -> CountSystem | None:
    return _names().get(re.sub(r"\s+", " ", text.casefold().strip(" .")))


_WORDS_BEFORE = re.compile(r"([A-Za-z][A-Za-z /]*?)[.\s]*(?=[0-9½¼¾])")
_WORDS_BEHIND = re.compile(r"(?<=[0-9½¼¾])\s*([A-Za-z][A-Za-z /]*)\.?\Z")


def _system_in(written: str) -> tuple[CountSystem | None, str]:
    """Returns the system named before or behind the figures, and the figures alone."""
    if len(written) > 60:
        raise CountRefused(message("problem_yarn.count_long", count=len(written)), _RIGHT)
    for words in (_WORDS_BEFORE.match(written), _WORDS_BEHIND.search(written)):
        system = _system_named(words[1]) if words is not None else None
        if words is not None and system is not None:
            return system, (written[: words.start()] + written[words.end() :]).strip()
    return None, written


def _readings(figures: str) -> tuple[CountReading, ...]:
    """Returns every asked system's reading. Raises CountRefused if there is none."""
    found = []
    for system in count_systems():
        if not system.asked:
            continue
        try:
            tex = _tex(figures, system)
        except CountRefused:
            continue
        found.append(CountReading(system.name, metres_per_100g(tex)))
    if not found:
        raise CountRefused(message("problem_yarn.no_count", text=figures), _RIGHT)
    return tuple(found)


_RIGHT = message("problem_yarn.write_count")
_PLIED = re.compile(r"\s*([0-9.,]+)\s*/\s*([0-9.,]+)s?\s*\Z")
_RESULTANT = re.compile(r"\s*R\s*([0-9.,]+)\s*(?:tex|dtex)?\s*(?:/\s*[0-9]+)?\s*\Z")
_TIMES = re.compile(r"\s*([0-9.,]+)\s*(?:tex|dtex|den(?:ier)?)?\s*[x×]\s*([0-9]+)\s*\Z")


def _tex(figures: str, system: CountSystem) -> float:
    """Returns the tex of '28', '2/28', '37 x 2' or the resultant 'R 74' in this system."""
    times, plied = _TIMES.match(figures), _PLIED.match(figures)
    resultant = _RESULTANT.match(figures) if system.direct else None
    if times is not None:
        single, plies = _above_zero(times[1]), _above_zero(times[2])
    elif resultant is not None:
        single, plies = _above_zero(resultant[1]), 1.0
    elif plied is not None:
        single, plies = _single_and_plies(plied[1], plied[2], system)
    else:
        single, plies = _above_zero(figures.strip().removesuffix("s")), 1.0
    if plies != int(plies) or plies > MOST_PLIES:
        raise CountRefused(
            message("problem_yarn.no_plies", plies_exact=significant(plies, 6)), _RIGHT
        )
    tex = single * system.tex_of_one * plies
    if not system.direct:
        tex = system.tex_of_one / single * plies
    if not FINEST_TEX <= tex <= COARSEST_TEX:
        wrong = message(
            "problem_yarn.no_such_count",
            system=system.name,
            text=figures,
            tex_exact=significant(tex, 3),
        )
        raise CountRefused(wrong, _RIGHT)
    return tex


def _above_zero(text: str) -> float:
    try:
        value = read_number(text, _RIGHT)
    except NumberRefused as refusal:
        raise CountRefused(refusal.problem.wrong, refusal.problem.right) from None
    if value <= 0:
        raise CountRefused(message("problem_yarn.not_above_zero", text=text), _RIGHT)
    return float(value)


def _single_and_plies(first: str, last: str, system: CountSystem) -> tuple[float, float]:
    """Returns the single's count and the plies of 'first/last' by the custom of the system."""
    one, other = _above_zero(first), _above_zero(last)
    if system.direct:
        raise CountRefused(
            message("problem_yarn.slash_unclear", system=system.name),
            message("problem_yarn.without_slash", system=system.name),
        )
    if not system.plies_written:
        raise CountRefused(
            message("problem_yarn.no_custom", system=system.name),
            message("problem_yarn.whole_count"),
        )
    if system.plies_written == "either":
        return _either_way(first, last, one, other)
    plies, single = (one, other) if system.plies_written == "first" else (other, one)
    if plies > single:
        raise _turned_round(first, last, system)
    return single, plies


def _turned_round(first: str, last: str, system: CountSystem) -> CountRefused:
    """The custom of the system would make 'first/last' more plies than the single counts."""
    one, other = significant(_above_zero(first), 6), significant(_above_zero(last), 6)
    plies_first = system.plies_written == "first"
    plies, single = (one, other) if plies_first else (other, one)
    return CountRefused(
        message(
            "problem_yarn.plies_first" if plies_first else "problem_yarn.plies_last",
            system=system.name,
            text=f"{first}/{last}",
            plies_exact=plies,
            single_exact=single,
        ),
        message(
            "problem_yarn.turned_round",
            text=f"{last}/{first}",
            plies_exact=single,
            single_exact=plies,
        ),
    )


def _either_way(first: str, last: str, one: float, other: float) -> tuple[float, float]:
    """The smaller figure is the plies, unless the two are too near each other to tell."""
    plies, single = min(one, other), max(one, other)
    if 1 < single / plies < 2 and plies > 1:
        raise CountRefused(
            message("problem_reading.two_ways", text=f"{first}/{last}"),
            message(
                "problem_yarn.count_either",
                one_exact=significant(single / plies, 3),
                other_exact=significant(plies / single, 3),
            ),
        )
    return single, plies
