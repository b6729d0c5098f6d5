// The vocabulary and the regular expressions: the twin of notation/words.py and patterns.py. The build joins the files of this folder
// into one function and takes out what only people read: it must stay small.
//
// Kinds of tokens are one sign each, so that a set of kinds is a text:
//   0 number · x name · e constant · C constant of integration · f function · ? word with several readings · % fraction · r root
//   i infinity · h vulgar fraction · S integral · D derivative · L limit · l \left. · R \right. · < opening bar · > closing bar
//   d differential · t arrow · 2 raised number · ~ comparison · U union, or, and · ! answer in words · $ the end; others are themselves.

const list = (text) => text.split(" ");
const table = (text) => new Map(list(text).map((pair) => pair.split(":")));

const TRIG = list("sin cos tan sec csc cot");
/** Every function word that is understood, and the tree's name for it. */
const FUNCTIONS = table("exp:exp ln:ln sgn:sgn cosec:csc arccosec:arccsc acosec:arccsc cosech:csch arcosech:arcsch cotan:cot sign:sgn");
const INVERSES = new Map();
for (const f of TRIG) {
  INVERSES.set(f, `arc${f}`).set(`${f}h`, `ar${f}h`);
  for (const [word, name] of INVERSES) {
    FUNCTIONS.set(word, word).set(name, name).set(`a${word}`, name).set(`arc${word}`, name);
    if (/h$/.test(word)) FUNCTIONS.set(`arg${word}`, name);
  }
}
/** The functions of one argument as the tree has them. */
const CALLS = new Set(FUNCTIONS.values());
for (const other of list("sqrt cbrt abs log lg")) FUNCTIONS.set(other, other);
FUNCTIONS.set("Abs", "abs");

const GREEK = table(
  "alpha:α beta:β gamma:γ delta:δ epsilon:ϵ varepsilon:ε zeta:ζ eta:η theta:θ vartheta:ϑ iota:ι kappa:κ lambda:λ mu:μ nu:ν xi:ξ rho:ρ " +
  "sigma:σ tau:τ upsilon:υ phi:ϕ varphi:φ chi:χ psi:ψ omega:ω Gamma:Γ Delta:Δ Theta:Θ Lambda:Λ Xi:Ξ Phi:Φ Psi:Ψ Omega:Ω");
const GREEK_SIGNS = new Map([...GREEK].map(([name, sign]) => [sign, name])).set("φ", "phi");
const USUAL = list("r s t u v w x y z theta phi vartheta varphi psi tau rho");

/** What words, commands and signs are: kind and value, then those that are it. */
const VOCABULARY = new Map([
  "~< < \\lt", "~> > \\gt", "~<= <= ≤ ⩽ \\le \\leq \\leqslant", "~>= >= ≥ ⩾ \\ge \\geq \\geqslant", "~!= != ≠ \\ne \\neq",
  "* \\cdot \\times \\ast", "^ **", "/ \\div", "( \\{ \\lbrace", ") \\} \\rbrace", "[ \\lbrack", "] \\rbrack", "t -> → \\to \\rightarrow",
  "U ∪ \\cup or and", "% \\frac \\dfrac \\tfrac \\cfrac", "epi \\pi π", "S \\int int ∫", "L \\lim lim",
  "i \\infty infinity Infinity infty inf oo ∞ unendlich", "r\\ \\sqrt", "r √", "r3 ∛", "r4 ∜", "< \\lvert", "> \\rvert", "| \\vert \\mid \\|",
  "l \\left", "R \\right", ...[..."½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"].map((sign) => `h${sign.normalize("NFKC")} ${sign}`),
].flatMap((line) => list(line).map((typed, place, [says]) => [place ? typed : "", says])));
const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹⁻";
/** Letters and signs that are a plain one in another dress: full width, or the italics of mathematics. */
const DRESSED = /[！-～ℯℎ\u{1d400}-\u{1d7ff}]/u;
/** One sign for others that look like it. */
const ALIKE = ["-−–‐‑‒﹣", "*·⋅∙×∗•", "/÷∕⁄", " \u00a0\u2009\u202f\u2002\u2003\u2061\u2062", "|∣", "'′’"];

