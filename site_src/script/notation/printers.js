// How a tree is written and said: the twin of notation/plain.py, mathml.py and speech.py.

// -- plain text: reading it again gives the tree ------------------------------------------------------------------------------

const bracketed = (text) => `(${text})`;
const plainName = (name) => {
  const [base, subscript = ""] = name.split("_");
  return subscript.length < 2 || /^\d+$/.test(subscript) ? name : `${base}_{${subscript}}`;
};
const plainTerm = (tree, last) => (inSum(tree, last) ? bracketed(plain(tree)) : plain(tree));
const script = (tree) =>
  isName(tree) || isConstant(tree) || isWhole(tree) || tree === "infinity" ? plain(tree) : bracketed(plain(tree));
/** The integrand of an integral, in brackets where it is a sum. */
const integrandNeedsBrackets = (tree) => inSum(tree, true) && op(tree) !== "-";

const plainProduct = (factors) => factors.map((factor, place) => {
  const brackets = (op(factor) === "/" && place) || inProduct(factor, place === factors.length - 1);
  const text = brackets ? bracketed(plain(factor)) : plain(factor);
  const touches = place && isNumber(factors[place - 1]) && !/^(e|E|int|lim|d\/|d\^)/.test(text) && (/^[A-Za-z]/.test(text) || op(factor) === "+");
  return (touches || !place ? "" : "*") + text;
}).join("");

const PLAIN = {
  "-": ([a]) => `-${plainTerm(a, true)}`,
  "+": (terms) => terms.map((term, place) => {
    const negative = op(term) === "-";
    const sign = place ? (negative ? " - " : " + ") : negative ? "-" : "";
    return sign + plainTerm(negative ? term[1] : term, place === terms.length - 1);
  }).join(""),
  "*": plainProduct,
  "/"([top, bottom]) {
    const above = inSum(top, false) || /^(derivative|limit|integral)$/.test(op(top));
    const simple = isAtom(bottom) || isCall(bottom) || /^(\^|sqrt|root|log)$/.test(op(bottom));
    return `${above ? bracketed(plain(top)) : plain(top)}/${simple ? plain(bottom) : bracketed(plain(bottom))}`;
  },
  "^"([base, exponent]) {
    const simple = isAtom(base) || isCall(base) || /^(sqrt|root)$/.test(op(base));
    const single = (!op(exponent) && exponent !== "1") || op(exponent) === "C";
    return `${simple ? plain(base) : bracketed(plain(base))}^${single ? plain(exponent) : bracketed(plain(exponent))}`;
  },
  C: ([name]) => name,
  root: ([index, a]) => `sqrt[${index}](${plain(a)})`,
  abs([a]) {
    const text = plain(a);
    return text.includes("|") ? `abs(${text})` : `|${text}|`;
  },
  log([base, a]) {
    const simple = !op(base) && base !== "infinity" && !/[_.]/.test(base);
    return `log_${simple ? base : bracketed(plain(base))}(${plain(a)})`;
  },
  integral([a, x, lower, upper]) {
    const ends = lower === undefined ? "" : `_${script(lower)}^${script(upper)}`;
    return `int${ends} ${integrandNeedsBrackets(a) ? bracketed(plain(a)) : plain(a)} d${plainName(x)}`;
  },
  derivative([a, x, order]) {
    const up = order === "1" ? "" : `^${order}`;
    const quick = quickDerivative(["", a, x]);
    return quick ? `d${up}${plainName(quick)}/d${plainName(x)}${up}` : `d${up}/d${plainName(x)}${up} (${plain(a)})`;
  },
  limit([a, x, point, side]) {
    const at = side && !isAtom(point) ? bracketed(plain(point)) : plain(point);
    return `lim_(${plainName(x)} -> ${at}${side && `^${side}`}) (${plain(a)})`;
  },
  between([a, x, lower, upper]) {
    const known = [...names(a)].join() === x;
    return `[${plain(a)}]_${known ? script(lower) : `(${plainName(x)} = ${plain(lower)})`}^${script(upper)}`;
  },
  diverges: () => "diverges",
  doesnotexist: () => "does not exist",
};
const plain = (tree) => {
  if (!op(tree)) return plainName(tree);
  const [sign, ...parts] = tree;
  if (isRelation(tree)) return parts.map(plain).join(` ${sign} `);
  return PLAIN[sign] ? PLAIN[sign](parts) : `${sign}(${plain(parts[0])})`;
};

// -- speech -------------------------------------------------------------------------------------------------------------------

