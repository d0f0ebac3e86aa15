"""The printed slip, read back by other programs on every paper."""

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from reportlab.platypus import Flowable

from shopdesk.slips import pdf
from shopdesk.slips.barcodes import barcode
from shopdesk.slips.content import CautionNote, SlipContent
from shopdesk.slips.fonts import drawn
from shopdesk.slips.papers import Paper, paper_named, papers
from shopdesk.slips.slip_text import slip_text
from shopdesk.slips.slip_words import SlipText
from shopdesk.slips.story import story
from shopdesk.slips.typography import Styles
from shopdesk.wording.formatting import ReaderPreferences
from tests.machine import examples
from tests.slip_factories import A_GTIN, a_caution, a_content, a_shop, plain, slip_pdf, texts_of
from tests.slip_reading import (
    POINTS_PER_MM,
    Word,
    decoded,
    page_sizes_mm,
    qpdf_complaints,
    squeezed,
    text_by_pdftotext,
    text_by_pypdf,
    words_with_boxes,
)

PAPERS = tuple(papers().values())
LANGUAGES = ("en-GB", "de", "fr")
every_paper = pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.key)
every_language = pytest.mark.parametrize("language", LANGUAGES)
LONG = "Longest imaginable name of a yarn or a colour in this shop, with Überlänge & more " * 2
UNBROKEN = "W" * 80


def a_crowded_content() -> SlipContent:
    """Ten lines, fourteen cautions, the longest names."""
    content = a_content()
    line = replace(content.lines[0], yarn=LONG, colour=UNBROKEN, part=LONG[:80])
    codes = [f"caution-{number}" for number in range(14)]
    notes = [CautionNote(a_caution(code, where=LONG[:60]), told=True) for code in codes]
    return replace(
        content,
        swatch=replace(content.swatch, stitches=100 / 4.62, rows=100 / 3.39),
        title=LONG[:80],
        yarn=LONG,
        lines=(line,) * 10,
        cautions=tuple(notes),
        shop=a_shop(name=LONG[:80], address=(LONG[:80], UNBROKEN), return_wording=LONG * 3),
        held_until=content.stamp.on,
        customer_name=UNBROKEN,
    )


CONTENTS = {"ordinary": a_content, "crowded": a_crowded_content}
every_content = pytest.mark.parametrize("kind", CONTENTS)


def printed(paper: Paper, language: str = "en-GB", kind: str = "ordinary") -> bytes:
    return slip_pdf(CONTENTS[kind](), paper, ReaderPreferences(language))


@every_paper
@every_language
@every_content
def test_every_line_is_read_back(paper: Paper, language: str, kind: str) -> None:
    data = printed(paper, language, kind)
    for text in (squeezed(text_by_pypdf(data)), squeezed(text_by_pdftotext(data))):
        # Columns may be read in another order, so each word is looked for by itself.
        for line in texts_of(slip_text(CONTENTS[kind](), ReaderPreferences(language))):
            missing = [w for w in drawn(line).split() if len(w) < 30 and w not in text]
            assert missing == [], line


@every_paper
@every_content
def test_bar_codes_are_read_from_the_printed_page(paper: Paper, kind: str, tmp_path: Path) -> None:
    data = printed(paper, kind=kind)
    for dpi in (203, 300) if kind == "ordinary" else (203,):
        assert decoded(data, dpi, tmp_path) == [A_GTIN] * len(CONTENTS[kind]().lines)


def faults_of_layout(data: bytes, paper: Paper) -> list[object]:
    """Returns the words that leave the printable width or the page, or lie on one another."""
    words = words_with_boxes(data)
    heights = [height * POINTS_PER_MM for _, height in page_sizes_mm(data)]
    left = paper.side_mm * POINTS_PER_MM - 0.5
    right = (paper.width_mm - paper.side_mm) * POINTS_PER_MM + 0.5
    faults: list[object] = [word for word in words if word.left < left or word.right > right]
    faults += [word for word in words if word.top < 0 or word.bottom > heights[word.page - 1]]
    by_top = sorted(words, key=lambda word: (word.page, word.top))
    for number, word in enumerate(by_top):
        near = by_top[number + 1 : number + 40]
        faults += [(word, other) for other in near if word.overlaps(other)]
    return faults


def test_faults_of_layout_are_found() -> None:
    paper = paper_named("A5")
    data = printed(paper)
    assert faults_of_layout(data, replace(paper, side_mm=40)) != []
    word = Word(1, "x", 0, 0, 10, 10)
    assert word.overlaps(replace(word, left=9, right=19))
    assert not word.overlaps(replace(word, left=10, right=19))
    assert not word.overlaps(replace(word, page=2))


@every_paper
@every_language
@every_content
def test_nothing_overlaps_or_leaves_the_page(paper: Paper, language: str, kind: str) -> None:
    data = printed(paper, language, kind)
    assert words_with_boxes(data)
    assert faults_of_layout(data, paper) == []


NAMES = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=90)


