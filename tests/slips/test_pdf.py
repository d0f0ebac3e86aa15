"""The printed slip, read back by other programs on every paper."""

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.slips.content import CautionNote, SlipContent
from shopdesk.slips.fonts import drawn
from shopdesk.slips.papers import Paper, paper_named, papers
from shopdesk.slips.pdf import draw_pdf
from shopdesk.slips.speaking import speak
from shopdesk.wording.voice import Voice
from tests.slip_factories import A_GTIN, a_caution, a_content, a_shop
from tests.slip_reading import (
    POINTS_PER_MM,
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
    return draw_pdf(CONTENTS[kind](), paper, Voice(language))


@every_paper
@every_language
@every_content
def test_every_line_is_read_back(paper: Paper, language: str, kind: str) -> None:
    data = printed(paper, language, kind)
    for text in (squeezed(text_by_pypdf(data)), squeezed(text_by_pdftotext(data))):
        # Columns may be read in another order, so each word is looked for by itself.
        for line in speak(CONTENTS[kind](), Voice(language)).texts():
            missing = [w for w in drawn(line).split() if len(w) < 30 and w not in text]
            assert missing == [], line


@every_paper
@every_content
def test_bar_codes_are_read_from_the_printed_page(paper: Paper, kind: str, tmp_path: Path) -> None:
    data = printed(paper, kind=kind)
    for dpi in (203, 300) if kind == "ordinary" else (203,):
        assert decoded(data, dpi, tmp_path) == [A_GTIN] * len(CONTENTS[kind]().lines)


@every_paper
@every_language
@every_content
def test_nothing_overlaps_or_leaves_the_printable_width(
    paper: Paper, language: str, kind: str
) -> None:
    words = words_with_boxes(printed(paper, language, kind))
    assert words
    left = paper.side_mm * POINTS_PER_MM - 0.5
    right = (paper.width_mm - paper.side_mm) * POINTS_PER_MM + 0.5
    assert [word for word in words if word.left < left or word.right > right] == []
    by_top = sorted(words, key=lambda word: (word.page, word.top))
    for number, word in enumerate(by_top):
        near = by_top[number + 1 : number + 40]
        assert [other for other in near if word.overlaps(other)] == [], word


@every_paper
@every_content
def test_all_words_lie_on_the_page(paper: Paper, kind: str) -> None:
    data = printed(paper, kind=kind)
    heights = [height * POINTS_PER_MM for _, height in page_sizes_mm(data)]
    for word in words_with_boxes(data):
        assert word.top >= 0
        assert word.bottom <= heights[word.page - 1]


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
