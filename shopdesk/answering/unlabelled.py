"""A yarn without a label: what a weighed length, wraps and a guess at the fibre say of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from shopdesk.answering.model.answer import Profile
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import FibreShare, LabelFacts, Measurement, MeasurementKind, ShelfYarn

_NOW = date.min
"""The day does not matter for a yarn that is not kept."""


@dataclass(frozen=True, slots=True)
class WeighedPiece:
    """A length that was measured off and weighed."""

    length_m: float
    mass_g: float


@dataclass(frozen=True, slots=True)
class UnlabelledYarn:
    """What the yarn is, and how many metres are left of it (None: the whole was not weighed)."""

    profile: Profile
    metres_left: Figure | None


def unlabelled(
    piece: WeighedPiece | None,
    whole_g: float | None,
    wraps_per_inch: Sequence[float],
    fibres: tuple[FibreShare, ...] = (),
) -> UnlabelledYarn:
    """Returns what follows from a weighed piece, the whole's mass and readings of wraps.

    Metres left are in proportion to mass; their interval is that of a weighing in the shop. What
    the customer says of the fibre sharpens the rest; without it the intervals stay wide.
    """
    measured = [
        Measurement(MeasurementKind.WRAPS, _NOW, wraps_per_inch=wraps) for wraps in wraps_per_inch
    ]
    if piece is not None:
        weighed = Measurement(
            MeasurementKind.LENGTH, _NOW, length_m=piece.length_m, mass_g=piece.mass_g
        )
        measured.append(weighed)
    yarn = ShelfYarn("", "", LabelFacts(fibres=fibres), Decimal(0), tuple(measured))
    return UnlabelledYarn(shelf_profile(yarn), _left(piece, whole_g))


def _left(piece: WeighedPiece | None, whole_g: float | None) -> Figure | None:
    if piece is None or whole_g is None:
        return None
    metres = whole_g / piece.mass_g * piece.length_m
    share = threshold("measured_length_spread")
    return spread(metres, share, Basis.SHOP, message("profile.weighed_length"))
