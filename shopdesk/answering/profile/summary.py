"""What judging needs to know of a yarn, and no more: the shelf keeps it ready for every yarn."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache, reduce

from shopdesk.answering.model.answer import Profile
from shopdesk.craft.airy import air_of
from shopdesk.craft.behaviour import Traits, traits
from shopdesk.craft.care import WASHED_AXES, gentler, usual_care
from shopdesk.craft.figures import Figure
from shopdesk.craft.likeness import NOTHING_STATED, make_of
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import CareLabel, LabelFacts, ShelfYarn


@dataclass(frozen=True, slots=True)
class WearAndCare:
    """Behaviour and care of a yarn; `by_default` where the band says nothing of care.

    `make` is what it states of fibres, treatment and construction, as in `likeness.make_of`.
    """

    traits: Traits
    care: CareLabel
    by_default: bool
    make: str = NOTHING_STATED
    _hash: int = field(init=False, repr=False, compare=False, default=0)

    def __post_init__(self) -> None:
        object.__setattr__(
            self, "_hash", hash((self.traits, self.care, self.by_default, self.make))
        )

    def __hash__(self) -> int:
        return self._hash


def label_care(label: LabelFacts) -> tuple[CareLabel, bool]:
    """Returns the band's care, or the fibre's usual care and True where the band says nothing."""
    if label.care is not None:
        return label.care, False
    return usual_care(label.fibres, label.attributes), True


@lru_cache(maxsize=20_000)
def label_wear_and_care(label: LabelFacts) -> WearAndCare:
    """Returns the wear and care of a yarn with this label."""
    care, by_default = label_care(label)
    stated = (label.fibres, label.attributes, label.construction)
    return WearAndCare(traits(*stated), care, by_default, make_of(*stated))


@lru_cache(maxsize=20_000)
def washing_only(wear_and_care: WearAndCare) -> WearAndCare:
    """Returns what washing looks at of wear and care; the rest of it is left open."""
    care = CareLabel(**{axis: getattr(wear_and_care.care, axis) for axis in WASHED_AXES})
    washed = Traits(felts=wear_and_care.traits.felts, weak_wet=wear_and_care.traits.weak_wet)
    return _the_same(WearAndCare(washed, care, by_default=False))


@lru_cache(maxsize=1024)
def _the_same(wear_and_care: WearAndCare) -> WearAndCare:
    """Returns one and the same object for equal ones, which are then told apart at once."""
    return wear_and_care


def together(strands: Sequence[WearAndCare]) -> tuple[CareLabel, bool]:
    """Returns the care of strands held together, axis by axis the gentler treatment."""
    care = reduce(gentler, (one.care for one in strands))
    return care, any(one.by_default for one in strands)


@dataclass(frozen=True, slots=True)
class YarnSummary:
    """What judging needs to know of a house yarn. `doubts` says where its evidence disagrees.

    `density` is None for a yarn that holds air too: its fabric is not told from its mass.
    """

    sku: str
    name: str
    tex: Figure | None
    natural_stitches: Figure | None
    density: Figure | None
    categories: tuple[int, ...]
    doubts: tuple[Message, ...]
    wear_and_care: WearAndCare


@dataclass(frozen=True, slots=True)
class ProfiledYarn:
    """A house yarn with its profile, worked out once."""

    yarn: ShelfYarn
    profile: Profile

    @property
    def summary(self) -> YarnSummary:
        """The yarn as judging sees it."""
        profile = self.profile
        return YarnSummary(
            sku=self.yarn.sku,
            name=self.yarn.name,
            tex=profile.tex,
            natural_stitches=profile.natural_stitches,
            density=None if air_of(self.yarn.label.construction) else profile.density,
            categories=profile.categories,
            doubts=profile.disagreements,
            wear_and_care=label_wear_and_care(self.yarn.label),
        )
