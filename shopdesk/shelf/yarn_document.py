"""One yarn as JSON-ready data: label facts and measurements apart; units stand in the names."""

from dataclasses import asdict
from typing import Any

from shopdesk.craft.yarn import Measurement, ShelfYarn
from shopdesk.shelf.rows import CARE_AXES, label_values


def yarn_document(yarn: ShelfYarn) -> dict[str, Any]:
    """Returns the yarn with its label, what was measured on it, and what can be sold."""
    label = label_values(yarn.label)
    return {
        "sku": yarn.sku,
        "name": yarn.name,
        "gtin": yarn.gtin,
        "price": str(yarn.price),
        "hand_dyed": yarn.hand_dyed,
        **{name: value for name, value in label.items() if name not in CARE_AXES},
        "fibres": [{"fibre": s.fibre, "percent": str(s.percent)} for s in yarn.label.fibres],
        "attributes": [{"attribute": word} for word in sorted(yarn.label.attributes)],
        **{axis: label[axis] for axis in CARE_AXES},
        "notes": yarn.notes,
        "measurements": [_measurement(one) for one in yarn.measurements],
        "lots": [lot._asdict() for lot in yarn.lots],
    }


def _measurement(one: Measurement) -> dict[str, Any]:
    facts = asdict(one) | {"kind": one.kind.value, "craft": one.craft.value}
    facts["on"] = one.on.isoformat()
    return {name: value for name, value in facts.items() if value not in (None, "", False)}
