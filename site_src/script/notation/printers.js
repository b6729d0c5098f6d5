// How a tree is written, said and set: the twin of notation/plain.py, speech.py and mathml.py. A style says how each part looks;
// in its texts ①②③④ stand for the parts.

/** A text with what stands at its places ①②③④. */
const fill = (text, ...parts) => text.replace(/[①-④]/g, (mark) => parts["①②③④".indexOf(mark)]);
/** A number with the decimal mark of the book's language, which stands in the template “①.②”. */
const marked = (number) => number.replace(".", WORDS.decimal[1]);
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
  return form.replace ? fill(form, ...parts.map(say)) : form(parts, fenced, tree);
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
  C: "①", sqrt: "sqrt(①)", root: "sqrt[①](②)", diverges: "diverges", doesnotexist: "does not exist",
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

// Speech: the ends of what is long are said. For `WORDS.…` the build puts the words of the book's language (render/script_words.py).
const listed = (row) => row.split(", ");
const FUNCTION_NAMES = {
  exp: WORDS.exp, ln: WORDS.ln, sgn: WORDS.sgn,
  f: WORDS.circular, arcf: WORDS.inverse, fh: WORDS.hyperbolic, arfh: WORDS.inverse_hyperbolic,
};
const spokenFunction = (name) => {
  const place = TRIG.findIndex((f) => name.includes(f));
  return FUNCTION_NAMES[name] ?? listed(FUNCTION_NAMES[name.replace(TRIG[place], "f")])[place];
};
const ordinal = (number) => listed(WORDS.ordinals)[number - 2] ?? fill(WORDS.nth, number);
/** Whether the ear needs no mark at its end. */
const isShort = ([sign, a, b, more], tree) => {
  if (sign === "-") return isShort(a, a);
  if (sign === "*") return !more && [a, b].every((part) => !op(part) && part !== "infinity") && !isNumber(b);
  return !op(tree) || sign === "C" || isFraction(tree);
};
const isBrief = (tree) => isShort(tree, tree);
const told = (text, ...trees) => fill(text, ...trees.map(speech));
/** A text and, where what is inside is long, the word for its end. */
const ended = (text, inner, end) => text + (isBrief(inner) ? "" : `, ${end}`);
const RELATIONS = {
  "=": WORDS.equals, "<": WORDS.less, ">": WORDS.greater, "<=": WORDS.at_most, ">=": WORDS.at_least, "!=": WORDS.unequal,
};
const SPEECH = {
  fence: (text) => fill(WORDS.brackets, text),
  row: PLAIN.row,
  sign: (negative, place) => (place ? ` ${negative ? WORDS.minus : WORDS.plus} ` : negative ? `${WORDS.minus} ` : ""),
  relation: (sign) => ` ${RELATIONS[sign]} `,
  join(before, after) {
    const power = op(after) === "^", base = power ? after[1] : after;
    return !op(before) && !isConstant(before) && before !== "infinity" && (isName(base) || (isConstant(base) && !power)) ? " " : ` ${WORDS.times} `;
  },
  ""([name]) {
    const [base, index] = name.split("_");
    return index ? fill(WORDS.index, base, index) : name === "infinity" ? WORDS.infinity : marked(name);
  },
  C: "①", diverges: WORDS.diverges, doesnotexist: WORDS.does_not_exist,
  applied: (name, a, fenced) => fill(WORDS.applied, name, fenced(a, !isBrief(a) && op(a) !== "abs")),
  call: ([a], fenced, [name]) => SPEECH.applied(spokenFunction(name), a, fenced),
  log: ([base, a], fenced) => SPEECH.applied(told(WORDS.log, base), a, fenced),
  sqrt: ([a]) => ended(told(WORDS.root, a), a, WORDS.root_end),
  root: ([index, a]) =>
    ended(index === "3" ? told(WORDS.cube_root, a) : fill(WORDS.nth_root, ordinal(index), speech(a)), a, WORDS.root_end),
  abs: ([a]) => ended(told(WORDS.absolute, a), a, WORDS.absolute_end),
  "/"([a, b]) {
    if (isWhole(a) && isWhole(b) && b > 1 && b < 11 && a > 0 && a < 21) {
      const part = (row) => listed(row)[b - 2];
      return a < 2 ? fill(WORDS.one, part(WORDS.part)) : `${a} ${part(WORDS.parts)}`;
    }
    return told(isBrief(a) && isBrief(b) ? WORDS.over : WORDS.fraction, a, b);
  },
  "^"([base, exponent], fenced, tree) {
    const word = isName(op(exponent) === "-" ? exponent[1] : exponent) ? WORDS.raised : WORDS.power, f = raisedFunction(tree);
    const raised = { 2: WORDS.squared, 3: WORDS.cubed }[exponent] ?? ended(told(word, exponent), exponent, WORDS.power_end);
    return f ? SPEECH.applied(`${spokenFunction(f[0])} ${raised}`, f[1], fenced) : `${fenced(base, !isBrief(base))} ${raised}`;
  },
  integral: ([a, x, lower, upper]) => (lower ? told(WORDS.definite, lower, upper, a, x) : told(WORDS.integral, a, x)),
  derivative: ([a, x, order]) => (order > 1 ? fill(WORDS.nth_derivative, ordinal(order), speech(x), speech(a)) : told(WORDS.derivative, x, a)),
  limit: ([a, x, point, side]) => fill(WORDS.limit, speech(x), told(side ? (side === "+" ? WORDS.right : WORDS.left) : "①", point), speech(a)),
  between: ([a, ...rest], fenced) => fill(WORDS.evaluated, fenced(a), ...rest.map(speech)),
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
    if (isNumber(name)) return tag("mn", marked(name));
    const [base, subscript] = name.split("_"), made = tag("mi", { pi: "π", infinity: "∞" }[name] ?? GREEK.get(base) ?? base);
    return subscript ? tag("msub", made, tag(/\D/.test(subscript) ? "mi" : "mn", subscript)) : made;
  },
  C: "①", sqrt: "<msqrt>①</msqrt>", root: "<mroot>②①</mroot>", "/": "<mfrac>①②</mfrac>",
  diverges: tag("mtext", WORDS.diverges), doesnotexist: tag("mtext", WORDS.does_not_exist),
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
