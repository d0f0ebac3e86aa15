"""Work that takes longer than a page may: done beside the request, with how far it is."""

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

Result = TypeVar("Result")
Progress = Callable[[int, int], None]
MOST_KEPT = 32


class Job(Generic[Result]):
    """One piece of work: `done` of `lines` so far, then its result or what it raised."""

    def __init__(self, work: Callable[[Progress], Result]) -> None:
        self.done = 0
        self.lines = 0
        self._work = work
        self._result: list[Result] = []
        self._error: BaseException | None = None
        self._thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        """Begins the work."""
        self._thread.start()

    def ended(self, seconds: float) -> bool:
        """Waits so long at most and returns whether the work is over."""
        self._thread.join(seconds)
        return not self._thread.is_alive()

    def result(self) -> Result:
        """Returns the result of work that has ended, or raises what it raised."""
        if self._error is not None:
            raise self._error
        return self._result[0]

    def _run(self) -> None:
        try:
            self._result.append(self._work(self._show))
        except Exception as error:
            self._error = error

    def _show(self, done: int, lines: int) -> None:
        self.done, self.lines = done, max(done, lines)


class Jobs(Generic[Result]):
    """The jobs of one application by name; a job that ended is kept until it is taken away."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._jobs: dict[str, Job[Result]] = {}

    def find(self, name: str) -> Job[Result] | None:
        """Returns the job of this name, if there is one."""
        return self._jobs.get(name)

    def begin(self, name: str, work: Callable[[Progress], Result]) -> Job[Result]:
        """Returns the job of this name, begun now if there is none."""
        with self._lock:
            if name not in self._jobs:
                self._forget_ended()
                self._jobs[name] = Job(work)
                self._jobs[name].start()
            return self._jobs[name]

    def take_away(self, name: str) -> None:
        """Forgets a job."""
        with self._lock:
            self._jobs.pop(name, None)

    def _forget_ended(self) -> None:
        if len(self._jobs) >= MOST_KEPT:
            self._jobs = {name: job for name, job in self._jobs.items() if not job.ended(0)}
