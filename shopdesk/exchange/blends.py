"""A blend written in one cell: '75% wool, 25% polyamide', 'wool 75 / polyamide 25'."""

import re
from decimal import Decimal

from shopdesk.craft.blend import attribute_named, checked_blend
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.craft.numerals import read_number
from shopdesk.exchange.cells import no_date
from shopdesk.exchange.columns import Values
from shopdesk.exchange.problems import shown

_RIGHT = message("problem_file.write_blend")
_NUMBER = r"[0-9]+(?:[.,][0-9]+)?"
_NAME = r"[^0-9%,;/+&|\n]*[^\s0-9%,;/+&|\n]"
_SHARE_FIRST = re.compile(rf"\s*(?P<share>{_NUMBER})\s*%?\s*(?P<name>{_NAME})\s*[,;/+&|\n]*")
_NAME_FIRST = re.compile(rf"\s*(?P<name>{_NAME})\s*:?\s*(?P<share>{_NUMBER})\s*%?\s*[,;/+&|\n]*")
Pair = tuple[str, Decimal]


def blend_cell(text: str, _unit: str) -> Values:
    """Reads a blend into (fibre, percent) pairs in their order; empty is not known."""
    return {"fibres": read_blend(text)}


def read_blend(text: str) -> tuple[Pair, ...]:
    """Returns the (fibre, percent) pairs of a blend in their order. Raises InputError."""
    no_date(text)
    if not text.strip():
        return ()
    shares = checked_blend(_pairs(text.strip()))
    return tuple((share.fibre, share.percent) for share in shares)


def attributes_cell(text: str, _unit: str) -> Values:
    """Reads words about the fibre, parted by commas: 'superwash, merino'."""
    no_date(text)
    keys = set()
    for word in re.split(r"[,;/\n]", text):
        if word.strip():
            key = attribute_named(word)
            if key is None:
                raise InputError(
                    message("problem_file.no_attribute", text=shown(word.strip())),
                    message("problem_file.write_attributes"),
                )
            keys.add(key)
    return {"attributes": tuple(sorted(keys))}


def written_blend(fibres: tuple[Pair, ...]) -> str:
    """Returns a blend as `blend_cell` reads it."""
    return ", ".join(f"{fibre} {percent:f}" for fibre, percent in fibres)


def _pairs(text: str) -> list[Pair]:
    for pattern in (_SHARE_FIRST, _NAME_FIRST):
        pairs, place = [], 0
        while match := pattern.match(text, place):
            pairs.append((match["name"].strip(), read_number(match["share"], _RIGHT)))
            place = match.end()
        if pairs and place == len(text):
            return pairs
    raise InputError(message("problem_file.no_blend", text=shown(text)), _RIGHT)
