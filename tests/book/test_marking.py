"""Marking a class: what the checker says of 300 made-up answers is what mpmath says of them, and nothing unreadable stops it.

The answers are invented. Each is written twice, as a student types it and as Python for mpmath, which decides on its own.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Sequence
from pathlib import Path

import mpmath
import pytest

from everyline.book.asked import Asked, asked, chosen, from_record
from everyline.book.assembly import listed
from everyline.book.class_marks import Answers, mark_answers, marked_table, read_answers, summary, unread
from everyline.book.marking import NOTHING, RIGHT, UNDECIDED, UNREAD, WRONG, Handed, Mark, mark
from everyline.book.rows import claimed_question
from everyline.notation import Context, parse_question, plain
from everyline.notation.message import Message, fill
from everyline.notation.question import Given
from everyline.source.load import load
from everyline.source.problem import Problem

#: A question for each k, its kind, the body (and limits) as Python, and answers: as typed, as Python, the slip that is to be named.
CLASS = (
    (
        r"\int \cos {k}x \, dx", "cos(k*x)", "", (
            (r"\frac{{1}}{{{k}}}\sin {k}x + C", "sin(k*x)/k", ""), ("sin({k}x)/{k} + c", "sin(k*x)/k", ""),
            ("{k}*sin({k}x) + C", "k*sin(k*x)", "inner-derivative-multiplied"), ("sin({k}x) + C", "sin(k*x)", "inner-derivative-lost"),
            (r"-\frac{{\sin {k}x}}{{{k}}} + C", "-sin(k*x)/k", "*"), ("2/{k} sin({k}x/2) cos({k}x/2) + 7 + C", "sin(k*x)/k", ""),
        ),
    ),
    (
        r"\int ({k}x + 1)^3 \, dx", "(k*x+1)**3", "", (
            ("({k}x+1)^4/(4*{k}) + C", "(k*x+1)**4/(4*k)", ""), ("({k}x+1)^4/4 + C", "(k*x+1)**4/4", "*"),
            ("3*{k}*({k}x+1)^2 + C", "3*k*(k*x+1)**2", "*"), ("({k}x+1)^4/(4*{k})", "(k*x+1)**4/(4*k)", ""),
            ("({k}x+1)^4/{k} + C", "(k*x+1)**4/k", "*"), ("x({k}x+2)(({k}x)^2+2*{k}x+2)/4 + C", "x*(k*x+2)*((k*x)**2+2*k*x+2)/4", ""),
        ),
    ),
    (
        r"\int_0^2 {k}x^2 \, dx", "k*x**2", "0 2", (
            (r"\frac{{8*{k}}}{{3}}", "8*k/3", ""), ("8*{k}/3", "8*k/3", ""), ("8*{k}", "8*k", "*"), ("-8*{k}/3", "-8*k/3", "*"),
            ("4*{k}", "4*k", "*"),
        ),
    ),
    (
        r"\frac{{d}}{{dx}} x^{k} \sin x", "x**k*sin(x)", "d", (
            ("{k}x^({k}-1) sin x + x^{k} cos x", "k*x**(k-1)*sin(x)+x**k*cos(x)", ""),
            ("{k}x^({k}-1) cos x", "k*x**(k-1)*cos(x)", "product-rule-missing"), ("{k}x^({k}-1) sin x", "k*x**(k-1)*sin(x)", "*"),
            ("x^{k}({k} sin(x)/x + cos x)", "x**k*(k*sin(x)/x+cos(x))", ""),
            ("{k}x^({k}-1) sin x - x^{k} cos x", "k*x**(k-1)*sin(x)-x**k*cos(x)", "*"),
        ),
    ),
    (
        r"\lim_{{x \to 0}} \frac{{\sin {k}x}}{{x}}", "sin(k*x)/x", "l", (
            ("{k}", "k", ""), ("1", "1", "*"), ("0", "0", "*"), ("{k}/1", "k", ""), ("1/{k}", "1/k", "*"),
        ),
    ),
    (
        r"\int \frac{{{k}}}{{x}} \, dx", "k/x", "", (
            ("{k} ln|x| + C", "k*log(fabs(x))", ""), (r"{k}\ln|3x| + C", "k*log(fabs(3*x))", ""), ("-{k}/x^2 + C", "-k/x**2", "*"),
            ("ln|x|/{k} + C", "log(fabs(x))/k", "*"), ("{k}*ln|x|*2 + C", "2*k*log(fabs(x))", "*"),
        ),
    ),
)  # fmt: skip
NUMBERS = (2, 3, 4, 5, 6, 7, 8, 9, 10, 11)
UNREADABLE = (
    "see the back", "\\frac{", "2x +* 3", "??", "01-Feb", "\U0001f642", "x" * 5000, "(" * 900, "\x00\x07", "int", "sin", "x = = 2", "^^",
    "}{",
    "\\input{/etc/passwd}", "__import__('os')", "'; drop table students; --", "=1+1", "1/0 +", "\u202e2x", "#REF!", "1e999999", "9^9^9^9^9",
)  # fmt: skip


def agrees(body: str, kind: str, answer: str, k: int) -> bool:
    """The truth by mpmath alone, at 30 digits."""
    with mpmath.workdps(30):
        names = {name: getattr(mpmath, name) for name in ("sin", "cos", "log", "fabs")} | {"k": mpmath.mpf(k)}

        def value(text: str, x: object) -> mpmath.mpf:
            return mpmath.mpf(eval(text, names | {"x": x}))

        points = [mpmath.mpf(p) / 37 for p in (11, 23, 41)]
        if kind == "":
            pairs = [(mpmath.diff(lambda x: value(answer, x), p), value(body, p)) for p in points]
        elif kind == "d":
            pairs = [(mpmath.diff(lambda x: value(body, x), p), value(answer, p)) for p in points]
        elif kind == "l":
            pairs = [(mpmath.limit(lambda x: value(body, x), 0), value(answer, 1))]
        else:
            pairs = [(mpmath.quad(lambda x: value(body, x), [0, 2]), value(answer, 1))]
        return all(abs(a - b) < mpmath.mpf(10) ** -10 for a, b in pairs)


def handed_in() -> Iterator[tuple[str, int, int, str, str, str, str, str]]:
    for which, (question, body, kind, answers) in enumerate(CLASS):
        for k in NUMBERS:
            for text, python, slip in answers:
                yield question.format(k=k), which, k, text.format(k=k), body, kind, python, slip


def no_families(paths: Sequence[str]) -> dict[str, Problem]:
    assert not paths
    return {}


@pytest.fixture(scope="module")
def a_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("book")
    (folder / "one").mkdir()
    (folder / "book.yml").write_text("title: A class\nlog: natural\n")
    (folder / "one" / "index.md").write_text("---\ntitle: One\norder: 1\n---\n")
    for which, (question, _, _, answers) in enumerate(CLASS):
        for k in NUMBERS:
            text = f"---\nquestion: {question.format(k=k)}\nkey: {answers[0][0].format(k=k)}\ntitle: Problem {which} with {k}\n---\n"
            (folder / "one" / f"p{which}-{k:02}.md").write_text(text)
    return folder


@pytest.fixture(scope="module")
def sheet(a_book: Path) -> Asked:
    conventions, _, problems = listed(load(a_book))
    return asked(chosen(problems, ["one"]), conventions, no_families)


@pytest.fixture(scope="module")
def marked(sheet: Asked) -> tuple[Answers, tuple[Mark, ...]]:
    """300 answers and more, with unreadable ones among them, as a European spreadsheet saves them."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=";")
    writer.writerow(["Form", "PROBLEM", "Student name", "Answer", "E-mail"])
    for n, (_, which, k, text, *_) in enumerate(handed_in()):
        writer.writerow(["7b", f"p{which}-{k:02}", f"Student {n % 31}", text, "nobody@example.org"])
    for n, text in enumerate(UNREADABLE):
        writer.writerow(["7b", f"p0-{NUMBERS[n % 10]:02}", f"Student {n}", text, ""])
    answers = read_answers(out.getvalue().encode("utf-8-sig"), sheet)
    return answers, mark_answers(answers, sheet.conventions, workers=2)


