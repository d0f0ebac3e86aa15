"""From stored rows to plain yarns: a few SELECTs for each batch of yarns, whatever its size."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import batched
from typing import Any

from sqlalchemy import Row, Select, select
from sqlalchemy.orm import Session

from shopdesk.craft.yarn import FibreShare, LotStock, Measurement, ShelfYarn
from shopdesk.shelf.models import (
    Branch,
    Colourway,
    DyeLot,
    Stock,
    Yarn,
    YarnAttribute,
    YarnFibre,
    YarnMeasurement,
)
from shopdesk.shelf.rows import measurement_of, yarn_of
from shopdesk.shelf.settings import load_settings
from shopdesk.shelf.stock import available_expression

BATCH = 1000
