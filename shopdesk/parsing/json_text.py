"""The one strict reader of JSON that comes from outside: size, encoding, depth, no NaN."""

import json
from collections.abc import Iterator
from typing import NoReturn

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message

MOST_BYTES = 1_000_000
DEEPEST = 40
LONGEST_NUMBER = 60
_NESTED = message("problem_reading.nested")
_LESS_NESTED = message("problem_reading.less_nested")


class JsonRefused(InputError):
    """Bytes that are not acceptable JSON; `wrong` says where, too."""


def read_json(data: bytes) -> object:
    """Returns the value written in `data`, which is JSON (RFC 8259) in UTF-8.

    Refuses more than a million bytes, NaN and Infinity, a field that stands twice in one object,
    deep nesting, and strings with characters that are no text. Raises JsonRefused.
    """
    if len(data) > MOST_BYTES:
        raise JsonRefused(
            message("problem_reading.bytes_long", count_grouped=len(data)),
            message("problem_reading.bytes_most", most_grouped=MOST_BYTES),
        )
    try:
        value: object = json.loads(
            _text_of(data),
            parse_constant=_refuse_constant,
            parse_int=_read_whole,
            object_pairs_hook=_fields,
        )
    except json.JSONDecodeError as fault:
        raise _no_json(fault) from None
    except RecursionError:
        raise JsonRefused(_NESTED, _LESS_NESTED) from None
    for text in _texts(value):
        _check_text(text)
    return value


def _no_json(fault: json.JSONDecodeError) -> JsonRefused:
    """Says where the text ends to be JSON; what Python's reader says of it is English."""
    return JsonRefused(
        message(
            "problem_reading.no_json",
            fault=fault.msg[:1].lower() + fault.msg[1:],
            line=fault.lineno,
            column=fault.colno,
        ),
        message("problem_reading.write_json", example="{ ... }"),
    )


def _text_of(data: bytes) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise JsonRefused(
            message("problem_reading.no_utf8", place=fault.start + 1),
            message("problem_reading.save_utf8"),
        ) from None


def _refuse_constant(name: str) -> NoReturn:
    raise JsonRefused(
        message("problem_reading.json_constant", name=name),
        message("problem_reading.number_or_null"),
    )


def _read_whole(written: str) -> int:
    if len(written) > LONGEST_NUMBER:
        raise JsonRefused(
            message("problem_reading.digits_long", count=len(written)),
            message("problem_reading.write_22"),
        )
    return int(written)


def _fields(pairs: list[tuple[str, object]]) -> dict[str, object]:
    fields: dict[str, object] = {}
    for name, value in pairs:
        if name in fields:
            raise JsonRefused(
                message("problem_reading.field_twice", name=name[:60]),
                message("problem_reading.keep_one"),
            )
        fields[name] = value
    return fields


def _texts(value: object) -> Iterator[str]:
    waiting = [(value, 1)]
    while waiting:
        here, depth = waiting.pop()
        if depth > DEEPEST:
            raise JsonRefused(_NESTED, _LESS_NESTED)
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
                message("problem_reading.character", name=f"U+{ord(letter):04X}"),
                message("problem_reading.no_character"),
            )
