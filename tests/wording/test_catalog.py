"""The reader of texts, held against Babel's, which reads all of the PO format."""

from io import BytesIO

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po as babel_read_po
from babel.messages.pofile import write_po
from hypothesis import example, given, settings
from hypothesis import strategies as st

from shopdesk.wording.catalog import PoRefused, read_po, text_files
from shopdesk.wording.formatting import LANGUAGES
from tests.machine import examples
from tests.wording.text_files import topics


def read_by_babel(written: bytes, language: str) -> dict[str, tuple[str, ...]]:
    found = {}
    for message in babel_read_po(BytesIO(written), locale=language, abort_invalid=True):
        code = message.id if isinstance(message.id, str) else message.id[0]
        forms = (message.string,) if isinstance(message.string, str) else tuple(message.string)
        if code:
            found[code] = forms
    return found


def read_here(written: bytes) -> dict[str, tuple[str, ...]]:
    read = read_po(written.decode().splitlines())
    read.pop("", None)
    return read


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("topic", topics())
def test_every_file_reads_as_babel_reads_it(topic: str, language: str) -> None:
    written = text_files().joinpath(f"{topic}.{language}.po").read_bytes()
    assert read_here(written) == read_by_babel(written, language) != {}


WORDS = st.text(st.characters(exclude_categories=["Cs", "Cc"], include_characters='\n\t"\\'))


@settings(max_examples=examples(100))
@example({"%E": ("", "")})
@given(st.dictionaries(WORDS.filter(lambda text: text.strip()), st.tuples(WORDS, WORDS)))
def test_what_babel_writes_is_read_as_it_was(texts: dict[str, tuple[str, str]]) -> None:
    catalog = Catalog(locale="en")
    for number, (code, (one, more)) in enumerate(texts.items()):
        plural = number % 2
        catalog.add((code, code) if plural else code, (one, more) if plural else one)
    stream = BytesIO()
    write_po(stream, catalog, width=40, omit_header=True)
    expected = {
        code: forms if number % 2 else forms[:1]
        for number, (code, forms) in enumerate(texts.items())
    }
    assert read_here(stream.getvalue()) == expected


@pytest.mark.parametrize(
    "line", ['msgctxt "a"', "#, fuzzy", '#~ msgid "old"', "msgid bare", '"nobody\'s"', 'msgstr "x']
)
def test_what_is_not_read_is_refused(line: str) -> None:
    with pytest.raises(PoRefused):
        read_po([line])


def test_a_text_without_msgid_is_refused() -> None:
    with pytest.raises(PoRefused):
        read_po(['msgstr "b"', 'msgid "a"', 'msgstr "c"'])
