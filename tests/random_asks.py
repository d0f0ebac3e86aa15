"""Asks as customers might bring them, of every kind, by chance."""

import random
from typing import Any

from shopdesk.answering.model.ask import Drying, Feature, ItemKind, StitchPattern, Washing, Wearer
from shopdesk.craft.tools import tool_numbers
from shopdesk.craft.yarn import Construction, Craft
from tests.ask_documents import a_length, a_put_up
from tests.house_yarns import AXES, BLENDS, CARE, COLOUR_FAMILIES, WEIGHTS, Weight, halves

Document = dict[str, Any]

KNITTED = {
    StitchPattern.STOCKINETTE: 12, StitchPattern.GARTER: 2, StitchPattern.RIB: 2,
    StitchPattern.SEED: 1, StitchPattern.CABLES: 2, StitchPattern.LACE: 3,
    StitchPattern.STRANDED: 2, StitchPattern.BRIOCHE: 1, StitchPattern.OTHER: 1,
}  # fmt: skip
CROCHETED = {
    StitchPattern.SINGLE_CROCHET: 4, StitchPattern.HALF_DOUBLE_CROCHET: 2,
    StitchPattern.DOUBLE_CROCHET: 3, StitchPattern.OPENWORK_CROCHET: 3, StitchPattern.OTHER: 1,
}  # fmt: skip
MEASURED_CM = {
    "chest": (40, 140), "width": (15, 150), "length": (8, 200), "around": (12, 60), "foot": (8, 30),
}  # fmt: skip
MEASURES = {
    "chest length": (ItemKind.PULLOVER, ItemKind.CARDIGAN, ItemKind.VEST, ItemKind.DRESS),
    "around": (ItemKind.HAT, ItemKind.MITTS),
    "around foot": (ItemKind.SOCKS, ItemKind.BOOTEES),
}
SIZES = ("XS", "S", "M", "L", "XL", "2XL")
AVOIDED = ("wool", "mohair", "alpaca", "acrylic", "polyamide", "silk", "cotton", "angora")


def random_ask(chance: random.Random) -> Document:
    """Returns an ask document with a gauge, a designer's yarn or both, and whatever else chances.

    Numbers are plausible for the weight that the pattern is meant for, not for each other in
    every respect: customers bring such patterns.
    """
    weight = chance.choices(WEIGHTS, [one.share for one in WEIGHTS])[0]
    craft = Craft.CROCHET if chance.random() < 0.25 else Craft.KNIT
    sizes = _sizes(chance) if chance.random() < 0.4 else None
    ask: Document = {
        "title": f"pattern {chance.randrange(10_000)}",
        "craft": craft.value,
        "item": _item(chance),
        "parts": _parts(chance, weight, len(sizes["names"]) if sizes else 1),
        "wearer": chance.choice(list(Wearer)).value,
        "washing": chance.choice(list(Washing)).value,
        "drying": chance.choice(list(Drying)).value,
        "wishes": _wishes(chance),
    }
    kind = chance.random()
    if kind < 0.85:
        ask["gauge"] = _gauge(chance, weight, craft)
    if kind < 0.6 or kind >= 0.85:
        ask["designer_yarn"] = _designer_yarn(chance, weight, craft)
    if chance.random() < 0.6:
        ask["tool"] = _tool(chance, weight, craft)
    if sizes:
        ask["sizes"] = sizes
    return ask


def _item(chance: random.Random) -> Document:
    kind = chance.choice(list(ItemKind))
    usual = next((names for names, kinds in MEASURES.items() if kind in kinds), "width length")
    return {
        "kind": kind.value,
        "measurements": {
            name: a_length(chance.randint(*MEASURED_CM[name]))
            for name in usual.split()
            if chance.random() < 0.7
        },
        "features": [one.value for one in Feature if chance.random() < 0.08],
    }


def _gauge(chance: random.Random, weight: Weight, craft: Craft) -> Document:
    """The pattern's gauge: now and then looser or firmer than is usual for the weight."""
    usual = weight.stitches if craft is Craft.KNIT else weight.crochet
    stitches = halves(chance.uniform(*usual) * chance.choice((1, 1, 1, 1, 0.8, 0.9, 1.1)))
    patterns = KNITTED if craft is Craft.KNIT else CROCHETED
    gauge: Document = {"stitches": stitches, "over": a_length(10)}
    if chance.random() < 0.1:
        gauge = {"stitches": max(1, halves(stitches / 4)), "over": a_length(1, "in")}
    if chance.random() < 0.7:
        gauge["rows"] = halves(gauge["stitches"] * chance.uniform(1.2, 1.5))
    if chance.random() < 0.8:
        pattern = chance.choices(list(patterns), list(patterns.values()))[0]
        gauge["stitch_pattern"] = pattern.value
    if chance.random() < 0.5:
        gauge["after_washing"] = chance.random() < 0.7
    return gauge


