"""Headers with number-like words, readable or not, in the places of numbers."""

from hypothesis import strategies as st

TWO_WAYS = "Yarn: 1.200 m of DK wool\n22 sts and 30 rows = 10 cm, 4 mm needles"
SIGNS = st.text("0123456789.,/½¼⅓ '’-−e٣²", min_size=1, max_size=12)
KNOWN = [
    *("0", "0.0", "0/4", "1/0", "1.200", "12,340", "0,001", "1.200.5", "12,345,678", "1 200"),
    *("1 5/4", "11/2", "1/2/3", "½", "1½½", "1e9", "9999999", "123456789012", "٣", "１２"),
]
NUMBERS = st.one_of(SIGNS, st.sampled_from(KNOWN))
LINES = [
    *("{} m of DK wool", "{} yds", "{} balls, {} g = {} m", "{} x {} g, each {} m", "balls: {}"),
    *("{} sts and {} rows = {} cm", "gauge: {}/{} = {} in", "{} sc = {} in", "{} ({}, {}) balls"),
    *("US {} ({} mm) needles", "{} mm hook", "size {} needles", "{}% wool, {}% silk"),
    *("sizes {} ({}, {})", "chest {} ({}, {}) cm", "{} x {} cm", "to fit {} years"),
    *("M: {} m\nL: {} m", "{} wpi", "{} strands held together", "{}-ply", "weight: {}"),
    *("{} Knäuel zu {} g, LL {} m", "{} M und {} R = {} cm", "Nadeln Nr. {}", "Nm {}"),
    *("{} pelotes de {} g", "{} m. et {} rgs = {} cm", "wash at {} °C"),
]
AROUND = "hat, DK\n22 sts = 10 cm\n{}\n4 mm needles, 75% wool 25% nylon"


@st.composite
def headers(draw: st.DrawFn) -> str:
    """A header that says what a hat is made of and by which gauge, with odd lines in it."""
    lines = draw(st.lists(st.sampled_from(LINES), min_size=1, max_size=3))
    filled = [line.format(*(draw(NUMBERS) for _ in range(line.count("{}")))) for line in lines]
    return AROUND.format("\n".join(filled))
