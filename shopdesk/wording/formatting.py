"""How the reader wants to be spoken to, and values as they want to see them."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Context, Decimal, localcontext
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Literal

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.craft.money import rounded
from shopdesk.parsing.quantities import exact_factor
from shopdesk.reference.languages import complete_languages, languages

if TYPE_CHECKING:
    from babel import Locale


LANGUAGES = complete_languages()
"""The languages that every text of a slip is written in."""

Units = Literal["metric", "imperial", "both"]
CrochetTerms = Literal["US", "UK"]


@dataclass(frozen=True, slots=True)
class ReaderPreferences:
    """`language` is a tag such as 'en', 'en-GB', 'de' or 'fr'; `currency` an ISO 4217 code.

    The tag's language picks the texts, the whole tag the form of numbers, dates and money.
    """

    language: str = "en"
    units: Units = "metric"
    crochet_terms: CrochetTerms = "US"
    currency: str = "EUR"

    @property
    def texts(self) -> str:
        """The language of the texts, without a country: 'en' for 'en-GB'."""
        return self.language.replace("_", "-").split("-")[0].casefold()


class LanguageRefused(InputError):
    """A language in which not every text is written."""


def require_texts(tag: str) -> None:
    """Raises LanguageRefused unless every text is written in the language of this tag."""
    language = ReaderPreferences(tag).texts
    if language in LANGUAGES:
        return
    known = languages().get(language)
    wrong = message("problem_shelf.no_texts" if known is None else "problem_shelf.draft", tag=tag)
    right = message("problem_shelf.choose_one_of", names=", ".join(LANGUAGES))
    raise LanguageRefused(wrong, right, "language")


Amount = int | float | Decimal

_QUARTERS = {0: "", 1: "¼", 2: "½", 3: "¾"}


@cache
def locale_of(language: str) -> "Locale":
    """Returns Babel's locale of a language tag; English if there is none of that name."""
    from babel import Locale, UnknownLocaleError

    try:
        return Locale.parse(language.replace("-", "_"))
    except (ValueError, UnknownLocaleError):
        return Locale.parse("en")


def _exact(value: Amount) -> Decimal:
    return Decimal(repr(value)) if isinstance(value, float) else Decimal(value)


_WIDE = Context(prec=5000)
"""Room for every place of the largest float, and for the longest whole number that Python reads."""


def _to_places(value: Decimal, places: int) -> Decimal:
    return value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP, _WIDE)


def number(value: Amount, reader: ReaderPreferences, places: int = 2) -> str:
    """Returns a number with at most so many decimals, halves rounded up, without grouping."""
    # Adding 0 makes an ordinary 0 of a negative one.
    exact = _WIDE.add(_to_places(_exact(value), places).normalize(_WIDE), 0)
    return _written(exact, reader.language)


@lru_cache(maxsize=4096)
def _written(exact: Decimal, language: str) -> str:
    from babel.numbers import format_decimal

    with localcontext(_WIDE):
        return format_decimal(
            exact, locale=locale_of(language), decimal_quantization=False, group_separator=False
        )


def grouped(value: Amount, reader: ReaderPreferences) -> str:
    """Returns a whole number with its thousands set apart, as 1,000,000 in English."""
    from babel.numbers import format_decimal

    return format_decimal(int(value), locale=locale_of(reader.language))


def in_full(value: Amount, reader: ReaderPreferences) -> str:
    """Returns a number with every place it has, up to twelve."""
    return number(value, reader, 12)


def money(amount: Decimal, reader: ReaderPreferences) -> str:
    """Returns an amount in the reader's currency, rounded exactly to its minor unit first.

    The minor units are ISO 4217's; Babel's own rounding never changes the digits.
    """
    return _priced(rounded(amount, reader.currency) + 0, reader.currency, reader.language)


@lru_cache(maxsize=4096)
def _priced(exact: Decimal, currency: str, language: str) -> str:
    from babel.numbers import format_currency

    text = format_currency(exact, currency, locale=locale_of(language), decimal_quantization=False)
    return re.sub(rf"({currency})(?=\d)", "\\1\u00a0", text)