const SPOKEN = new Map([["exp", "the exponential"], ["ln", "the natural logarithm"], ["sgn", "the sign"]]);
list("sine cosine tangent secant cosecant cotangent").forEach((long, place) => {
  const f = TRIG[place];
  SPOKEN.set(f, long).set(`arc${f}`, `inverse ${long}`).set(`${f}h`, `hyperbolic ${long}`).set(`ar${f}h`, `inverse hyperbolic ${long}`);
});
const ORDINALS = list("zeroth first second third fourth fifth sixth seventh eighth ninth tenth");
const PARTS = [...list("x x half third quarter"), ...ORDINALS.slice(5)];
const SPOKEN_RELATIONS = {
  "=": "equals", "<": "is less than", ">": "is greater than", "<=": "is at most", ">=": "is at least", "!=": "is not equal to",
};
const ordinal = (number) => ORDINALS[number] ?? `${number}th`;
/** Whether the ear needs no mark at its end. */
const isShort = (tree) => {
  const [sign, a, b] = op(tree) ? tree : [""];
  if (sign === "-") return isShort(a);
  if (sign === "*") return tree.length === 3 && a !== "infinity" && b !== "infinity" && !op(a) && !op(b) && !isNumber(b);
  return !sign || sign === "C" || (sign === "/" && isNumber(a) && isNumber(b));
};
const spokenName = (name) => name.replace("_", " sub ");
const ended = (said, inner, mark) => (isShort(inner) ? said : `${said}, end ${mark}`);
const grouped = (tree) => `open bracket ${speech(tree)} close bracket`;
const spokenTerm = (tree) => (/^[-+]$/.test(op(tree)) ? grouped(tree) : speech(tree));
const spokenFactor = (tree) => (/^[-+*]$/.test(op(tree)) ? grouped(tree) : speech(tree));
const applied = (name, a) => `${name} of ${isShort(a) || op(a) === "abs" ? speech(a) : grouped(a)}`;
const spokenRaised = (exponent) => {
  if (exponent === "2") return " squared";
  if (exponent === "3") return " cubed";
  const letter = isName(op(exponent) === "-" ? exponent[1] : exponent);
  return ended(` to the${letter ? "" : " power"} ${speech(exponent)}`, exponent, "power");
};
const by = (x) => ` with respect to ${spokenName(x)}`;

const SPEECH = {
  C: ([name]) => spokenName(name),
  "-": ([a]) => `minus ${spokenTerm(a)}`,
  "+": (terms) => terms.map((term, place) => {
    const negative = op(term) === "-";
    if (!place) return negative ? speech(term) : spokenTerm(term);
    return negative ? ` minus ${spokenTerm(term[1])}` : ` plus ${spokenTerm(term)}`;
  }).join(""),
  "*": (factors) => factors.map((factor, place) => {
    if (!place) return spokenFactor(factor);
    const before = factors[place - 1], power = op(factor) === "^", base = power ? factor[1] : factor;
    const close = (isNumber(before) || isName(before)) && (isName(base) || (isConstant(base) && !power));
    return (close ? " " : " times ") + spokenFactor(factor);
  }).join(""),
  "/"([top, bottom]) {
    if (isWhole(top) && isWhole(bottom) && bottom > 1 && bottom < 11 && top > 0 && top < 21) {
      const part = PARTS[+bottom];
      return top === "1" ? `one ${part}` : `${+top} ${part === "half" ? "halves" : `${part}s`}`;
    }
    const said = `${speech(top)} over ${speech(bottom)}`;
    return isShort(top) && isShort(bottom) ? said : `the fraction ${said}, end fraction`;
  },
  "^"([base, exponent]) {
    const raised = raisedFunction(["^", base, exponent]);
    if (raised) return applied(SPOKEN.get(raised[0]) + spokenRaised(exponent), raised[1]);
    return (isShort(base) ? speech(base) : grouped(base)) + spokenRaised(exponent);
  },
  sqrt: ([a]) => ended(`the square root of ${speech(a)}`, a, "root"),
  root: ([index, a]) => ended(`the ${index === "3" ? "cube" : ordinal(+index)} root of ${speech(a)}`, a, "root"),
  abs: ([a]) => ended(`the absolute value of ${speech(a)}`, a, "absolute value"),
  log: ([base, a]) => applied(`the logarithm to base ${speech(base)}`, a),
  integral: ([a, x, lower, upper]) =>
    `the integral${lower === undefined ? "" : ` from ${speech(lower)} to ${speech(upper)}`} of ${speech(a)}${by(x)}`,
  derivative: ([a, x, order]) => `the ${order === "1" ? "" : `${ordinal(+order)} `}derivative${by(x)} of ${speech(a)}`,
  limit([a, x, point, side]) {
    const from = { "+": " from the right", "-": " from the left" }[side] ?? "";
    return `the limit as ${spokenName(x)} tends to ${speech(point)}${from} of ${speech(a)}`;
  },
  between: ([a, x, lower, upper]) => `${grouped(a)} evaluated from ${spokenName(x)} equals ${speech(lower)} to ${speech(upper)}`,
  diverges: PLAIN.diverges,
  doesnotexist: PLAIN.doesnotexist,
};
const speech = (tree) => {
  if (!op(tree)) return spokenName(tree);
  const [sign, ...parts] = tree;
  if (isRelation(tree)) return parts.map(speech).join(` ${SPOKEN_RELATIONS[sign]} `);
  return SPEECH[sign] ? SPEECH[sign](parts) : applied(SPOKEN.get(sign), parts[0]);
};

