"""Every form of the table reads its own example, and no form is without one."""

import pytest

from shopdesk.intake.cleaning import clean
from shopdesk.intake.finding import READERS, findings_of
from shopdesk.intake.findings import Sureness
from shopdesk.intake.grammar import Form, FormFault, forms
from shopdesk.intake.grammar import _Compiler as Compiler
from shopdesk.intake.page import page_of
from shopdesk.intake.reading import read_pattern
from tests.intake.corpus_files import Header, expect, score


@pytest.mark.parametrize("form", forms(), ids=lambda form: form.name)
def test_a_form_reads_its_example(form: Form) -> None:
    header = Header(form.name, form.example)
    expect(header, [line.strip() for line in form.reads.split(";")])
    reading = read_pattern(form.example, "de" if form.language else None)
    result = score(header, reading)
    expected = {*header.expected, *header.open}
    assert not result.missing
    assert {name: each for name, each in result.wrong.items() if name in expected} == {}


@pytest.mark.parametrize("form", forms(), ids=lambda form: form.name)
def test_a_form_is_what_reads_its_example(form: Form) -> None:
    page = page_of(clean(form.example), "de" if form.language else None)
    used = {each.form for each in findings_of(page)}
    assert form.name in used or form.gives == "nothing"


def test_forms_are_named_once_and_have_a_reader() -> None:
    names = [form.name for form in forms()]
    assert len(set(names)) == len(names)
    assert {form.gives for form in forms()} <= READERS.keys()
    assert {form.sure for form in forms()} <= set(Sureness)


@pytest.mark.parametrize("pattern", ["a ( b", "a ) b", "( a ( b )?"])
def test_a_form_with_a_bracket_astray_is_refused(pattern: str) -> None:
    with pytest.raises(FormFault, match="bracket"):
        Compiler(pattern).steps()
