"""Who an ask's item is for: as said, or as it follows from the chosen size and what is known."""

from shopdesk.answering.model.ask import Ask, Feature
from shopdesk.craft.wearers import FollowedWearer, WearerClues, follow_wearer


def wearer_of(ask: Ask) -> FollowedWearer:
    """Returns who the item is for; what staff said always wins over what follows."""
    clues = WearerClues(
        item=ask.item.value,
        measurements=ask.measurements,
        nightwear=Feature.NIGHTWEAR in ask.features,
        size=ask.chosen_size,
        sizes=ask.size_names,
        title=ask.title,
        weight_names=ask.designer_yarn.weight_names if ask.designer_yarn else (),
    )
    return follow_wearer(ask.wearer.value, clues)
