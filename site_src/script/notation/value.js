// The value of a tree as a double: real numbers only, radians, NaN where a part is undefined or too large. The conventions are the
// kernel's (kernel/program.py): odd roots and powers with odd denominators are real below zero, arccot is pi/2 - arctan.

const over = (a, b) => (b === 0 ? NaN : a / b);
/** The other side of a right triangle with a side 1 and the long side |u|. */
const side = (u) => Math.sqrt((u - 1) * (u + 1));
/** What `Math` has not, or has with infinities; little is lost near the ends of a domain and far out. */
const VALUES = {
  sgn: Math.sign, ln: (u) => (u ? Math.log(u) : NaN), sec: (u) => over(1, Math.cos(u)), csc: (u) => over(1, Math.sin(u)),
  cot: (u) => over(1, Math.tan(u)), sech: (u) => 1 / Math.cosh(u), csch: (u) => over(1, Math.sinh(u)), coth: (u) => over(1, Math.tanh(u)),
  arcsec: (u) => (u < 0 ? Math.PI - Math.atan(side(u)) : Math.atan(side(u))), arccsc: (u) => Math.atan2(Math.sign(u), side(u)),
  arccot: (u) => Math.atan2(1, u), artanh: (u) => (Math.abs(u) < 1 ? Math.atanh(u) : NaN), arcsch: (u) => Math.asinh(over(1, u)),
  arsech(u) {
    const t = over(1 - u, u);
    return u < 0 ? NaN : Math.log1p(t + Math.sqrt(t * (t + 2)));
  },
  arcoth: (u) => (u < 0 ? -VALUES.arcoth(-u) : Math.log1p(over(2, u - 1)) / 2),
};

/** The real power with a rational exponent n/m in lowest terms; of an odd root also below zero. */
const realPower = (u, n, m) =>
  n < 0 ? over(1, realPower(u, -n, m)) : u < 0 && m > 1 && m % 2 ? (-1) ** n * (-u) ** (n / m) : u ** (n / m);

/** A tree made into a function of the values of its names; constants of integration are 0 unless they have a value. */
const compiled = (tree) => {
  if (isNumber(tree)) return () => +tree;
  if (isName(tree)) return (at) => at[tree];
  const [sign, ...parts] = op(tree) ? tree : [tree];
  if (sign === "C") return (at) => at[parts[0]] ?? 0;
  const all = parts.map(compiled), [f, g, lower, upper] = all;
  if (sign === "^" && parts[0] !== "e") {
    const y = names(parts[1])[0] ? NaN : g({});
    for (let m = 1; m < 1001; m++) {
      const n = Math.round(y * m);
      if (Math.abs(y * m - n) < 1e-13 * m) return (at) => realPower(f(at), n, m);
    }
  }
  const value = VALUES[sign] ?? Math[sign.replace(/^arc?(?=sin|cos|tan)/, "a")];
  return {
    pi: () => Math.PI, e: () => Math.E,
    "+": (at) => all.reduce((total, part) => total + part(at), 0),
    "*": (at) => all.reduce((total, part) => total * part(at), 1),
    "-": (at) => -f(at),
    "/": (at) => over(f(at), g(at)),
    "^": (at) => parts[0] === "e" ? Math.exp(g(at)) : f(at) > 0 ? f(at) ** g(at) : NaN,
    root: (at) => realPower(g(at), 1, +parts[0]),
    log: (at) => over(VALUES.ln(g(at)), VALUES.ln(f(at))),
    between: (at) => f({ ...at, [parts[1]]: upper(at) }) - f({ ...at, [parts[1]]: lower(at) }),
  }[sign] ?? (value && f ? (at) => value(f(at)) : () => NaN);
};
const compile = (tree) => {
  const value = compiled(tree);
  return (at = {}) => {
    const found = value(at);
    return Number.isFinite(found) ? found : NaN;
  };
};
const evaluate = (tree, at) => compile(tree)(at);

/** The readings of an ambiguous text that differ in value at some of seven points, so that nobody is asked about the others. */
const distinct = (trees) => {
  const values = trees.map((tree) => [0.37, 1.21, 2.83, 5.3, 0.11, -0.63, -1.9].map((t) =>
    evaluate(tree, Object.fromEntries(names(tree).map((name) => [name, t * (1 + (name.charCodeAt() % 7) / 9)])))));
  const alike = (a, b) => a.every((u, i) => Object.is(u, b[i]) || Math.abs(u - b[i]) < 1e-9 * Math.abs(u)) && a.some((u) => u === u);
  return trees.filter((_, place) => !values.slice(0, place).some((earlier) => alike(earlier, values[place])));
};

globalThis.everyline = Object.freeze({
  ...globalThis.everyline,
  notation: Object.freeze({ parse, compile, evaluate, distinct, names, plain, speech, mathml }),
});
