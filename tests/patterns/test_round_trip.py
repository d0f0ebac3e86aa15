"""A header written from facts by a template is read back as those facts."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.craft.tools import made_sizes
from shopdesk.craft.yarn import Craft
from shopdesk.patterns.phrases.mentions import Sureness
from shopdesk.patterns.reading import read_pattern
from shopdesk.patterns.to_ask import one_size
from tests.patterns.corpus_files import written
from tests.patterns.header_templates import TEMPLATES, Facts, de_dashes

HALVES = st.integers(16, 72).map(lambda half: Decimal(half) / 2)
MM = [Decimal(str(size)) for size in made_sizes(Craft.KNIT) if 2 <= size <= 10]
SIZES = [(), ("S", "M", "L"), ("36", "38", "40", "42"), ("XS", "S", "M", "L", "XL")]
BLENDS = st.sampled_from(
    [
        (("wool", 100),),
        (("cotton", 100),),
        (("wool", 75), ("polyamide", 25)),
        (("alpaca", 40), ("wool", 30), ("cotton", 30)),
    ]
)


@st.composite
def facts(draw: st.DrawFn) -> Facts:
    """Facts as a pattern has them: more balls for larger sizes, and rows closer than stitches."""
    sizes = draw(st.sampled_from(SIZES))
    first = draw(st.integers(2, 12))
    steps = draw(st.lists(st.integers(0, 2), min_size=len(sizes), max_size=len(sizes)))
    balls = [first]
    for step in steps[1:]:
        balls.append(balls[-1] + step)
    stitches = draw(HALVES)
    return Facts(
        item=draw(st.sampled_from(["pullover", "hat", "cardigan", "scarf"])),
        stitches=stitches,
        rows=stitches + draw(st.integers(2, 16)),
        pattern=draw(st.sampled_from(["stockinette", "garter", "seed"])),
        mm=draw(st.sampled_from(MM)),
        grams=draw(st.sampled_from([25, 50, 100])),
        metres=draw(st.integers(60, 440)),
        blend=draw(BLENDS),
        sizes=sizes,
        balls=tuple(balls),
    )


@given(facts(), st.sampled_from(TEMPLATES))
def test_a_written_header_is_read_back(known: Facts, template: object) -> None:
    assert callable(template)
    header = template(known)
    reading = read_pattern(header)
    read = {each.name: each for each in reading.readings}
    values = {name: written(name, each.value) for name, each in read.items()}
    expected = {
        "craft": "knit",
        "item": known.item,
        "stitches": f"{known.stitches.normalize():f}",
        "rows": f"{known.rows.normalize():f}",
        "pattern": known.pattern,
        "tool": f"{str(known.mm).removesuffix('.0')} mm",
        "fibres": " | ".join(sorted(f"{share} {fibre}" for fibre, share in known.blend)),
    }
    assert {name: values.get(name) for name in expected} == expected, header
    if not (template is de_dashes and 0 < len(known.sizes) < 3):
        assert values["amount main"] == f"{' '.join(map(str, known.balls))} balls", header
    assert values["put_up"].startswith(f"{known.grams} g = {known.metres} "), header
    assert values.get("sizes", "") == " | ".join(known.sizes).casefold(), header
    assert all(each.sure is not Sureness.UNCLEAR for each in reading.readings), header


@given(facts(), st.sampled_from(TEMPLATES))
def test_a_written_header_becomes_an_ask_of_each_size(known: Facts, template: object) -> None:
    assert callable(template)
    reading = read_pattern(template(known))
    for size in known.sizes or (None,):
        ask = read_ask(one_size(reading, size))
        assert ask.chosen_size == size
        assert ask.parts[0].amount.balls == known.balls[known.sizes.index(size) if size else 0]
