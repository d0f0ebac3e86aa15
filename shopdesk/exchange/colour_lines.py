"""Colours of yarns from a file: one line for each colour of a yarn that is on the shelf."""

from collections.abc import Sequence

from sqlalchemy import select

from shopdesk.craft import lengths
from shopdesk.craft.colours import colour_families
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.exchange.cells import barcode, text_cell, yes_no
from shopdesk.exchange.columns import Field, Values
from shopdesk.exchange.lines import COLOUR_CODE, SKU, Distinct, Work
from shopdesk.exchange.problems import shown
from shopdesk.exchange.reports import LineChange
from shopdesk.exchange.rows import Row
from shopdesk.exchange.stored_rows import colour_values, set_colour
from shopdesk.exchange.undoing import COLOUR, KeptChanges
from shopdesk.exchange.yarn_lines import written
from shopdesk.store.models import Colourway, Yarn

_EMPTY: Values = {"name": "", "family": "", "dark": False, "gtin": None, "retired": False}
_Key = tuple[str, str]


def _family(text: str, _unit: str) -> Values:
    plain = {"gray": "grey"}.get(text.strip().casefold(), text.strip().casefold())
    families = colour_families()
    if plain not in families:
        wrong = message("problem_file.no_family", text=shown(text.strip()))
        raise InputError(wrong, message("problem_shelf.write_one_of", names=", ".join(families)))
    return {"family": plain}


def _twice(line: int) -> Message:
    return message("problem_file.colour_twice", line=line)


class ColourImport:
    """Takes lines of colours, a batch at a time."""

    needed: tuple[tuple[str, ...], ...] = (("sku", "colour"),)

    @staticmethod
    def fields(_currency: str) -> tuple[Field, ...]:
        """Returns the fields that a file of colours may have, in the order of an export."""
        return (
            SKU,
            COLOUR_CODE,
            Field(
                "name",
                text_cell("name", lengths.COLOUR, needed=True),
                ("colour name", "color name"),
            ),
            Field("family", _family, ("colour family", "color family", "farbfamilie")),
            Field("dark", yes_no("dark"), ("dunkel", "foncé")),
            Field("gtin", barcode, ("barcode", "ean", "upc", "strichcode", "code barres")),
            Field("retired", yes_no("retired"), ("discontinued", "ausgelaufen")),
        )

    def __init__(self, work: Work) -> None:
        self._work = work
        self._lines = Distinct(work, _twice, "sku", "colour")
        self._kept = KeptChanges(work.session, work.number) if work.number is not None else None

    def take(self, rows: Sequence[Row]) -> None:
        """Compares a batch of lines with the shelf and, in an import, writes it."""
        lines = self._lines.read(rows)
        yarns, known = self._stored([_key(values) for _, values in lines])
        made = []
        for line, values in lines:
            key = _key(values)
            if key[0] not in yarns:
                wrong = message("problem_file.no_yarn", sku=key[0])
                right = message("problem_file.yarns_first")
                self._work.refuse(line, "sku", key[0], wrong, right)
            elif (after := self._change(line, values, known.get(key))) is not None:
                made.append((yarns[key[0]], key[1], known.get(key), after))
        if self._kept is not None:
            self._write(made, self._kept)
        self._work.session.expunge_all()

    def finish(self) -> None:
        """Every line is written already."""

    def _stored(self, keys: Sequence[_Key]) -> tuple[dict[str, int], dict[_Key, Colourway]]:
        session = self._work.session
        rows = session.execute(
            select(Yarn.sku, Yarn.id).where(Yarn.sku.in_({sku for sku, _ in keys}))
        )
        yarns = {row.sku: row.id for row in rows}
        skus = {key: sku for sku, key in yarns.items()}
        wanted = select(Colourway).where(
            Colourway.yarn_id.in_(skus), Colourway.code.in_({code for _, code in keys})
        )
        found = session.scalars(wanted)
        return yarns, {(skus[colour.yarn_id], colour.code): colour for colour in found}

    def _change(self, line: int, values: Values, colour: Colourway | None) -> Values | None:
        before = _EMPTY if colour is None else colour_values(colour)
        given = {name: value for name, value in values.items() if name in _EMPTY}
        after = {**before, **given}
        missing = [name for name in ("name", "family") if not after[name]]
        sku, code = str(values["sku"]), str(values["colour"])
        what = f"{sku} colour {code}"
        if missing:
            new = message("problem_shelf.colour_of", sku=sku, colour=code)
            wrong = message("problem_file.new_colour", colour=new, field=missing[0])
            right = message("problem_file.give_of_colour", fields=tuple(missing))
            self._work.refuse_line(line, wrong, right)
            return None
        if colour is not None and after == before:
            self._work.tally.unchanged += 1
            return None
        fields = tuple(
            (name, written(name, before[name], ""), written(name, value, ""))
            for name, value in after.items()
            if value != before[name]
        )
        self._work.tally.change(LineChange(line, what, colour is None, fields))
        return after

    def _write(
        self, made: Sequence[tuple[int, str, Colourway | None, Values]], kept: KeptChanges
    ) -> None:
        written_now = []
        for yarn, code, stored, after in made:
            before = None if stored is None else colour_values(stored)
            colour = stored or Colourway(yarn_id=yarn, code=code)
            set_colour(colour, after)
            if stored is None:
                self._work.session.add(colour)
            written_now.append((colour, before, after))
        self._work.session.flush()
        for colour, before, after in written_now:
            kept.keep(COLOUR, colour.id, before, after)
        kept.write()


def _key(values: Values) -> _Key:
    return str(values["sku"]), str(values["colour"])