/** A pattern with ␣ for white space, § for a letter with its subscript, ¶ for the end of a word, ∂ for a d, ⁿ for an order. */
const pattern = (text) => text
  .replaceAll("∂", "(?:d|∆)").replaceAll("∆", "\\\\(?:mathrm|operatorname|text|rm)␣\\{␣d␣\\}|\\{␣\\\\rm\\s+d␣\\}")
  .replaceAll("ⁿ", "(?:\\^␣\\{?␣(\\d+)␣\\}?|([²³]))?")
  .replaceAll("§", `(?:\\\\?(?:${[...GREEK.keys()].join("|")})¶|[A-Za-z]|${SIGNS})(?:_(?:\\d+|\\{\\w+\\}|[A-Za-z]¶))?`)
  .replaceAll("¶", "(?![A-Za-z])").replaceAll("␣", "\\s*");
const SIGNS = `[${[...GREEK_SIGNS.keys()].join("")}]`;
/** Groups: order above (2), function; letter, order below (2); the same six for the plain form. */
const DERIVATIVE =
  "\\\\[dt]?frac␣(?:\\{␣∂␣ⁿ␣(§)?␣\\}|d)␣\\{␣∂␣(§)␣ⁿ␣\\}|(?<![A-Za-z\\\\])d␣ⁿ(§)?␣/␣d(§)␣ⁿ(?![A-Za-z_])";
const BINDERS = [DERIVATIVE, "lim(?:\\\\limits)?␣_␣[{(]?␣(§)␣(?:\\\\to¶|\\\\rightarrow|->|→)|_␣[{(]␣(§)␣=", "∂␣(§)¶"]
  .map((text) => new RegExp(pattern(text), "g"));
const sticky = (text) => new RegExp(pattern(text), "ysd");
const AT_DERIVATIVE = sticky(DERIVATIVE);
const AT_UPRIGHT_D = sticky("(?:∆)␣(§)");
const AT_GREEK = sticky(`␣(\\\\(?:${[...GREEK.keys()].join("|")})¶|${SIGNS})`);
const AT_SUBSCRIPT = sticky("_(?:(\\d+)|\\{(\\w+)\\}|([A-Za-z])¶)");
const AT_NUMBER = sticky("\\d+(?:(?:[.,]|\\{[.,]\\})\\d+)*|\\.\\d+");
const AT_TOKEN = sticky(
  "(?<space>\\s+)|(?<gap>\\\\[,;: ]|~|\\\\(?:quad|qquad|thinspace|medspace|enspace)¶)" +
  "|\\\\(?:[bB]igg?)?(?<bar>[lr])(?:eft|ight)?␣\\|" +
  "|\\\\!|\\\\(?:displaystyle|textstyle|limits|nolimits|left(?!\\.)|right(?!\\.)|[bB]igg?[lrm]?)¶|\\{\\}" +
  "|(?<number>\\.?\\d)|(?<word>[A-Za-z]+)" +
  "|(?<upright>\\\\(?:operatorname\\*?|mathrm|text|textrm|mathit|mathop)␣\\{␣(?<inside>[^{}]*?)␣\\})" +
  `|(?<raised>[${SUPERSCRIPTS}]+)|(?<typed>\\\\(?:[A-Za-z]+|[{}|()\\[\\]])|\\*\\*|<=|>=|!=|->|.)`);
const AT_ANSWER = /(diverg(?:es|ent|iert)|does not converge|konvergiert nicht)|does(?: not|n't) exist|existiert nicht|DNE/y;
const HEAD = new RegExp(pattern("^␣\\$*␣(?:[A-Za-z]'*␣\\(␣§␣\\)|[yFIfg]'*|d[yFf]␣/␣d§)␣=(?!=)"));
