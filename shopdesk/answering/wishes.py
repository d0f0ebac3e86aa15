"""The customer's wishes: which yarns each of them rules out."""

from collections.abc import Sequence

from shopdesk.answering.answer import Candidate, RuledOut
from shopdesk.answering.ask import Ask, Wishes
from shopdesk.craft.sayings import Saying, saying
from shopdesk.craft.yarn import ShelfYarn


def avoided_fibre(yarn: ShelfYarn, wishes: Wishes) -> Saying | None:
    """Returns why the fibre wish rules this yarn out; an unknown blend is ruled out too."""
    if not wishes.avoid_fibres:
        return None
    if not yarn.label.fibres:
        return saying("wishes.fibres_unknown")
    found = sorted(s.fibre for s in yarn.label.fibres if s.fibre in wishes.avoid_fibres)
    return saying("wishes.avoid_fibre", fibre_term=f"terms.fibre.{found[0]}") if found else None


def unmet_wish(candidate: Candidate, ask: Ask) -> Saying | None:
    """Returns the first wish on price, colour or stock that the judged yarn cannot meet."""
    wishes = ask.wishes
    limit = wishes.price_limit
    if limit is not None and candidate.price.total is None:
        return saying("wishes.price_unknown")
    if limit is not None and candidate.price.total is not None and candidate.price.total > limit:
        return saying("wishes.price", limit_price=limit)
    if candidate.colours and _every_part_has_colour(candidate, ask):
        return None
    if wishes.colour_family is not None:
        return saying("wishes.colour", family=wishes.colour_family)
    if wishes.one_lot_only:
        return saying("wishes.one_lot")
    if wishes.in_stock_only:
        return saying("wishes.in_stock")
    return None


def _every_part_has_colour(candidate: Candidate, ask: Ask) -> bool:
    supplied = {choice.part for choice in candidate.colours}
    return all(part.name in supplied for part in ask.parts)


def counted(taken: Sequence[tuple[Saying, str]]) -> tuple[RuledOut, ...]:
    """Returns one line for each wish, with the yarns it took away, in a stable order."""
    by_wish: dict[Saying, list[str]] = {}
    for wish, sku in taken:
        by_wish.setdefault(wish, []).append(sku)
    lines = [RuledOut(wish, tuple(sorted(skus))) for wish, skus in by_wish.items()]
    return tuple(sorted(lines, key=lambda line: (line.wish.code, repr(dict(line.wish.values)))))
