"""How the swatches that came back compare with what was said of their yarns before."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import select
from sqlalchemy.orm import Session

from shopdesk.answering.profile.profile import band_tool_mm, shelf_profile
from shopdesk.craft.deviations import Calibration, Deviation, calibration_of, reckoned_spread
from shopdesk.craft.figures import Figure
from shopdesk.craft.pooling import came_back_unbiased, is_plain_swatch, stitches_on
from shopdesk.craft.yarn import Craft, Measurement, MeasurementKind, ShelfYarn
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.shop.shop import Shop
from shopdesk.store.models import YarnMeasurement


@dataclass(frozen=True, slots=True)
class YarnCalibration:
    """One yarn: its swatches in the order they came, and what each kind says together.

    `stated` is the range that held before the last of them.
    """

    sku: str
    name: str
    stated: Figure
    deviations: tuple[Deviation, ...]

    @property
    def asked(self) -> Calibration | None:
        """What those say that were asked for or made in the shop."""
        return calibration_of([one for one in self.deviations if one.unbiased])

    @property
    def unasked(self) -> Calibration | None:
        """What those say that came back of themselves."""
        return calibration_of([one for one in self.deviations if not one.unbiased])


@dataclass(frozen=True, slots=True)
class ShopCalibration:
    """All swatches of the shop; yarns with most swatches first.

    `reckoned_spread` is the share, one standard deviation, by which one swatch is reckoned to
    stray from its yarn.
    """

    asked: Calibration | None
    unasked: Calibration | None
    reckoned_spread: float
    yarns: tuple[YarnCalibration, ...]


def shop_calibration(shop: Shop) -> ShopCalibration:
    """Returns how the plain knitted swatches of one strand compare with what was stated before.

    A yarn of which nothing was known before its first swatch is compared from its second on.
    """
    with shop.read() as session:
        found = [one for yarn in _swatched(session) if (one := _of_yarn(yarn)) is not None]
    found.sort(key=lambda one: (-len(one.deviations), one.name, one.sku))
    every = [one for yarn in found for one in yarn.deviations]
    return ShopCalibration(
        calibration_of([one for one in every if one.unbiased]),
        calibration_of([one for one in every if not one.unbiased]),
        reckoned_spread(),
        tuple(found),
    )


def _swatched(session: Session) -> Iterator[ShelfYarn]:
    swatched = select(YarnMeasurement.yarn_id).where(
        YarnMeasurement.kind == MeasurementKind.SWATCH.value,
        YarnMeasurement.craft == Craft.KNIT.value,
        YarnMeasurement.stitches.is_not(None),
    )
    keys = session.scalars(swatched.distinct()).all()
    return shelf_yarns(session, keys, with_stock=False)


def _of_yarn(yarn: ShelfYarn) -> YarnCalibration | None:
    found = list(_deviations(yarn))
    if not found:
        return None
    return YarnCalibration(yarn.sku, yarn.name, found[-1].stated, tuple(found))


def _deviations(yarn: ShelfYarn) -> Iterator[Deviation]:
    """Yields each swatch beside what was stated of the yarn from all that was measured before."""
    tool = band_tool_mm(yarn.label.gauge)
    for place, measured in enumerate(yarn.measurements):
        if not (is_plain_swatch(measured, Craft.KNIT) and measured.stitches):
            continue
        stated = _stated(yarn, yarn.measurements[:place])
        if stated is not None:
            yield Deviation(stitches_on(measured, tool), stated, came_back_unbiased(measured))


def _stated(yarn: ShelfYarn, before: Sequence[Measurement]) -> Figure | None:
    return shelf_profile(replace(yarn, measurements=tuple(before))).natural_stitches
