"""Values as the reader wants to see them: units, numbers, dates and money."""

import re
from collections.abc import Callable, Sequence
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from shopdesk.craft.money import rounded
from shopdesk.reading.quantities import exact_factor
from shopdesk.wording.voice import Voice

if TYPE_CHECKING:
    from babel import Locale

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


def _to_places(value: Decimal, places: int) -> Decimal:
    return value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


def number(value: Amount, voice: Voice, places: int = 2) -> str:
    """Returns a number with at most so many decimals, halves rounded up, without grouping."""
    # Adding 0 makes an ordinary 0 of a negative one.
    return _written(_to_places(_exact(value), places).normalize() + 0, voice.language)


@lru_cache(maxsize=4096)
def _written(exact: Decimal, language: str) -> str:
    from babel.numbers import format_decimal

    return format_decimal(
        exact, locale=locale_of(language), decimal_quantization=False, group_separator=False
    )


def money(amount: Decimal, voice: Voice) -> str:
    """Returns an amount in the voice's currency, rounded exactly to its minor unit first.

    The minor units are ISO 4217's; Babel's own rounding never changes the digits.
    """
    return _priced(rounded(amount, voice.currency) + 0, voice.currency, voice.language)


@lru_cache(maxsize=4096)
def _priced(exact: Decimal, currency: str, language: str) -> str:
    from babel.numbers import format_currency

    text = format_currency(exact, currency, locale=locale_of(language), decimal_quantization=False)
    return re.sub(rf"({currency})(?=\d)", "\\1\u00a0", text)


def day(value: date, voice: Voice) -> str:
    """Returns a date in the language's usual form, as '25 Nov 2026' for 'en-GB'."""
    from babel.dates import format_date

    return format_date(value, format="medium", locale=locale_of(voice.language))


def percent(value: Amount, voice: Voice) -> str:
    """Returns a share of 100 with at most one decimal."""
    from babel.numbers import format_percent

    share = _to_places(_exact(value), 1).normalize() / 100
    return format_percent(
        share, locale=locale_of(voice.language), decimal_quantization=False, group_separator=False
    )


def list_of(words: Sequence[str], voice: Voice) -> str:
    """Returns words joined as the language lists things."""
    from babel.lists import format_list

    return format_list(list(words), locale=locale_of(voice.language))


def yarn_length(metres: Amount, voice: Voice) -> str:
    """Returns a yarn length given in metres, in m, yd or both."""
    exact = _exact(metres)
    return _in_units(
        lambda: _few(exact, "m", voice),
        lambda: _few(exact / exact_factor("yd", "m"), "yd", voice),
        voice,
    )


def mass(grams: Amount, voice: Voice) -> str:
    """Returns a mass given in grams, in g, oz or both."""
    exact = _exact(grams)
    return _in_units(
        lambda: _few(exact, "g", voice),
        lambda: _ounces(exact / exact_factor("oz", "g"), voice),
        voice,
    )


def size(centimetres: Amount, voice: Voice) -> str:
    """Returns a size given in cm: at most one decimal of a cm, inches to the quarter."""
    exact = _exact(centimetres)
    return _in_units(
        lambda: f"{number(exact, voice, 1)} cm",
        lambda: _inches(exact / exact_factor("in", "cm"), voice),
        voice,
    )


def millimetres(value: Amount, voice: Voice) -> str:
    """Returns mm as mm whatever the units: it is the only safe key of a needle or hook."""
    return f"{number(value, voice, 2)} mm"


def temperature(celsius: Amount, voice: Voice) -> str:
    """Returns a temperature given in degrees Celsius."""
    exact = _exact(celsius)
    fahrenheit = exact * 9 / 5 + 32
    return _in_units(
        lambda: f"{number(exact, voice, 0)} °C",
        lambda: f"{number(fahrenheit, voice, 0)} °F",
        voice,
    )


def gauge(per_10cm: Amount, voice: Voice) -> str:
    """Returns stitches or rows over what `over` says: 10 cm, or 4 in for imperial readers."""
    exact = _exact(per_10cm)
    if voice.units == "imperial":
        exact *= 4 * exact_factor("in", "cm") / 10
    return number(exact, voice, 1)


def over(voice: Voice) -> str:
    """Returns the length that a gauge is counted over in this voice."""
    return "4 in" if voice.units == "imperial" else "10 cm"


def _few(value: Decimal, unit: str, voice: Voice) -> str:
    return f"{number(value, voice, 1 if abs(value) < 10 else 0)} {unit}"


def _ounces(value: Decimal, voice: Voice) -> str:
    return f"{number(value, voice, 1 if abs(value) < 100 else 0)} oz"


def _inches(value: Decimal, voice: Voice) -> str:
    if abs(value) < 1:
        return f"{number(value, voice, 1)} in"
    quarters = int(_to_places(abs(value) * 4, 0))
    sign = "-" if value < 0 else ""
    return f"{sign}{quarters // 4}{_QUARTERS[quarters % 4]} in"


def _in_units(metric: Callable[[], str], imperial: Callable[[], str], voice: Voice) -> str:
    if voice.units == "both":
        return f"{metric()} ({imperial()})"
    return imperial() if voice.units == "imperial" else metric()


BY_SUFFIX: dict[str, Callable[[Amount, Voice], str]] = {
    "_m": yarn_length,
    "_g": mass,
    "_cm": size,
    "_mm": millimetres,
    "_c": temperature,
    "_st": gauge,
    "_percent": percent,
}
