"""JSON from outside: RFC 8259 says what is JSON; the limits on top are our own."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.parsing.json_text import DEEPEST, MOST_BYTES, JsonRefused, read_json

# RFC 8259: any control character is escaped in JSON, and we refuse most of them even so.
TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=20)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**20), 10**20) | TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXTS, inner, max_size=4),
    max_leaves=20,
)


@given(VALUES)
def test_what_the_standard_library_writes_is_read_back(value: object) -> None:
    assert read_json(json.dumps(value).encode()) == value


def refusal_of(data: bytes) -> JsonRefused | None:
    try:
        read_json(data)
    except JsonRefused as refusal:
        return refusal
    return None


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused_with_both_halves(data: bytes) -> None:
    refusal = refusal_of(data)
    assert refusal is None or (refusal.wrong and refusal.right)


@pytest.mark.parametrize(
    ("data", "wrong"),
    [
        (b"", "line 1, column 1"),
        (b"{'a': 1}", "line 1, column 2"),
        (b'{"a": 1,\n}', "line "),
        (b"[NaN]", "NaN is not a number"),
        (b"[-Infinity]", "-Infinity is not a number"),
        (b'{"a": 1, "a": 2}', "'a' stands twice"),
        (b'{"a": {"b": 1, "b": 1}}', "'b' stands twice"),
        ('["ü"]'.encode("latin-1"), "byte 3 is not UTF-8"),
        ('{"a": 1}'.encode("utf-16"), "byte 1 is not UTF-8"),
        (b'["\\ud800"]', "U+D800"),
        (b'["\\u0000"]', "U+0000"),
        (b'{"\\u0007": 1}', "U+0007"),
        (b"[" + b"1" * 5000 + b"]", "5000 digits"),
        (b"[" * 100_000, "nested too deeply"),
        (b"[" * (DEEPEST + 1) + b"]" * (DEEPEST + 1), "nested too deeply"),
        (b" " * (MOST_BYTES + 1), "1,000,001 bytes"),
    ],
)
def test_what_is_not_acceptable_is_refused_in_words(data: bytes, wrong: str) -> None:
    with pytest.raises(JsonRefused) as refused:
        read_json(data)
    assert wrong in refused.value.wrong


def test_a_byte_order_mark_is_allowed() -> None:
    assert read_json(b'\xef\xbb\xbf{"a": 1}') == {"a": 1}


def test_whole_and_broken_numbers_keep_their_kind() -> None:
    assert read_json(b"[22, 22.5, 1e3]") == [22, 22.5, 1000.0]
    assert isinstance(read_json(b"22"), int)


def told(data: bytes) -> tuple[str, dict[str, object]]:
    with pytest.raises(JsonRefused) as refused:
        read_json(data)
    wrong = refused.value.problem.wrong
    return wrong.code.removeprefix("problem_reading."), dict(wrong.values)


def nested(depth: int, around: bytes = b"[]") -> bytes:
    """Lists in lists, or objects in objects, so deep."""
    opened, closed = (b'{"a":', b"}") if around == b"{}" else (b"[", b"]")
    return opened * (depth - 1) + around + closed * (depth - 1)


@pytest.mark.parametrize("around", [b"[]", b"{}"])
def test_40_levels_are_not_too_deep(around: bytes) -> None:
    assert DEEPEST == 40
    assert read_json(nested(40, around)) is not None
    assert told(nested(41, around)) == ("nested", {})
    # What stands beside does not add up.
    assert read_json(b"[" + b",".join([nested(39, around)] * 3) + b"]") is not None


def test_a_million_bytes_and_60_digits_are_read() -> None:
    assert MOST_BYTES == 1_000_000
    assert read_json(b"[]".ljust(1_000_000)) == []
    assert told(b"[]".ljust(1_000_001)) == ("bytes_long", {"count_grouped": 1_000_001})
    assert read_json(b"1" * 60) == int("1" * 60)
    assert told(b"1" * 61) == ("digits_long", {"count": 61})


def test_60_letters_of_a_field_that_stands_twice_are_told_back() -> None:
    name = "x" * 70
    data = json.dumps({name: 1})[:-1] + f', "{name}": 2}}'
    assert told(data.encode()) == ("field_twice", {"name": "x" * 60})


def test_where_the_text_ends_to_be_json_is_told() -> None:
    # What Python's reader says begins with a capital: 'Expecting value'.
    assert told(b"[1,\n x]") == (
        "no_json",
        {"fault": "expecting value", "line": 2, "column": 2},
    )


@pytest.mark.parametrize(
    ("letter", "name"),
    [
        ("\\ud800", "U+D800"), ("\\udfff", "U+DFFF"), ("\\u001f", "U+001F"),
        ("\\u0000", "U+0000"), ("\\u0020", None), ("\\ud7ff", None), ("\\ue000", None),
        ("\\t", None), ("\\n", None), ("\\r", None), ("\\u000b", "U+000B"),
    ],
)  # fmt: skip
def test_characters_that_are_no_text(letter: str, name: str | None) -> None:
    data = f'["{letter}"]'.encode()
    if name is None:
        assert read_json(data) is not None
    else:
        assert told(data) == ("character", {"name": name})
