"""What every refusal of bad input says: what is wrong, and what would be right."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import ClassVar, Self

from shopdesk.craft.messages import Message, message

Path = tuple[str | int, ...]
_say: Callable[[Message], str] = repr


def speak_by(say: Callable[[Message], str]) -> None:
    """Has the text of an error said by `say`, as in a log; until then it is code and values.

    Whoever knows their reader says an error to them by `wording.translate.told`.
    """
    global _say
    _say = say


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that cannot be used: where it stands, what is wrong, and what would be right.

    `path` leads to it through fields and places in lists; () is the whole of what was given.
    `right` is None where `wrong` says what to do.
    """

    path: Path
    wrong: Message
    right: Message | None = None

    @property
    def place(self) -> str:
        """The path as 'parts[0].amount.unit'; '' for the whole."""
        text = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in self.path)
        return text.removeprefix(".")

    def under(self, *path: str | int) -> Self:
        """Returns the problem as seen from further out, where `path` leads to what it is of."""
        return replace(self, path=(*path, *self.path))

    @property
    def sentence(self) -> Message:
        """What is wrong and what would be right, without a capital and a full stop."""
        if self.right is None:
            return self.wrong
        return message("problem.sentence", wrong=self.wrong, right=self.right)

    def placed(self, whole: Message | None = None) -> Message:
        """Returns the sentence with its place before it; `whole` names that of the empty path."""
        place = self.place or whole
        if not place:
            return self.sentence
        return message("problem.placed", place=place, sentence=self.sentence)

    def __str__(self) -> str:
        return _say(self.placed())


class InputError(ValueError):
    """Something given that cannot be used: `problem` says why, and what would do.

    `field` names the box, option or key it stands in, or is '' where that is plain or unknown.
    """

    problems: tuple[Problem, ...]

    def __init__(self, wrong: Message, right: Message | None, field: str = "") -> None:
        super().__init__()
        self.problems = (Problem((field,) if field else (), wrong, right),)

    @property
    def problem(self) -> Problem:
        """The problem, or the first of several."""
        return self.problems[0]

    @property
    def wrong(self) -> str:
        """What is wrong, in the words of the error's text."""
        return _say(self.problem.wrong)

    @property
    def right(self) -> str:
        """What would be right, in the words of the error's text."""
        return _say(self.problem.right) if self.problem.right else ""

    @property
    def field(self) -> str:
        """The field of the problem, or ''."""
        return self.problem.place

    def lines(self) -> tuple[Message, ...]:
        """Returns what the error says: one sentence, or of several problems one each."""
        return (self.problem.sentence,)

    def __str__(self) -> str:
        return "\n".join(map(_say, self.lines()))


class InputErrors(InputError):
    """Every problem of one document or form; its text has a line for each, with its place."""

    whole: ClassVar[Message | None] = None
    """What a problem without a path is said of."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        ValueError.__init__(self)
        self.problems = tuple(problems)

    def lines(self) -> tuple[Message, ...]:
        """Returns a sentence for each problem, with its place."""
        return tuple(each.placed(self.whole) for each in self.problems)
