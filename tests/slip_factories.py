"""Builders of answers, choices and slip content with only the fields that a test is about."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from shopdesk.answering.model.answer import (
    Answer,
    Candidate,
    Caution,
    ColourSupply,
    Fabric,
    ItemCare,
    LotQuantity,
    LotTaken,
    Need,
    PartAmount,
    Price,
    Profile,
    SelectedPart,
    Selection,
    StartTool,
    Suitability,
    Target,
)
from shopdesk.answering.model.ask import Ask, Part, PatternGauge, PatternTool, Wearer
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.items import Measurements
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import CareLabel, ShelfYarn
from shopdesk.slips.composing import compose
from shopdesk.slips.content import SlipContent, SlipHeader, SlipShop
from shopdesk.slips.papers import Paper
from shopdesk.slips.pdf import draw_words
from shopdesk.slips.slip_text import slip_text
from shopdesk.slips.slip_words import SlipText
from shopdesk.wording.formatting import ReaderPreferences
from tests.factories import a_label, a_length, a_lot, a_yarn, an_ask

A_GTIN = "2000001000014"
"""An in-store number: prefix 20, its check digit by the GS1 weights."""
A_SLIP_DAY = date(2026, 11, 25)


def plain(text: str) -> Message:
    """Returns a Message that is shown as exactly this text."""
    return message("slip.plain", text=text)


def a_shop(**facts: Any) -> SlipShop:
    """Returns a shop in England that names its tax and its rule for returns."""
    facts.setdefault("name", "The Quiet Skein")
    facts.setdefault("address", ("3 Weir Lane", "Holmbeck HX0 0ZZ", "01632 960 001"))
    facts.setdefault("currency", "GBP")
    facts.setdefault(
        "return_wording", "Unopened balls with their band come back within 30 days, with this slip."
    )
    return SlipShop(**facts)


def a_stamp(number: int = 1042, **facts: Any) -> SlipHeader:
    """Returns a stamp of one slip, served by AB."""
    return SlipHeader(number, facts.pop("on", A_SLIP_DAY), facts.pop("staff", "AB"), **facts)


def a_need(
    part: str = "main", low_m: float = 1000, high_m: float = 1000, plan_m: float = 1100
) -> Need:
    """Returns a need by the pattern with 10 % allowance; whole skeins must hold 1050 m."""
    figure = Figure(high_m, low_m, high_m, Basis.PATTERN)
    percent = Decimal(10)
    return Need(part, figure, 0.0, percent, plan_m - high_m, plan_m, (), skein_m=1050, bare_m=1000)


def an_amount(part: str = "main", skeins: int | None = 5, **facts: Any) -> PartAmount:
    """Returns an amount of 100 g skeins of 230 m."""
    facts.setdefault("need", a_need(part))
    facts.setdefault("spare_m", 50.0)
    facts.setdefault("spare_g", 22.0)
    facts.setdefault("why", ())
    return PartAmount(part=part, skeins=skeins, strands=1, prudent_extra=0, **facts)


def a_colour(part: str = "main", skeins: int = 5, **facts: Any) -> ColourSupply:
    """Returns moss green, all from one lot."""
    facts.setdefault("colour_code", "14")
    facts.setdefault("colour_name", "Moss")
    facts.setdefault("gtin", A_GTIN)
    facts.setdefault("picks", (LotQuantity("M2231", skeins, 9),))
    return ColourSupply(
        part=part,
        colour_family="green",
        available=14,
        one_lot=True,
        short_by=0,
        advice=facts.pop("advice", ()),
        **facts,
    )


def a_caution(code: str = "shedding", *, flag: bool = False, **facts: Any) -> Caution:
    """Returns a piece of the shop's own advice."""
    facts.setdefault("text", plain("This yarn sheds; we suggest a smoother one for a baby."))
    facts.setdefault("law", False)
    facts.setdefault("where", "United Kingdom")
    facts.setdefault("by_whom", "this shop")
    return Caution(code=code, flag=flag, **facts)


def a_price(each: str = "8.50") -> Price:
    """Returns a price in pounds with tax."""
    return Price("GBP", Decimal(each), None, None, None, True)


