import pytest

from shopdesk.slips.papers import PaperUnknown, paper_named, papers


@pytest.mark.parametrize(
    ("key", "width", "height", "text"),
    # ISO 216; half of 8.5 x 11 in; rolls' usual printable widths, common practice.
    [
        ("A5", 148, 210, None),
        ("A6", 105, 148, None),
        ("half-letter", 5.5 * 25.4, 8.5 * 25.4, None),
        ("roll-80", 80, None, 72),
        ("roll-58", 58, None, 48),
    ],
)
def test_sizes(key: str, width: float, height: float | None, text: float | None) -> None:
    paper = paper_named(key)
    assert paper.width_mm == pytest.approx(width)
    assert paper.height_mm == (None if height is None else pytest.approx(height))
    if text is not None:
        assert paper.text_mm == pytest.approx(text)


def test_an_unknown_paper_names_those_there_are() -> None:
    with pytest.raises(PaperUnknown, match=", ".join(papers())):
        paper_named("A3")
    assert [*papers()][:5] == ["A5", "A6", "half-letter", "roll-80", "roll-58"]
