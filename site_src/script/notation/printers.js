// How a tree is written, said and set: the twin of notation/plain.py, speech.py and mathml.py. A style says how each part looks;
// in its texts ①②③④ stand for the parts, ⑴ for the first in brackets.

const print = (style, tree) => {
  const [sign, ...parts] = op(tree) ? tree : ["", tree], last = parts.length - 1;
  const say = (part) => print(style, part), fenced = (part, needed = true) => (needed ? style.fence(say(part)) : say(part));
  const signed = (term, place) => {
    const negative = op(term) === "-", inner = negative ? term[1] : term;
    return style.sign(negative, place) + fenced(inner, inSum(inner, place === last));
  };
  const factor = (part, place) => {
    const text = fenced(part, inProduct(part, place === last) || (place && style === PLAIN && op(part) === "/"));
    return (place ? style.join(parts[place - 1], part, text) : "") + text;
  };
  const row = sign === "-" ? signed(tree, 0) : /[+*]/.test(sign) ? parts.map(sign === "+" ? signed : factor).join("")
    : isRelation(tree) && say(parts[0]) + style.relation(sign) + say(parts[1]);
  if (row) return style.row(row);
  const form = style[sign] ?? style.call;
  return form.replace ? form.replace(/[①-⑴]/g, (mark) => (mark === "⑴" ? fenced(parts[0]) : say(parts["①②③④".indexOf(mark)])))
    : form(parts, fenced, tree);
};
/** Whether an integrand needs brackets; whether the letter of an evaluation goes without saying. */
const isLong = (tree) => inSum(tree, true) && op(tree) !== "-";
const isOnly = (tree, variable) => names(tree).join() === variable;
const isFraction = (tree) => op(tree) === "/" && isNumber(tree[1]) && isNumber(tree[2]);
const oneOf = (tree, kinds) => isAtom(tree) || isCall(tree) || kinds.includes(op(tree));

// Plain text: reading it again gives the tree.
const PLAIN = {
  fence: (text) => `(${text})`,
  row: (text) => text,
  sign: (negative, place) => (place ? (negative ? " - " : " + ") : negative ? "-" : ""),
  relation: (sign) => ` ${sign} `,
  join: (before, after, text) => isNumber(before) && (op(after) === "+" || /^(?!e|E|int|lim|d[/^])[A-Za-z]/.test(text)) ? "" : "*",
  ""([name]) {
    const [base, subscript = ""] = name.split("_");
    return /^(.?|\d+)$/.test(subscript) ? name : `${base}_{${subscript}}`;
  },
  call: ([a], fenced, [name]) => name + fenced(a),
  "/": ([a, b], fenced) => `${fenced(a, inSum(a) || /^(deriv|integ)/.test(op(a)))}/${fenced(b, !oneOf(b, "^sqrtlogroot"))}`,
  "^": ([a, b], fenced) => `${fenced(a, !oneOf(a, "sqrtroot"))}^${fenced(b, (op(b) && op(b) !== "C") || b === "1")}`,
  C: "①", sqrt: "sqrt⑴", root: "sqrt[①](②)", diverges: "diverges", doesnotexist: "does not exist",
  abs([a]) {
    const text = plain(a);
    return text.includes("|") ? `abs(${text})` : `|${text}|`;
  },
  log: ([base, a], fenced) => `log_${fenced(base, op(base) || /infinity|[_.]/.test(base))}${fenced(a)}`,
  integral: ([a, x, ...ends], fenced) =>
    `int${PLAIN.scripts(ends, fenced).join("")} ${fenced(a, isLong(a))} d${plain(x)}`,
  scripts: (ends, fenced) => ends.map((end, place) => "_^"[place] + fenced(end, op(end) || /\./.test(end))),
  derivative([a, x, order]) {
    const up = order > 1 ? `^${order}` : "", below = `/d${plain(x)}${up}`;
    return quickDerivative(["", a, x]) ? `d${up}${plain(a)}${below}` : `d${up}${below} (${plain(a)})`;
  },
  limit: ([a, x, point, side], fenced) =>
    `lim_(${plain(x)} -> ${fenced(point, side && !isAtom(point))}${side && `^${side}`}) (${plain(a)})`,
  between([a, x, ...ends], fenced) {
    const [below, above] = PLAIN.scripts(ends, fenced);
    return `[${plain(a)}]${isOnly(a, x) ? below : `_(${plain(x)} = ${plain(ends[0])})`}${above}`;
  },
};

