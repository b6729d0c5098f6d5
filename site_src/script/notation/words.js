// The vocabulary and the regular expressions: the twin of notation/words.py and notation/patterns.py.
// The build joins the files of this folder into one script, everyline-notation.js, inside one function.

const list = (text) => text.split(" ");
const table = (text) => new Map(list(text).map((pair) => pair.split(":")));

const TRIG = list("sin cos tan sec csc cot");
/** Every function word that is understood, and the tree's name for it. */
const FUNCTIONS = table(
  "exp:exp ln:ln sgn:sgn sign:sgn cosec:csc arccosec:arccsc acosec:arccsc cosech:csch arcosech:arcsch cotan:cot " +
  "sqrt:sqrt cbrt:cbrt abs:abs Abs:abs log:log lg:lg");
const INVERSES = new Map();
for (const f of TRIG) {
  INVERSES.set(f, `arc${f}`).set(`${f}h`, `ar${f}h`);
  for (const word of [f, `${f}h`]) FUNCTIONS.set(word, word);
  for (const prefix of ["a", "arc"]) FUNCTIONS.set(prefix + f, `arc${f}`);
  for (const prefix of ["a", "ar", "arc", "arg"]) FUNCTIONS.set(`${prefix}${f}h`, `ar${f}h`);
}
/** The functions of one argument as the tree has them, and those whose power is set on their name. */
const CALLS = new Set(FUNCTIONS.values());
for (const other of list("sqrt cbrt abs log lg")) CALLS.delete(other);
const RAISED = new Set(CALLS);
RAISED.delete("exp");
RAISED.delete("sgn");

const GREEK = table(
  "alpha:α beta:β gamma:γ delta:δ epsilon:ϵ varepsilon:ε zeta:ζ eta:η theta:θ vartheta:ϑ iota:ι kappa:κ lambda:λ mu:μ nu:ν xi:ξ " +
  "rho:ρ sigma:σ tau:τ upsilon:υ phi:ϕ varphi:φ chi:χ psi:ψ omega:ω Gamma:Γ Delta:Δ Theta:Θ Lambda:Λ Xi:Ξ Phi:Φ Psi:Ψ Omega:Ω");
const GREEK_SIGNS = new Map([...GREEK].map(([name, sign]) => [sign, name])).set("φ", "phi");
const USUAL = new Set(list("r s t u v w x y z theta phi vartheta varphi psi tau rho"));

const RELATIONS = table(
  "<:< >:> <=:<= >=:>= !=:!= =:= ≤:<= ≥:>= ≠:!= ⩽:<= ⩾:>= \\lt:< \\gt:> \\le:<= \\leq:<= \\leqslant:<= \\ge:>= \\geq:>= " +
  "\\geqslant:>= \\ne:!= \\neq:!=");
const ANSWERS = new Map([
  ["diverges", "diverges"], ["divergent", "diverges"], ["does not converge", "diverges"],
  ["does not exist", "doesnotexist"], ["doesn't exist", "doesnotexist"], ["DNE", "doesnotexist"],
]);
const COMMANDS = table(
  "cdot:* times:* ast:* div:/ lbrace:( rbrace:) {:( }:) lbrack:[ rbrack:] to:to rightarrow:to cup:union wedge:and land:and lor:or " +
  "vee:or frac:fraction dfrac:fraction tfrac:fraction cfrac:fraction pi:constant infty:infinity sqrt:root int:integral lim:limit");
const SIGNS = table("∞:infinity √:root ∛:root3 ∜:root4 ∫:integral →:to ∪:union");
const VULGAR = table("½:1/2 ⅓:1/3 ⅔:2/3 ¼:1/4 ¾:3/4 ⅕:1/5 ⅖:2/5 ⅗:3/5 ⅘:4/5 ⅙:1/6 ⅛:1/8 ⅜:3/8");
const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹⁻";
/** One sign for others that look like it. */
const ALIKE = ["-−–‐‑‒﹣", "*·⋅∙×∗•", "/÷∕⁄", " \u00a0\u2009\u202f\u2002\u2003\u2061\u2062", "|∣", "e𝑒ℯ", "'′’"];

