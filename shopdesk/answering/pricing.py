"""The price of a yarn for the whole item, and per 100 m and 100 g for comparison."""

from decimal import Decimal

from shopdesk.answering.amounts import all_skeins
from shopdesk.answering.answer import PartAmount, Price
from shopdesk.answering.terms import ShopTerms
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.money import line_total, per_100
from shopdesk.craft.yarn import ShelfYarn


def price_of(yarn: ShelfYarn, amounts: tuple[PartAmount, ...], terms: ShopTerms) -> Price:
    """Returns the price; the total is None where a part's skeins are unknown."""
    skeins = all_skeins(amount.skeins for amount in amounts)
    put_up, currency = sold_put_up(yarn.label), terms.currency
    return Price(
        currency=currency,
        each=yarn.price,
        total=whole_price(yarn.price, skeins, currency),
        per_100m=per_100(yarn.price, put_up.metres, currency) if put_up else None,
        per_100g=per_100(yarn.price, put_up.grams, currency) if put_up else None,
        tax_included=terms.tax_included,
    )


def whole_price(each: Decimal, skeins: int | None, currency: str) -> Decimal | None:
    """Returns what so many skeins cost; None where their number is unknown."""
    return None if skeins is None else line_total(each, skeins, currency)
