"""How the reader wants to be spoken to: language, units, crochet terms and currency."""

from dataclasses import dataclass
from typing import Literal

LANGUAGES = ("en", "de", "fr")
"""The languages that every text of a slip is written in."""

Units = Literal["metric", "imperial", "both"]
CrochetTerms = Literal["US", "UK"]


@dataclass(frozen=True, slots=True)
class Voice:
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
