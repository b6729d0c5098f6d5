"""The vocabulary: which words, commands and signs mean what."""

from __future__ import annotations

from functools import lru_cache
from unicodedata import normalize

from .tree import FUNCTIONS

GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ϵ", "varepsilon": "ε", "zeta": "ζ", "eta": "η", "theta": "θ",
    "vartheta": "ϑ", "iota": "ι", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "rho": "ρ", "sigma": "σ", "tau": "τ",
    "upsilon": "υ", "phi": "ϕ", "varphi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
    "Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Xi": "Ξ", "Phi": "Φ", "Psi": "Ψ", "Omega": "Ω",
}  # fmt: skip
GREEK_SIGNS = {sign: name for name, sign in GREEK.items()} | {"φ": "phi"}

_TRIG = ("sin", "cos", "tan", "sec", "csc", "cot")
#: Functions that have a command of their own in LaTeX.
LATEX_FUNCTIONS = frozenset((*_TRIG, "arcsin", "arccos", "arctan", "sinh", "cosh", "tanh", "coth", "exp", "ln"))
#: Every function word that is understood, with or without backslash, and the tree's name for it.
FUNCTION_WORDS: dict[str, str] = (
    {name: name for name in FUNCTIONS}
    | {f"a{name}": f"arc{name}" for name in _TRIG}
    | {f"{prefix}{name}h": f"ar{name}h" for name in _TRIG for prefix in ("a", "arc", "arg")}
    | {"cosec": "csc", "arccosec": "arccsc", "acosec": "arccsc", "cosech": "csch", "arcosech": "arcsch", "cotan": "cot"}
    | {"sqrt": "sqrt", "cbrt": "cbrt", "abs": "abs", "Abs": "abs", "log": "log", "lg": "lg", "sign": "sgn"}
)
INVERSES = {name: f"arc{name}" for name in _TRIG} | {f"{name}h": f"ar{name}h" for name in _TRIG}

INFINITY_WORDS = frozenset(("infinity", "Infinity", "infty", "inf", "oo", "unendlich"))
#: Words that are an answer of their own, in every language that a book can be in.
ANSWERS = {
    "diverges": "diverges", "divergent": "diverges", "does not converge": "diverges",
    "does not exist": "none", "doesn't exist": "none", "DNE": "none",
    "divergiert": "diverges", "konvergiert nicht": "diverges", "existiert nicht": "none",
}  # fmt: skip
RELATIONS = {
    "<": "<", ">": ">", "<=": "<=", ">=": ">=", "!=": "!=", "=": "=", "≤": "<=", "≥": ">=", "≠": "!=", "⩽": "<=", "⩾": ">=",
    "\\lt": "<", "\\gt": ">", "\\le": "<=", "\\leq": "<=", "\\leqslant": "<=", "\\ge": ">=", "\\geq": ">=", "\\geqslant": ">=",
    "\\ne": "!=", "\\neq": "!=",
}  # fmt: skip

#: One sign for another of the same length, so that places in the text stay where they are.
SAME_LENGTH: dict[int, int | str] = (
    {code: code - 0xFEE0 for code in range(0xFF01, 0xFF5F)}
    | {code: normalize("NFKC", chr(code)) for code in (*range(0x1D400, 0x1D800), 0x210E, 0x212F)}  # the italics of mathematics
    | dict.fromkeys(map(ord, "−–‐‑‒﹣"), "-")
    | dict.fromkeys(map(ord, "·⋅∙×∗•"), "*")
    | dict.fromkeys(map(ord, "÷∕⁄"), "/")
    | dict.fromkeys(map(ord, "\u00a0\u2009\u202f\u2002\u2003\u2061\u2062"), " ")
    | {ord("∣"): "|", ord("′"): "'", ord("’"): "'"}
)
SUPERSCRIPTS = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-", strict=True))
VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6),
    "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip

_LONGEST = 32
Piece = tuple[str, str]


@lru_cache(maxsize=4096)
def split_word(word: str, names: frozenset[str], constants: bool, integral: bool) -> tuple[tuple[Piece, ...], ...]:
    """Every way to read a run of letters as declared letters, function words and constants, each as (kind, value) pieces.

    A reading with a function word in it drives out the readings as loose letters: `exp` is never e·x·p. Two readings with
    function words stay: `asin(x)` where `a` is declared.
    """
    if len(word) > _LONGEST:
        return ()
    found: list[tuple[Piece, ...]] = []

    def go(at: int, pieces: tuple[Piece, ...]) -> None:
        if len(found) > 16:
            return
        if at == len(word):
            found.append(pieces)
            return
        for end in range(len(word), at, -1):
            piece = _piece(word[at:end], names, constants, integral and end == len(word), end - at == len(word))
            if piece:
                go(end, (*pieces, piece))

    go(0, ())
    for wanted in ("differential", "function", "constant"):
        kept = [f for f in found if any(kind == wanted and (len(value) > 1 or wanted == "differential") for kind, value in f)]
        found = kept or found
    return tuple(found)


def _piece(part: str, names: frozenset[str], constants: bool, differential: bool, whole: bool) -> Piece | None:
    if part in names:
        return "name", part
    if part in FUNCTION_WORDS:
        return "function", part
    if part in ("pi", "e") or (part == "E" and whole):
        return "constant", part.lower()
    if differential and part[0] == "d" and (len(part) == 2 or part[1:] in GREEK):
        return "differential", part[1:]
    if constants and (part == "C" or (whole and part in ("c", "k", "K"))):
        return "arbitrary", part
    return None