const GREEK_WORD = [...GREEK.keys()].sort((a, b) => b.length - a.length).join("|");
const GREEK_SIGN = `[${[...GREEK_SIGNS.keys()].join("")}]`;
const WORD_END = "(?![A-Za-z])";
const LETTER = `(?:\\\\?(?:${GREEK_WORD})${WORD_END}|[A-Za-z]|${GREEK_SIGN})(?:_(?:\\d+|\\{\\w+\\}|[A-Za-z]${WORD_END}))?`;
const UPRIGHT_D = "\\\\(?:mathrm|operatorname|text|rm)\\s*\\{\\s*d\\s*\\}|\\{\\s*\\\\rm\\s+d\\s*\\}";
const D = `(?:d|${UPRIGHT_D})`;
const UP = "(?:\\^\\s*\\{?\\s*(\\d+)\\s*\\}?|([²³]))?";
/** Groups: order above (2), function, or the digit-free `d`; letter, order below (2); the same five for the plain form. */
const DERIVATIVE =
  `\\\\[dt]?frac\\s*(?:\\{\\s*${D}\\s*${UP}\\s*(${LETTER})?\\s*\\}|d)\\s*\\{\\s*${D}\\s*(${LETTER})\\s*${UP}\\s*\\}` +
  `|(?<![A-Za-z\\\\])d\\s*${UP}(${LETTER})?\\s*/\\s*d(${LETTER})\\s*${UP}(?![A-Za-z_])`;
const BOUND =
  `lim(?:\\\\limits)?\\s*_\\s*[{(]?\\s*(${LETTER})\\s*(?:\\\\to${WORD_END}|\\\\rightarrow|->|→)|_\\s*[{(]\\s*(${LETTER})\\s*=`;
const DIFFERENTIAL = `${D}\\s*(${LETTER})${WORD_END}`;
const BINDERS = [DERIVATIVE, BOUND, DIFFERENTIAL].map((pattern) => new RegExp(pattern, "g"));
const sticky = (pattern) => new RegExp(pattern, "ysd");
const PATTERNS = {
  derivative: sticky(DERIVATIVE),
  upright: sticky(`(?:${UPRIGHT_D})\\s*(${LETTER})`),
  greekAfterD: sticky(`\\s*(\\\\(?:${GREEK_WORD})${WORD_END}|${GREEK_SIGN})`),
  subscript: sticky(`_(?:(\\d+)|\\{(\\w+)\\}|([A-Za-z])${WORD_END})`),
  number: sticky("\\d+(?:(?:[.,]|\\{[.,]\\})\\d+)*|\\.\\d+"),
  token: sticky(
    "(?<space>\\s+)" +
    `|(?<gap>\\\\[,;: ]|~|\\\\(?:quad|qquad|thinspace|medspace|enspace)${WORD_END})` +
    `|(?<nothing>\\\\!|\\\\(?:displaystyle|textstyle|limits|nolimits|left(?!\\.)|right(?!\\.)|[bB]igg?[lrm]?)${WORD_END}|\\{\\})` +
    "|(?<number>\\d|\\.\\d)" +
    "|(?<word>[A-Za-z]+)" +
    "|(?<upright>\\\\(?:operatorname\\*?|mathrm|text|textrm|mathit|mathop)\\s*\\{\\s*(?<inside>[^{}]*?)\\s*\\})" +
    "|(?<command>\\\\(?:[A-Za-z]+|[{}|()\\[\\]]))" +
    "|(?<symbol>\\*\\*|<=|>=|!=|->|[-+*/^()\\[\\]{}|,;_=<>])" +
    `|(?<raised>[${SUPERSCRIPTS}]+)|(?<other>.)`),
};
const INTEGRAL = /\\int(?![A-Za-z])|∫|(?<![A-Za-z\\])int(?![A-Za-z])/;
const SIZE_BEFORE = /\\(left|right|[bB]igg?([lr]?))\s*$/;
const HEAD = new RegExp(
  `^\\s*\\$*\\s*(?:[A-Za-z]'*\\s*\\(\\s*${LETTER}\\s*\\)|[yFIfg]'*|d[yFf]\\s*/\\s*d${LETTER})\\s*=(?!=)`);
