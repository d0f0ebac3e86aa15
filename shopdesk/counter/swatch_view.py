"""The figures of a swatch's result, ready to be listed with their ranges and what they rest on."""

from shopdesk.counter.evidence import Evidence, listed
from shopdesk.counter.shop import counter_reader
from shopdesk.services.swatches import SwatchRecord
from shopdesk.wording import formatting


def swatch_figures(record: SwatchRecord) -> tuple[Evidence, ...]:
    """Returns the figures that the result rests on, those that are known."""
    reader, result = counter_reader(), record.result
    over = formatting.over(reader)
    figures = [
        (f"The yarn’s own stitches over {over}, without it", "_st", result.own_gauge.before),
        (f"The yarn’s own stitches over {over}, with it", "_st", result.own_gauge.after),
    ]
    for part in result.parts:
        of = f" of {part.part}" if len(result.parts) > 1 and part.part else ""
        figures += [
            (f"Need{of} at the pattern’s gauge", "_m", part.before_m),
            (f"Need{of} at this gauge", "_m", part.now_m),
        ]
    if result.tool is not None:
        figures.append(("Tool to try", "_mm", result.tool.estimate_mm))
    if result.weighed is not None:
        figures += [
            ("Weight of a square metre", "_g", result.weighed.grams_per_m2),
            ("Item by the scale", "_g", result.weighed.item_g),
            ("Need by the scale", "_m", result.weighed.need_m),
        ]
    if result.firmness is not None:
        figures += [
            ("Firmness of the fabric", "", result.firmness.now),
            ("Firmness it is held against", "", result.firmness.reference),
        ]
    return tuple(listed(figures, reader))
