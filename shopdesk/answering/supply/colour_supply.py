"""For each part, how every colour of a yarn could supply it, from which dye lots."""

from collections import defaultdict

from shopdesk.answering.model.answer import ColourSupply, LotQuantity, PartAmount
from shopdesk.answering.model.ask import Wishes
from shopdesk.craft.colours import may_bleed
from shopdesk.craft.lots import bring_over, only_in, plan_lots
from shopdesk.craft.yarn import LotStock, ShelfYarn


def colour_supplies(
    yarn: ShelfYarn, amounts: tuple[PartAmount, ...], wishes: Wishes, branch: str = ""
) -> tuple[ColourSupply, ...]:
    """Returns a choice for every part and colour: wished colours first, one lot before a split.

    `branch` is the one that plans the lots; '' tells of none that it must be brought over.
    """
    stock = _stock_by_colour(yarn)
    family = wishes.colour_family
    wished = [lots for lots in stock.values() if family in (None, lots[0].colour_family)]
    choices = [_supply(yarn, amount, lots, branch) for amount in amounts for lots in wished]
    wanted = [c for c in choices if _is_wanted(c, wishes)]
    part_order = {amount.part: index for index, amount in enumerate(amounts)}
    return tuple(sorted(wanted, key=lambda c: (part_order[c.part], *_preference(c))))


def _stock_by_colour(yarn: ShelfYarn) -> dict[str, list[LotStock]]:
    stock: dict[str, list[LotStock]] = defaultdict(list)
    for lot in yarn.lots:
        stock[lot.colour_code].append(lot)
    return stock


def _is_wanted(choice: ColourSupply, wishes: Wishes) -> bool:
    if wishes.in_stock_only and (choice.short_by or not choice.available):
        return False
    return not (wishes.one_lot_only and not choice.one_lot)


def _preference(choice: ColourSupply) -> tuple[bool, bool, str, str]:
    return (choice.short_by > 0, not choice.one_lot, choice.colour_name, choice.colour_code)


def _supply(yarn: ShelfYarn, amount: PartAmount, lots: list[LotStock], branch: str) -> ColourSupply:
    plan = plan_lots(amount.skeins or 0, [(lot.lot, lot.available) for lot in lots], yarn.hand_dyed)
    first = lots[0]
    away = only_in(branch, lots) if branch else ()
    return ColourSupply(
        part=amount.part,
        colour_code=first.colour_code,
        colour_name=first.colour_name,
        colour_family=first.colour_family,
        gtin=first.gtin or yarn.gtin,
        available=sum([lot.available for lot in lots]),
        picks=tuple(LotQuantity(pick.lot, pick.skeins, pick.left) for pick in plan.picks),
        one_lot=plan.one_lot,
        short_by=plan.short_by,
        advice=(
            *plan.advice,
            *may_bleed(first.colour_family, first.colour_name, yarn.hand_dyed),
        ),
        dark=first.dark,
        bring_over=bring_over([first.colour_name], away) if away else None,
    )
