"""A fibre blend as typed, checked line by line; kinds and treatments are told from fibres.

Shares add up to exactly 100. The three percent of Regulation (EU) 1007/2011 is a tolerance for
tests on finished goods, not leave for a wrong sum.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction
from functools import cache

from shopdesk.craft.errors import InputErrors, Problem
from shopdesk.craft.fibres import OTHER, fibre_named, known_names, plain_name
from shopdesk.craft.messages import Message, message, term_code
from shopdesk.craft.yarn import FibreShare
from shopdesk.reference.tables import table

_RIGHT = message("problem_yarn.write_fibre")
_LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Attribute:
    """What is said of a fibre or a yarn beside the fibre's name; `of_fibre` if of one only."""

    key: str
    of_fibre: str | None


def checked_blend(pairs: Sequence[tuple[str, Decimal]]) -> tuple[FibreShare, ...]:
    """Returns the blend of (fibre as written, percent) pairs, in their order.

    Refuses unknown names, attributes in the place of fibres, shares outside 0 to 100, a fibre
    twice, a sum that is not exactly 100, and 'other fibres' anywhere but last. Nothing is
    corrected silently. Raises InputErrors with every problem found, under its line's place.
    """
    problems: list[Problem] = []
    keys: list[str | None] = []
    for index, (name, percent) in enumerate(pairs):
        key = fibre_named(name) if len(name) <= _LONGEST_NAME else None
        keys.append(key)
        if key is None:
            problems.append(Problem((index,), *_why_no_fibre(name)))
        if not _is_share(percent):
            wrong = message("problem_yarn.no_share", text=str(percent))
            problems.append(Problem((index,), wrong, message("problem_yarn.write_share")))
    problems += [*_repeated(keys), *_other_not_last(keys), *_wrong_sum([p for _, p in pairs])]
    if problems:
        raise InputErrors(problems)
    shares = zip(keys, (percent for _, percent in pairs), strict=True)
    return tuple(FibreShare(key, percent) for key, percent in shares if key is not None)


def attribute_named(text: str) -> str | None:
    """Returns the key of the attribute that this word means ('superwash'), or None."""
    found = _attributes().get(plain_name(text))
    return found.key if found is not None else None


def attribute_fibre(key: str) -> str | None:
    """Returns the fibre that an attribute speaks of ('merino': wool), None if of any."""
    return next((each.of_fibre for each in _attributes().values() if each.key == key), None)


@cache
def _attributes() -> dict[str, Attribute]:
    """Every attribute by its plain name, longest names first."""
    found = {}
    for row in table("attributes"):
        attribute = Attribute(row["attribute"], row["of_fibre"] or None)
        found[plain_name(row["name"])] = found[plain_name(row["attribute"])] = attribute
    return dict(sorted(found.items(), key=lambda each: -len(each[0])))


def _is_share(percent: Decimal) -> bool:
    return percent.is_finite() and 0 < percent <= 100


def _why_no_fibre(name: str) -> tuple[Message, Message]:
    """Returns what is wrong with a fibre's name and what would be right."""
    plain = plain_name(name)
    if not plain:
        return message("problem_yarn.no_fibre_named"), _RIGHT
    if len(name) > _LONGEST_NAME:
        return message("problem_yarn.name_long", count=len(name)), _RIGHT
    attributes, rest = _attributes_within(plain)
    of_fibre = fibre_named(rest) or next((a.of_fibre for a in attributes if a.of_fibre), None)
    if attributes and (of_fibre is not None or not rest):
        return _told_apart(name.strip(), attributes, of_fibre, bool(rest))
    close = next(iter(get_close_matches(plain, known_names(), cutoff=0.75)), None)
    right = message("problem_yarn.write_close", name=close) if close else _RIGHT
    return message("problem_yarn.no_fibre", text=name.strip()), right


def _attributes_within(plain: str) -> tuple[list[Attribute], str]:
    """Returns the attributes whose words stand in a name, and the words that are left."""
    found, rest = [], f" {plain} "
    for words, attribute in _attributes().items():
        if f" {words} " in rest:
            found.append((plain.find(words), attribute))
            rest = rest.replace(f" {words} ", " ")
    return [attribute for _, attribute in sorted(found, key=lambda each: each[0])], rest.strip()


def _told_apart(
    name: str, attributes: Sequence[Attribute], of_fibre: str | None, with_fibre: bool
) -> tuple[Message, Message]:
    keys = tuple(attribute.key for attribute in attributes)
    if of_fibre is None:
        return message("problem_yarn.how_made", text=name), _fibre_and(keys)
    term = term_code("fibre", of_fibre)
    right = _this_and(term, keys)
    if with_fibre:
        return message("problem_yarn.fibre_and_more", text=name), right
    if keys == ("bamboo",):
        return message("problem_yarn.from_bamboo", text=name, fibre_term=term), right
    return message("problem_yarn.kind_of_fibre", text=name, fibre_term=term), right


def _fibre_and(keys: tuple[str, ...]) -> Message:
    if len(keys) == 1:
        return message("problem_yarn.fibre_with_attribute", attribute=keys[0])
    return message("problem_yarn.fibre_with_attributes", attributes=keys)


def _this_and(fibre_term: str, keys: tuple[str, ...]) -> Message:
    if len(keys) == 1:
        code = "problem_yarn.this_with_attribute"
        return message(code, fibre_term=fibre_term, attribute=keys[0])
    code = "problem_yarn.this_with_attributes"
    return message(code, fibre_term=fibre_term, attributes=keys)


def _repeated(keys: Sequence[str | None]) -> list[Problem]:
    return [
        Problem(
            (index,),
            message("problem_yarn.fibre_twice", fibre_term=term_code("fibre", key)),
            message("problem_yarn.one_line"),
        )
        for index, key in enumerate(keys)
        if key is not None and key in keys[:index]
    ]


def _other_not_last(keys: Sequence[str | None]) -> list[Problem]:
    if OTHER in keys[:-1]:
        wrong = message("problem_yarn.other_not_last")
        return [Problem((keys.index(OTHER),), wrong, message("problem_yarn.other_last"))]
    return []


def _wrong_sum(percents: Sequence[Decimal]) -> list[Problem]:
    if not percents:
        return [Problem((), message("problem_yarn.no_blend"), message("problem_yarn.give_blend"))]
    if not all(map(_is_share, percents)):
        return []
    total = sum(map(Fraction, percents), Fraction(0))
    if total == 100:
        return []
    shown = f"{Decimal(total.numerator) / Decimal(total.denominator):.12f}"
    shown = shown.rstrip("0").rstrip(".")
    wrong = message("problem_yarn.wrong_sum", sum=shown)
    return [Problem((), wrong, message("problem_yarn.sum_100"))]
