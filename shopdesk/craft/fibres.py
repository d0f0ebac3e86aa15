"""The fibres of a blend by their generic names, and their density."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from shopdesk.craft.yarn import FibreShare
from shopdesk.reference.tables import constant, table, yes_or_no

OTHER = "other"


@dataclass(frozen=True, slots=True)
class Fibre:
    """One fibre. `density` is in g per cm3, None if unknown; an `elastic` one recovers at once.

    One that `reinforces` makes a blend stand rubbing; those of a `family` are taken for alike.
    """

    key: str
    name: str
    family: str
    density: float | None
    elastic: bool
    reinforces: bool


@cache
def fibres() -> tuple[Fibre, ...]:
    """Returns every fibre that is known, 'other fibres' last.

    Names: Regulation (EU) 1007/2011 Annex I; densities: Morton & Hearle, Table 5.1, or from
    memory.
    """
    densities = {row["fibre"]: float(row["g_per_cm3"]) for row in table("fibre_densities")}
    return tuple(
        Fibre(
            key=row["key"],
            name=row["name"],
            family=row["family"],
            density=densities.get(row["key"]),
            elastic=yes_or_no(row, "elastic"),
            reinforces=yes_or_no(row, "reinforces"),
        )
        for row in table("fibres")
    )


@cache
def _by_key() -> dict[str, Fibre]:
    return {fibre.key: fibre for fibre in fibres()}


def fibre(key: str) -> Fibre:
    """Returns the fibre of this key. Raises KeyError."""
    return _by_key()[key]


@cache
def _aliases() -> dict[str, str]:
    return {plain_name(row["name"]): row["fibre"] for row in table("fibre_aliases")}


def known_names() -> tuple[str, ...]:
    """Returns every name that `fibre_named` knows, in small letters."""
    return (*_aliases(), *_by_key())


def plain_name(text: str) -> str:
    """Returns a name without case, with single spaces for hyphens and white space."""
    return re.sub(r"[-\s\u2010\u2011]+", " ", text.casefold().replace("’", "'")).strip(" .")


def fibre_named(text: str) -> str | None:
    """Returns the key of the fibre that this name means, or None.

    Knows generic names in English, German and French and the keys themselves. Kinds and
    treatments ('merino', 'superwash', 'bamboo') are no fibre names: see craft/blend.py.
    """
    plain = plain_name(text)
    return _aliases().get(plain) or (plain if plain in _by_key() else None)


@cache
def fibres_of(group: str) -> tuple[str, ...]:
    """Returns the keys of the fibres of a group, 'animal hair' or 'silk', in the table's order."""
    return tuple(row["fibre"] for row in table("fibre_groups") if row["group"] == group)


def blend_density(shares: Iterable[FibreShare]) -> float | None:
    """Returns the density of a blend in g per cm3: 1 / sum(mass share / density).

    None if nothing is known, or if fibres of unknown density make up more than blend_models.csv
    says; up to that, the known rest stands for the whole. Raises KeyError for an unknown key.
    """
    known, unknown, volume = Decimal(0), Decimal(0), 0.0
    for share in shares:
        density = fibre(share.fibre).density
        if density is None:
            unknown += share.percent
        else:
            known += share.percent
            volume += float(share.percent) / density
    most_unknown = constant("blend_models", "density_unknown_up_to").value
    if known <= 0 or float(unknown * 100 / (known + unknown)) > most_unknown:
        return None
    return float(known) / volume