// -- MathML: for MathML Core, as a textbook sets it -----------------------------------------------------------------------------

const APPLY = "<mo>\u2061</mo>", TIMES = "<mo>\u2062</mo>", DOT = "<mo>⋅</mo>", THIN = '<mspace width="0.17em"/>';
const MINUS = '<mo form="prefix">−</mo>';
const SIGN = { "<": "&lt;", ">": "&gt;", "<=": "≤", ">=": "≥", "!=": "≠", "=": "=" };
const tag = (name, ...parts) => `<${name}>${parts.join("")}</${name}>`;
const row = (...parts) => tag("mrow", ...parts);
const fence = (inside, opening = "(", closing = ")") => {
  const grows = /<mfrac|<msqrt|<mroot|<munder|<msubsup|largeop/.test(inside);
  const bracket = (sign, form) => `<mo fence="true" form="${form}" stretchy="${grows}">${sign}</mo>`;
  return row(bracket(opening, "prefix"), inside, bracket(closing, "postfix"));
};
const fenced = (tree, brackets) => (brackets ? fence(markup(tree)) : markup(tree));
const letterMarkup = (name) => {
  const [base, subscript] = name.split("_");
  const made = tag("mi", GREEK.get(base) ?? base);
  return subscript ? tag("msub", made, tag(/^\d+$/.test(subscript) ? "mn" : "mi", subscript)) : made;
};

/** The argument of a function that is written with its name in front, also when raised to a power. */
const functionOf = (tree) => {
  const raised = raisedFunction(tree) ?? tree;
  return isCall(raised) || op(raised) === "log" ? raised.at(-1) : null;
};
/** Whether a function's argument goes without brackets: `x`, `2x`, `ax`, a fraction, a root. */
const isSimpleArgument = (tree) => {
  if (!op(tree)) return !isNumber(tree) || isWhole(tree);
  if (op(tree) !== "*") return /^(C|sqrt|root|\/)$/.test(op(tree));
  const front = tree.slice(1, -1), last = tree.at(-1);
  const letterLike = (part) => isName(part) || isConstant(part);
  return front.every((part, place) => letterLike(part) || (!place && isNumber(part))) &&
    letterLike(last) && !front.some((part) => isName(part) && usual(part)) && last !== front[0];
};
/** Whether a function is printed without round brackets about its argument. */
const isBare = (tree) => {
  const inner = raisedFunction(tree) ?? tree, a = inner.at(-1);
  return op(inner) !== "exp" && (isSimpleArgument(a) || (op(inner) === "ln" && op(a) === "abs"));
};
const startsWithDigit = (tree) =>
  isNumber(tree) || ((op(tree) === "*" || (op(tree) === "^" && !raisedFunction(tree))) && startsWithDigit(tree[1]));
const isFraction = (tree) => op(tree) === "/" && isNumber(tree[1]) && isNumber(tree[2]);
/** What stands between two factors. */
const between = (before, after) => {
  const brackets = inProduct(after, false) && op(after) !== "integral";
  if (!brackets && startsWithDigit(after)) return DOT;
  if (op(before) === "/" && op(after) === "/" && rational(before) && rational(after)) return DOT;
  if ((isNumber(op(before) === "^" ? before[2] : before) && isFraction(after)) || before === "d" || after === "d") return DOT;
  const a = functionOf(before), b = functionOf(after), ended = a !== null && isBare(before);
  const close = TIMES + (b !== null || ended ? THIN : "");
  if (!ended) return close;
  if (op(a) === "abs") return op(after) === "abs" ? DOT : close;
  if (b !== null) return names(a).size ? close : DOT;
  return [...names(a)].some(usual) ? close : DOT;
};

