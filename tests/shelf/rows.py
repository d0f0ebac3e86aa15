"""Puts yarns with stock on a test's shelf through the models, with only what the test is about."""

from typing import Any

from sqlalchemy.orm import Session

from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.mapping import label_values, measurement_values
from shopdesk.shelf.stock import receive
from shopdesk.store.models import Colourway, Yarn, YarnAttribute, YarnFibre, YarnMeasurement
from tests.factories import a_yarn


def put_yarn(session: Session, sku: str = "T-1", price_minor: int = 650, **facts: Any) -> Yarn:
    """Stores `a_yarn(sku, **facts)` with its stock, and returns the row."""
    yarn = a_yarn(sku, **facts)
    row = Yarn(
        sku=sku,
        name=yarn.name,
        price_minor=price_minor,
        gtin=yarn.gtin,
        hand_dyed=yarn.hand_dyed,
        notes=yarn.notes,
        **label_values(yarn.label),
    )
    row.fibres = [
        YarnFibre(position=place, fibre=share.fibre, percent=share.percent)
        for place, share in enumerate(yarn.label.fibres)
    ]
    row.attributes = [YarnAttribute(attribute=word) for word in yarn.label.attributes]
    row.measurements = [YarnMeasurement(**measurement_values(one)) for one in yarn.measurements]
    colours = {lot.colour_code: lot for lot in yarn.lots}
    row.colourways = [
        Colourway(code=code, name=lot.colour_name, family=lot.colour_family, gtin=lot.gtin)
        for code, lot in colours.items()
    ]
    session.add(row)
    session.flush()
    for lot in yarn.lots:
        if lot.available:
            receive(session, LotAtBranch(sku, lot.colour_code, lot.lot), lot.available)
    return row
