// The value of a tree as a double: real numbers only, radians, NaN where a part is undefined or too large. The conventions are the
// kernel's (kernel/program.py): odd roots and powers with odd denominators are real below zero, arccot is pi/2 - arctan.

/** The rational number that a tree of numbers works out to, as [numerator, denominator > 0] (BigInt), else null. */
const exactValue = (tree) => {
  if (isNumber(tree) || op(tree) === "-") {
    const inner = isNumber(tree) ? rational(tree) : exactValue(tree[1]);
    return inner && op(tree) ? [-inner[0], inner[1]] : inner;
  }
  if (!/^[+*/]$/.test(op(tree))) return null;
  return tree.slice(1).map(exactValue).reduce((a, b) => {
    if (!a || !b) return null;
    const [n, m] = op(tree) === "+" ? [a[0] * b[1] + b[0] * a[1], a[1] * b[1]]
      : op(tree) === "*" ? [a[0] * b[0], a[1] * b[1]] : [a[0] * b[1], a[1] * b[0]];
    return m ? (m < 0n ? reduced(-n, -m) : reduced(n, m)) : null;
  });
};

const over = (a, b) => (b === 0 ? NaN : a / b);
/** The square of the other side of a right triangle with a side 1 and the long side |u|. */
const side = (u) => Math.sqrt((u - 1) * (u + 1));
const arcoth = (u) => (u < 0 ? -arcoth(-u) : Math.log1p(over(2, u - 1)) / 2);
/** Written so that little is lost near the ends of a domain and far out (acos(1/u) and pi/2 - atan(u) would lose much). */
const VALUES = {
  __proto__: null, sqrt: Math.sqrt, abs: Math.abs, sgn: Math.sign, exp: Math.exp, ln: (u) => (u === 0 ? NaN : Math.log(u)),
  sin: Math.sin, cos: Math.cos, tan: Math.tan, sec: (u) => over(1, Math.cos(u)), csc: (u) => over(1, Math.sin(u)), cot: (u) => over(1, Math.tan(u)),
  arcsin: Math.asin, arccos: Math.acos, arctan: Math.atan,
  arcsec: (u) => (u < 0 ? Math.PI - Math.atan(side(u)) : Math.atan(side(u))), arccsc: (u) => Math.atan2(Math.sign(u), side(u)),
  arccot: (u) => Math.atan2(1, u),
  sinh: Math.sinh, cosh: Math.cosh, tanh: Math.tanh, sech: (u) => 1 / Math.cosh(u), csch: (u) => over(1, Math.sinh(u)),
  coth: (u) => over(1, Math.tanh(u)),
  arsinh: Math.asinh, arcosh: Math.acosh, artanh: (u) => (Math.abs(u) < 1 ? Math.atanh(u) : NaN),
  arsech(u) {
    const t = over(1 - u, u);
    return Math.log1p(t + Math.sqrt(t * (t + 2)) * (u > 0 ? 1 : NaN));
  },
  arcsch: (u) => Math.asinh(over(1, u)), arcoth,
};

/** The real power of a number with a rational exponent n/m in lowest terms. */
const realPower = (u, n, m) => {
  if (n < 0) return over(1, realPower(u, -n, m));
  if (n === 0) return 1;
  if (m === 1) return u ** n;
  if (m === 2) return Math.sqrt(u) ** n;
  if (m === 3) return Math.cbrt(u) ** n;
  return u < 0 && m % 2 ? (-1) ** n * (-u) ** (n / m) : u ** (n / m);
};

/** A tree made into a function of the values of its names, {x: 2}. Constants of integration are 0 unless they have a value. */
const compiled = (tree) => {
  if (isNumber(tree)) return () => +tree;
  if (!op(tree)) return isName(tree) ? (at) => at[tree] : () => ({ pi: Math.PI, e: Math.E })[tree];
  const [sign, ...parts] = tree;
  if (sign === "C") return (at) => at[parts[0]] ?? 0;
  if (sign === "between") {
    const [body, , lower, upper] = parts.map(compiled);
    return (at) => body({ ...at, [parts[1]]: upper(at) }) - body({ ...at, [parts[1]]: lower(at) });
  }
  const [f, g] = parts.map(compiled), all = parts.map(compiled);
  switch (sign) {
    case "+": return (at) => all.reduce((total, part) => total + part(at), 0);
    case "*": return (at) => all.reduce((total, part) => total * part(at), 1);
    case "-": return (at) => -f(at);
    case "/": return (at) => over(f(at), g(at));
    case "root": return (at) => realPower(g(at), 1, +parts[0]);
    case "log": return (at) => over(VALUES.ln(g(at)), VALUES.ln(f(at)));
    case "^": {
      const exact = exactValue(parts[1])?.map(Number);
      if (parts[0] === "e") return (at) => Math.exp(g(at));
      if (exact) return (at) => realPower(f(at), ...exact);
      return (at) => (f(at) > 0 ? f(at) ** g(at) : NaN);
    }
  }
  const value = VALUES[sign];
  return value ? (at) => value(f(at)) : () => NaN;
};
const compile = (tree) => {
  const value = compiled(tree);
  return (at = {}) => {
    const found = value(at);
    return Number.isFinite(found) ? found : NaN;
  };
};
const evaluate = (tree, at) => compile(tree)(at);

/** The readings of an ambiguous text that differ in value, so that nobody is asked about the others. */
const distinct = (trees) => {
  const letters = [...new Set(trees.flatMap((tree) => [...names(tree)]))];
  const rows = trees.map((tree) => {
    const value = compile(tree);
    return [0.37, 1.21, 2.83, 5.3, 0.11, -0.63, -1.9].map((t) =>
      value(Object.fromEntries(letters.map((letter, place) => [letter, t * (1 + 0.31 * place)]))));
  });
  const alike = (a, b) => a.some((u) => u === u) && a.every((u, i) => (u !== u && b[i] !== b[i]) || Math.abs(u - b[i]) <= 1e-9 * Math.abs(u));
  return trees.filter((_, place) => !rows.slice(0, place).some((row) => alike(row, rows[place])));
};

globalThis.everyline = Object.freeze({
  ...globalThis.everyline,
  notation: Object.freeze({ parse, compile, evaluate, distinct, names, plain, speech, mathml }),
});
