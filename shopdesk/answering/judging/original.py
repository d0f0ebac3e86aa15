"""What is known of the designer's yarn: what is true of it too costs a substitute nothing."""

from collections.abc import Iterator
from dataclasses import dataclass

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.judging.grades import Reason, grade
from shopdesk.answering.judging.item_care import care_differences
from shopdesk.answering.judging.ranking import washing_group
from shopdesk.answering.model.answer import Suitability, Target
from shopdesk.answering.model.ask import Ask, DesignerYarn
from shopdesk.answering.profile.profile import designer_profile
from shopdesk.answering.profile.summary import WearAndCare, YarnSummary, label_wear_and_care
from shopdesk.answering.thresholds import HAIR, threshold
from shopdesk.craft.behaviour import Traits
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.likeness import (
    is_other_construction,
    is_other_fibre,
    is_same_make,
    states_construction,
    unlikeness,
)
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import LabelFacts


@dataclass(frozen=True, slots=True)
class Original:
    """The designer's yarn as the pattern knits it: `strands` of it together.

    `stitches` is the usual gauge of one strand, `doubts` are the codes of the disagreements on
    its own label. `wear_and_care` has the fibre's usual care where the pattern says nothing of it.
    """

    strands: int
    stitches: Figure | None
    doubts: frozenset[str]
    wear_and_care: WearAndCare

    @property
    def make(self) -> str:
        """What the pattern states of its make."""
        return self.wear_and_care.make

    @property
    def traits(self) -> Traits | None:
        """How it behaves; None where its fibres are not known."""
        return self.wear_and_care.traits if self.make else None


def original_of(ask: Ask) -> Original | None:
    """Returns the designer's yarn of an ask, or None if the pattern names none."""
    yarn = ask.designer_yarn
    if yarn is None:
        return None
    profile = designer_profile(yarn)
    return Original(
        strands=yarn.strands,
        stitches=profile.natural_stitches,
        doubts=frozenset(said.code for said in profile.disagreements),
        wear_and_care=label_wear_and_care(_label(yarn)),
    )


def _label(yarn: DesignerYarn) -> LabelFacts:
    return LabelFacts(
        fibres=yarn.fibres,
        attributes=yarn.attributes,
        construction=yarn.construction,
        care=yarn.care,
    )


def is_the_original(
    target: Target, original: Original | None, yarn: YarnSummary, held: StrandCombination
) -> bool:
    """True if all that the pattern states of its yarn is true of this one, held as it is there.

    Fibres and length per 100 g must be stated; the gauge of a band is held against a band's.
    """
    if original is None or held.companion is not None or held.strands != original.strands:
        return False
    wanted, got = target.metres_per_100g, held.metres_per_100g
    if wanted is None or got is None or not is_same_make(original.make, yarn.wear_and_care.make):
        return False
    same = threshold("same_facts") + HAIR
    return abs(got.value / wanted.value - 1) <= same and not _bands_differ(original, yarn, same)


def _bands_differ(original: Original, yarn: YarnSummary, share: float) -> bool:
    """True if both have a band's gauge, and they are further apart than this."""
    wanted, got = original.stitches, yarn.natural_stitches
    if wanted is None or got is None or not wanted.basis is got.basis is Basis.LABEL:
        return False
    return abs(got.value / wanted.value - 1) > share


def unlike_original(
    target: Target,
    original: Original | None,
    stitches: float | None,
    metres: float | None,
    make: str,
) -> float:
    """Returns how far a yarn is from what is wanted, by what both state; 0 for the same.

    `stitches` per 10 cm and `metres` per 100 g are those of all strands together; what is unknown
    adds nothing. Judgement, for the order within a group.
    """
    apart = 0.0
    if stitches is not None and target.natural_stitches is not None:
        apart += threshold("unlike_gauge") * abs(stitches / target.natural_stitches.value - 1)
    usual = target.usual_metres
    if metres is not None and usual is not None:
        apart += threshold("unlike_length") / 2 * abs((metres / usual) ** 0.5 - 1)
    if metres is not None and target.metres_per_100g is not None:
        off = (metres / target.metres_per_100g.value) ** 0.5 - 1
        apart += threshold("unlike_length") * abs(off)
    if original is not None:
        apart += threshold("unlike_make") * unlikeness(original.make, make)
    return apart


def make_findings(original: Original | None, make: str) -> list[Reason]:
    """Returns what another kind of fibre or construction than the original's leaves of a yarn."""
    if original is None:
        return []
    found = []
    if is_other_fibre(original.make, make):
        group, weight = grade("other_fibre")
        found.append(Reason(group, message("judging.other_fibre"), weight))
    if is_other_construction(original.make, make):
        group, weight = grade("other_construction")
        said = "other" if states_construction(original.make) else "unusual"
        found.append(Reason(group, Message(f"judging.{said}_construction"), weight))
    return found


def washed_as_asked(ask: Ask, original: Original) -> Iterator[tuple[Suitability, Message]]:
    """Yields where the original itself does not stand what its item gets, with what that leaves."""
    if original.make:
        differences = care_differences(ask, [original.wear_and_care])
        yield from ((washing_group(said, differences), said) for said in differences)
