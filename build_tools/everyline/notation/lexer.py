"""From text to tokens. Places are code-point offsets into the text as given."""

from __future__ import annotations

import re

from .context import Context
from .digits import read_number
from .errors import NotationError
from .message import say
from .patterns import (
    BOUND,
    COMMANDS,
    DERIVATIVE,
    DIFFERENTIAL,
    GREEK_AFTER_D,
    INTEGRAL,
    NUMBER,
    NUMBER_IN_LIST,
    OTHERS,
    SIZE_BEFORE,
    SUBSCRIPT,
    TOKEN,
    UPRIGHT_DIFFERENTIAL,
    letter_name,
)
from .strangers import stray, unknown, unknown_command
from .tokens import Token, pieces_to_tokens
from .words import (
    ANSWERS,
    FUNCTION_WORDS,
    GREEK,
    GREEK_SIGNS,
    INFINITY_WORDS,
    RELATIONS,
    SAME_LENGTH,
    SUPERSCRIPTS,
    VULGAR,
    Piece,
    split_word,
)  # fmt: skip

MAX_LENGTH = 6_000


class Lexer:
    """One pass over one text. `commas` is False where commas and semicolons separate things (intervals, lists)."""

    def __init__(self, text: str, context: Context, *, commas: bool = True) -> None:
        if len(text) > MAX_LENGTH:
            raise NotationError(
                "limit",
                say("This is too long to be a formula ({count} characters).", count=len(text)),
                0,
                len(text),
                say("Split it into parts."),
            )
        self.text = text if text.isascii() else text.translate(SAME_LENGTH)
        self.context = context
        self.commas = commas
        self.number = NUMBER if commas else NUMBER_IN_LIST
        self.tokens: list[Token] = []
        self.gap = 0
        self.bars = 0
        self.integral = ("int" in self.text or "∫" in self.text) and INTEGRAL.search(self.text) is not None
        may_bind = any(sign in self.text for sign in ("d", "lim", "="))
        self.names = context.names | self._bound() if may_bind else context.names

    def _bound(self) -> frozenset[str]:
        """Names that the text itself declares: by dx, d/dx, x -> 0 and [..]_{x=0}."""
        found = [letter_name(m["a5"] or m["b5"]) for m in DERIVATIVE.finditer(self.text)]
        found += [letter_name(m["limit"] or m["bar"]) for m in BOUND.finditer(self.text)]
        if self.integral:
            found += [letter_name(m["letter"]) for m in DIFFERENTIAL.finditer(self.text)]
        return frozenset(found)

    def run(self) -> list[Token]:
        at, stop = self._without_dollars()
        text = self.text
        while at < stop:
            match = TOKEN.match(text, at, stop)
            assert match is not None
            kind = match.lastgroup if match.lastgroup != "inside" else "upright"
            if kind == "space":
                self.gap = self.gap or 1
                at = match.end()
            elif kind == "gap":
                self.gap = 2
                at = match.end()
            elif kind == "nothing":
                at = match.end()
            else:
                at = getattr(self, f"_{kind}")(match)
        for _ in range(3):  # so that the parser may look ahead
            self.add("end", None, stop, stop)
        return self.tokens

    def _without_dollars(self) -> tuple[int, int]:
        """The formula without the mathematics signs round it, as places in the text."""
        text = self.text
        start, stop = len(text) - len(text.lstrip()), len(text.rstrip())
        if text.endswith(".", 0, stop) and not text.endswith(("\\right.", "\\left."), 0, stop):
            stop = len(text[: stop - 1].rstrip())  # the full stop of a sentence
        for opening, closing in (("$$", "$$"), ("$", "$"), ("\\(", "\\)"), ("\\[", "\\]")):
            if text.startswith(opening, start) and text.endswith(closing, start + len(opening), stop):
                return start + len(opening), stop - len(closing)
        return start, stop

    def add(self, kind: str, value: object, start: int, end: int) -> int:
        self.tokens.append(Token(kind, value, start, end, self.gap))
        self.gap = 0
        return end

    # -- one method for each group of the pattern; each returns where to go on ------------------------------------------

    def _number(self, match: re.Match[str]) -> int:
        found = self.number.match(self.text, match.start())
        assert found is not None
        end = found.end()
        power = re.match(r"[eE][-+]?\d", self.text[end : end + 3])
        if power:
            start, stop = found.start(), end + power.end()
            message = say("“{number}” may mean a power of ten or the number e.", number=self.text[start:stop])
            help = say("Write 2*10^3 for a power of ten, and 2*e with a space or an asterisk for the number e.")
            raise NotationError("number", message, start, stop, help)
        return self.add("number", read_number(found[0], self.context, found.start()), found.start(), end)

    def _word(self, match: re.Match[str]) -> int:
        text, word, start, end = self.text, match[0], match.start(), match.end()
        derivative = self._derivative(start) if word[0] == "d" else None
        if derivative is not None:
            return derivative
        if word in INFINITY_WORDS and word not in self.names:
            return self.add("infinity", None, start, end)
        for phrase, answer in ANSWERS.items():
            if text.startswith(phrase, start) and not text[start + len(phrase) :].strip(" .$"):
                return self.add("answer", answer, start, len(text.rstrip(" .$")))
        if word in ("int", "lim", "or", "and") and word not in self.names:
            return self.add({"int": "integral", "lim": "limit"}.get(word, word), None, start, end)
        if word == "U" and not self.commas:
            return self.add("union", None, start, end)
        after = GREEK_AFTER_D.match(text, end) if self.integral and word[-1] == "d" else None
        if after:
            if len(word) > 1:
                self._letters(word[:-1], start, end - 1)
            return self.add("differential", letter_name(after["letter"]), end - 1, after.end())
        return self._letters(word, start, end)

    def _letters(self, word: str, start: int, end: int) -> int:
        subscript = SUBSCRIPT.match(self.text, end)
        readings: tuple[tuple[Piece, ...], ...] = ()
        if subscript and word not in FUNCTION_WORDS:
            name = f"{word[-1]}_{subscript[1] or subscript[2] or subscript[3]}"
            if name in self.names or (name[0] == "C" and self.context.constants):
                last = ("name" if name in self.names else "arbitrary", name)
                heads = split_word(word[:-1], self.names, self.context.constants, False) if len(word) > 1 else ((),)
                if len(word) > 1 and word[-2:-1] == "d" and self.integral and name in self.names:
                    last = ("differential", name)
                    heads = split_word(word[:-2], self.names, self.context.constants, False) if len(word) > 2 else ((),)
                readings = tuple((*head, last) for head in heads)
                if not readings:
                    raise self.unknown(word[:-1], start)
                word, end = word[:-1] + name, subscript.end()
        readings = readings or split_word(word, self.names, self.context.constants, self.integral)
        if not readings:
            raise self.unknown(word, start)
        if len(readings) > 1:
            return self.add("choice", readings, start, end)
        self.add_pieces(readings[0], start, end)
        return end

    def add_pieces(self, pieces: tuple[Piece, ...], start: int, end: int) -> None:
        self.tokens += pieces_to_tokens(pieces, start, end, self.gap)
        self.gap = 0

    def _upright(self, match: re.Match[str]) -> int:
        differential = UPRIGHT_DIFFERENTIAL.match(self.text, match.start()) if self.integral else None
        if differential:
            return self.add("differential", letter_name(differential["letter"]), match.start(), differential.end())
        inside, start, end = match["inside"], match.start(), match.end()
        if inside in ANSWERS:
            return self.add("answer", ANSWERS[inside], start, end)
        if inside in FUNCTION_WORDS:
            return self.add("function", "\\" + inside, start, end)
        if inside in ("or", "and"):
            return self.add(inside, None, start, end)
        pieces = split_word(inside, self.names, self.context.constants, self.integral)
        if len(pieces) != 1:
            raise self.unknown(inside, match.start("inside"))
        self.add_pieces(pieces[0], start, end)
        return end

    def _command(self, match: re.Match[str]) -> int:
        name, start, end = match[0][1:], match.start(), match.end()
        if name in FUNCTION_WORDS and name != "sqrt":
            return self.add("function", "\\" + name, start, end)
        if name in GREEK and name != "pi":
            return self._greek(name, start, end)
        if name in ("frac", "dfrac", "tfrac", "cfrac"):
            derivative = self._derivative(start)
            return self.add("fraction", None, start, end) if derivative is None else derivative
        if name in COMMANDS:
            return self.add(COMMANDS[name], None, start, end)
        if match[0] in RELATIONS:
            return self.add("relation", RELATIONS[match[0]], start, end)
        if name in ("pi", "infty", "sqrt", "int", "lim"):
            kind = {"pi": "constant", "infty": "infinity", "sqrt": "root", "int": "integral", "lim": "limit"}[name]
            return self.add(kind, "\\" if name == "sqrt" else name, start, end)
        if name in ("lvert", "rvert", "vert", "mid", "|"):
            return self._bar(start, end, {"l": "l", "r": "r"}.get(name[0], ""))
        if name in ("left", "right"):
            return self.add("leftdot" if name == "left" else "rightdot", None, start, end + 1)
        raise unknown_command(name, start, end)

    def _greek(self, name: str, start: int, end: int) -> int:
        subscript = SUBSCRIPT.match(self.text, end)
        if subscript and f"{name}_{subscript[1] or subscript[2] or subscript[3]}" in self.names:
            name, end = f"{name}_{subscript[1] or subscript[2] or subscript[3]}", subscript.end()
        if name not in self.names:
            raise self.unknown(name, start, end)
        return self.add("name", name, start, end)

    def _symbol(self, match: re.Match[str]) -> int:
        sign = match[0]
        if sign == "|":
            before = SIZE_BEFORE.search(self.text[max(0, match.start() - 8) : match.start()])
            side = (before["side"] or before[1][0] if before[1] in ("left", "right") else before["side"]) if before else ""
            return self._bar(match.start(), match.end(), side or "")
        if sign in RELATIONS:
            return self.add("relation" if sign != "=" else "=", RELATIONS[sign], match.start(), match.end())
        kind = {"**": "^", "->": "to"}.get(sign, sign)
        return self.add(kind, None, match.start(), match.end())

    def _bar(self, start: int, end: int, side: str) -> int:
        self.bars += not side
        return self.add({"l": "bar(", "r": "bar)", "": "|"}[side], None, start, end)

    def _raised(self, match: re.Match[str]) -> int:
        digits = "".join(SUPERSCRIPTS[c] for c in match[0])
        if not re.fullmatch(r"-?\d{1,9}", digits):
            raise NotationError(
                "syntax", say("This raised number cannot be read."), match.start(), match.end(), say("Write the power with ^.")
            )
        return self.add("raised", int(digits), match.start(), match.end())

    def _other(self, match: re.Match[str]) -> int:
        sign, start, end = match[0], match.start(), match.end()
        if sign in GREEK_SIGNS:
            return self._greek(GREEK_SIGNS[sign], start, end)
        if sign == "π":
            return self.add("constant", "pi", start, end)
        if sign in VULGAR:
            return self.add("vulgar", VULGAR[sign], start, end)
        if sign in OTHERS:
            kind = OTHERS[sign]
            return self.add(kind[:4] if kind.startswith("root") else kind, kind[4:] if kind.startswith("root") else None, start, end)
        if sign in RELATIONS:
            return self.add("relation", RELATIONS[sign], start, end)
        raise stray(sign, start)

    def _derivative(self, start: int) -> int | None:
        match = DERIVATIVE.match(self.text, start)
        if not match:
            return None
        g = "a" if match["a5"] else "b"
        above, below = (match[g + "1"] or match[g + "2"] or "1", match[g + "6"] or match[g + "7"] or "1")
        order, check = (int(s.translate(str.maketrans("²³", "23"))[:4]) for s in (above, below))
        if order != check or not 1 <= order <= 20:
            raise NotationError(
                "syntax",
                say("The two powers in this derivative do not fit together."),
                start,
                match.end(),
                say(r"Write \frac{d^2}{dx^2}, order 20 at most."),
            )
        function = letter_name(match[g + "3"]) if match[g + "3"] else None
        if function is not None and function not in self.names:
            raise self.unknown(function, match.start(g + "3"))
        return self.add("derivative", (letter_name(match[g + "5"]), order, function), start, match.end())

    def unknown(self, word: str, start: int, end: int | None = None) -> NotationError:
        return unknown(word, self.names, self.context.constants, start, end)
