"""The label check on fibre and care: what the band says against what the fibre usually stands."""

from collections.abc import Iterator, Mapping

from shopdesk.answering.label.label_findings import Facet, Gravity, LabelFinding
from shopdesk.craft.behaviour import Level, traits
from shopdesk.craft.blend import attribute_fibre
from shopdesk.craft.care import axis_values, text_code, usual_care
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import CareLabel, Construction, LabelFacts

FIBRE, CARE = frozenset({Facet.FIBRE}), frozenset({Facet.CARE})
OTHER = "other"
HARMFUL: Mapping[str, int] = {"wash_c": 3, "tumble": 1, "iron_c": 1}
"""Where too much does harm for good, and how many steps above the usual are worth a look.

A little more of washing is what many bands say; what is usual is itself only from memory.
"""
MACHINE = ("very mild", "mild", "normal")


def fibre_findings(label: LabelFacts) -> Iterator[LabelFinding]:
    """Yields what the blend, its attributes and the plies say that does not go together."""
    if not label.fibres:
        yield LabelFinding(message("label_check.no_fibres"), Gravity.UNSAID, FIBRE)
        return
    named = {share.fibre for share in label.fibres}
    for word in sorted(label.attributes):
        wanted = attribute_fibre(word)
        if wanted is not None and wanted not in named:
            text = message(
                "label_check.attribute_without_fibre",
                attribute=word,
                fibre_term=f"terms.fibre.{wanted}",
            )
            yield LabelFinding(text, Gravity.BAND, FIBRE)
    if {"superwash", "untreated"} <= label.attributes:
        yield LabelFinding(message("label_check.treated_and_untreated"), Gravity.BAND, FIBRE)
    if OTHER in named:
        yield LabelFinding(message("label_check.other_fibres"), Gravity.UNSAID, FIBRE)
    plies = label.plies or 1
    if label.construction is Construction.SINGLE and plies > 1:
        text = message("label_check.single_with_plies", plies=plies)
        yield LabelFinding(text, Gravity.BAND, FIBRE)


def care_findings(label: LabelFacts) -> Iterator[LabelFinding]:
    """Yields where the band allows more than is usual for the fibre, and what it leaves out.

    The band decides all the same; what is usual is from memory and the text says so.
    """
    care = label.care
    if care is None:
        yield LabelFinding(message("label_check.no_care"), Gravity.UNSAID, CARE)
        return
    felts = traits(label.fibres, label.attributes, label.construction).felts
    if felts is Level.YES and care.wash_action in MACHINE:
        text = message(
            "label_check.felting_in_machine",
            action_term=text_code("wash_action", care.wash_action),
        )
        yield LabelFinding(text, Gravity.UNUSUAL, frozenset({Facet.CARE, Facet.FIBRE}))
    usual = usual_care(label.fibres, label.attributes)
    bolder = [axis for axis in HARMFUL if _is_bolder(axis, care, usual)]
    if bolder:
        terms = tuple(f"care.axis_{axis}" for axis in bolder)
        text = Message("label_check.bolder_than_usual", {"axis_terms": terms})
        yield LabelFinding(text, Gravity.UNUSUAL, CARE)
    if care.wash_action is None and care.wash_c is None:
        yield LabelFinding(message("label_check.no_washing"), Gravity.UNSAID, CARE)


def _is_bolder(axis: str, care: CareLabel, usual: CareLabel) -> bool:
    """True if the band allows at least `HARMFUL[axis]` steps more than is usual."""
    said, known = getattr(care, axis), getattr(usual, axis)
    if said is None or known is None:
        return False
    values = axis_values(axis)
    return values.index(said) - values.index(known) >= HARMFUL[axis]