def test_every_one_of_300_answers_is_marked_as_mpmath_says(marked: tuple[Answers, tuple[Mark, ...]]) -> None:
    given = list(handed_in())
    assert len(given) >= 300
    for (question, _, k, text, body, kind, python, _), found in zip(given, marked[1], strict=False):
        assert found.mark == (RIGHT if agrees(body, kind, python, k) else WRONG), (question, text, found)


def test_the_slip_is_named_and_never_for_a_right_answer(marked: tuple[Answers, tuple[Mark, ...]]) -> None:
    wrong = named = 0
    for (question, _, _, text, *_, slip), found in zip(handed_in(), marked[1], strict=False):
        if not slip:
            assert not found.slip, (question, text, found)
            continue
        wrong += 1
        named += bool(found.slip)
        assert slip in ("*", found.slip), (question, text, found)
    assert named >= 0.9 * wrong, f"{named} of {wrong} wrong answers have a named slip"


def test_what_cannot_be_read_is_said_so_and_never_marked_wrong(marked: tuple[Answers, tuple[Mark, ...]]) -> None:
    answers, marks = marked
    for row, found in list(zip(answers.rows, marks, strict=True))[-len(UNREADABLE) :]:
        assert found.mark in (UNREAD, UNDECIDED) or row.answer in ("1e999999", "9^9^9^9^9", "=1+1"), (row.answer[:40], found)
        assert found.mark != RIGHT
    said = {row.answer: found for row, found in unread(answers, marks)}
    assert "spreadsheets make one of a fraction" in said["01-Feb"].note()