/** A fraction that is set with a slash when it is a whole exponent. */
const slashed = (tree) => {
  const inner = op(tree) === "-" ? tree[1] : tree;
  if (op(inner) !== "/") return null;
  const [, top, bottom] = inner, factors = op(top) === "*" ? top.slice(1) : [top];
  const small = (part) => (op(part) === "^" ? isName(part[1]) && isNumber(part[2]) : !op(part) && part !== "infinity");
  return factors.every((part, place) => small(part) && !(place && startsWithDigit(part))) && small(bottom) && !op(bottom) ? inner : null;
};
const exponentMarkup = (tree) => {
  const quotient = slashed(tree);
  if (!quotient) return markup(tree);
  return row(op(tree) === "-" ? MINUS : "", markup(quotient[1]), "<mo>/</mo>", markup(quotient[2]));
};
/** A function at its argument; a thin space stands where no bracket does. */
const appliedMarkup = (name, tree) => {
  const a = tree.at(-1);
  if (op(tree) === "ln" && op(a) === "abs") return row(name, APPLY, markup(a));
  return op(tree) === "exp" || !isSimpleArgument(a) ? row(name, APPLY, fence(markup(a))) : row(name, APPLY, THIN, markup(a));
};
const isBareInLimit = (tree) =>
  op(tree) === "*" ? !inProduct(tree[1], false) && isBareInLimit(tree[1])
  : isAtom(tree) || isCall(tree) || /^(\/|\^|sqrt|root|log)$/.test(op(tree));

const MARKUP = {
  C: ([name]) => letterMarkup(name),
  "-": ([a]) => row(MINUS, fenced(a, inSum(a, true))),
  "+": (terms) => row(...terms.map((term, place) => {
    const negative = op(term) === "-", inner = negative ? term[1] : term;
    const sign = negative ? (place ? "<mo>−</mo>" : MINUS) : place ? "<mo>+</mo>" : "";
    return sign + fenced(inner, inSum(inner, place === terms.length - 1));
  })),
  "*": (factors) => row(...factors.map((factor, place) =>
    (place ? between(factors[place - 1], factor) : "") + fenced(factor, inProduct(factor, place === factors.length - 1)))),
  "/": ([top, bottom]) => tag("mfrac", markup(top), markup(bottom)),
  "^"([base, exponent]) {
    const raised = raisedFunction(["^", base, exponent]);
    if (raised) return appliedMarkup(tag("msup", tag("mi", raised[0]), markup(exponent)), raised);
    return tag("msup", fenced(base, !isAtom(base)), exponentMarkup(exponent));
  },
  sqrt: ([a]) => tag("msqrt", markup(a)),
  root: ([index, a]) => tag("mroot", markup(a), tag("mn", index)),
  abs: ([a]) => fence(markup(a), "|", "|"),
  log: ([base, a]) => appliedMarkup(tag("msub", "<mi>log</mi>", markup(base)), ["log", base, a]),
  integral([a, x, lower, upper]) {
    const sign = '<mo largeop="true">∫</mo>';
    const all = lower === undefined ? sign : tag("msubsup", sign, exponentMarkup(lower), exponentMarkup(upper));
    return row(all, fenced(a, integrandNeedsBrackets(a)), THIN, row("<mi>d</mi>", letterMarkup(x)));
  },
  derivative([a, x, order]) {
    const raise = (base) => (order === "1" ? base : tag("msup", base, tag("mn", order)));
    const up = raise("<mi>d</mi>"), quick = quickDerivative(["", a, x]);
    const fraction = tag("mfrac", quick ? row(up, markup(a)) : up, row("<mi>d</mi>", raise(letterMarkup(x))));
    return quick ? fraction : row(fraction, fence(markup(a), "[", "]"));
  },
  limit([a, x, point, side]) {
    const at = side ? tag("msup", isAtom(point) ? exponentMarkup(point) : fence(markup(point)), tag("mo", side === "-" ? "−" : "+")) : exponentMarkup(point);
    const below = row(letterMarkup(x), '<mo stretchy="false">→</mo>', at);
    return row(`<munder><mo movablelimits="false">lim</mo>${below}</munder>`, THIN, fenced(a, !isBareInLimit(a)));
  },
  between([a, x, lower, upper]) {
    const from = exponentMarkup(lower);
    const known = [...names(a)].join() === x;
    return tag("msubsup", fence(markup(a), "[", "]"), known ? from : row(letterMarkup(x), "<mo>=</mo>", from), exponentMarkup(upper));
  },
  diverges: () => "<mtext>diverges</mtext>",
  doesnotexist: () => "<mtext>does not exist</mtext>",
};
const markup = (tree) => {
  if (isNumber(tree)) return tag("mn", tree);
  if (!op(tree)) return tree === "pi" ? "<mi>π</mi>" : tree === "infinity" ? "<mi>∞</mi>" : letterMarkup(tree);
  const [sign, ...parts] = tree;
  if (isRelation(tree)) return row(markup(parts[0]), tag("mo", SIGN[sign]), markup(parts[1]));
  return MARKUP[sign] ? MARKUP[sign](parts) : appliedMarkup(tag("mi", sign), tree);
};
/** A whole `<math>` element; its `alttext` is what `speech` says. Trees hold known words, letters and digits only: nothing to escape. */
const mathml = (tree) => `<math alttext="${speech(tree)}">${markup(tree)}</math>`;
