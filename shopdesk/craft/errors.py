"""What every refusal of bad input says: what is wrong, and what would be right."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import ClassVar, Self

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that cannot be used: where it stands, what is wrong, and what would be right.

    `path` leads to it through fields and places in lists; () is the whole of what was given.
    """

    path: Path
    wrong: str
    right: str

    @property
    def place(self) -> str:
        """The path as 'parts[0].amount.unit'; '' for the whole."""
        text = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in self.path)
        return text.removeprefix(".")

    def under(self, *path: str | int) -> Self:
        """Returns the problem as seen from further out, where `path` leads to what it is of."""
        return replace(self, path=(*path, *self.path))

    def __str__(self) -> str:
        place = self.place
        return f"{place}: {self.wrong}; {self.right}" if place else f"{self.wrong}; {self.right}"


class InputError(ValueError):
    """Something given that cannot be used; `wrong` says why, `right` what would do.

    `field` names the box, option or key it stands in, or is '' where that is plain or unknown.
    """

    problems: tuple[Problem, ...]

    def __init__(self, wrong: str, right: str, field: str = "") -> None:
        super().__init__(f"{wrong}; {right}")
        self.problems = (Problem((field,) if field else (), wrong, right),)

    @property
    def wrong(self) -> str:
        """What is wrong; of several problems the first."""
        return self.problems[0].wrong

    @property
    def right(self) -> str:
        """What would be right; of several problems for the first."""
        return self.problems[0].right

    @property
    def field(self) -> str:
        """The field of the first problem, or ''."""
        return self.problems[0].place


class InputErrors(InputError):
    """Every problem of one document or form; its text has a line for each, with its place."""

    whole: ClassVar[str] = ""
    """What a problem without a path is said of."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        ValueError.__init__(self, "\n".join(map(self._line, self.problems)))

    def _line(self, problem: Problem) -> str:
        return f"{self.whole}: {problem}" if self.whole and not problem.path else str(problem)
