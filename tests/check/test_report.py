from __future__ import annotations

import json

import pytest

from cardsmith.check.report import WORST, as_records, as_text, counted, totals
from cardsmith.finding import Finding, Severity, Where


def finding(
    line: int, column: int, width: int, severity: Severity = Severity.ERROR, file: str = "a.yaml"
) -> Finding:
    return Finding(
        name="scale-missing",
        severity=severity,
        where=Where(file=file, line=line, column=column, field="steps[0]"),
        what="“350” has no scale",
        instead="write “350 °F”",
        width=width,
    )


SOURCE = "title: Crackers\nsteps:\n\t- Heat the oven to 350.\n"


@pytest.mark.parametrize(
    ("line", "column", "width", "excerpt"),
    [
        (3, 21, 3, "    3 |  - Heat the oven to 350.\n      |" + " " * 21 + "^^^\n"),
        (1, 1, 99, "    1 | title: Crackers\n      | ^^^^^^^^^^^^^^^\n"),
        (1, 0, 1, "    1 | title: Crackers\n"),
        (0, 0, 1, ""),
        (9, 1, 1, ""),
    ],
)
def test_text_shows_the_line_and_underlines_the_fault(
    line: int, column: int, width: int, excerpt: str
) -> None:
    one = finding(line, column, width)
    expected = (
        f"a.yaml: 1 error\n\n{one.where}: error: “350” has no scale [scale-missing]\n"
        f"{excerpt}      → write “350 °F”\n"
    )
    assert as_text([one], {"a.yaml": SOURCE}) == expected


def test_text_groups_by_file() -> None:
    text = as_text([finding(1, 1, 1, file="b.yaml"), finding(1, 1, 1)], {})
    assert [line for line in text.splitlines() if "1 error" in line] == ["a.yaml: 1 error", "b.yaml: 1 error"]


def test_no_findings_no_text() -> None:
    assert as_text([], {}) == ""


@pytest.mark.parametrize(
    ("severities", "text"),
    [
        ([], "nothing found"),
        ([Severity.ERROR] * 2 + [Severity.NOTE], "2 errors, 1 note"),
        ([Severity.WARNING], "1 warning"),
    ],
)
def test_counted(severities: list[Severity], text: str) -> None:
    assert counted(finding(1, 1, 1, one) for one in severities) == text


def test_records_survive_json() -> None:
    records = as_records([finding(3, 23, 3)])
    assert json.loads(json.dumps(records)) == records
    assert records[0]["severity"] == "error"
    assert (records[0]["line"], records[0]["column"], records[0]["width"]) == (3, 23, 3)


def test_totals_are_by_check_and_by_file_the_gravest_first() -> None:
    note = finding(1, 1, 1, Severity.NOTE, "b.yaml")
    found = [finding(1, 1, 1), finding(2, 1, 1), finding(3, 1, 1, Severity.WARNING, "c.yaml"), note]
    assert totals(found).splitlines() == [
        "By check",
        "  2  scale-missing (error)",
        "  1  scale-missing (warning)",
        "  1  scale-missing (note)",
        "Most to mend",
        "  a.yaml: 2 errors",
        "  c.yaml: 1 warning",
        "",
    ]
    many = [finding(1, 1, 1, file=f"{number}.yaml") for number in range(3 * WORST)]
    assert totals(many).count(": 1 error") == WORST
    assert "Most to mend" not in totals([note])
    assert not totals([])