def day(value: date, reader: ReaderPreferences) -> str:
    """Returns a date in the language's usual form, as '25 Nov 2026' for 'en-GB'."""
    from babel.dates import format_date

    return format_date(value, format="medium", locale=locale_of(reader.language))


def percent(value: Amount, reader: ReaderPreferences) -> str:
    """Returns a share of 100 with at most one decimal."""
    from babel.numbers import format_percent

    share = _to_places(_exact(value), 1).normalize() / 100
    return format_percent(
        share, locale=locale_of(reader.language), decimal_quantization=False, group_separator=False
    )


def list_of(words: Sequence[str], reader: ReaderPreferences) -> str:
    """Returns words joined as the language lists things."""
    from babel.lists import format_list

    return format_list(list(words), locale=locale_of(reader.language))


def yarn_length(metres: Amount, reader: ReaderPreferences) -> str:
    """Returns a yarn length given in metres, in m, yd or both."""
    exact = _exact(metres)
    return _in_units(
        lambda: _few(exact, "m", reader),
        lambda: _few(exact / exact_factor("yd", "m"), "yd", reader),
        reader,
    )


def mass(grams: Amount, reader: ReaderPreferences) -> str:
    """Returns a mass given in grams, in g, oz or both."""
    exact = _exact(grams)
    return _in_units(
        lambda: _few(exact, "g", reader),
        lambda: _ounces(exact / exact_factor("oz", "g"), reader),
        reader,
    )


def size(centimetres: Amount, reader: ReaderPreferences) -> str:
    """Returns a size given in cm: at most one decimal of a cm, inches to the quarter."""
    exact = _exact(centimetres)
    return _in_units(
        lambda: f"{number(exact, reader, 1)} cm",
        lambda: _inches(exact / exact_factor("in", "cm"), reader),
        reader,
    )


def millimetres(value: Amount, reader: ReaderPreferences) -> str:
    """Returns mm as mm whatever the units: it is the only safe key of a needle or hook."""
    return f"{number(value, reader, 2)} mm"


def temperature(celsius: Amount, reader: ReaderPreferences) -> str:
    """Returns a temperature given in degrees Celsius."""
    exact = _exact(celsius)
    fahrenheit = exact * 9 / 5 + 32
    return _in_units(
        lambda: f"{number(exact, reader, 0)} °C",
        lambda: f"{number(fahrenheit, reader, 0)} °F",
        reader,
    )


def gauge(per_10cm: Amount, reader: ReaderPreferences) -> str:
    """Returns stitches or rows over what `over` says: 10 cm, or 4 in for imperial readers."""
    exact = _exact(per_10cm)
    if reader.units == "imperial":
        exact *= 4 * exact_factor("in", "cm") / 10
    return number(exact, reader, 1)


def over(reader: ReaderPreferences) -> str:
    """Returns the length that a gauge is counted over in this reader."""
    return "4 in" if reader.units == "imperial" else "10 cm"


def _few(value: Decimal, unit: str, reader: ReaderPreferences) -> str:
    return f"{number(value, reader, 1 if abs(value) < 10 else 0)} {unit}"


def _ounces(value: Decimal, reader: ReaderPreferences) -> str:
    return f"{number(value, reader, 1 if abs(value) < 100 else 0)} oz"


def _inches(value: Decimal, reader: ReaderPreferences) -> str:
    if abs(value) < 1:
        return f"{number(value, reader, 1)} in"
    quarters = int(_to_places(abs(value) * 4, 0))
    sign = "-" if value < 0 else ""
    return f"{sign}{quarters // 4}{_QUARTERS[quarters % 4]} in"


def _in_units(
    metric: Callable[[], str], imperial: Callable[[], str], reader: ReaderPreferences
) -> str:
    if reader.units == "both":
        return f"{metric()} ({imperial()})"
    return imperial() if reader.units == "imperial" else metric()


BY_SUFFIX: dict[str, Callable[[Amount, ReaderPreferences], str]] = {
    "_m": yarn_length,
    "_g": mass,
    "_cm": size,
    "_mm": millimetres,
    "_c": temperature,
    "_st": gauge,
    "_percent": percent,
    "_grouped": grouped,
    "_exact": in_full,
}


def capital(text: str) -> str:
    """Returns the text with its first letter large and all others as they are."""
    return text[:1].upper() + text[1:]