def test_the_marked_file_has_every_row_as_it_came_and_no_cell_that_a_spreadsheet_would_run(
    marked: tuple[Answers, tuple[Mark, ...]], sheet: Asked
) -> None:
    data = marked_table(*marked)
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""), delimiter=";"))
    assert rows[0] == [
        "Form",
        "PROBLEM",
        "Student name",
        "Answer",
        "E-mail",
        "Mark",
        "Slip",
        "What was found",
        "Working",
        "First wrong line",
    ]
    assert len(rows) == 1 + len(marked[0].rows)
    assert not [cell for row in rows for cell in row if cell[:1] in "=@+-" and cell]
    again = read_answers(data, sheet)
    assert again.columns == marked[0].columns
    assert [row.answer for row in again.rows] == [row.answer for row in marked[0].rows]


def test_the_summary_counts_what_was_marked(marked: tuple[Answers, tuple[Mark, ...]], sheet: Asked) -> None:
    found = summary(*marked, sheet)
    assert sum(tally.marks.total() for tally in found.tallies) == len(marked[0].rows) == found.answers
    assert sum(count for _, _, count in found.slips) == sum(bool(each.slip) for each in marked[1])
    assert found.students == 31
    assert [count for _, _, count in found.slips] == sorted((count for _, _, count in found.slips), reverse=True)


PUBLISHED = [
    row
    for line in (Path(__file__).resolve().parents[1] / "reference" / "wrong_tables.jsonl").read_text("utf-8").splitlines()
    if not (row := json.loads(line))["mistake"].startswith("dropped the constant")
]


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row["id"])
def test_published_answers_are_right_and_the_mistakes_made_in_them_wrong(row: dict[str, str]) -> None:
    """The rows are of OpenStax Calculus (appendix A), NIST DLMF (chapter 4) and Abramowitz & Stegun; each has a named mistake."""
    domain = (row.get("domain") or "").replace(" U ", " or ").replace("oo", "infinity")
    question = claimed_question({**row, "domain": domain or None}, "natural")
    right, wrong = (mark(Handed(question, row["right_answer"], row[which], log="natural")) for which in ("right_answer", "wrong_answer"))
    assert right.mark == RIGHT, right
    assert wrong.mark == WRONG, wrong


