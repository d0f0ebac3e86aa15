"""How many letters a text may have: as many as its column holds, or fewer where a box says so."""

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message

STAFF = 60
"""Who did something, in every column; commands take as many."""
INITIALS = 12
"""Who served or measured, where a page asks for initials, which stand on the slip."""
CUSTOMER = 120
"""A customer's name in the columns; commands and holds take as many."""
CUSTOMER_IN_BOX = 80
"""A customer's name where a page asks for it to print or to find a slip."""
NAME_KEY = 200
HAND = 60
SKU, YARN, WEIGHT_NAME, PUT_UP, COUNT, NOTES = 40, 120, 60, 80, 40, 2000
COLOUR_CODE, COLOUR = 40, 80
LOT, DELIVERY = 40, 80
BRANCH_CODE, BRANCH = 20, 80
SHOP, TITLE, NOTE = 80, 80, 200
FILE_NAME, HEADING = 200, 200
SEARCH = 80
"""What is typed to find a yarn by."""
ASK_WORD = 80
"""A name, a size or another word of an ask."""
REQUEST_KEY = 64
"""A random word of a form that tells whether it was sent before."""


def fitting(text: str, longest: int, too_long: Message, field: str = "") -> str:
    """Returns the text. Raises InputError where it has more letters than `longest`."""
    if len(text) > longest:
        raise InputError(too_long, message("problem_shelf.letters_most", count=longest), field)
    return text


def staff_name(text: str) -> str:
    """Returns who did something. Raises InputError where no column holds the name."""
    return fitting(text, STAFF, message("problem_shelf.staff_long"), "staff")
