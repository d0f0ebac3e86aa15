"""What a figure rests on, as the page lists it: each value with its range and its basis."""

from collections.abc import Iterator
from dataclasses import dataclass

from shopdesk.answering.model.answer import Candidate, Profile, Target
from shopdesk.counter.request import counter_reader
from shopdesk.craft.figures import Figure
from shopdesk.services.swatches import SwatchRecord
from shopdesk.wording import formatting
from shopdesk.wording.formatting import ReaderPreferences


@dataclass(frozen=True, slots=True)
class Evidence:
    """One figure in the reader's units: its name, value, plausible range, and the Figure."""

    name: str
    value: str
    range: str
    figure: Figure


def evidence_of(candidate: Candidate, reader: ReaderPreferences) -> tuple[Evidence, ...]:
    """Returns what is known and estimated of a yarn and of its fabric in this pattern."""
    figures, fabric = _of_profile(candidate.profile, reader), candidate.fabric
    if fabric is not None:
        figures += [
            ("Firmness of the fabric", "", fabric.firmness),
            ("Firmness of the original’s", "", fabric.reference_firmness),
            ("Finished item", "_g", fabric.item_grams),
            ("Original item", "_g", fabric.original_item_grams),
        ]
    return tuple(listed(figures, reader))


def profile_evidence(profile: Profile, reader: ReaderPreferences) -> tuple[Evidence, ...]:
    """Returns what is known and estimated of a yarn by itself."""
    return tuple(listed(_of_profile(profile, reader), reader))


def _of_profile(
    profile: Profile, reader: ReaderPreferences
) -> list[tuple[str, str, Figure | None]]:
    return [
        (
            f"Stitches in plain knitting over {formatting.over(reader)}",
            "_st",
            profile.natural_stitches,
        ),
        (f"Rows in plain knitting over {formatting.over(reader)}", "_st", profile.natural_rows),
        ("Length per 100 g", "_m", profile.metres_per_100g),
        ("Wraps per inch", "", profile.wraps_per_inch),
        ("Thickness as wrapped", "_mm", profile.thickness_mm),
    ]


def target_evidence(target: Target, reader: ReaderPreferences) -> tuple[Evidence, ...]:
    """Returns the figures of what is looked for."""
    figures = [
        (
            f"Stitches in plain knitting over {formatting.over(reader)}",
            "_st",
            target.natural_stitches,
        ),
        ("Length per 100 g", "_m", target.metres_per_100g),
        ("Thickness as wrapped", "_mm", target.thickness_mm),
    ]
    return tuple(listed(figures, reader))


def listed(
    figures: list[tuple[str, str, Figure | None]], reader: ReaderPreferences
) -> Iterator[Evidence]:
    """Yields the figures that are known, each with its name and the ending of its unit."""
    for name, unit, figure in figures:
        if figure is not None:
            low, high = in_unit(figure.low, unit, reader), in_unit(figure.high, unit, reader)
            span = "" if low == high else f"{low} to {high}"
            yield Evidence(name, in_unit(figure.value, unit, reader), span, figure)


def in_unit(value: float, unit: str, reader: ReaderPreferences) -> str:
    """Returns a value in the reader's units; `unit` is an ending such as '_m', '' for a number."""
    if not unit:
        return formatting.number(value, reader, 1)
    return formatting.BY_SUFFIX[unit](value, reader)


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
            (f"Need{of} at the pattern’s gauge, without allowance", "_m", part.before_m),
            (f"Need{of} at this gauge, without allowance", "_m", part.now_m),
        ]
    if result.tool is not None:
        figures.append(("Tool to try", "_mm", result.tool.estimate_mm))
    if result.weighed is not None:
        figures += [
            ("Weight of a square metre", "_g", result.weighed.grams_per_m2),
            ("Item by the scale", "_g", result.weighed.item_g),
            ("Need by the scale, without allowance", "_m", result.weighed.need_m),
        ]
    if result.firmness is not None:
        figures += [
            ("Firmness of the fabric", "", result.firmness.now),
            ("Firmness it is held against", "", result.firmness.reference),
        ]
    return tuple(listed(figures, reader))
