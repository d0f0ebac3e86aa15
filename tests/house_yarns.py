"""Invents house yarns of every weight and fibre, as a shop of any size might keep them.

All of it is made up: proportions are only such that what is found is plausible.
"""

import random
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from itertools import product
from typing import Any

from shopdesk.shelf.index_keeping import plain_words

STARTS = "Amber Birk Craven Dapple Ewe Fenner Gallow Hallow Inger Jessa Kester Lang Marl Nether"
ENDINGS = "beck dale fell thwaite scar mere rigg ghyll garth holm ley wath"
COTTON_METRES_PER_GRAM = 840 * 0.9144 / 453.59237
"""Of cotton count 1: 840 yards in a pound (ASTM D2260)."""
LAST_DAY = date(2026, 11, 24)


@dataclass(frozen=True, slots=True)
class Weight:
    """What is usual of one weight: names, metres per 100 g, stitches per 10 cm, needle in mm."""

    share: int
    names: tuple[str, ...]
    metres: tuple[float, float]
    stitches: tuple[float, float]
    needle_mm: tuple[float, float]
    crochet: tuple[float, float]


WEIGHTS = (
    Weight(8, ("lace", "cobweb", "light fingering"), (480, 1000), (28, 36), (2, 3.25), (26, 38)),
    Weight(20, ("fingering", "sock", "4-ply"), (340, 470), (27, 32), (2.25, 3.25), (21, 30)),
    Weight(17, ("sport", "baby", "5-ply"), (250, 350), (23, 26), (3.25, 3.75), (16, 20)),
    Weight(26, ("DK", "8-ply", "light worsted"), (200, 260), (20, 24), (3.75, 4.5), (12, 17)),
    Weight(18, ("worsted", "aran", "10-ply", "afghan"), (135, 215), (16, 20), (4.5, 5.5), (11, 14)),
    Weight(7, ("chunky", "bulky", "craft"), (85, 130), (12, 15), (5.5, 8), (8, 11)),
    Weight(4, ("super bulky", "roving"), (42, 85), (7, 11), (8, 12), (7, 9)),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Blend:
    """Fibres as 'wool 75, polyamide 25', words that may go with them, and how it is cared for."""

    fibres: str
    care: str
    attributes: tuple[str, ...] = ("",)
    share: int = 2

    @property
    def shares(self) -> list[tuple[str, Decimal]]:
        """Each fibre's key with its percent."""
        lines = (line.rsplit(maxsplit=1) for line in self.fibres.split(", "))
        return [(fibre, Decimal(percent)) for fibre, percent in lines]


UNTREATED = ("", "", "merino", "lambswool", "shetland", "bluefaced leicester", "untreated")
TREATED = ("superwash", "merino, superwash", "merino, superwash, organic")
BLENDS = (
    Blend("wool 100", "wool", UNTREATED, 16),
    Blend("wool 100", "treated", TREATED, 16),
    Blend("wool 75, polyamide 25", "treated", ("superwash", "merino, superwash"), 12),
    Blend("wool 80, polyamide 20", "treated", ("superwash",), 5),
    Blend("wool 72.5, polyamide 20, elastane 7.5", "treated", ("superwash",), 2),
    Blend("wool 50, acrylic 50", "synthetic", ("", "superwash"), 6),
    Blend("wool 50, acrylic 25, polyamide 25", "synthetic", ("", "superwash"), 3),
    Blend("wool 85, alpaca 10, viscose 5", "wool"),
    Blend("wool 70, silk 30", "wool", ("", "merino"), 4),
    Blend("wool 60, alpaca 40", "wool", ("", "baby alpaca"), 4),
    Blend("wool 85, cashmere 15", "treated", ("merino, superwash",)),
    Blend("wool 60, angora 40", "wool"),
    Blend("wool 80, yak 20", "wool", ("", "merino")),
    Blend("wool 50, cotton 50", "wool", ("", "merino", "organic")),
    Blend("wool 50, mohair 40, polyamide 10", "wool"),
    Blend("alpaca 100", "wool", ("", "baby alpaca", "suri", "undyed"), 6),
    Blend("llama 60, wool 40", "wool"),
    Blend("mohair 70, silk 30", "wool", ("kid",), 5),
    Blend("mohair 78, wool 13, polyamide 9", "wool"),
    Blend("cashmere 100", "wool"),
    Blend("camel 50, silk 50", "wool"),
    Blend("silk 100", "silk", ("", "mulberry", "tussah"), 3),
    Blend("cotton 100", "cotton", ("", "", "mercerised", "organic", "recycled", "pima"), 16),
    Blend("cotton 60, linen 40", "linen", ("", "organic"), 3),
    Blend("cotton 50, acrylic 50", "synthetic", ("",), 4),
    Blend("cotton 60, polyester 40", "synthetic", ("recycled",)),
    Blend("cotton 93, elastane 7", "cotton"),
    Blend("cotton 85, cashmere 15", "linen"),
    Blend("linen 100", "linen", ("", "undyed"), 3),
    Blend("hemp 55, cotton 45", "linen"),
    Blend("ramie 55, cotton 45", "linen"),
    Blend("viscose 100", "silk", ("", "bamboo"), 4),
    Blend("viscose 65, polyester 35", "silk"),
    Blend("lyocell 100", "silk"),
    Blend("modal 50, cotton 50", "linen"),
    Blend("acrylic 100", "synthetic", ("",), 14),
    Blend("acrylic 80, wool 20", "synthetic", ("",), 4),
    Blend("acrylic 55, polyamide 45", "synthetic", ("",), 3),
    Blend("polyester 100", "synthetic", ("", "recycled"), 2),
    Blend("polyamide 100", "synthetic", ("",), 1),
    Blend("protein 50, cotton 50", "silk", ("",), 1),
    Blend("wool 70, polylactide 30", "wool", ("superwash",), 1),
    Blend("viscose 80, metallic 20", "silk", ("",), 1),
    Blend("other 100", "wool", ("recycled",), 1),
)

Care = tuple[int | None, str | None, str | None, str | None, str | None, int | None, str | None,
             str | None]  # fmt: skip
AXES = ("wash_c", "wash_action", "bleach", "tumble", "natural_drying", "iron_c", "dry_clean",
        "wet_clean")  # fmt: skip


def _labels(
    washes: str, tumbles: str, drying: str, irons: tuple[int | None, ...], cleaning: str
) -> list[Care]:
    """Every label of these washes ('30 hand', 'do not wash', '40 mild') and other axes."""
    found: list[Care] = []
    for wash, tumble, dry, iron, clean in product(
        washes.split("; "), tumbles.split("; "), drying.split("; "), irons, cleaning.split("; ")
    ):
        degrees, _, action = wash.partition(" ")
        known = degrees.isdecimal()
        found.append((int(degrees) if known else None, action if known else wash, "none",
                      tumble or None, dry, iron, clean or None, None))  # fmt: skip
    return found


CARE = {
    "wool": _labels("30 hand; 30 very mild; do not wash", "none", "flat; flat in shade", (110, ),
                    "any; any mild"),
    "treated": _labels("40 mild; 30 very mild; 40 very mild", "none; low", "flat", (110, ),
                       "any; "),
    "cotton": _labels("60 normal; 40 normal", "low; normal", "line; flat", (200, ), "any; "),
    "linen": _labels("40 mild; 30 mild", "none", "flat; line in shade", (150, 200), "any"),
    "synthetic": _labels("40 mild; 30 mild", "none; low", "flat; line", (0, ), "none; "),
    "silk": _labels("30 hand; 30 very mild", "none", "flat in shade; drip", (110, ), "any mild"),
}  # fmt: skip
"""Labels as bands have them: in words, on the axes of ISO 3758; what they say is invented."""

COLOURS = (
    ("Chalk", "white", False), ("Milk", "white", False), ("Oat", "cream", False),
    ("Straw", "yellow", False), ("Marigold", "orange", False), ("Rosehip", "red", True),
    ("Brick", "red", True), ("Thrift", "pink", False), ("Clover", "pink", False),
    ("Damson", "purple", True), ("Mallow", "purple", False), ("Harbour", "blue", False),
    ("Midnight", "blue", True), ("Ice", "blue", False), ("Kingfisher", "turquoise", False),
    ("Bottle", "green", True), ("Moss", "green", False), ("Fern", "green", False),
    ("Walnut", "brown", True), ("Bark", "brown", True), ("Slate", "grey", False),
    ("Ash", "grey", False), ("Black", "black", True), ("Pebbles", "multi", False),
)  # fmt: skip
"""Names with the family and whether the colour is dark, as a shop would note them."""
COLOUR_FAMILIES = tuple(dict.fromkeys(family for _, family, _ in COLOURS))


@dataclass(frozen=True, slots=True)
class HouseYarn:
    """One invented yarn: the columns of its row, and the rows that hang on it."""

    row: dict[str, Any]
    fibres: list[tuple[str, Decimal]]
    attributes: list[str]
    measured: list[dict[str, Any]] = field(default_factory=list)


def house_yarn(chance: random.Random, number: int) -> HouseYarn:
    """Returns the yarn of this number; every column of the row is there, so that rows are alike."""
    weight = chance.choices(WEIGHTS, [one.share for one in WEIGHTS])[0]
    blend = chance.choices(BLENDS, [one.share for one in BLENDS])[0]
    metres = chance.uniform(*weight.metres)
    attributes = [word for word in chance.choice(blend.attributes).split(", ") if word]
    care = chance.choice(CARE[blend.care]) if chance.random() < 0.8 else (None,) * len(AXES)
    grams = chance.choice((25, 50, 50, 50, 50, 100, 100, 100, 200))
    hand_dyed = chance.random() < 0.06
    row = {
        "id": number,
        "sku": f"HY-{number:06d}",
        "name": f"{chance.choice(STARTS.split())}{chance.choice(ENDINGS.split())} {number}",
        "weight_name": chance.choice(weight.names) if chance.random() < 0.95 else None,
        **_put_up(chance, grams, metres),
        **_gauges(chance, weight, metres),
        "plies": chance.choice((None, 1, 2, 2, 3, 3, 4, 4, 4, 5, 8)),
        "construction": _construction(chance, blend),
        **dict(zip(AXES, care, strict=True)),
        "price_minor": round(grams * chance.uniform(5, 28) / 10) * 10,
        "notes": chance.choice(("", "", "", "Kept by the window.", "Blooms in the first wash.")),
        "hand_dyed": hand_dyed,
        "retired": chance.random() < 0.04,
        "gtin": None,
        "gtin_key": None,
        "version_id": 1,
    }
    made = [*attributes, *(["hand-dyed"] if hand_dyed else [])]
    return HouseYarn(row, blend.shares, made, _measurements(chance, weight, metres))


def _put_up(chance: random.Random, grams: int, metres: float) -> dict[str, Any]:
    """A band with grams and metres (or yards); a cone with a count; now and then only grams."""
    kept = {"put_up_printed": f"{grams} g", "put_up_g": grams, "put_up_m": None,
            "count_written": None, "count_system": None}  # fmt: skip
    kind = chance.random()
    if kind < 0.03:
        return kept
    if kind < 0.09:
        return kept | _count(chance, metres)
    length = float(round(metres * grams / 100))
    if kind < 0.3:
        yards = round(length / 0.9144)
        return kept | {"put_up_printed": f"{grams} g / {yards} yd", "put_up_m": yards * 0.9144}
    return kept | {"put_up_printed": f"{grams} g / {length:.0f} m", "put_up_m": length}


def _count(chance: random.Random, metres: float) -> dict[str, Any]:
    """A cone's count: by plies and single where the yarn is fine enough to be read one way."""
    written, system = chance.choice(_counts(chance.choice((2, 2, 3)), metres / 100))
    cone = {"put_up_printed": f"500 g cone, {written}", "put_up_g": 500}
    return {"count_written": written, "count_system": system, **cone}


def _counts(plies: int, metres_per_gram: float) -> list[tuple[str, str]]:
    cotton = metres_per_gram / COTTON_METRES_PER_GRAM
    counts = [(f"{1000 / metres_per_gram:.0f} tex", "tex"), (f"{metres_per_gram:.1f}", "nm")]
    if metres_per_gram > 2.2:
        counts.append((f"{plies}/{plies * metres_per_gram:.0f}", "nm"))
    if cotton > 2.2:
        counts.append((f"{plies * cotton:.0f}/{plies}", "cotton"))
    return counts


def halves(value: float) -> float:
    """Returns the nearest half, as gauges are written."""
    return round(value * 2) / 2


def _gauges(chance: random.Random, weight: Weight, metres: float) -> dict[str, Any]:
    """A knitted gauge on most bands, finer yarns at more stitches; a crocheted one on some."""
    low_m, high_m = weight.metres
    fine = (metres - low_m) / (high_m - low_m)
    knit = _gauge(chance, "knit", "needle", weight.stitches, weight.needle_mm, fine)
    crochet = _gauge(chance, "crochet", "hook", weight.crochet, weight.needle_mm, fine)
    kept = {}
    for gauge, share in ((knit, 0.82), (crochet, 0.22)):
        given = chance.random() < share
        kept |= gauge if given else dict.fromkeys(gauge)
    return kept


def _gauge(
    chance: random.Random,
    craft: str,
    tool: str,
    stitches: tuple[float, float],
    tool_mm: tuple[float, float],
    fine: float,
) -> dict[str, float | None]:
    place = min(1.0, max(0.0, fine + chance.gauss(0, 0.3)))
    low = high = halves(stitches[0] + place * (stitches[1] - stitches[0]))
    if chance.random() < 0.35:
        high = low + chance.choice((1, 2, 2, 3))
    mm = round((tool_mm[1] - place * (tool_mm[1] - tool_mm[0])) * 4) / 4
    rows = halves(low * chance.uniform(1.25, 1.45)) if chance.random() < 0.8 else None
    return {
        f"{craft}_stitches_low": low,
        f"{craft}_stitches_high": high,
        f"{craft}_rows": rows,
        f"{tool}_mm_low": mm,
        f"{tool}_mm_high": mm + (0.5 if high > low else 0),
    }


def _construction(chance: random.Random, blend: Blend) -> str | None:
    if blend.fibres.startswith("mohair"):
        return "brushed"
    usual = ("plied",) * 12 + ("single", "cabled", "chainette", "brushed", "boucle", "roving")
    return chance.choice((*usual, "tape", "corespun", None, None))


def _measurements(chance: random.Random, weight: Weight, metres: float) -> list[dict[str, Any]]:
    """What the shop measured itself: wraps, swatches, weighed lengths, each on some yarns."""
    wanted = (
        (0.18, "wraps", lambda: {"wraps_per_inch": halves(metres**0.5 * chance.uniform(0.7, 1))}),
        (0.2, "swatch", lambda: _swatch(chance, weight)),
        (0.05, "swatch", lambda: _swatch(chance, weight)),
        (0.06, "length", lambda: {"length_m": 10.0, "mass_g": round(1000 / metres, 2)}),
    )  # fmt: skip
    empty = dict.fromkeys(("wraps_per_inch", "stitches", "stitch_rows", "tool_mm", "washed",
                           "length_m", "mass_g", "hand", "slip_number"))  # fmt: skip
    return [
        {
            **empty, "stitch_pattern": "stockinette", "craft": "knit", "strands": 1,
            "from_customer": False, "kind": kind, "taken_by": chance.choice(("MB", "RO", "TK")),
            "taken_on": LAST_DAY - timedelta(days=chance.randrange(700)), **values(),
        }
        for share, kind, values in wanted
        if chance.random() < share
    ]  # fmt: skip


def _swatch(chance: random.Random, weight: Weight) -> dict[str, Any]:
    stitches = halves(chance.uniform(*weight.stitches))
    return {
        "stitches": stitches,
        "stitch_rows": halves(stitches * 1.35),
        "tool_mm": round(chance.uniform(*weight.needle_mm) * 4) / 4,
        "washed": chance.random() < 0.8,
        "from_customer": chance.random() < 0.3,
    }


def words_of(yarn: HouseYarn) -> set[str]:
    """Returns the words that the yarn is found by."""
    names = (yarn.row["name"], yarn.row["sku"], yarn.row["weight_name"])
    return {word for name in names if name for word in plain_words(name)}