// Speech: the ends of what is long are said.
const FUNCTION_NAMES = { exp: "the exponential", ln: "the natural logarithm", sgn: "the sign" };
const spokenFunction = (name) => FUNCTION_NAMES[name] ?? name.replace(/^(arc?)?(sin|cos|tan|sec|csc|cot)(h?)$/, (_, inverse, f, h) =>
  `${inverse ? "inverse " : ""}${h && "hyperbolic "}${list("sine cosine tangent secant cosecant cotangent")[TRIG.indexOf(f)]}`);
const ORDINALS = list("x x second third fourth fifth sixth seventh eighth ninth tenth");
const ordinal = (number) => ORDINALS[number] ?? `${number}th`;
/** Whether the ear needs no mark at its end. */
const isShort = ([sign, a, b, more], tree) => {
  if (sign === "-") return isShort(a, a);
  if (sign === "*") return !more && [a, b].every((part) => !op(part) && part !== "infinity") && !isNumber(b);
  return !op(tree) || sign === "C" || isFraction(tree);
};
const isBrief = (tree) => isShort(tree, tree);
const SPEECH = {
  fence: (text) => `open bracket ${text} close bracket`,
  row: PLAIN.row,
  sign: (negative, place) => (place ? (negative ? " minus " : " plus ") : negative ? "minus " : ""),
  relation: (sign) => ` ${{
    "=": "equals", "<": "is less than", ">": "is greater than", "<=": "is at most", ">=": "is at least", "!=": "is not equal to" }[sign]} `,
  join(before, after) {
    const power = op(after) === "^", base = power ? after[1] : after;
    return !op(before) && !isConstant(before) && before !== "infinity" && (isName(base) || (isConstant(base) && !power)) ? " " : " times ";
  },
  "": ([name]) => name.replace("_", " sub "),
  C: "①", diverges: PLAIN.diverges, doesnotexist: PLAIN.doesnotexist,
  applied: (name, a, fenced) => `${name} of ${fenced(a, !isBrief(a) && op(a) !== "abs")}`,
  call: ([a], fenced, [name]) => SPEECH.applied(spokenFunction(name), a, fenced),
  log: ([base, a], fenced) => SPEECH.applied(`the logarithm to base ${speech(base)}`, a, fenced),
  ended: (text, inner, what) => text + (isBrief(inner) ? "" : `, end ${what}`),
  sqrt: ([a]) => SPEECH.ended(`the square root of ${speech(a)}`, a, "root"),
  root: ([index, a]) => SPEECH.ended(`the ${index === "3" ? "cube" : ordinal(index)} root of ${speech(a)}`, a, "root"),
  abs: ([a]) => SPEECH.ended(`the absolute value of ${speech(a)}`, a, "absolute value"),
  "/"([a, b]) {
    if (isWhole(a) && isWhole(b) && b > 1 && b < 11 && a > 0 && a < 21) {
      const part = { 2: "half", 4: "quarter" }[b] ?? ordinal(b);
      return a < 2 ? `one ${part}` : `${a} ${b < 3 ? "halve" : part}s`;
    }
    const said = `${speech(a)} over ${speech(b)}`;
    return isBrief(a) && isBrief(b) ? said : `the fraction ${said}, end fraction`;
  },
  "^"([base, exponent], fenced, tree) {
    const word = isName(op(exponent) === "-" ? exponent[1] : exponent) ? "" : " power", f = raisedFunction(tree);
    const raised = { 2: " squared", 3: " cubed" }[exponent] ?? SPEECH.ended(` to the${word} ${speech(exponent)}`, exponent, "power");
    return f ? SPEECH.applied(spokenFunction(f[0]) + raised, f[1], fenced) : fenced(base, !isBrief(base)) + raised;
  },
  integral: ([a, x, lower, upper]) =>
    `the integral${lower ? ` from ${speech(lower)} to ${speech(upper)}` : ""} of ${speech(a)} with respect to ${speech(x)}`,
  derivative: ([a, x, order]) => `the ${order > 1 ? `${ordinal(order)} ` : ""}derivative with respect to ${speech(x)} of ${speech(a)}`,
  limit: ([a, x, point, side]) =>
    `the limit as ${speech(x)} tends to ${speech(point)}${side && ` from the ${side === "+" ? "right" : "left"}`} of ${speech(a)}`,
  between: "⑴ evaluated from ② equals ③ to ④",
};

