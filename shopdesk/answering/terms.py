"""The shop's terms that an answer depends on."""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class ShopTerms:
    """Currency (ISO 4217), tax wording, allowance on the need, and the country whose rules apply.

    `country` is an ISO 3166 code such as 'GB', 'US', 'DE'; '' takes the strictest texts.
    """

    currency: str = "EUR"
    tax_included: bool = True
    allowance_percent: Decimal = Decimal(10)
    country: str = ""