def a_candidate(sku: str = "T-1", **facts: Any) -> Candidate:
    """Returns a DK wool judged 'swatch first', with one part in one colour."""
    facts.setdefault("name", "Meadow DK")
    facts.setdefault("group", Suitability.SWATCH_FIRST)
    facts.setdefault("amounts", (an_amount(),))
    facts.setdefault("colours", (a_colour(),))
    facts.setdefault("start_tool", StartTool(4.0, "6", "8", ()))
    facts.setdefault("reasons", (plain("Half a stitch off over 10 cm on the usual needle."),))
    facts.setdefault("care", a_care_view())
    facts.setdefault("fabric", a_fabric())
    facts.setdefault("price", a_price())
    facts.setdefault("cautions", ())
    return Candidate(
        sku=sku,
        weight_name="DK",
        strands=1,
        companion=facts.pop("companion", None),
        profile=a_profile(),
        change=facts.pop("change", None),
        **facts,
    )


def a_profile(stitches: float = 22) -> Profile:
    """Returns a profile of which only the natural gauge is known."""
    natural = Figure(stitches, stitches - 1, stitches + 1, Basis.LABEL)
    return Profile(None, None, natural, None, None, None, None, None, (3,), (), ())


def a_fabric() -> Fabric:
    """Returns a fabric with two sentences on how it differs."""
    words = (
        plain("The fabric is a little firmer than in the designer's yarn."),
        plain("The finished pullover weighs about 480 g, in the designer's yarn about 430 g."),
    )
    return Fabric(None, None, None, None, None, None, None, None, words)


def a_care_view(**facts: Any) -> ItemCare:
    """Returns care from the band: hand wash, dry flat."""
    facts.setdefault("by_default", False)
    facts.setdefault(
        "words",
        (
            plain("Wash by hand, cool, at most 30 °C. Do not bleach. Do not tumble dry."),
            plain("Dry flat. Iron at most at 110 °C."),
        ),
    )
    facts.setdefault(
        "differences", (plain("The designer's yarn stands the machine; this wool would felt."),)
    )
    return ItemCare(label=CareLabel(), **facts)


def an_answer(*candidates: Candidate, **facts: Any) -> Answer:
    """Returns an answer with these candidates."""
    target = Target(True, None, None, None, None, (3,), ())
    return Answer(
        title="striped pullover",
        target=target,
        needs=facts.pop("needs", ()),
        candidates=candidates or (a_candidate(),),
        ruled_out=(),
        unknown=facts.pop("unknown", ()),
        cautions=facts.pop("cautions", ()),
    )


def a_choice(skeins: int = 5, lot: str | None = "M2231", told: tuple[str, ...] = ()) -> Selection:
    """Returns the choice of moss for the one part."""
    return Selection(
        "T-1", (SelectedPart("main", "14", (LotTaken(lot, skeins),)),), frozenset(told)
    )


def a_shelf_yarn(**facts: Any) -> ShelfYarn:
    """Returns Meadow DK as the shelf knows it."""
    facts.setdefault("name", "Meadow DK")
    facts.setdefault("label", a_label(grams=100, metres_per_100g=230))
    facts.setdefault("lots", (a_lot(14, "M2231", "14", name="Moss", family="green"),))
    return a_yarn("T-1", price="8.50", **facts)


def a_pullover_ask(**facts: Any) -> Ask:
    """Returns the ask of a striped pullover, size M."""
    facts.setdefault("title", "Striped pullover")
    facts.setdefault("measurements", Measurements(chest_cm=104))
    facts.setdefault("tool", PatternTool(4.0, "US 6"))
    facts.setdefault("gauge", PatternGauge(22, 30, after_washing=True))
    facts.setdefault("chosen_size", "M")
    facts.setdefault("wearer", Wearer.ADULT)
    facts.setdefault("parts", (Part("main", a_length(1000)),))
    return an_ask(**facts)


def a_content(**facts: Any) -> SlipContent:
    """Returns the content of an ordinary slip; `facts` replace fields of the content."""
    content = compose(
        a_pullover_ask(),
        an_answer(),
        a_choice(),
        {"T-1": a_shelf_yarn()},
        a_shop(),
        a_stamp(),
    )
    return replace(content, **facts)


def slip_pdf(content: SlipContent, paper: Paper, reader: ReaderPreferences) -> bytes:
    """Returns the slip as a PDF in the reader's language."""
    return draw_words(slip_text(content, reader), paper)


def texts_of(words: SlipText) -> Iterator[str]:
    """Yields every string that the reader sees, in no particular order."""
    hidden = {"language", "document_title", "page_of_pages"}
    for each in fields(words):
        if each.name not in hidden:
            yield from _texts(getattr(words, each.name))


_UNSEEN = {"barcode_name", "customer_title"}
_WHOLE = {"text"}
"""Said in its halves already."""


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        if value:
            yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _texts(item)
    elif is_dataclass(value):
        for each in fields(value):
            if each.name not in _UNSEEN | _WHOLE:
                yield from _texts(getattr(value, each.name))
