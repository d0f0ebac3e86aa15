"""Which branch the counter of this data folder stands in.

It cannot be a setting of the shop: two branches that share one database have the same ones.
"""

import os
import secrets
from dataclasses import dataclass
from pathlib import Path

from shopdesk.shelf.shelved import FIRST_BRANCH

BRANCH_FILE = "counter-branch"
LONGEST_CODE = 20


class CounterBranchRefused(RuntimeError):
    """The branch cannot be kept; the message says where and why."""


@dataclass(frozen=True, slots=True)
class CounterBranch:
    """The branch of a counter, kept in its data folder; without a folder it is the first one."""

    folder: Path | None = None

    def code(self) -> str:
        """Returns the branch's code; whether there is such a branch is not looked at."""
        if self.folder is None:
            return FIRST_BRANCH
        try:
            kept = (self.folder / BRANCH_FILE).read_text("ascii", errors="replace")
        except OSError:
            return FIRST_BRANCH
        return kept.strip()[:LONGEST_CODE] or FIRST_BRANCH

    def keep(self, code: str) -> None:
        """Keeps another branch, as a whole or not at all. Raises CounterBranchRefused."""
        if self.folder is None:
            raise CounterBranchRefused("This counter has no data folder to keep its branch in.")
        draft = self.folder / f"{BRANCH_FILE}.{secrets.token_hex(4)}"
        try:
            draft.write_text(f"{code}\n", "ascii")
            os.replace(draft, self.folder / BRANCH_FILE)
        except OSError as error:
            raise CounterBranchRefused(
                f"The branch cannot be kept in {self.folder} ({error.strerror})."
            ) from error