@settings(max_examples=examples(25), phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(
    st.sampled_from(PAPERS),
    st.sampled_from(LANGUAGES),
    NAMES,
    NAMES,
    st.integers(1, 10),
    st.integers(0, 14),
)
def test_whatever_the_names_nothing_overlaps(
    paper: Paper, language: str, name: str, other: str, lines: int, cautions: int
) -> None:
    content = a_content(title=name, yarn=other, customer_name=other, shop=a_shop(name=name))
    line = replace(content.lines[0], yarn=name, colour=other, part=name)
    note = CautionNote(a_caution(text=plain(f"{name} {other}")), told=True)
    content = replace(content, lines=(line,) * lines, cautions=(note,) * cautions)
    assert faults_of_layout(slip_pdf(content, paper, ReaderPreferences(language)), paper) == []


HOSTILE = {
    "<img src=x onerror=alert(1)>": "<img src=x onerror=alert(1)>",
    "</para><b>x</b>": "</para><b>x</b>",
    "a & b &amp; c": "a & b &amp; c",
    "nul\x00bell\x07": "nul[U+0000]bell[U+0007]",
    "\u202egnp.exe": "[U+202E]gnp.exe",
    "wool 🧶 毛": "wool [U+1F9F6] [U+6BDB]",
    "lone \ud800": "lone [U+D800]",
    "שלום": "[U+05E9][U+05DC][U+05D5][U+05DD]",
}


@every_paper
@pytest.mark.parametrize("value", HOSTILE)
def test_values_are_printed_as_text(paper: Paper, value: str) -> None:
    content = a_content(
        title=value,
        yarn=value,
        customer_name=value,
        shop=a_shop(name=value, address=(value,), return_wording=value),
        unknown=(plain(value),),
    )
    line = replace(content.lines[0], yarn=value, colour=value)
    content = replace(content, lines=(line, replace(line, part=value)))
    text = squeezed(text_by_pdftotext(slip_pdf(content, paper, ReaderPreferences())))
    assert text.count(squeezed(HOSTILE[value])) >= 7


@every_paper
@every_content
def test_page_sizes(paper: Paper, kind: str) -> None:
    for width, height in page_sizes_mm(printed(paper, kind=kind)):
        assert width == pytest.approx(paper.width_mm, abs=0.01)
        if paper.height_mm is not None:
            assert height == pytest.approx(paper.height_mm, abs=0.01)


@pytest.mark.parametrize("key", ["A5", "half-letter", "roll-80", "roll-58"])
@every_language
def test_an_ordinary_slip_is_one_page(key: str, language: str) -> None:
    assert len(page_sizes_mm(printed(paper_named(key), language))) == 1


def test_a_roll_is_as_long_as_its_text() -> None:
    paper = paper_named("roll-80")
    data = printed(paper)
    ((_, height),) = page_sizes_mm(data)
    last = max(word.bottom for word in words_with_boxes(data)) / POINTS_PER_MM
    assert paper.foot_mm - 2 < height - last < paper.foot_mm + 4


def test_pages_of_a_long_slip_are_numbered() -> None:
    text = text_by_pypdf(printed(paper_named("A5"), kind="crowded"))
    pages = len(page_sizes_mm(printed(paper_named("A5"), kind="crowded")))
    assert pages > 1
    for number in range(1, pages + 1):
        assert f"page {number} of {pages}" in text


@every_paper
def test_the_same_record_gives_the_same_bytes(paper: Paper) -> None:
    assert printed(paper) == printed(paper)


@pytest.mark.parametrize("key", ["A5", "A6"])
def test_a_size_of_letters_is_set_once(key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Breaking the lines is most of the work, so what was measured is what is printed."""
    sizes = []

    def counted(words: SlipText, styles: Styles) -> list[Flowable]:
        sizes.append(styles.body.fontSize)
        return story(words, styles)

    monkeypatch.setattr(pdf, "story", counted)
    printed(paper_named(key), kind="crowded")
    assert len(sizes) == len(set(sizes)) > 1


def test_another_slip_between_changes_nothing() -> None:
    paper = paper_named("A5")
    before = printed(paper)
    printed(paper, "de", "crowded")
    assert printed(paper) == before


@every_paper
@every_content
def test_qpdf_finds_nothing(paper: Paper, kind: str, tmp_path: Path) -> None:
    assert qpdf_complaints(printed(paper, kind=kind), tmp_path) == ""


@every_language
def test_language_and_title_are_set(language: str) -> None:
    reader = PdfReader(BytesIO(printed(paper_named("A5"), language)))
    assert reader.trailer["/Root"]["/Lang"] == language
    assert reader.metadata is not None
    assert "1042" in (reader.metadata.title or "")
    assert "The Quiet Skein" in (reader.metadata.title or "")


@every_paper
def test_every_font_is_embedded(paper: Paper) -> None:
    for page in PdfReader(BytesIO(printed(paper))).pages:
        fonts = page["/Resources"]["/Font"]
        for font in fonts.values():
            found = font.get_object()
            assert "/FontFile2" in found["/FontDescriptor"], found["/BaseFont"]


@pytest.mark.parametrize("number", ["96385074", "036000291452", "04006381333931"])
@pytest.mark.parametrize("key", ["A5", "roll-58"])
def test_every_kind_of_number_is_read_back(number: str, key: str, tmp_path: Path) -> None:
    content = a_content()
    line = replace(content.lines[0], gtin=barcode(number).digits)
    data = slip_pdf(replace(content, lines=(line,)), paper_named(key), ReaderPreferences())
    for dpi in (203, 300):
        (found,) = decoded(data, dpi, tmp_path)
        assert found.zfill(14) == number.zfill(14)
