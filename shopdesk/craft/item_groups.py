"""Which wearers and items are washed often, belong to small children, or cover fingers."""

from functools import cache

from shopdesk.reference.tables import table


@cache
def members(group: str, kind: str) -> frozenset[str]:
    """Returns the names of a group of reference/item_groups.csv; `kind` is 'wearer' or 'item'."""
    rows = table("item_groups")
    return frozenset(r["name"] for r in rows if (r["group"], r["kind"]) == (group, kind))


def is_in(group: str, item: str, wearer: str) -> bool:
    """True if the wearer or the item belongs to the group."""
    return wearer in members(group, "wearer") or item in members(group, "item")
