"""Skeins of one yarn for each part, what is spare, when one more is prudent, and the price."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from shopdesk.answering.model.answer import Need, PartAmount, Price, ShopTerms
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.messages import Message, message
from shopdesk.craft.money import line_total, per_100
from shopdesk.craft.quantity import (
    is_rounded_up,
    most_m,
    net_mass_tolerance_g,
    skeins_for,
    spare_is_thin,
)
from shopdesk.craft.yarn import PutUp, ShelfYarn


def part_amounts(
    needs: tuple[Need, ...], put_up: PutUp | None, strands: int, tex: float | None
) -> tuple[PartAmount, ...]:
    """Returns the amount of each part in skeins of `put_up`; `strands` of it are held together."""
    return tuple(_part_amount(need, put_up, strands, tex) for need in needs)


def skeins_of(need: Need, metres: float | None, strands: int) -> int | None:
    """Returns the skeins of so many metres for a part; None if need or put-up is unknown."""
    if need.skein_m is None or metres is None:
        return None
    return skeins_for(need.skein_m * strands, metres)


def all_skeins(skeins: Iterable[int | None]) -> int | None:
    """Returns the skeins of all parts; None where there is no part, or one is unknown."""
    counts = list(skeins)
    known = [count for count in counts if count is not None]
    return sum(known) if counts and len(known) == len(counts) else None


def skeins_together(amounts: Sequence[PartAmount], metres: float | None) -> tuple[int, ...] | None:
    """Returns the skeins of parts in one yarn, colour and lot, rounded up once for all of them.

    Each part is given what it adds to those before it, so that one may be given none; a skein
    holds so many metres. None where a need or the put-up is unknown.
    """
    counts, length, before = list[int](), 0.0, 0
    for amount in amounts:
        if amount.need.skein_m is None or metres is None:
            return None
        length += amount.need.skein_m * amount.strands
        so_far = skeins_for(length, metres)
        counts.append(so_far - before)
        before = so_far
    return tuple(counts)


def _part_amount(need: Need, put_up: PutUp | None, strands: int, tex: float | None) -> PartAmount:
    if need.plan_m is None or need.bare_m is None:
        unknown = (message("needs.skeins_unknown"),)
        return PartAmount(need.part, need, None, strands, None, None, 0, unknown)
    length = need.plan_m * strands
    why: tuple[Message, ...] = (message("needs.rough_skeins"),) if need.rough else ()
    if strands > 1:
        why = (*why, message("needs.every_strand", count=strands, total_m=length))
    if put_up is None:
        weighed = (*why, _weigh_off(length, tex))
        return PartAmount(need.part, need, None, strands, None, None, 0, weighed)
    bare, skeins = need.bare_m * strands, skeins_of(need, put_up.metres, strands) or 0
    spare_m = skeins * put_up.metres - bare
    spare_g = spare_m * put_up.grams / put_up.metres
    why = (*why, *_why_more(need, put_up, strands, skeins))
    prudent = 1 if _is_thin(need, spare_m, skeins, put_up) else 0
    if prudent:
        why = (*why, _why_prudent(spare_m, put_up))
    return PartAmount(need.part, need, skeins, strands, spare_m, spare_g, prudent, why)


def _is_thin(need: Need, spare_m: float, skeins: int, put_up: PutUp) -> bool:
    """True where all skeins may be short by the spare; a count of balls has thought of that."""
    counted = need.pattern_m is not None and is_rounded_up(need.pattern_m)
    return skeins > 0 and not counted and spare_is_thin(spare_m, skeins, put_up)


def _why_more(need: Need, put_up: PutUp, strands: int, skeins: int) -> Iterator[Message]:
    """Why more skeins are counted than what is likely would fill."""
    if need.pattern_m is None or need.bare_m is None:
        return
    bare = need.bare_m * strands
    fewer = skeins_for(bare, put_up.metres)
    if skeins > fewer:
        most = max(need.bare_m, most_m(need.pattern_m) - need.own_strand_m) * strands
        spare = fewer * put_up.metres - bare
        yield message("needs.counted_more", count=skeins - fewer, most_m=most, spare_m=spare)


def _weigh_off(length_m: float, tex: float | None) -> Message:
    if tex is None:
        return message("needs.length_only", total_m=length_m)
    return message("needs.weigh_off", total_m=length_m, mass_g=length_m * tex / 1000)


def _why_prudent(spare_m: float, put_up: PutUp) -> Message:
    tolerance = net_mass_tolerance_g(put_up.grams)
    if tolerance is None:
        return message("needs.prudent_extra_plain", spare_m=spare_m)
    return message("needs.prudent_extra", spare_m=spare_m, short_g=tolerance, ball_g=put_up.grams)


def price_of(yarn: ShelfYarn, skeins: int | None, terms: ShopTerms) -> Price:
    """Returns the price of so many skeins; the total is None where their number is unknown."""
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