// MathML Core, as a textbook sets it. Trees hold known words, letters and digits only: nothing to escape.
const tag = (name, ...parts) => `<${name}>${parts.join("")}</${name}>`;
const APPLY = "<mo>\u2061</mo>", TIMES = "<mo>\u2062</mo>", DOT = "<mo>⋅</mo>", THIN = '<mspace width="0.17em"/>', D = "<mi>d</mi>";
const fence = (inside, opening = "(", closing = ")") => {
  const mark = (sign, form) =>
    `<mo fence="true" form="${form}fix" stretchy="${/<m(frac|sqrt|root|under|subsup)|largeop/.test(inside)}">${sign}</mo>`;
  return tag("mrow", mark(opening, "pre"), inside, mark(closing, "post"));
};
/** The argument of a function that is written with its name in front, also when raised to a power. */
const functionOf = (tree) => {
  const raised = raisedFunction(tree) || tree;
  return (isCall(raised) || op(raised) === "log") && raised.at(-1);
};
const letterLike = (tree) => isName(tree) || isConstant(tree);
/** Whether a function's argument goes without brackets: `x`, `2x`, `ax`, a fraction, a root. */
const isSimple = (tree) => {
  if (op(tree) !== "*") return /^(C|sqrt|root|\/)$/.test(op(tree)) || (!op(tree) && !tree.includes("."));
  const front = tree.slice(1, -1), last = tree.at(-1);
  return letterLike(last) && last !== front[0] &&
    front.every((part, place) => (letterLike(part) && !usual(part)) || (!place && isNumber(part)));
};
/** Whether a function is printed without round brackets about its argument. */
const isBare = (f, a) => op(f) !== "exp" && (isSimple(a) || (op(f) === "ln" && op(a) === "abs"));
const startsWithDigit = (tree) =>
  isNumber(tree) || ((op(tree) === "*" || (op(tree) === "^" && !raisedFunction(tree))) && startsWithDigit(tree[1]));
