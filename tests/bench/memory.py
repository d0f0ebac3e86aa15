"""Memory at its highest, and the very first answer, of a process that has done nothing before."""

import json
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from shopdesk.store.database import reading
from shopdesk.store.settings import load_settings
from tests.bench.answers import FLOOR, asks_by_chance, plain, select_seconds, whole_answer
from tests.bench.lines import Line, in_time
from tests.bench.processes import python
from tests.bench.shelves import Shelves, opened

STATUS = Path("/proc/self/status")


def highest_mib() -> float:
    """Returns this process's own memory at its highest: VmHWM of Linux, in MiB."""
    line = next(one for one in STATUS.read_text().splitlines() if one.startswith("VmHWM:"))
    return int(line.split()[1]) / 1024


def answering(data: Path, number: int) -> dict[str, float]:
    """Answers so many asks; returns the memory before and after, and the first one's seconds."""
    asks = asks_by_chance(number)
    before, seconds = highest_mib(), list[float]()
    with opened(data) as engine:
        for ask in asks:
            with reading(engine) as session:
                terms = load_settings(session).terms()
                begun = time.perf_counter()
                whole_answer(session, ask, terms)
                seconds.append(time.perf_counter() - begun)
    peak = highest_mib()
    with plain(data) as connection:
        floor = select_seconds(connection)
    return {"before": before, "peak": peak, "first": seconds[0], "floor": floor}


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields the memory and the first answer."""
    number, words = shelves.scale.asks, shelves.scale.design.words
    told = json.loads(python("-m", "tests.bench.memory", shelves.design(), str(number)))
    yield Line(
        "memory",
        f"memory at its highest after {number} answers, {words}",
        f"{told['peak']:.0f} MiB",
        f"the same process before its first answer: {told['before']:.0f} MiB",
        told["peak"] / told["before"],
    )
    floor = FLOOR, told["floor"]
    yield in_time("memory", f"first answer of a fresh process, {words}", told["first"], floor)


if __name__ == "__main__":
    print(json.dumps(answering(Path(sys.argv[1]), int(sys.argv[2]))))
