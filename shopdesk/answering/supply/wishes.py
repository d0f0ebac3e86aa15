"""The customer's wishes: which yarns the price limit and each other wish rule out."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from shopdesk.answering.model.answer import Candidate, RuledOut
from shopdesk.answering.model.ask import Ask, Wishes
from shopdesk.craft.fibres import fibres_of
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import ShelfYarn


def avoided_fibre(yarn: ShelfYarn, wishes: Wishes) -> Message | None:
    """Returns why the fibre wish rules this yarn out; an unknown blend is ruled out too."""
    if not wishes.avoid_fibres:
        return None
    if not yarn.label.fibres:
        return _avoiding(None)
    found = sorted(s.fibre for s in yarn.label.fibres if s.fibre in wishes.avoid_fibres)
    return _avoiding(found[0]) if found else None


def left_in(wishes: Wishes) -> Message | None:
    """Returns which fibres of animals are left in where wool is avoided, or None."""
    if "wool" not in wishes.avoid_fibres:
        return None
    animal = (*fibres_of("animal hair"), *fibres_of("silk"))
    left = tuple(f"terms.fibre.{one}" for one in animal if one not in wishes.avoid_fibres)
    return message("wishes.left_in", fibre_terms=left) if left else None


def avoiding(numbers: Mapping[str | None, int]) -> tuple[RuledOut, ...]:
    """Returns a line for each fibre that rules so many yarns out; None: none is known."""
    lines = [RuledOut(_avoiding(fibre), number, ()) for fibre, number in numbers.items()]
    return tuple(sorted(lines, key=_by_wish))


def _avoiding(fibre: str | None) -> Message:
    if fibre is None:
        return message("wishes.fibres_unknown")
    return message("wishes.avoid_fibre", fibre_term=f"terms.fibre.{fibre}")


def unmet_wish(candidate: Candidate, ask: Ask) -> Message | None:
    """Returns the first wish on price, colour or stock that the judged yarn cannot meet."""
    wishes = ask.wishes
    too_dear = unmet_price(candidate.price.total, wishes)
    if too_dear is not None:
        return too_dear
    if candidate.colours and _every_part_has_colour(candidate, ask):
        return None
    if wishes.colour_family is not None:
        return message("wishes.colour", family=wishes.colour_family)
    if wishes.one_lot_only:
        return message("wishes.one_lot")
    if wishes.in_stock_only:
        return message("wishes.in_stock")
    return None


def unmet_price(total: Decimal | None, wishes: Wishes) -> Message | None:
    """Returns why the price for the whole item is not what the customer wishes, or None."""
    limit = wishes.price_limit
    if limit is None:
        return None
    if total is None:
        return message("wishes.price_unknown")
    return message("wishes.price", limit_price=limit) if total > limit else None


def _every_part_has_colour(candidate: Candidate, ask: Ask) -> bool:
    supplied = {choice.part for choice in candidate.colours}
    return all(part.name in supplied for part in ask.parts)


def counted(taken: Sequence[tuple[Message, str]]) -> tuple[RuledOut, ...]:
    """Returns one line for each wish, with the yarns it took away, in a stable order."""
    by_wish: dict[Message, list[str]] = {}
    for wish, sku in taken:
        by_wish.setdefault(wish, []).append(sku)
    lines = [RuledOut(wish, len(skus), tuple(sorted(skus))) for wish, skus in by_wish.items()]
    return tuple(sorted(lines, key=_by_wish))


def merged(lines: Iterable[RuledOut]) -> tuple[RuledOut, ...]:
    """Returns the lines with those of one wish made one, in a stable order."""
    by_wish: dict[Message, RuledOut] = {}
    for line in lines:
        before = by_wish.get(line.wish, RuledOut(line.wish, 0, ()))
        skus = tuple(sorted((*before.skus, *line.skus)))
        by_wish[line.wish] = RuledOut(line.wish, before.count + line.count, skus)
    return tuple(sorted(by_wish.values(), key=_by_wish))


def _by_wish(line: RuledOut) -> tuple[str, str]:
    return line.wish.code, repr(dict(line.wish.values))
