"""A knitter's hand: by how much somebody always works tighter or looser, and the tool for it."""

from shopdesk.craft.gauge import tool_mm_for
from shopdesk.craft.messages import Message
from shopdesk.craft.tools import nearest_made
from shopdesk.craft.yarn import Craft

MOST_PERCENT = 25
"""A hand further off than that is a misreading."""


def tool_for_hand(mm: float, hand_percent: float) -> float:
    """Returns the tool in mm on which a hand gets what a usual one gets on `mm` (an estimate).

    `hand_percent` is by how many percent it gets more stitches than usual; below 0: fewer.
    """
    return tool_mm_for(mm, 100 + hand_percent, 100).value


def hand_saying(mm: float, moved_mm: float, hand_percent: float, craft: Craft) -> Message:
    """Returns what the hand did to the tool, or that no other made size follows from it."""
    way = "tighter" if hand_percent > 0 else "looser"
    moves = nearest_made(mm, craft) != nearest_made(moved_mm, craft)
    code = f"tool.hand_{way}" if moves else f"tool.hand_{way}_same"
    return Message(code, {"hand_percent": abs(hand_percent)})
