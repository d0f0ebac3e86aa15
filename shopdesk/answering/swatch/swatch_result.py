"""What a swatch says about its item and its yarn, as plain immutable data and as JSON."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from shopdesk.answering.answer.answer_document import plain_data
from shopdesk.answering.swatch.swatch_reading import MeasuredSwatch
from shopdesk.craft.figures import Figure
from shopdesk.craft.messages import Message
from shopdesk.craft.swatch import Fit, Gauge, NextTool, SizeOutcome
from shopdesk.craft.yarn import PutUp


@dataclass(frozen=True, slots=True)
class TakenLine:
    """What went home for one part: skeins, what each holds, and how many strands are held.

    A second yarn that is held with every part has no part of its own: ''. `parts` are those of a
    line that is for several.
    """

    part: str
    sku: str
    skeins: int
    put_up: PutUp | None
    strands: int = 1
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MeasureOutcome:
    """What one measure of the item, in cm, comes out as if they go on; `which` names it."""

    which: str
    pattern_cm: float
    finished_cm: float
    said: Message


@dataclass(frozen=True, slots=True)
class PartNow:
    """The yarn of one part at the same finished size, in metres of one strand.

    `plan_m` is what whole skeins must hold now, without the customer's own yarn, over all
    strands; `said` tells whether the skeins that went home still do.
    """

    part: str
    before_m: Figure | None
    now_m: Figure | None
    plan_m: float | None
    skeins: int
    skeins_needed: int | None
    said: Message


@dataclass(frozen=True, slots=True)
class Weighed:
    """What the scale says: grams per area, and grams and metres of the whole item."""

    grams_per_m2: Figure
    item_g: Figure | None
    need_m: Figure | None
    said: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Firmness:
    """The fabric's volume cover now, beside what it is held against."""

    now: Figure
    reference: Figure
    said: Message


@dataclass(frozen=True, slots=True)
class OwnGauge:
    """The yarn's own stitches per 10 cm by all evidence, without this swatch and with it."""

    before: Figure | None
    after: Figure | None


@dataclass(frozen=True, slots=True)
class SwatchResult:
    """The whole answer to one swatch. `wanted` is None where it cannot be compared.

    `got` and `fit` are for readers of its JSON document; pages say them in `gauge`.
    """

    wanted: Gauge | None
    got: Gauge
    fit: Fit | None
    gauge: tuple[Message, ...]
    trust: tuple[Message, ...]
    tool: NextTool | None
    advice: tuple[Message, ...]
    measure: MeasureOutcome | None
    regardless: tuple[Message, ...]
    sizes: tuple[SizeOutcome, ...]
    other_size: Message | None
    rows: tuple[Message, ...]
    parts: tuple[PartNow, ...]
    weighed: Weighed | None
    firmness: Firmness | None
    own_gauge: OwnGauge


SWATCH_FORMAT = 1


def swatch_document(
    swatch: MeasuredSwatch, result: SwatchResult, words: Callable[[Message], str]
) -> dict[str, Any]:
    """Returns what was measured (all but the knitter) and what it says."""
    measured: dict[str, Any] = plain_data(swatch, words)
    measured.pop("hand")
    said: dict[str, Any] = plain_data(result, words)
    return {"format": SWATCH_FORMAT, "measured": measured, **said}