def _tool(chance: random.Random, weight: Weight, craft: Craft) -> Document:
    mm = round(chance.uniform(*weight.needle_mm) * 4) / 4
    us, _ = tool_numbers(mm, craft)
    if us is not None and craft is Craft.KNIT and chance.random() < 0.3:
        return {"size": us, "system": "US"}
    return {"size": f"{mm:g}", "system": "mm"}


def _designer_yarn(chance: random.Random, weight: Weight, craft: Craft) -> Document:
    """What is known of the designer's yarn: at least its weight or its put-up."""
    blend = chance.choices(BLENDS, [one.share for one in BLENDS])[0]
    known: Document = {
        "weight": [chance.choice(weight.names)],
        "put_up": _put_up(chance, weight),
        "fibres": [{"fibre": fibre, "percent": str(share)} for fibre, share in blend.shares],
    }
    left_out = chance.choice(("", "", "", "weight", "put_up", "fibres"))
    yarn = {name: value for name, value in known.items() if name != left_out}
    words = chance.choice(blend.attributes)
    care = dict(zip(AXES, chance.choice(CARE[blend.care]), strict=True))
    more: tuple[tuple[float, str, Any], ...] = (
        (0.5, "attributes", [word for word in words.split(", ") if word]),
        (0.4, "gauge", _band_gauge(chance, weight, craft)),
        (0.3, "construction", chance.choice(list(Construction)).value),
        (0.12, "strands", chance.choice((2, 2, 3))),
        (0.4, "care", care),
        (0.08, "wraps_per_inch", halves(chance.uniform(*weight.metres) ** 0.5)),
        (0.05, "count", {"written": f"{1e5 / weight.metres[0]:.0f}", "system": "tex"}),
    )
    return yarn | {name: value for share, name, value in more if chance.random() < share}


def _band_gauge(chance: random.Random, weight: Weight, craft: Craft) -> Document:
    usual = weight.stitches if craft is Craft.KNIT else weight.crochet
    stitches = halves(chance.uniform(*usual))
    gauge: Document = {"stitches": stitches, "over": a_length(10)}
    if chance.random() < 0.3:
        gauge["stitches_high"] = stitches + chance.choice((1, 2))
    return gauge


def _put_up(chance: random.Random, weight: Weight) -> Document:
    grams = chance.choice((25, 50, 50, 50, 100, 100))
    return a_put_up(grams, round(chance.uniform(*weight.metres) * grams / 100))


def _sizes(chance: random.Random) -> Document:
    names = list(SIZES[: chance.randint(2, len(SIZES))])
    sizes: Document = {"names": names, "chosen": chance.choice(names)}
    if chance.random() < 0.4:
        first = chance.randint(60, 95)
        chests = [first + 8 * place for place in range(len(names))]
        sizes["chest"] = {"values": chests, "unit": "cm"}
    return sizes


def _parts(chance: random.Random, weight: Weight, sizes: int) -> list[Document]:
    names = ("main", "contrast", "third")[: chance.choice((1, 1, 1, 1, 2, 3))]
    return [_part(chance, weight, sizes, name) for name in names]


def _part(chance: random.Random, weight: Weight, sizes: int, name: str) -> Document:
    """A part whose need grows with the size, given in one of the ways that patterns have."""
    put_up, metres = _put_up(chance, weight), chance.choice((80, 250, 500, 900, 1400))
    needs = [metres * (1 + 0.08 * place) for place in range(sizes)]
    grams, length = put_up["mass"]["value"], put_up["length"]["value"]
    balls = [float(-(-need // length)) for need in needs]
    amounts: tuple[Document, ...] = (
        {"kind": "length", "values": [round(need) for need in needs], "unit": "m"},
        {"kind": "length", "values": [round(need / 0.9144) for need in needs], "unit": "yd"},
        {"kind": "balls", "values": balls, "put_up": put_up},
        {"kind": "mass", "values": [one * grams for one in balls], "unit": "g", "put_up": put_up},
        {"kind": "unknown"},
    )
    part: Document = {"name": name, "amount": chance.choices(amounts, (4, 2, 4, 2, 2))[0]}
    if chance.random() < 0.06:
        part["own"] = {"length": a_length(chance.randint(10, 400), "m")}
    return part


def _wishes(chance: random.Random) -> Document:
    wished: tuple[tuple[float, str, Any], ...] = (
        (0.12, "avoid_fibres", chance.sample(AVOIDED, chance.choice((1, 1, 2)))),
        (0.15, "colour_family", chance.choice(COLOUR_FAMILIES)),
        (0.12, "price_limit", chance.choice((15, 30, 45, 60, 90, 150))),
        (0.15, "one_lot_only", True),
        (0.25, "in_stock_only", True),
    )
    return {name: value for share, name, value in wished if chance.random() < share}
