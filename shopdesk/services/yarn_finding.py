"""Finding yarns on the shelf as one types or scans, and showing all that is known of one."""

from shopdesk.craft import lengths
from shopdesk.shelf.loading import YarnUnknown
from shopdesk.shelf.search import SearchResult, YarnQuery, search_yarns, sku_of, suggest
from shopdesk.shelf.yarn_view import YarnView, yarn_view
from shopdesk.shop.shop import Shop


def find_yarns(shop: Shop, query: YarnQuery) -> SearchResult:
    """Returns the yarns that meet every part of the query, and whether there are more."""
    with shop.read() as session:
        return search_yarns(session, query)


def suggest_yarns(shop: Shop, typed: str) -> list[tuple[str, str]]:
    """Returns SKU and name of the first yarns that go on from what is being typed."""
    with shop.read() as session:
        return suggest(session, typed[: lengths.SEARCH])


def identify_scan(shop: Shop, text: str) -> str | None:
    """Returns the SKU of the one yarn that this is the article number or barcode of, else None."""
    with shop.read() as session:
        return sku_of(session, text) if text else None


def show_yarn(shop: Shop, sku: str) -> YarnView:
    """Returns one yarn with all that the shop knows of it. Raises YarnUnknown."""
    with shop.read() as session:
        view = yarn_view(session, sku)
    if view is None:
        raise YarnUnknown(sku)
    return view
