"""The fields of the files of a book: their names, shapes and meaning, as data. The readers and the manual both take them from here."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a file. `about` says what it is for, a phrase of the catalogue.

    `shape` is `formula`, `words` (one text each), `formulas`, `word-list`, `technique-list` (one or a list), `choice` (one of
    `choices`), `whole` (a whole number), `date`, `time-list` (minutes and seconds), `address` (of a web page) or `table` (names and
    values).
    """

    name: str
    shape: str
    about: str
    example: str
    required: bool = False
    choices: tuple[str, ...] = ()


PROBLEM = (
    Field("question", "formula", "the integral, derivative or limit to find", r"\int \frac{x}{x+3} \, dx", required=True),
    Field("key", "formulas", "the answer key; several keys as a list, all of them right", r"x - 3\ln|x+3| + C", required=True),
    Field("title", "words", "the title of the page; left out: the question in words", "A fraction that divides"),
    Field("level", "choice", "how hard it is, 1 to 3", "1", choices=("1", "2", "3")),
    Field("methods", "technique-list", "worked by these methods, in this order; left out: the best two", "[division, substitution]"),
    Field("u", "formula", "a substitution that the worked solution must use", "u = x + 3"),
    Field("domain", "formula", "where the question is asked, if it restricts that", "x > -3"),
    Field("given", "words", "parameters and what is assumed of them", "a > 0, n a positive integer"),
    Field("hints", "word-list", "hints, from the gentlest on", "[Divide first.]"),
    Field("needs", "technique-list", "techniques allowed beyond those introduced so far", "[division]"),
    Field("vary", "table", "the letters of a family and the numbers that they may be", "{a: 2..9, b: 1..5, where: a > b}"),
    Field("vouched", "table", "who answers for a key that could not be decided, and why", "{name: R. Quay, reason: worked by hand}"),
    Field("release", "date", "the day before which key and solutions are withheld", "2027-03-01"),
    Field("author", "words", "who wrote the problem", "R. Quay"),
    Field("source", "words", "where the problem comes from", "own"),
    Field("license", "words", "the licence of the problem", "CC BY 4.0"),
    Field("video", "address", "a film that explains it", "https://example.org/film"),
    Field("times", "time-list", "when the film comes to each line of the first worked solution", "['0:12', '0:40', '1:05']"),
)

CHAPTER = (
    Field("title", "words", "the title of the chapter", "Linear substitutions", required=True),
    Field("order", "whole", "the chapter's place in the book", "3", required=True),
    Field("introduces", "technique-list", "the techniques that this chapter teaches", "[substitution]"),
)

SET = (
    Field("title", "words", "the title of the set", "Which inside?", required=True),
    Field("kind", "choice", "whether neighbours must begin differently", "mixed", choices=("mixed", "plain")),
    Field("problems", "word-list", "the problems by hand, in this order", "[powers/backwards-first, parts/by-the-tide]"),
    Field("chapters", "word-list", "pick from these chapters; left out: from all", "[substitution, parts]"),
    Field("levels", "word-list", "pick from these levels; left out: from all", "[2, 3]"),
    Field("techniques", "technique-list", "pick what begins with one of these; left out: anything", "[parts, substitution]"),
    Field("count", "whole", "how many to pick", "12"),
    Field("seed", "whole", "another number picks and orders others", "7"),
)

CONTRAST = (
    Field("title", "words", "the title of the contrast", "Same denominator, other numerator", required=True),
    Field(
        "kind",
        "choice",
        "one question by several methods, or several that look alike; left out: by the number of problems",
        "look-alikes",
        choices=("two methods", "look-alikes"),
    ),
    Field(
        "problems",
        "word-list",
        "the one problem, or the two or three that look alike",
        "[parts/by-the-tide, substitution/at-noon]",
        required=True,
    ),
    Field(
        "methods", "technique-list", "the methods of the one problem, or one for each problem; left out: their own", "[parts, substitution]"
    ),
    Field("point", "words", "what the contrast shows, in the teacher's words", "Look for the derivative of the inside.", required=True),
    Field("prompt", "words", "what is asked first; left out: which method works where, and why", "Which of these needs no new letter?"),
)

LESSON = (
    Field("title", "words", "the title of the lesson", "Two ways to look at a product", required=True),
    Field("minutes", "whole", "how long the lesson is; its steps should add up to it", "50"),
)

BOOK = (
    Field("title", "words", "the title of the book", "Harbour Lane practice book"),
    Field("log", "choice", r"what `\log` means", "ask", choices=("natural", "10", "ask")),
    Field("decimal", "choice", "the decimal mark", "point", choices=("point", "comma")),
    Field("constant", "choice", "what a missing + C is", "warning", choices=("warning", "error")),
    Field("language", "words", "the language of the site, as a code", "en"),
    Field("edition", "words", "the edition of the book", "2027"),
    Field("license", "words", "the licence of the book", "CC BY 4.0"),
    Field("dated", "date", "the day of this edition", "2027-03-01"),
    Field("address", "address", "where the book is on the web, for printed sheets", "https://example.org/book/"),
    Field("errata", "word-list", "what was put right: the day, the page, the words", "[2027-03-01 parts/by-the-tide A sign in the key.]"),
)

VOUCHED = ("name", "reason")

SYNONYMS = {
    "answer": "key",
    "solution": "key",
    "keys": "key",
    "integral": "question",
    "problem": "question",
    "on": "domain",
    "difficulty": "level",
    "technique": "methods",
    "techniques": "methods",
    "substitution": "u",
    "assume": "given",
    "parameters": "given",
    "requires": "needs",
    "family": "vary",
    "date": "release",
    "licence": "license",
    "teaches": "introduces",
    "position": "order",
    "number": "order",
    "comma": "decimal",
    "lang": "language",
    "name": "title",
}
