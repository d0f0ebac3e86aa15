"""Quantities of an ask document in fixed units."""

from collections.abc import Sequence

from shopdesk.answering.ask.document import LengthDoc, MassDoc, OwnYarnDoc, PutUpDoc, SizesDoc
from shopdesk.answering.model.ask import OwnYarn
from shopdesk.craft.yarn import PutUp
from shopdesk.parsing.quantities import Quantity, centimetres, grams, metres, millimetres


def doc_quantity(doc: LengthDoc | MassDoc) -> Quantity:
    """Returns a length or mass as it was written."""
    return Quantity(doc.value, doc.unit)


def doc_millimetres(doc: LengthDoc) -> float:
    """Returns a length in mm."""
    return millimetres(doc_quantity(doc))


def doc_put_up(doc: PutUpDoc | None) -> PutUp | None:
    """Returns what one ball holds, in grams and metres."""
    if doc is None:
        return None
    return PutUp(grams(doc_quantity(doc.mass)), metres(doc_quantity(doc.length)))


def doc_own(doc: OwnYarnDoc | None) -> OwnYarn | None:
    """Returns the yarn in hand, in metres or grams."""
    if doc is None:
        return None
    return OwnYarn(
        length_m=metres(doc_quantity(doc.length)) if doc.length else None,
        mass_g=grams(doc_quantity(doc.mass)) if doc.mass else None,
        put_up=doc_put_up(doc.put_up),
    )


def doc_chests(doc: SizesDoc) -> tuple[float, ...]:
    """Returns the finished chest of every size in cm, or ()."""
    if doc.chest is None:
        return ()
    return tuple(centimetres(Quantity(value, doc.chest.unit)) for value in doc.chest.values)


def of_chosen_size(doc: SizesDoc | None, values: Sequence[float]) -> float | None:
    """Returns the value of the chosen size of a list in the order of the sizes."""
    place = doc.names.index(doc.chosen) if doc else 0
    return values[place] if place < len(values) else None
