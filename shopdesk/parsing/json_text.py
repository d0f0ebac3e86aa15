"""The one strict reader of JSON that comes from outside: size, encoding, depth, no NaN."""

import json
from collections.abc import Iterator
from typing import NoReturn

from shopdesk.craft.errors import InputError

MOST_BYTES = 1_000_000
DEEPEST = 40
LONGEST_NUMBER = 60
_HEADROOM = "write it with fewer nested lists and objects"


class JsonRefused(InputError):
    """Bytes that are not acceptable JSON; `wrong` says where, too."""


def read_json(data: bytes) -> object:
    """Returns the value written in `data`, which is JSON (RFC 8259) in UTF-8.

    Refuses more than a million bytes, NaN and Infinity, a field that stands twice in one object,
    deep nesting, and strings with characters that are no text. Raises JsonRefused.
    """
    if len(data) > MOST_BYTES:
        raise JsonRefused(
            f"this is {len(data):,} bytes long", f"at most {MOST_BYTES:,} bytes are read"
        )
    try:
        value: object = json.loads(
            _text_of(data),
            parse_constant=_refuse_constant,
            parse_int=_read_whole,
            object_pairs_hook=_fields,
        )
    except json.JSONDecodeError as fault:
        wrong = (
            f"this is not JSON: {_lower(fault.msg)} at line {fault.lineno}, column {fault.colno}"
        )
        raise JsonRefused(wrong, "write a JSON object { ... }") from None
    except RecursionError:
        raise JsonRefused("this is nested too deeply", _HEADROOM) from None
    for text in _texts(value):
        _check_text(text)
    return value


def _text_of(data: bytes) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise JsonRefused(
            f"byte {fault.start + 1} is not UTF-8", "save the file as UTF-8"
        ) from None


def _refuse_constant(name: str) -> NoReturn:
    raise JsonRefused(f"{name} is not a number in JSON", "write a number or null")


def _read_whole(written: str) -> int:
    if len(written) > LONGEST_NUMBER:
        raise JsonRefused(
            f"a number of {len(written)} digits is too long", "write a number such as 22"
        )
    return int(written)


def _fields(pairs: list[tuple[str, object]]) -> dict[str, object]:
    fields: dict[str, object] = {}
    for name, value in pairs:
        if name in fields:
            raise JsonRefused(f"the field '{name[:60]}' stands twice", "keep one of the two")
        fields[name] = value
    return fields


def _texts(value: object) -> Iterator[str]:
    waiting = [(value, 1)]
    while waiting:
        here, depth = waiting.pop()
        if depth > DEEPEST:
            raise JsonRefused("this is nested too deeply", _HEADROOM)
        if isinstance(here, str):
            yield here
        elif isinstance(here, dict):
            yield from here
            waiting += [(inner, depth + 1) for inner in here.values()]
        elif isinstance(here, list):
            waiting += [(inner, depth + 1) for inner in here]


def _check_text(text: str) -> None:
    for letter in text:
        if "\ud800" <= letter <= "\udfff" or (letter < " " and letter not in "\t\n\r"):
            raise JsonRefused(
                f"a text holds the character U+{ord(letter):04X}", "leave that character out"
            )


def _lower(message: str) -> str:
    return message[:1].lower() + message[1:]
