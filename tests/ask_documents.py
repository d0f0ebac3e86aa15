"""Builders of ask documents and asks with only the fields that a test is about."""

from typing import Any

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.ask import Ask


def a_length(value: Any, unit: str = "cm") -> dict[str, Any]:
    """Returns a length as documents write it."""
    return {"value": value, "unit": unit}


def a_put_up(grams: Any = 50, metres: Any = 120) -> dict[str, Any]:
    """Returns mass and length of one ball as documents write them."""
    return {"mass": {"value": grams, "unit": "g"}, "length": {"value": metres, "unit": "m"}}


def a_gauge(stitches: Any = 22, rows: Any = 30, **more: Any) -> dict[str, Any]:
    """Returns a pattern's gauge over 10 cm."""
    return {"stitches": stitches, "rows": rows, "over": a_length(10), **more}


def a_part(value: Any = 1200, name: str = "main", **more: Any) -> dict[str, Any]:
    """Returns a part that needs so many metres."""
    amount = {"kind": "length", "values": [value], "unit": "m"}
    return {"name": name, "amount": amount, **more}


def an_ask_document(**fields: Any) -> dict[str, Any]:
    """Returns a knitted ask: 22 stitches and 30 rows over 10 cm, 1200 m, unless said otherwise."""
    document: dict[str, Any] = {"gauge": a_gauge(), "parts": [a_part()]}
    return {**document, **fields}


def an_ask(**fields: Any) -> Ask:
    """Returns the Ask read from such a document."""
    return read_ask(an_ask_document(**fields))


def a_designer_yarn(stitches: Any = 22, metres: Any = 120, fibre: str = "wool") -> dict[str, Any]:
    """Returns a designer's yarn: 50 g of so many metres, with its band's gauge over 10 cm."""
    return {
        "weight": ["DK"],
        "put_up": a_put_up(50, metres),
        "gauge": {"stitches": stitches, "over": a_length(10)},
        "fibres": [{"fibre": fibre, "percent": 100}],
    }
