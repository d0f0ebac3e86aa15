"""The price of a yarn for the whole item, and per 100 m and 100 g for comparison."""

from shopdesk.answering.answer import PartAmount, Price
from shopdesk.answering.terms import ShopTerms
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.money import line_total, per_100
from shopdesk.craft.yarn import ShelfYarn


def price_of(yarn: ShelfYarn, amounts: tuple[PartAmount, ...], terms: ShopTerms) -> Price:
    """Returns the price; the total is None where a part's skeins are unknown."""
    counts = [amount.skeins for amount in amounts]
    known = [count for count in counts if count is not None]
    complete = bool(counts) and len(known) == len(counts)
    put_up, currency = sold_put_up(yarn.label), terms.currency
    return Price(
        currency=currency,
        each=yarn.price,
        total=line_total(yarn.price, sum(known), currency) if complete else None,
        per_100m=per_100(yarn.price, put_up.metres, currency) if put_up else None,
        per_100g=per_100(yarn.price, put_up.grams, currency) if put_up else None,
        tax_included=terms.tax_included,
    )
