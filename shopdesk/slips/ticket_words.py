"""What a shelf ticket says of a yarn, put into the shop's words and units."""

from collections.abc import Iterator

from shopdesk.answering.nature import label_care
from shopdesk.answering.profile import shelf_profile
from shopdesk.craft.care import care_sayings
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.sayings import saying
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.slips.tickets import Ticket
from shopdesk.wording import shown
from shopdesk.wording.say import say, term
from shopdesk.wording.voice import Voice

MOST_CARE = 4


def ticket_of(yarn: ShelfYarn, voice: Voice) -> Ticket:
    """Returns the ticket: the shop's measurements go before what the band says, and say so."""
    care, by_default = label_care(yarn.label)
    said = care_sayings(care, by_default)[:MOST_CARE]
    lines = (*_facts(yarn, voice), " ".join(say(one, voice) for one in said))
    price = shown.money(yarn.price, voice)
    return Ticket(yarn.name, yarn.sku, price, tuple(line for line in lines if line), yarn.gtin)


def _facts(yarn: ShelfYarn, voice: Voice) -> Iterator[str]:
    label, profile = yarn.label, shelf_profile(yarn)
    yield label.printed_put_up
    shares = [
        f"{shown.percent(share.percent, voice)} {term(f'terms.fibre.{share.fibre}', voice)}"
        for share in label.fibres
    ]
    yield ", ".join(shares)
    stitches = profile.natural_stitches
    if stitches is not None and stitches.basis is not Basis.ESTIMATE:
        code = "ticket.gauge_shop" if _shops(stitches) else "ticket.gauge_band"
        yield say(saying(code, stitches_st=stitches.value), voice)
    if profile.wraps_per_inch is not None and _shops(profile.wraps_per_inch):
        yield say(saying("ticket.wraps", wraps=round(profile.wraps_per_inch.value, 1)), voice)
    length = profile.metres_per_100g
    if length is not None and _shops(length):
        yield say(saying("ticket.length_shop", length_m=length.value), voice)


def _shops(figure: Figure) -> bool:
    return figure.basis is Basis.SHOP
