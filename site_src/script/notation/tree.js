// Trees are nested arrays, as notation/outline.py writes them: "x", "1.20", ["+", "x", ["-", "1"]], ["sin", "x"], ["C", "k"].
// What follows is the part of notation/build.py and style.py that reading, values and printers share.

const op = (tree) => (Array.isArray(tree) ? tree[0] : "");
const isNumber = (tree) => !op(tree) && /^\d/.test(tree);
const isWhole = (tree) => isNumber(tree) && !tree.includes(".");
const isConstant = (tree) => tree === "pi" || tree === "e";
const isName = (tree) => !op(tree) && /^[A-Za-z]/.test(tree) && !isConstant(tree) && tree !== "infinity";
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const many = (sign, parts) => (parts[1] ? [sign, ...parts] : parts[0]);
const minus = (tree, negative = true) => (negative ? ["-", tree] : tree);

/** The free names of a tree, as notation/build.py has them. */
const names = (tree) => {
  if (!op(tree)) return isName(tree) ? [tree] : [];
  const [sign, body, variable, ...ends] = tree;
  const found = sign === "C" ? [] : /^[lb].*t|integral/.test(sign) && ends.length ? [
    ...names(body).filter((name) => name !== variable), ...ends.flatMap(names)] : tree.slice(1).flatMap(names);
  return [...new Set(found)];
};

/** Whether a tree is written as a rational number. */
const isRational = (tree) => isNumber(tree) || (/^[-/]$/.test(op(tree)) && tree.slice(1).every(isRational));
const usual = (name) => USUAL.includes(name.split("_")[0]);
const isAtom = (tree) => /^(C|abs)?$/.test(op(tree));
const isCall = (tree) => CALLS.has(op(tree));
const isRelation = (tree) => /^[<>!=]/.test(op(tree));
/** Which brackets are needed in a sum and in a product. */
const inSum = (tree, last) => /^[-+]/.test(op(tree)) || isRelation(tree) || (!last && op(tree) === "limit");
const inProduct = (tree, last) =>
  /^([-+*]|limit)/.test(op(tree)) || isRelation(tree) || (op(tree) === "derivative" && !quickDerivative(tree)) ||
  (!last && op(tree) === "integral");
/** Whether a derivative is set as du/dx. */
const quickDerivative = ([, body, variable]) => isName(body) && body !== variable;
/** The function of a power that is written on its name, or nothing. */
const raisedFunction = ([sign, base, exponent]) =>
  sign === "^" && isCall(base) && !/^(exp|sgn)$/.test(op(base)) && isWhole(exponent) && exponent > 1 && base;
