"""The same ask for another size of its pattern."""

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from shopdesk.craft.refusals import Refused


class SizeUnknown(Refused):
    """The ask has no size of this name."""


def for_size(document: Mapping[str, Any], size: str) -> dict[str, Any]:
    """Returns the ask document with another size chosen. Raises SizeUnknown.

    A chest that was given for the old size alone gives way to the new size's, where the ask
    lists them; other measurements are not known for the new size and stay.
    """
    changed = deepcopy(dict(document))
    sizes = changed.get("sizes") or {}
    names = sizes.get("names", [])
    if size not in names:
        listed = ", ".join(names) or "none"
        raise SizeUnknown(f"the pattern has no size '{size}'", f"name one of: {listed}")
    sizes["chosen"] = size
    if sizes.get("chest"):
        changed.get("item", {}).get("measurements", {}).pop("chest", None)
    return changed
