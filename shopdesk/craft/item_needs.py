"""How much yarn an item takes when the pattern does not say: its area times yarn per area.

Where the measurement that decides is not known, the wearer's usual one stands in for it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache

from shopdesk.craft.fabric import pattern_metres_per_m2
from shopdesk.craft.figures import Basis, Figure, product, spread
from shopdesk.craft.items import Measurements, item_area_cm2, item_models
from shopdesk.craft.messages import Message, message, term_code
from shopdesk.reference.tables import constant, table

CM2_PER_M2 = 10000


def need_from_item(
    kind: str,
    measurements: Measurements,
    stitches: float,
    rows: float | None,
    stitch_pattern: str,
    wearer: str = "unknown",
) -> Figure | None:
    """Returns the metres of yarn that an item takes, with its trim.

    `stitches` and `rows` per 10 cm are counted in `stitch_pattern`. The interval is at least as
    wide as published amounts for one size and gauge differ; plan by `quantity.planning_m`. Where
    its ends are far apart a note names what would bring them nearer. None where the kind has no
    model, or a measurement is unknown that the wearer does not tell either. Sources: Munden
    (1959) for yarn per area, common practice and judgement for the shapes.
    """
    area = area_or_usual(kind, measurements, wearer)
    if area is None:
        return None
    per_m2 = pattern_metres_per_m2(stitch_pattern, stitches, rows)
    model = spread(1.0, 2 * _model("yarn_model"), Basis.ESTIMATE)
    trim = item_models()[kind].trim
    need = product(Basis.ESTIMATE, area.scaled(1 / CM2_PER_M2), per_m2, trim, model)
    wide = _as_published(need)
    notes = (message("amount.published_spread"), *wide.notes)
    return replace(wide, notes=(*notes, *_narrowing(wide, kind, measurements, stitch_pattern)))


def area_or_usual(kind: str, measurements: Measurements, wearer: str) -> Figure | None:
    """Returns the item's area in cm2, by the wearer's usual size where a measurement lacks.

    A note of code `amount.usual_size` says so. None as in `need_from_item`.
    """
    known = item_area_cm2(kind, measurements)
    if known is not None:
        return known
    sizes = [row for row in usual_sizes(kind, wearer) if _lacks(measurements, row["measure"])]
    low, middle, high = (
        item_area_cm2(kind, _filled(measurements, sizes, end)) for end in ("low", "value", "high")
    )
    if low is None or middle is None or high is None:
        return None
    size = Figure(1.0, low.value / middle.value, high.value / middle.value, Basis.ESTIMATE)
    area = product(Basis.ESTIMATE, middle, size)
    return replace(area, notes=(*(_usual_size(row) for row in sizes), *area.notes))


@cache
def usual_sizes(kind: str, wearer: str) -> tuple[Mapping[str, str], ...]:
    """Returns the rows of usual_sizes.csv for an item of this kind, or of its wider one."""
    model = item_models().get(kind)
    names = (kind,) if model is None else (kind, model.kind_of)
    return tuple(r for r in table("usual_sizes") if r["item"] in names and r["wearer"] == wearer)


def is_rough(need: Figure) -> bool:
    """True if the wearer's usual size stands in for a measurement that decides."""
    return any(note.code == "amount.usual_size" for note in need.notes)


def _lacks(measurements: Measurements, measure: str) -> bool:
    return getattr(measurements, f"{measure}_cm") is None


def _filled(measurements: Measurements, sizes: list[Mapping[str, str]], end: str) -> Measurements:
    return replace(measurements, **{f"{row['measure']}_cm": float(row[end]) for row in sizes})


def _usual_size(row: Mapping[str, str]) -> Message:
    return message(
        "amount.usual_size",
        measure_term=term_code("measure", row["measure"]),
        wearer_term=term_code("wearer", row["wearer"]),
        low_cm=float(row["low"]),
        high_cm=float(row["high"]),
    )


def _as_published(need: Figure) -> Figure:
    """Never surer than published amounts for one size and gauge agree."""
    share = _model("published_spread")
    low, high = need.value * (1 - share), need.value * (1 + share)
    return replace(need, low=min(need.low, low), high=max(need.high, high))


def _narrowing(
    need: Figure, kind: str, measurements: Measurements, stitch_pattern: str
) -> Iterator[Message]:
    """What would bring the ends of a wide estimate nearer, what is unknown first."""
    if need.high <= _model("wide_ratio") * need.low and not is_rough(need):
        return
    terms = [note.values["measure_term"] for note in need.notes if "measure_term" in note.values]
    more = item_models()[kind].narrowed_by
    if more is not None and getattr(measurements, f"{more}_cm", None) is None:
        terms.append(term_code("measure", more))
    if stitch_pattern == "other":
        terms.append(term_code("measure", "stitch pattern"))
    elif stitch_pattern != "stockinette":
        terms.append(term_code("measure", "swatch"))
    yield message("amount.would_narrow", measure_terms=tuple(str(term) for term in terms))


def _model(name: str) -> float:
    return constant("item_models", name).value
