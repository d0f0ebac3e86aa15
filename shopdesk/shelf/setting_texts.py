"""Each setting as text: how it is read, how it is written, and what would be right."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from shopdesk.craft.money import currencies
from shopdesk.reading.numbers import NumberRefused, read_number
from shopdesk.reference.tables import table
from shopdesk.wording.voice import LANGUAGES

PAPERS = tuple(row["key"] for row in table("papers"))


class SettingRefused(ValueError):
    """A setting that cannot be: what is wrong. The field's `right` says what would do."""


@dataclass(frozen=True, slots=True)
class SettingText:
    """How one setting is read from text, and the words that say what is right."""

    read: Callable[[str], Any]
    right: str


def write_setting(value: object) -> str:
    """Returns a setting as the text that its reader takes."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def stored_setting(text: str, kind: type) -> Any:
    """Returns the value of a text that `write_setting` wrote for a setting of this kind."""
    return text == "yes" if kind is bool else kind(text)


def _text(longest: int, needed: bool = False) -> Callable[[str], str]:
    def read(text: str) -> str:
        stripped = "\n".join(line.strip() for line in text.strip().splitlines())
        if needed and not stripped:
            raise SettingRefused("nothing is written here")
        if len(stripped) > longest:
            raise SettingRefused(f"{len(stripped)} characters are too many")
        if any(ord(letter) < 32 and letter != "\n" for letter in stripped):
            raise SettingRefused("it holds control characters")
        return stripped

    return read


def _one_of(*values: str) -> Callable[[str], str]:
    def read(text: str) -> str:
        for value in values:
            if text.strip().casefold() == value.casefold():
                return value
        raise SettingRefused(f"'{text.strip()[:40]}' is not one of these")

    return read


def _whole(low: int, high: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        number = _number(text)
        if number != number.to_integral_value() or not low <= number <= high:
            raise SettingRefused(f"{text.strip()} is not a whole number from {low} to {high}")
        return int(number)

    return read


def _percent(text: str) -> Decimal:
    number = _number(text)
    if not 0 <= number <= 50:
        raise SettingRefused(f"{text.strip()} is not from 0 to 50")
    return number


def _number(text: str) -> Decimal:
    try:
        return read_number(text)
    except NumberRefused as refusal:
        raise SettingRefused(refusal.wrong) from None


def _yes_or_no(text: str) -> bool:
    return _one_of("yes", "no")(text) == "yes"


def _currency(text: str) -> str:
    code = text.strip().upper()
    if code not in currencies():
        raise SettingRefused(f"'{text.strip()[:40]}' is not a currency's code")
    return code


def _country(text: str) -> str:
    from babel import Locale

    code = text.strip().upper()
    known = Locale("en").territories
    if code and (len(code) != 2 or not code.isalpha() or code not in known):
        raise SettingRefused(f"'{text.strip()[:40]}' is not a country's code")
    return code


def _language(text: str) -> str:
    from babel import Locale, UnknownLocaleError

    tag = text.strip().replace("_", "-")
    try:
        locale = Locale.parse(tag, sep="-")
    except (ValueError, UnknownLocaleError):
        raise SettingRefused(f"'{tag[:40]}' is not a language's tag") from None
    if locale.language not in LANGUAGES:
        raise SettingRefused(f"there are no texts in '{tag}'")
    return str(locale).replace("_", "-")


SETTINGS: Mapping[str, SettingText] = {
    "shop_name": SettingText(_text(80, needed=True), "write the shop's name, 80 letters at most"),
    "address": SettingText(_text(300), "write the address in up to 300 letters, or nothing"),
    "currency": SettingText(_currency, "write an ISO 4217 code such as EUR, GBP or USD"),
    "tax_included": SettingText(_yes_or_no, "write yes or no"),
    "units": SettingText(
        _one_of("metric", "imperial", "both"), "write one of metric, imperial, both"
    ),
    "crochet_terms": SettingText(_one_of("US", "UK"), "write one of US, UK"),
    "paper": SettingText(_one_of(*PAPERS), "write one of " + ", ".join(PAPERS)),
    "allowance_percent": SettingText(_percent, "write a percentage from 0 to 50 such as 10"),
    "country": SettingText(
        _country, "write an ISO 3166 code such as GB, US or DE, or nothing for the strictest rules"
    ),
    "language": SettingText(
        _language, "write a language such as en-GB, en-US, de or fr; texts are in en, de and fr"
    ),
    "return_wording": SettingText(_text(300), "write the return rule in up to 300 letters"),
    "return_days": SettingText(
        _whole(0, 365), "write a whole number of days from 0 (no returns) to 365"
    ),
    "hold_days": SettingText(_whole(1, 365), "write a whole number of days from 1 to 365"),
    "swatch_reminder_days": SettingText(
        _whole(1, 365), "write a whole number of days from 1 to 365"
    ),
    "keep_names_days": SettingText(_whole(1, 3650), "write a whole number of days from 1 to 3650"),
}
