"""What an item, its features, its stitch pattern and its wearer want of a yarn's behaviour.

The wants stand in reference/item_wants.csv, each with its source. What blocks is essential: without
it the item is not made in this yarn; what warns matters: a swatch must show it; what notes is
only told. A want may be fixed, or be held against the designer's yarn.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache

from shopdesk.craft.behaviour import RANK, Level, Traits
from shopdesk.craft.items import item_models, members
from shopdesk.craft.messages import Message
from shopdesk.reference.tables import table


class Severity(StrEnum):
    """What a consequence means for the choice, worst first."""

    BLOCKS = "blocks"
    WARNS = "warns"
    NOTES = "notes"


SEVERITIES = tuple(Severity)


class Bound(StrEnum):
    """How a want holds a level: against one of its own, or against the designer's yarn's."""

    AT_LEAST = "at least"
    AT_MOST = "at most"
    KNOWN = "known"
    NOT_LESS = "not less than the original"
    NOT_MORE = "not more than the original"
    ALWAYS = "always"


Named = tuple[str, str]
"""What wants something: 'any', 'group', 'item', 'feature', 'stitch pattern' or 'wearer', a name."""

ANY: Named = ("any", "")
UNDER_THREE = "under three"
"""A baby or toddler, beside the wearer that the ask names."""


@dataclass(frozen=True, slots=True)
class Want:
    """One row: what `of` wants of a trait, and what is said where the yarn does otherwise.

    It speaks from so many levels on, one or two.
    """

    of: Named
    trait: str
    bound: Bound
    level: Level | None
    from_steps: int
    severity: Severity
    code: str


@dataclass(frozen=True, slots=True)
class ItemNeeds:
    """What wants something of the yarn; `original` is how the designer's yarn behaves, if known."""

    of: frozenset[Named] = frozenset({ANY})
    original: Traits | None = None


@dataclass(frozen=True, slots=True)
class Consequence:
    """One thing that follows for the item; `steps` is how far off it is, one or two levels."""

    message: Message
    severity: Severity
    steps: int = 1


@cache
def wants() -> tuple[Want, ...]:
    """Returns every want of the table."""
    return tuple(_want(row) for row in table("item_wants"))


def _want(row: Mapping[str, str]) -> Want:
    return Want(
        of=(row["kind"], row["name"]),
        trait=row["trait"],
        bound=Bound(row["bound"]),
        level=Level(row["level"]) if row["level"] else None,
        from_steps=int(row["from_steps"]),
        severity=Severity(row["severity"]),
        code=row["code"],
    )


def needs_of_item(
    item: str, wearers: Iterable[str], features: Iterable[str], stitch_pattern: str | None
) -> frozenset[Named]:
    """Returns everything about an item that may want something of its yarn.

    A kind of item counts as its wider kind too. The words are those of the ask, `UNDER_THREE`
    beside the wearer's where that is known.
    """
    model = item_models().get(item)
    items = {item} if model is None or model.kind_of is None else {item, model.kind_of}
    named = {("item", one) for one in items} | {("feature", one) for one in features}
    named |= {("group", group) for group in _groups_of(frozenset(items))}
    if stitch_pattern is not None:
        named.add(("stitch pattern", stitch_pattern))
    return frozenset({*named, ANY, *(("wearer", wearer) for wearer in wearers)})


@cache
def _groups_of(items: frozenset[str]) -> frozenset[str]:
    groups = {want.of[1] for want in wants() if want.of[0] == "group"}
    return frozenset(group for group in groups if items & members(group, "item"))


@lru_cache(maxsize=8192)
def consequences(yarn: Traits, needs: ItemNeeds) -> tuple[Consequence, ...]:
    """Returns what follows for this item, worst first. Sources: reference/item_wants.csv.

    Of what one thing wants of a trait the gravest is told, and of several that say the same the
    gravest. What the designer's yarn does as much is only told, but for the wearer's sake and
    where the item cannot be made at all.
    """
    by_code: dict[str, Consequence] = {}
    for trait, by_level in _by_trait(needs):
        found = by_level.get(getattr(yarn, trait))
        if found is not None:
            code = found.message.code
            by_code[code] = _graver(by_code.get(code), found)
    return tuple(sorted(by_code.values(), key=lambda one: SEVERITIES.index(one.severity)))


ByLevel = Mapping[Level | None, Consequence]
"""What follows from each level of a trait; a level from which nothing follows is not in it."""


@lru_cache(maxsize=256)
def _by_trait(needs: ItemNeeds) -> tuple[tuple[str, ByLevel], ...]:
    """Returns what each thing that wants something of a trait says at each of its levels."""
    together: dict[tuple[Named, str, bool], list[Want]] = {}
    for want in wants():
        if want.of in needs.of:
            about = (want.of, want.trait, want.bound is Bound.ALWAYS)
            together.setdefault(about, []).append(want)
    said = ((trait, _by_level(each, needs.original)) for (_, trait, _), each in together.items())
    return tuple((trait, by_level) for trait, by_level in said if by_level)


def _by_level(together: Sequence[Want], original: Traits | None) -> ByLevel:
    found: dict[Level | None, Consequence] = {}
    for level in (None, *Level):
        missed = [(want, _steps_off(want, level, original)) for want in together]
        missed = [(want, steps) for want, steps in missed if steps >= want.from_steps]
        if missed:
            want, steps = min(missed, key=lambda m: (SEVERITIES.index(m[0].severity), -m[1]))
            severity = _severity(want, steps, original)
            found[level] = Consequence(Message(want.code), severity, steps)
    return found


def _graver(one: Consequence | None, other: Consequence) -> Consequence:
    if one is None:
        return other
    return min(one, other, key=lambda each: (SEVERITIES.index(each.severity), -each.steps))


def _severity(want: Want, steps: int, original: Traits | None) -> Severity:
    """Returns a want's severity, no more than a note where the original misses it as much."""
    return Severity.NOTES if _is_the_originals_too(want, steps, original) else want.severity


def _steps_off(want: Want, got: Level | None, original: Traits | None) -> int:
    """Returns by how many levels a yarn misses what is wanted; 0 if it does not, or none knows."""
    if want.bound is Bound.ALWAYS:
        return 1
    if want.bound is Bound.KNOWN:
        return int(got is None)
    against = _held_against(want, original)
    if got is None or against is None:
        return 0
    more = RANK[got] - RANK[against]
    return more if want.bound in (Bound.AT_MOST, Bound.NOT_MORE) else -more


def _held_against(want: Want, original: Traits | None) -> Level | None:
    if want.bound in (Bound.AT_LEAST, Bound.AT_MOST):
        return want.level
    return None if original is None else getattr(original, want.trait)


def _is_the_originals_too(want: Want, steps: int, original: Traits | None) -> bool:
    if original is None or (want.severity is Severity.BLOCKS and want.of[0] == "feature"):
        return False
    fixed = want.bound in (Bound.AT_LEAST, Bound.AT_MOST) and want.of[0] != "wearer"
    return fixed and _steps_off(want, getattr(original, want.trait), None) >= steps