/** A fraction that is set with a slash when it is a whole exponent. */
const slashed = (tree) => {
  const [sign, top, bottom] = op(tree) === "-" ? tree[1] : tree, factors = op(top) === "*" ? top.slice(1) : [top];
  const small = (part, place) => (op(part) === "^" ? isName(part[1]) && isNumber(part[2]) : !op(part) && part !== "infinity") &&
    !(place && startsWithDigit(part));
  return sign === "/" && factors.every(small) && !op(bottom) && bottom !== "infinity" && [top, bottom];
};
/** A function at its argument; a thin space stands where no bracket does. */
const applied = (name, f, fenced) => {
  const a = f.at(-1), bars = op(f) === "ln" && op(a) === "abs";
  return tag("mrow", name, APPLY, bars || !isBare(f, a) ? fenced(a, !bars) : THIN + markup(a));
};
const MARKUP = {
  fence,
  row: (text) => tag("mrow", text),
  sign: (negative, place) => (place ? `<mo>${negative ? "−" : "+"}</mo>` : negative ? '<mo form="prefix">−</mo>' : ""),
  relation: (sign) => tag("mo", { "<": "&lt;", ">": "&gt;", "<=": "≤", ">=": "≥", "!=": "≠" }[sign] ?? sign),
  join(before, after) {
    const a = functionOf(before), b = functionOf(after), bare = a && isBare(raisedFunction(before) || before, a);
    const bracketed = inProduct(after) && op(after) !== "integral";
    const dot = (!bracketed && startsWithDigit(after)) ||
      (op(before) === "/" && op(after) === "/" && isRational(before) && isRational(after)) ||
      (isNumber(op(before) === "^" ? before[2] : before) && isFraction(after)) || before === "d" || after === "d" ||
      (bare && (op(a) === "abs" ? op(after) === "abs" : b ? !names(a)[0] : !names(a).some(usual)));
    return dot ? DOT : TIMES + (b || bare ? THIN : "");
  },
  ""([name]) {
    if (isNumber(name)) return tag("mn", name);
    const [base, subscript] = name.split("_"), made = tag("mi", { pi: "π", infinity: "∞" }[name] ?? GREEK.get(base) ?? base);
    return subscript ? tag("msub", made, tag(/\D/.test(subscript) ? "mi" : "mn", subscript)) : made;
  },
  C: "①", sqrt: "<msqrt>①</msqrt>", root: "<mroot>②①</mroot>", "/": "<mfrac>①②</mfrac>",
  diverges: "<mtext>diverges</mtext>", doesnotexist: "<mtext>does not exist</mtext>",
  abs: ([a]) => fence(markup(a), "|", "|"),
  call: (parts, fenced, tree) => applied(tag("mi", tree[0]), tree, fenced),
  log: ([base], fenced, tree) => applied(tag("msub", "<mi>log</mi>", markup(base)), tree, fenced),
  exponent(tree) {
    const parts = slashed(tree);
    return parts ? tag("mrow", MARKUP.sign(op(tree) === "-", 0), markup(parts[0]), "<mo>/</mo>", markup(parts[1])) : markup(tree);
  },
  "^"([base, exponent], fenced, tree) {
    const f = raisedFunction(tree);
    return f ? applied(tag("msup", tag("mi", f[0]), markup(exponent)), f, fenced)
      : tag("msup", fenced(base, !isAtom(base)), MARKUP.exponent(exponent));
  },
  integral([a, x, ...ends], fenced) {
    const sign = '<mo largeop="true">∫</mo>', scripts = ends.map((end) => MARKUP.exponent(end));
    return tag("mrow", ends[0] ? tag("msubsup", sign, ...scripts) : sign, fenced(a, isLong(a)), THIN, tag("mrow", D, markup(x)));
  },
  derivative([a, x, order]) {
    const raise = (base) => (order > 1 ? tag("msup", base, tag("mn", order)) : base), quick = quickDerivative(["", a, x]);
    const made = tag("mfrac", quick ? tag("mrow", raise(D), markup(a)) : raise(D), tag("mrow", D, raise(markup(x))));
    return quick ? made : tag("mrow", made, fence(markup(a), "[", "]"));
  },
  limit([a, x, point, side], fenced) {
    const at = side && !isAtom(point) ? fenced(point) : MARKUP.exponent(point);
    const to = side ? tag("msup", at, tag("mo", side === "-" ? "−" : side)) : at;
    const below = tag("mrow", markup(x), '<mo stretchy="false">→</mo>', to);
    let first = a;
    while (op(first) === "*" && !inProduct(first[1])) [, first] = first;
    return tag("mrow", `<munder><mo movablelimits="false">lim</mo>${below}</munder>`, THIN, fenced(a, !oneOf(first, "/^sqrtlogroot")));
  },
  between([a, x, lower, upper]) {
    const from = MARKUP.exponent(lower), below = isOnly(a, x) ? from : tag("mrow", markup(x), "<mo>=</mo>", from);
    return tag("msubsup", fence(markup(a), "[", "]"), below, MARKUP.exponent(upper));
  },
};

const markup = (tree) => print(MARKUP, tree);
const plain = (tree) => print(PLAIN, tree);
const speech = (tree) => print(SPEECH, tree);
/** A whole `<math>` element; its `alttext` is what `speech` says. */
const mathml = (tree) => `<math alttext="${speech(tree)}">${markup(tree)}</math>`;