QUESTION = parse_question(r"\int x\cos x \, dx", Given(), Context())


@pytest.mark.parametrize(
    ("working", "line", "result", "said"),
    [
        ("= x sin x - \\int sin x dx\n= x sin x + cos x + C", 0, RIGHT, "every line follows"),
        ("= x sin x - \\int sin x dx; = x sin x + cos x + C", 0, RIGHT, "every line follows"),
        ("let u = x, dv = cos x dx\n= x sin x - \\int sin x dx\n= x sin x + cos x + C", 0, RIGHT, "every line follows"),
        ("= x sin x - \\int sin x dx\n= x sin x - cos x + C", 2, WRONG, "line 2 does not follow: wrong at x = 2"),
        ("= x sin x + \\int sin x dx\n= x sin x + cos x + C", 1, RIGHT, "line 1 does not follow"),
        ("= x sin x - \\int sin x dx", 1, NOTHING, "line 1 is not an answer yet: An integral is still standing."),
        ("= x sin x - \\int sin x dx\n= ((\n= x sin x + cos x + C", 2, RIGHT, "line 2 could not be read"),
        ("by parts, as we did on Monday", 1, UNREAD, "line 1 could not be read"),
        ("= q", 1, UNREAD, "line 1 could not be read: “q” is not a letter of the question"),
        ("\n\n ; ; \n", 0, NOTHING, ""),
        ("=", 1, NOTHING, "line 1 could not be read"),
    ],
)  # fmt: skip
def test_a_working_is_followed_to_its_first_wrong_line(working: str, line: int, result: str, said: str) -> None:
    found = mark(Handed(QUESTION, "x sin x + cos x + C", "", working))
    assert (found.line, found.mark) == (line, result), found
    assert found.worked().startswith(said)


@pytest.mark.parametrize(("answer", "letter"), [("x^3", "x"), ("1 + C", "C")])
def test_a_value_with_the_variable_or_a_constant_in_it_is_wrong_and_the_letter_is_named(answer: str, letter: str) -> None:
    question = parse_question(r"\int_0^1 3x^2 \, dx", Given(), Context())
    found = mark(Handed(question, "1", answer))
    assert (found.mark, found.note()) == (WRONG, f"a value has no {letter} in it")
    assert mark(Handed(question, "1", "[x^3]_0^1")).mark == RIGHT


def test_an_answer_beside_a_working_is_what_is_marked() -> None:
    found = mark(Handed(QUESTION, "x sin x + cos x + C", "x sin x + cos x", "= x sin x - \\int sin x dx\n= 2"))
    assert (found.mark, found.line, found.note()) == (RIGHT, 2, "the constant of integration is missing")


@pytest.mark.parametrize(
    "table",
    [
        "student,number,answer\nAda,1,2\nBo,2,3\n",
        "\ufeffAnswer;NUMBER;Student Name\n2;1;Ada\n3;2;Bo\n",
        "sep=;\r\nanswer;no;name\r\n2;1;Ada\r\n3;2;Bo\r\n",
        "Class 7b, week 3,,\n,,\nname,q,answer\nAda,Q1,2\nBo,q2.,3\n",
        "name\tproblem\tanswer\nAda\tone/a.md\t2\nBo\tb\t3\n",
        "Timestamp,Full name,1,2\nnow,Ada,2,\nnow,Bo,,3\n",
        "Full name,\"Question 1: find it\",Question 2\nAda,2,\nBo,,3\n",
        "student,problem,answer\nAda,First,2\nBo,SECOND,3\n",
        "student|version|number|answer\nAda||1|2\nBo||2|3\n",
    ],
)  # fmt: skip
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_the_table_of_any_spreadsheet_is_read(table: str, encoding: str) -> None:
    rows = [row for row in read_answers(table.encode(encoding), _small()).rows if row.answer]
    assert [(row.student, getattr(row.item, "path", row.item), row.answer) for row in rows] == [
        ("Ada", "one/a.md", "2"),
        ("Bo", "one/b.md", "3"),
    ]


