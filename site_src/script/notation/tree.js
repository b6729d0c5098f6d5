// Trees are nested arrays, as notation/outline.py writes them: "x", "1.20", ["+", "x", ["-", "1"]], ["sin", "x"], ["C", "k"].
// What follows is the part of notation/build.py and notation/style.py that reading, values and printers share.

const op = (tree) => (typeof tree === "string" ? "" : tree[0]);
const isNumber = (tree) => !op(tree) && /^\d/.test(tree);
const isWhole = (tree) => isNumber(tree) && !tree.includes(".");
const isConstant = (tree) => tree === "pi" || tree === "e";
const isName = (tree) => !op(tree) && /^[A-Za-z]/.test(tree) && !isConstant(tree) && tree !== "infinity";
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const many = (sign, parts) => (parts.length === 1 ? parts[0] : [sign, ...parts]);
const minus = (tree, negative = true) => (negative ? ["-", tree] : tree);

function* walk(tree) {
  yield tree;
  if (op(tree)) for (const part of tree.slice(1)) yield* walk(part);
}

/** The free names of a tree, as notation/build.py has them. */
const names = (tree) => {
  if (op(tree) === "C") return new Set();
  if (!op(tree)) return new Set(isName(tree) ? [tree] : []);
  const [sign, body, variable, ...ends] = tree;
  const binds = sign === "limit" || sign === "between" || (sign === "integral" && ends.length);
  const found = binds ? names(body) : new Set(tree.slice(1).flatMap((part) => [...names(part)]));
  if (binds) {
    found.delete(variable);
    for (const part of ends) for (const name of names(part)) found.add(name);
  }
  return found;
};

const reduced = (n, d) => {
  let [a, b] = [n < 0n ? -n : n, d];
  while (b) [a, b] = [b, a % b];
  return [n / a, d / a];
};
/** The value of a tree written as a rational number, as [numerator, denominator > 0] (BigInt), else null. */
const rational = (tree) => {
  if (isNumber(tree)) {
    const [whole, decimals = ""] = tree.split(".");
    return reduced(BigInt(whole + decimals), 10n ** BigInt(decimals.length));
  }
  const [sign, ...parts] = op(tree) ? tree : "";
  if (sign !== "-" && sign !== "/") return null;
  const [a, b] = parts.map(rational);
  if (!a || b === null || (b && !b[0])) return null;
  if (!b) return [-a[0], a[1]];
  const [n, d] = [a[0] * b[1], a[1] * b[0]];
  return d < 0n ? reduced(-n, -d) : reduced(n, d);
};

const usual = (name) => USUAL.has(name.split("_")[0]);
const isAtom = (tree) => !op(tree) || op(tree) === "C" || op(tree) === "abs";
const isCall = (tree) => CALLS.has(op(tree));
const isRelation = (tree) => /^([<>!]?=|[<>])$/.test(op(tree));
/** The letter of a derivative that is set as du/dx, or "". */
const quickDerivative = ([, body, variable]) => (isName(body) && body !== variable ? body : "");
const inSum = (tree, last) => /^[-+]$/.test(op(tree)) || isRelation(tree) || (!last && op(tree) === "limit");
const inProduct = (tree, last) =>
  /^([-+*]|limit)$/.test(op(tree)) || isRelation(tree) || (op(tree) === "derivative" && !quickDerivative(tree)) ||
  (op(tree) === "integral" && !last);
/** The function of a power that is written on its name, or null. */
const raisedFunction = (tree) =>
  op(tree) === "^" && RAISED.has(op(tree[1])) && isWhole(tree[2]) && +tree[2] >= 2 ? tree[1] : null;
