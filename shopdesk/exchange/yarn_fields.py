"""What a table of yarns may hold: every stored fact of a label, and the shop's price."""

from collections.abc import Iterable

from shopdesk.craft.care import AXES, axis_values, checked_care
from shopdesk.craft.counts import CountAmbiguous, count_tex
from shopdesk.craft.errors import InputError
from shopdesk.craft.lengths import COUNT, NOTES, PUT_UP, WEIGHT_NAME, YARN
from shopdesk.craft.messages import Message, message, significant
from shopdesk.craft.yarn import Construction, Craft, YarnCount
from shopdesk.exchange.blends import attributes_cell, blend_cell
from shopdesk.exchange.cells import (
    barcode,
    gauge,
    length,
    mass,
    measured,
    no_date,
    optional_text,
    price,
    put_up_cell,
    text_cell,
    tool,
    whole,
    yes_no,
)
from shopdesk.exchange.columns import Field, Reader, Values
from shopdesk.exchange.lines import SKU
from shopdesk.exchange.problems import shown

EMPTY: Values = {
    "name": "", "gtin": None, "weight_name": None, "put_up_printed": "",
    "put_up_g": None, "put_up_m": None, "count_written": None, "count_system": None,
    "knit_stitches_low": None, "knit_stitches_high": None, "knit_rows": None,
    "needle_mm_low": None, "needle_mm_high": None,
    "crochet_stitches_low": None, "crochet_stitches_high": None, "crochet_rows": None,
    "hook_mm_low": None, "hook_mm_high": None, "plies": None, "construction": None,
    "fibres": (), "attributes": (), **dict.fromkeys(AXES),
    "price_minor": None, "hand_dyed": False, "retired": False, "notes": "",
}  # fmt: skip
"""What is stored for a yarn of which nothing is said."""

RANGES = (
    ("knit_stitches_low", "knit_stitches_high"),
    ("needle_mm_low", "needle_mm_high"),
    ("crochet_stitches_low", "crochet_stitches_high"),
    ("hook_mm_low", "hook_mm_high"),
)


def yarn_fields(currency: str) -> tuple[Field, ...]:
    """Returns every field of a yarn, in the order of an export; prices are in `currency`."""
    return (
        SKU,
        Field("name", text_cell("name", YARN, needed=True), ("yarn", "quality", "garn", "nom")),
        Field("gtin", barcode, ("barcode", "ean", "upc", "strichcode", "code barres")),
        Field("weight_name", optional_text("weight_name", WEIGHT_NAME),
              ("weight name", "thickness")),
        Field("put_up", put_up_cell, ("put up", "ball", "skein")),
        Field("put_up_printed", text_cell("put_up_printed", PUT_UP), ("printed put up",)),
        Field("put_up_g", measured("put_up_g", mass), ("mass", "weight", "gewicht", "poids")),
        Field("put_up_m", measured("put_up_m", length), ("length", "lauflänge", "longueur")),
        Field("count_written", optional_text("count_written", COUNT), ("count", "garnnummer")),
        Field("count_system", optional_text("count_system", COUNT), ("count system",)),
        *_gauge_fields("knit", ("gauge", "stitches", "sts", "maschenprobe", "échantillon")),
        *_tool_fields("needle", Craft.KNIT, ("needles", "nadel", "aiguilles")),
        *_gauge_fields("crochet", ()),
        *_tool_fields("hook", Craft.CROCHET, ("häkelnadel", "crochet hook")),
        Field("plies", whole("plies", 1, 64), ("ply count",)),
        Field("construction", _construction),
        Field("fibres", blend_cell, ("fibre", "fiber", "fibers", "composition", "blend",
              "material", "zusammensetzung", "matière")),
        Field("attributes", attributes_cell),
        *(Field(axis, _care(axis)) for axis in AXES),
        Field("price", price(currency), ("retail price", "preis", "prix", "vk")),
        Field("hand_dyed", yes_no("hand_dyed"), ("handgefärbt",)),
        Field("retired", yes_no("retired"), ("discontinued", "ausgelaufen")),
        Field("notes", text_cell("notes", NOTES, lines=True), ("note", "remarks", "bemerkung")),
    )  # fmt: skip


def _gauge_fields(craft: str, names: tuple[str, ...]) -> tuple[Field, ...]:
    low, high, rows = f"{craft}_stitches_low", f"{craft}_stitches_high", f"{craft}_rows"
    both = (f"{craft} gauge", *names)
    return (
        Field(f"{craft}_stitches", gauge(low, high), both),
        Field(low, gauge(low)),
        Field(high, gauge(high)),
        Field(rows, gauge(rows), ("rows", "reihen", "rangs") if craft == "knit" else ()),
    )


def _tool_fields(word: str, craft: Craft, names: tuple[str, ...]) -> tuple[Field, ...]:
    low, high = f"{word}_mm_low", f"{word}_mm_high"
    return (
        Field(word, tool(craft, low, high), (f"{word} size", *names)),
        Field(low, tool(craft, low)),
        Field(high, tool(craft, high)),
    )


def _construction(text: str, _unit: str) -> Values:
    plain = text.strip().casefold()
    if plain and plain not in {each.value for each in Construction}:
        wrong = message("problem_file.no_construction", text=shown(text.strip()))
        raise InputError(wrong, _one_of(Construction))
    return {"construction": plain or None}


def _one_of(values: Iterable[object]) -> Message:
    return message("problem_shelf.write_one_of", names=", ".join(map(str, values)))


def _care(axis: str) -> Reader:
    def read(text: str, _unit: str) -> Values:
        no_date(text)
        written = text.strip().removesuffix("°C").removesuffix("°").strip()
        plain = " ".join(written.casefold().split())
        for value in axis_values(axis):
            if str(value) == plain:
                return {axis: value}
        if not plain:
            return {axis: None}
        wrong = message("problem_file.no_care", text=shown(text.strip()))
        raise InputError(wrong, _one_of(reversed(axis_values(axis))))

    return read


def whole_yarn(values: Values) -> Values:
    """Returns a yarn's values with open ranges closed. Raises InputError if they contradict.

    A range of which one end is given is that one number.
    """
    whole_values = dict(values)
    for low, high in RANGES:
        first, last = whole_values[low], whole_values[high]
        whole_values[low] = last if first is None else first
        whole_values[high] = first if last is None else last
        _check_upward(low, whole_values[low], whole_values[high])
    checked_care({axis: whole_values[axis] for axis in AXES})
    _check_count(whole_values)
    return whole_values


def _check_upward(field: str, low: object, high: object) -> None:
    if isinstance(low, float) and isinstance(high, float) and low > high:
        name = field.removesuffix("_low").replace("_", " ")
        ends = {"low_exact": significant(low, 6), "high_exact": significant(high, 6)}
        wrong = message("problem_file.range_down", name=name, **ends)
        raise InputError(wrong, message("problem_file.lower_first"))


def _check_count(values: Values) -> None:
    written = values["count_written"]
    if not isinstance(written, str):
        if values["count_system"] is not None:
            wrong = message("problem_file.system_alone")
            raise InputError(wrong, message("problem_file.write_its_count"))
        return
    try:
        count_tex(YarnCount(written, str(values["count_system"] or "")))
    except CountAmbiguous:
        raise InputError(
            message("problem_file.count_depends", text=written),
            message("problem_file.name_system"),
        ) from None