def _small(record: object = None) -> Asked:
    from everyline.source.problem import Conventions
    from everyline.source.reading import read_problem

    text = b"---\nquestion: \\int_0^1 %d x^0 \\, dx\nkey: '%d'\ntitle: %s\n---\n"
    problems = [
        read_problem(f"one/{name}.md", text % (n, n, title)).problem for n, name, title in ((2, "a", b"First"), (3, "b", b"Second"))
    ]
    if record is not None:
        return from_record(json.dumps(record).encode(), {p.path: p for p in problems if p}, Conventions(), no_families)
    return asked([p for p in problems if p], Conventions(), no_families)


@pytest.mark.parametrize(
    ("row", "found"),
    [
        (("", "A", "1"), "one/a.md"), (("", "b", "1"), "one/b.md"), (("", "", "B2"), "one/a.md"), (("", "Version B", "2"), "one/a.md"),
        (("A-2", "", ""), "one/b.md"), (("First", "", ""), "one/a.md"), (("", "C", "1"), "there is no version “C”"),
        (("", "", "1"), "the row does not say which version it answers"), (("", "A", "9"), "version A has no problem 9"),
        (("", "A", ""), "the row does not say which problem it answers"), (("Third", "", ""), "“Third” is not on the sheet"),
        (("", "A", "one"), "“one” is not the number of a problem"),
    ],
)  # fmt: skip
def test_a_row_finds_its_problem_by_the_record_of_the_sheet(row: tuple[str, str, str], found: str) -> None:
    sheet = _small({"A": [["one/a.md", 0], ["one/b.md", 0]], "B": [["one/b.md", 0], ["one/a.md", 0]]})
    item = sheet.find(*row)
    assert (fill(item, plain) if isinstance(item, Message) else item.path) == found


@pytest.mark.parametrize(
    "record", ["x", [], {"A": "x"}, {"A": [["one/zzz.md", 0]]}, {"A": [[1, 2]]}, {"A": []}, {"A": [["one/a.md", 0, 0]]}]
)
def test_what_is_no_record_of_a_sheet_is_said_so(record: object) -> None:
    with pytest.raises(ValueError, match=r"record|is not in the book"):
        _small(record)


@pytest.mark.parametrize("data", [b"", b"\x00\x01\xff", b"a,b\n1,2\n", b"student,mark\nAda,3\n", b"\n\n\n", "名前;答え\n".encode()])
def test_a_file_without_a_table_of_answers_is_said_so(data: bytes) -> None:
    with pytest.raises(ValueError, match=r"no table was found|no column of answers"):
        read_answers(data, _small())


def test_a_quotation_mark_that_is_never_closed_takes_no_other_student_with_it() -> None:
    rows = read_answers(b'student,number,answer\nAda,1,"2\nBo,2,3\nCy,1,2\n', _small()).rows
    assert [row.student for row in rows] == ["Ada", "Bo", "Cy"]


def test_a_cell_without_end_takes_no_other_student_with_it() -> None:
    rows = read_answers(b"student,number,answer\nAda,1," + b"x" * 300_000 + b"\nBo,2,3\n", _small()).rows
    assert [row.student for row in rows] == ["Ada", "Bo"]


def test_an_unquoted_comma_in_an_answer_is_seen() -> None:
    rows = read_answers(b"student,number,answer\nAda,1,2,5\n", _small()).rows
    assert "more cells than there are columns" in str(rows[0].item)


def test_a_decimal_comma_is_understood_where_it_makes_the_answer_right() -> None:
    question = parse_question(r"\int_0^1 x \, dx", Given(), Context())
    assert mark(Handed(question, "1/2", "0,5")).mark == RIGHT
    assert mark(Handed(question, "1/2", "0,7")).mark != RIGHT
