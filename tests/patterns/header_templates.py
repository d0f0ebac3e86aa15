"""Writes headers from made-up facts in several layouts of each language."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.patterns.phrases.mentions import plain

ITEMS = {
    "en": {"pullover": "Pullover", "hat": "Hat", "cardigan": "Cardigan", "scarf": "Scarf"},
    "de": {"pullover": "Pullover", "hat": "Mütze", "cardigan": "Strickjacke", "scarf": "Schal"},
    "fr": {"pullover": "Pull", "hat": "Bonnet", "cardigan": "Gilet", "scarf": "Écharpe"},
}
PATTERNS = {
    "en": {"stockinette": "stockinette", "garter": "garter stitch", "seed": "moss stitch"},
    "de": {"stockinette": "glatt rechts", "garter": "kraus rechts", "seed": "Perlmuster"},
    "fr": {"stockinette": "jersey endroit", "garter": "point mousse", "seed": "point de riz"},
}
FIBRES = {
    "en": {"wool": "wool", "cotton": "cotton", "polyamide": "nylon", "alpaca": "alpaca"},
    "de": {"wool": "Wolle", "cotton": "Baumwolle", "polyamide": "Polyamid", "alpaca": "Alpaka"},
    "fr": {"wool": "laine", "cotton": "coton", "polyamide": "polyamide", "alpaca": "alpaga"},
}


@dataclass(frozen=True)
class Facts:
    """What a header is to say; `balls` has one entry for each of `sizes`, or one in all."""

    item: str
    stitches: Decimal
    rows: Decimal
    pattern: str
    mm: Decimal
    grams: int
    metres: int
    blend: tuple[tuple[str, int], ...]
    sizes: tuple[str, ...]
    balls: tuple[int, ...]


def _dot(value: Decimal) -> str:
    return plain(value)


def _comma(value: Decimal) -> str:
    return plain(value).replace(".", ",")


def _bracketed(values: tuple[object, ...], parting: str = ", ") -> str:
    first, *rest = map(str, values)
    return f"{first} ({parting.join(rest)})" if rest else first


def _blend(facts: Facts, language: str, parting: str, percent: str = "%") -> str:
    names = FIBRES[language]
    return parting.join(f"{share}{percent} {names[fibre]}" for fibre, share in facts.blend)


def us_labels(facts: Facts) -> str:
    sizes = f"Sizes: {_bracketed(facts.sizes)}\n" if facts.sizes else ""
    return (
        f"{ITEMS['en'][facts.item]}\n{sizes}"
        f"Yarn: {_bracketed(facts.balls)} skeins, {facts.metres} yds / {facts.grams} g, "
        f"{_blend(facts, 'en', ', ')}\n"
        f"Needles: {_dot(facts.mm)} mm\n"
        f"Gauge: {_dot(facts.stitches)} sts and {_dot(facts.rows)} rows = 4 in "
        f"in {PATTERNS['en'][facts.pattern]}"
    )


def us_sentence(facts: Facts) -> str:
    sizes = f" comes in sizes {_bracketed(facts.sizes)} and" if facts.sizes else ""
    return (
        f"The {ITEMS['en'][facts.item].lower()}{sizes} needs {_bracketed(facts.balls)} balls of "
        f"yarn ({facts.grams} g = {facts.metres} yards; {_blend(facts, 'en', ' / ')}), worked on "
        f"{_dot(facts.mm)} mm needles at {_dot(facts.stitches)} stitches and "
        f"{_dot(facts.rows)} rows to 4 inches in {PATTERNS['en'][facts.pattern]}."
    )


def uk_colons(facts: Facts) -> str:
    sizes = f"SIZES {':'.join(facts.sizes)}\n" if facts.sizes else ""
    return (
        f"{ITEMS['en'][facts.item].upper()}\n{sizes}MATERIALS\n"
        f"{':'.join(map(str, facts.balls))} x {facts.grams} g balls (each {facts.metres} m)\n"
        f"{_blend(facts, 'en', ', ')}\n"
        f"A pair of {_dot(facts.mm)} mm needles\nTENSION\n"
        f"{_dot(facts.stitches)} sts and {_dot(facts.rows)} rows to 10 cm over "
        f"{PATTERNS['en'][facts.pattern]}"
    )


def uk_lines(facts: Facts) -> str:
    sizes = f"To make sizes {_bracketed(facts.sizes, ': ')}\n" if facts.sizes else ""
    return (
        f"{sizes}{ITEMS['en'][facts.item]} in {PATTERNS['en'][facts.pattern]}\n"
        f"{_dot(facts.stitches)} stitches x {_dot(facts.rows)} rows = 10 × 10 cm\n"
        f"{_dot(facts.mm)}mm needles\n"
        f"Balls: {_bracketed(facts.balls)}\n"
        f"{facts.grams}g/{facts.metres}m, {_blend(facts, 'en', ' ')}"
    )


def de_labels(facts: Facts) -> str:
    sizes = f"Größen: {_bracketed(facts.sizes)}\n" if facts.sizes else ""
    return (
        f"{ITEMS['de'][facts.item]}\n{sizes}"
        f"Material: {_bracketed(facts.balls)} Knäuel (LL {facts.metres} m / {facts.grams} g, "
        f"{_blend(facts, 'de', ', ', ' %')})\n"
        f"Nadeln: Nr. {_comma(facts.mm)}\n"
        f"Maschenprobe: {PATTERNS['de'][facts.pattern]} {_comma(facts.stitches)} M und "
        f"{_comma(facts.rows)} R = 10 x 10 cm"
    )


def de_dashes(facts: Facts) -> str:
    sizes = f"Größe {' – '.join(facts.sizes)}\n" if len(facts.sizes) > 2 else ""
    balls = " – ".join(map(str, facts.balls)) if len(facts.balls) > 2 else str(facts.balls[0])
    return (
        f"{ITEMS['de'][facts.item]}, {PATTERNS['de'][facts.pattern]}\n{sizes}"
        f"{balls} Knäuel, {facts.grams} g = {facts.metres} m\n"
        f"{_blend(facts, 'de', ' und ', ' %')}\n"
        f"Stricknadeln {_comma(facts.mm)} mm\n"
        f"{_comma(facts.stitches)} Maschen und {_comma(facts.rows)} Reihen auf 10 cm"
    )


def fr_labels(facts: Facts) -> str:
    sizes = f"Tailles : {_bracketed(facts.sizes)}\n" if facts.sizes else ""
    return (
        f"{ITEMS['fr'][facts.item]}\n{sizes}"
        f"Fournitures : {_bracketed(facts.balls)} pelotes de {facts.grams} g = {facts.metres} m, "
        f"{_blend(facts, 'fr', ', ', ' %')}\n"
        f"Aiguilles n° {_comma(facts.mm)}\n"
        f"Échantillon : {_comma(facts.stitches)} m. et {_comma(facts.rows)} rgs = 10 cm, "
        f"{PATTERNS['fr'][facts.pattern]}"
    )


def fr_sentence(facts: Facts) -> str:
    sizes = f", tailles {_bracketed(facts.sizes)}," if facts.sizes else ""
    return (
        f"{ITEMS['fr'][facts.item]}{sizes} en {PATTERNS['fr'][facts.pattern]} : "
        f"{_bracketed(facts.balls)} pelotes ({facts.grams} g / {facts.metres} m, "
        f"{_blend(facts, 'fr', ' et ', ' %')}), aiguilles {_comma(facts.mm)} mm, "
        f"{_comma(facts.stitches)} mailles et {_comma(facts.rows)} rangs pour 10 cm."
    )


TEMPLATES: tuple[Callable[[Facts], str], ...] = (
    us_labels, us_sentence, uk_colons, uk_lines, de_labels, de_dashes, fr_labels, fr_sentence
)  # fmt: skip
