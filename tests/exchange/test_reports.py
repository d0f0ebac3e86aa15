"""What a report counts, shows and gives out: all lines in numbers, the first 500 in words."""

from shopdesk.craft.messages import message
from shopdesk.exchange.problems import LineProblem, shown
from shopdesk.exchange.reports import LineChange, Report, Tally

WRONG, RIGHT = message("problem_file.empty"), message("problem_file.give_headings")


def a_problem(line: int, *column: str) -> LineProblem:
    return LineProblem((line, *column), WRONG, RIGHT, "x")


def test_new_and_changed_lines_are_counted_apart_and_the_first_500_shown() -> None:
    tally = Tally()
    assert (tally.new, tally.changed, tally.unchanged, tally.refused) == (0, 0, 0, 0)
    for line in range(501):
        tally.change(LineChange(line, "T-1", new=line % 3 == 0))
    # Of 0 to 500 every third one from 0 is new: 167 of 501.
    assert (tally.new, tally.changed) == (167, 334)
    assert [change.line for change in tally.changes] == list(range(500))


def test_a_line_is_refused_once_for_all_its_problems_and_500_are_shown() -> None:
    tally = Tally()
    for line in range(250):
        tally.refuse(a_problem(line), a_problem(line))
    assert (tally.refused, len(tally.refusals)) == (250, 500)
    tally.refuse(a_problem(250), a_problem(250))
    assert (tally.refused, len(tally.refusals)) == (251, 500)


def test_of_the_last_line_as_many_problems_are_shown_as_there_is_room() -> None:
    tally = Tally()
    for line in range(167):
        tally.refuse(*[a_problem(line)] * 3)
    # 166 lines make 498 problems, so that there is room for two of the last three.
    assert [problem.line for problem in tally.refusals][-4:] == [165, 165, 166, 166]


def test_a_report_is_plain_data() -> None:
    report = Report(
        kind="stock",
        file_name="s.csv",
        read_as="UTF-8 text with commas",
        columns=(("Nr.", "sku"), ("Huh", None)),
        new=1,
        changed=2,
        unchanged=3,
        refused=4,
        changes=(LineChange(2, "T-1", True, (("skeins", "", "7"),)),),
        refusals=(a_problem(3, "Nr."), a_problem(4)),
        number=9,
    )
    wrong = {"wrong": "the file is empty", "right": "give a file with a line of headings"}
    document = report.document()
    assert document == {
        "kind": "stock",
        "file": "s.csv",
        "read_as": "UTF-8 text with commas",
        "columns": [{"heading": "Nr.", "field": "sku"}, {"heading": "Huh", "field": None}],
        "new": 1,
        "changed": 2,
        "unchanged": 3,
        "refused": 4,
        "changes": [
            {
                "line": 2,
                "what": "T-1",
                "new": True,
                "fields": [{"field": "skeins", "from": "", "to": "7"}],
            }
        ],
        "refusals": [
            {"line": 3, "column": "Nr.", "value": "x", **wrong},
            {"line": 4, "column": "", "value": "x", **wrong},
        ],
        "applied": True,
        "import": 9,
    }


def test_a_dry_run_is_not_applied() -> None:
    document = Report("stock", "s.csv", "", (), 0, 0, 0, 0, (), ()).document()
    assert (document["applied"], document["import"]) == (False, None)


def test_a_problem_says_its_line_and_the_column_if_it_is_a_cells() -> None:
    said = "the file is empty; give a file with a line of headings"
    assert str(a_problem(3, "Nr.")) == f"line 3, column Nr.: {said}"
    assert str(a_problem(3)) == f"line 3: {said}"


def test_a_value_is_shown_with_80_letters_at_most_all_of_them_printable() -> None:
    assert shown("x" * 80) == "x" * 80
    assert shown("x" * 81) == "x" * 79 + "…"
    assert shown("a\tb") == "a�b"
