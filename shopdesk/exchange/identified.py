"""Which colour a line of stock is about: by article number and colour code, or by barcode."""

import json
from collections.abc import Sequence

from sqlalchemy import select, text
from sqlalchemy.orm import Session

from shopdesk.craft.messages import Message, message
from shopdesk.exchange.columns import Values
from shopdesk.exchange.lines import Work
from shopdesk.parsing.gtins import article_key
from shopdesk.store.models import Colourway, Yarn

BY_NUMBER = ("sku", "colour")
BY_BARCODE = ("gtin",)
MOST_LISTED = 12
Cells = Sequence[str]


class ByNumber:
    """Finds colours by the article number of their yarn and their own code."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._colours = _colours(work.session)
        self._guarded = any(
            _is_guard(sku) or any(map(_is_guard, codes)) for sku, codes in self._colours.items()
        )

    def of_columns(self, columns: Sequence[Cells]) -> list[int]:
        """Returns the keys of a batch's colours. Raises KeyError if one is not known as written.

        An apostrophe may be a guard that the import takes away, so such shelves go line by line.
        """
        if self._guarded:
            raise KeyError
        known = self._colours
        skus, codes = (columns[self._work.place(key) or 0] for key in BY_NUMBER)
        return [known[sku][code] for sku, code in zip(skus, codes, strict=True)]

    def of_line(self, line: int, values: Values) -> int | None:
        """Returns the key of a line's colour, or None after counting the line as refused."""
        sku, code = str(values["sku"]), str(values["colour"])
        if sku not in self._colours:
            wrong = message("problem_file.no_yarn_with_colours", sku=sku)
            right = message("problem_file.colours_first")
            self._work.refuse(line, "sku", sku, wrong, right)
            return None
        if code not in self._colours[sku]:
            wrong = message("problem_file.no_colour", sku=sku, colour=code)
            known = ", ".join(sorted(self._colours[sku])[:MOST_LISTED])
            right = message("problem_shelf.give_one_of", names=known)
            self._work.refuse(line, "colour", code, wrong, right)
            return None
        return self._colours[sku][code]


class ByBarcode:
    """Finds colours by their barcode; that of a yarn will do if the yarn has one colour."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._found = _by_barcode(work.session)
        self._as_scanned = {
            scanned: colours[0]
            for key, colours in self._found.items()
            if len(colours) == 1
            for scanned in _ways_to_write(key)
        }

    def of_columns(self, columns: Sequence[Cells]) -> list[int]:
        """Returns the keys of a batch's colours. Raises KeyError if one is not known as written."""
        return [self._as_scanned[cell] for cell in columns[self._work.place("gtin") or 0]]

    def of_line(self, line: int, values: Values) -> int | None:
        """Returns the key of a line's colour, or None after counting the line as refused."""
        gtin = values["gtin"]
        if not isinstance(gtin, str):
            wrong = message("problem_reading.nothing")
            self._refuse(line, "", wrong, message("problem_file.write_barcode"))
            return None
        found = self._found.get(article_key(gtin), ())
        if len(found) == 1:
            return found[0]
        if found:
            wrong = message("problem_file.colours_share", count=len(found), digits=gtin)
            self._refuse(line, gtin, wrong, message("problem_file.give_instead", fields=BY_NUMBER))
        else:
            wrong = message("problem_file.no_such_barcode", digits=gtin)
            self._refuse(line, gtin, wrong, message("problem_file.barcode_first"))
        return None

    def _refuse(self, line: int, gtin: str, wrong: Message, right: Message) -> None:
        self._work.refuse(line, "gtin", gtin, wrong, right)


Identifying = ByNumber | ByBarcode


def identifying(work: Work) -> Identifying:
    """Returns how the lines of a file say their colours."""
    return ByNumber(work) if work.place("gtin") is None else ByBarcode(work)


def _is_guard(name: str) -> bool:
    return name.startswith("'")


def _ways_to_write(key: str) -> set[str]:
    """Returns a 14-digit key with fewer of its leading zeros, as EAN-8, UPC-12 and EAN-13 are."""
    return {key[len(key) - digits :] for digits in (8, 12, 13, 14) if not key[:-digits].strip("0")}


def _colours(session: Session) -> dict[str, dict[str, int]]:
    """Returns the key of every colour by article number and code: one row for each yarn."""
    gathered = _GATHERED[session.get_bind().dialect.name]
    wanted = text(
        f"SELECT y.sku, {gathered} AS colours FROM yarn y JOIN colourway c ON c.yarn_id = y.id "
        "GROUP BY y.id"
    )
    return {row.sku: json.loads(row.colours) for row in session.execute(wanted)}


_GATHERED = {
    "sqlite": "json_group_object(c.code, c.id)",
    "postgresql": "json_object_agg(c.code, c.id)::text",
}


def _by_barcode(session: Session) -> dict[str, list[int]]:
    """Returns the keys of the colours of every barcode, in its 14-digit form."""
    found: dict[str, list[int]] = {}
    own = select(Colourway.gtin_key, Colourway.id).where(Colourway.gtin_key.is_not(None))
    for key, colour in session.execute(own):
        found.setdefault(str(key), []).append(colour)
    of_yarn = select(Yarn.gtin_key, Colourway.id).join_from(Yarn, Colourway)
    inherited: dict[str, list[int]] = {}
    for key, colour in session.execute(of_yarn.where(Yarn.gtin_key.is_not(None))):
        if key not in found:
            inherited.setdefault(str(key), []).append(colour)
    return found | inherited
