"""What judging needs to know of a yarn, and no more: the shelf keeps it ready for every yarn."""

from dataclasses import dataclass

from shopdesk.answering.answer import Profile
from shopdesk.answering.nature import Nature, label_nature
from shopdesk.craft.figures import Figure
from shopdesk.craft.sayings import Saying
from shopdesk.craft.yarn import ShelfYarn


@dataclass(frozen=True, slots=True)
class Brief:
    """A house yarn in brief. `doubts` says where its evidence disagrees."""

    sku: str
    name: str
    tex: Figure | None
    natural_stitches: Figure | None
    density: Figure | None
    categories: tuple[int, ...]
    doubts: tuple[Saying, ...]
    nature: Nature


@dataclass(frozen=True, slots=True)
class Known:
    """A house yarn with its profile, worked out once."""

    yarn: ShelfYarn
    profile: Profile

    @property
    def brief(self) -> Brief:
        """The yarn as judging sees it."""
        profile = self.profile
        return Brief(
            sku=self.yarn.sku,
            name=self.yarn.name,
            tex=profile.tex,
            natural_stitches=profile.natural_stitches,
            density=profile.density,
            categories=profile.categories,
            doubts=profile.disagreements,
            nature=label_nature(self.yarn.label),
        )
