// The grammar: a strict Pratt parser, the twin of notation/parser.py, operands.py, application.py, powers.py, calculus.py, limits.py.
// One run follows a plan: the answers to the questions that it asks, in order; without one it takes reading 0.

const set = (text) => new Set(list(text));
const LETTERS = set("name constant arbitrary");
const STARTS = new Set([...LETTERS, ...list("function choice ( [ { | bar( root fraction infinity vulgar integral derivative limit leftdot")]);
const SLASH_FREE = set("integral derivative limit leftdot");
const CLOSING = table("(:) [:] {:} bar(:bar) |:| leftdot:bar)");
const UNITS = set("number name constant arbitrary fraction root infinity vulgar choice");
const STOPS = set("( [ { | bar(");
const JOINS = set("name constant arbitrary function choice ( [ { | bar( root fraction infinity");
const FAR = "It is not clear how far the argument of the function goes.";
const ROOT_FAR = "It is not clear how far the root goes.";

/** An upper bound of a number written out; 0 as soon as a letter or a function is in it. */
const magnitude = (tree) => {
  const [sign, a, b] = op(tree) ? tree : [""];
  if (isNumber(tree)) return +tree;
  if (sign === "-") return magnitude(a);
  if (sign === "+") return tree.slice(1).reduce((total, part) => total + magnitude(part), 0);
  if (sign === "*") return tree.slice(1).reduce((total, part) => total * (magnitude(part) || 1), 1);
  if (sign === "/") {
    const below = rational(b);
    return magnitude(a) / (Math.abs(below ? Number(below[0]) / Number(below[1]) : 0) || 1);
  }
  if (sign !== "^") return 0;
  const [low, high] = [magnitude(a), magnitude(b)];
  return high * Math.log2(Math.max(low, 1)) > 1000 ? Infinity : low && low ** high;
};
/** About how many bits its whole numbers take once it is multiplied out; letters count nothing. */
const bitsOf = (tree) => {
  if (isNumber(tree)) return Math.max(...rational(tree).map((n) => (n ? n.toString(2).length : 0)));
  if (op(tree) === "^") return bitsOf(tree[1]) * Math.max(magnitude(tree[2]), 1);
  return /^[-+*/]$/.test(op(tree)) ? tree.slice(1).reduce((total, part) => total + bitsOf(part), 0) : 0;
};

/** One run: {tree} or {error}, with what was asked: [{kind, start, end, message, ways}]. */
const run = (given, context, plan, kinds) => {
  let tokens = [...given];
  let at = 0, frame = null, fractions = 0, integralEnd = -1, openBars = 0, logBase = -1;
  let limits = { depth: 0, nodes: 0, bits: 0 };
  const asked = [];
  const manyBars = tokens.filter((token) => token.kind === "|").length >= 4;

  const peek = (by = 0) => tokens[at + by];
  const is = (...wanted) => wanted.includes(tokens[at].kind);
  const isIn = (wanted) => wanted.has(tokens[at].kind);
  const isPower = () => is("^", "raised");
  const closingBar = () => is("|") && openBars > 0;
  const take = () => (is("end") ? peek() : tokens[at++]);
  const fail = (code, message, help, token = peek()) => refuse(code, token.start, token.end, message, help);
  const variable = (name) => !context.parameters.has(name) && usual(name);
  const opens = new Set([...STARTS, "number"]);

  const unexpected = () => {
    const { kind } = peek();
    if (is(")", "]", "}", "bar)")) fail("unopened", "This bracket closes nothing, or not the kind that was opened.", "Take it away, or open it before.");
    if (is("end")) fail("unfinished", "The formula stops in the middle.", "Write what is still missing.");
    if (is("differential")) fail("differential", "This dx does not belong to an integral.", "Write one dx for each integral sign, at its end.");
    if (is("_")) fail("syntax", "A lower index has no meaning here.", "Write limits behind brackets: [F]_0^1.");
    if (is(",")) fail("syntax", "A comma has no meaning here.", "Write decimals as 0.5 and multiply with *.");
    fail("syntax", "Something is missing or too much here.", "Check the signs around it.");
  };
  const expect = (kind, opening, what = "bracket") => {
    if (is(kind)) return take();
    if (is("end")) fail("unclosed", `This ${what} is never closed.`, `Add the closing ${kind === "bar)" ? "|" : kind}.`, opening);
    return unexpected();
  };
  /** Which reading to follow at an ambiguous place, by the plan. */
  const ask = (kind, start, message, end = peek().end, ways = 2) => {
    asked.push({ kind, start, end, message, ways });
    return (kinds ? kinds[kind] : plan[asked.length - 1]) ?? 0;
  };

  const tooDeep = () => fail("limit", "This is nested too deeply.", "Use fewer brackets or signs.");
  const count = (more) => {
    limits.nodes += more;
    if (limits.nodes > 4000) fail("limit", "This formula is too large.", "Split it into parts.");
  };
  const enter = () => {
    limits.depth++;
    count(1);
    if (limits.depth > 48) tooDeep();
  };
  const nest = (levels) => {
    if (levels > 32) tooDeep();
  };
  const power = (base, exponent) => {
    const size = magnitude(exponent);
    if (size > 10000) fail("limit", "This exponent is too large.", "Exponents go up to 10000.", peek(-1));
    limits.bits += isName(base) ? 0 : bitsOf(base) * Math.max(size, 1);
    if (limits.bits > 65536) fail("limit", "This number is too large.", "Its digits would fill many pages.", peek(-1));
    return ["^", base, exponent];
  };
  /** Read with the frame and the open bars put aside. */
  const apart = (read, bars = 0, inner = null) => {
    const held = [frame, openBars];
    [frame, openBars] = [inner, bars];
    const tree = read();
    [frame, openBars] = held;
    return tree;
  };

  // -- sums, products, factors ------------------------------------------------------------------------------------------

  const sum = () => {
    const terms = [signedTerm()];
    while (is("+", "-") && !frame?.variable) {
      const negative = take().kind === "-";
      terms.push(minus(is("-") ? signedTerm() : term(), negative));
    }
    if (frame?.inside && terms.length > 1) fail("syntax", "The dx belongs to one term only.", "Put the whole integrand in brackets and dx behind it.");
    count(terms.length);
    return many("+", terms);
  };
  const signedTerm = () => {
    let signs = 0;
    if (is("+")) take();
    for (; is("-"); signs++) take();
    let tree = term();
    nest(signs);
    while (signs--) tree = minus(tree);
    return tree;
  };
  const term = () => {
    const first = at;
    let factors = is("differential") ? [] : [factor()];
    let nesting = 0;
    for (;;) {
      if (is("*")) {
        take();
        if (!is("differential")) factors.push(signedFactor());
      } else if (is("/")) {
        factors = [over(factors, first)];
        nest(++nesting);
      } else if (is("differential")) {
        if (frame?.variable && !frame.inside) break;
        differential();
        if (isIn(opens) && !(is("|") && frame?.bars)) fail("syntax", "Something follows directly after dx.", "Put it before dx, or set brackets round the integral.");
        if (!is("/")) break;
      } else if (isIn(STARTS) && !(is("|") && barCloses()) && !finished()) factors.push(beside(factors));
      else if (is("number", "raised", "vulgar") && !finished()) fail("number-after", "A number stands directly after something.", "Write 2x, x^2, x_2 or x*2: which is meant?");
      else break;
    }
    count(factors.length);
    return factors.length ? many("*", factors) : "1";
  };
  const finished = () => {
    if (integralEnd === at && !is("end")) fail("syntax", "Something follows directly after an integral.", "Put brackets round the integral, or a sign between.");
    return !!frame?.variable;
  };
  const barCloses = () => {
    if (!openBars) return false;
    const after = peek(1).kind;
    return !manyBars || !STARTS.has(after) || after === "|" || !ask("bars", peek().start, "The bars can be paired in two ways.");
  };
  const beside = (factors) => {
    const before = peek(-1), here = peek();
    const tree = factor();
    const mixed = here.kind === "fraction" && before.kind === "number" && isWhole(factors.at(-1));
    return mixed && op(tree) === "/" && isNumber(tree[1]) && isNumber(tree[2]) &&
      ask("mixed", before.start, "A number before a fraction can be a mixed number or a product.", peek(-1).end)
      ? ["+", factors.pop(), tree] : tree;
  };
  const over = (factors, first) => {
    take();
    const below = [signedFactor()];
    const here = peek();
    if (isIn(STARTS) && !isIn(SLASH_FREE) && !closingBar() &&
        ask("slash", tokens[first].start, "It is not clear what is under the slash.", here.end)) {
      while (isIn(STARTS) && !closingBar()) below.push(factor());
    }
    return ["/", factors.length ? many("*", factors) : "1", many("*", below)];
  };
  const signedFactor = () => {
    const negative = is("-") && take();
    return minus(factor(), negative);
  };
  const factor = () => {
    const start = at, base = operand();
    return isPower() ? powers(base, start) : base;
  };
  const operand = () => {
    enter();
    const tree = (OPERANDS[peek().kind] ?? unexpected)();
    limits.depth--;
    return tree;
  };

  // -- powers -----------------------------------------------------------------------------------------------------------

  const powers = (base, start) => {
    if (is("^")) { // the side of a limit, 0^+ or 0^{-}, is no power
      const by = 1 + (peek(1).kind === "{");
      if (/^[-+]$/.test(peek(by).kind) && /^([)}]|end)$/.test(peek(by + 1).kind)) return base;
    }
    enter();
    const raised = exponent(base, start);
    limits.depth--;
    if (!isPower()) return power(base, raised);
    const stacked = ask("tower", tokens[start].start, "Two powers stand on each other without brackets.");
    enter();
    const nested = powers(stacked ? power(base, raised) : raised, at);
    limits.depth--;
    return stacked ? nested : power(base, nested);
  };
  const raisedNumber = ({ value }) => minus(value.replace("-", ""), value < 0);
  const exponent = (base, start) => {
    const token = take();
    if (token.kind === "raised") return raisedNumber(token);
    if (is("{", "(")) return operand();
    const negative = is("-");
    if (is("-", "+")) take();
    const bare = peek();
    if (!/^(name|constant|arbitrary|number|infinity|root|fraction|bar\(|[|({]|function|vulgar)$/.test(bare.kind)) unexpected();
    if (is("function") && !/^[({]$/.test(peek(1).kind)) fail("exponent", "It is not clear how far this power goes.", "Put the power in brackets: e^(sin x).");
    return minus(bareExponent(operand(), bare, base, start), negative);
  };
  const bareExponent = (tree, bare, base, start) => {
    const here = peek();
    if (tree === "1" && bare.kind === "number" && is("/")) {
      if (!ask("one", tokens[start].start, "A power 1 before a slash: a root may be meant.", peek(1).end)) return tree;
      take();
      return ["/", "1", operand()];
    }
    const letter = isIn(LETTERS) || (is("function") && here.value[0] !== "\\") || is("choice");
    const named = bare.kind === "name";
    const coefficient = bare.kind === "number" || (named && !variable(bare.value));
    if (letter && !here.gap && coefficient && !names(base).size && (!named || is("name")) &&
        ask("exponent", tokens[start].start, "It is not clear how far the power goes.")) {
      const more = [tree];
      while ((isIn(LETTERS) || is("function", "choice")) && !peek().gap) more.push(factor());
      return ["*", ...more];
    }
    return tree;
  };

  // -- numbers, groups, fractions, roots ----------------------------------------------------------------------------------

  const number = () => {
    const { value, start, end } = take();
    return value.length === 1 ? value[0] : value[ask("thousands", start, "This can be a number in thousands or one with decimals.", end)];
  };
  const choice = () => {
    const { value, start, end, gap } = peek();
    const picked = ask("word", start, "These letters can be read in two ways.", end, value.length);
    tokens.splice(at, 1, ...pieceTokens(value[Math.min(picked, value.length - 1)], start, end, gap));
    return operand();
  };
  const group = () => {
    const opening = take();
    const tree = apart(sum);
    expect(CLOSING.get(opening.kind), opening);
    return tree;
  };
  const absolute = () => {
    const opening = take();
    const tree = apart(sum, opening.kind === "|" ? openBars + 1 : 0);
    expect(CLOSING.get(opening.kind), opening, "bar");
    return ["abs", tree];
  };
  const braced = (keep) => {
    const token = peek();
    if (is("{")) {
      take();
      const tree = apart(sum, 0, keep ? frame : null);
      expect("}", token, "brace");
      return tree;
    }
    if (is("number")) return firstDigit(token);
    if (isIn(LETTERS) || is("infinity", "fraction", "root")) return operand();
    return fail("braces", "Braces are missing here.", "Write \\frac{…}{…} or \\sqrt{…}.");
  };
  /** As TeX does, `\frac12` takes one digit; what is left of the number is a token of its own. */
  const firstDigit = (token) => {
    const [digits] = token.value;
    if (token.value.length > 1 || !isWhole(digits)) fail("braces", "Braces are missing here.", "Write \\frac{1.5}{2}.");
    if (digits.length === 1) return operand();
    tokens[at] = { kind: "number", value: [digits.slice(1).replace(/^0+(?=\d)/, "")], start: token.start + 1, end: token.end, gap: 0 };
    return digits[0];
  };
  const fraction = () => {
    take();
    fractions++;
    const top = braced(true);
    fractions--;
    return ["/", top, braced()];
  };
  const radical = (index, inside) => (index === "2" ? ["sqrt", inside] : ["root", index, inside]);
  const root = (word) => {
    const { value, start } = take();
    const how = word ?? value;
    let index = /\d/.test(how) ? how : "2";
    if (is("[") && (how === "\\" || how === "sqrt")) {
      const opening = take();
      index = sum();
      expect("]", opening);
      if (!isWhole(index) || index < 2 || index > 99) fail("root", "The index of a root is a whole number from 2 to 99.", "Write \\sqrt[3]{x}.", opening);
    }
    if (how === "\\" && is("number")) {
      const whole = peek();
      const all = whole.end - whole.start > 1 && !ask("root", start, ROOT_FAR);
      return radical(index, all ? operand() : firstDigit(whole));
    }
    if (how === "\\" || is("{", "(")) return radical(index, is("(") ? operand() : braced());
    const inside = operand();
    if (!(isIn(STARTS) || isPower()) || is("|") || peek().gap === 2 || !ask("root", start, ROOT_FAR)) return radical(index, inside);
    const more = [isPower() ? powers(inside, at - 1) : inside];
    while (isIn(STARTS) && !is("|")) more.push(factor());
    return radical(index, many("*", more));
  };

  // -- functions ----------------------------------------------------------------------------------------------------------

  const application = () => {
    const token = peek(), { start } = token;
    const word = token.value.replace("\\", "");
    let name = FUNCTIONS.get(word);
    if (name === "sqrt") return root("sqrt");
    take();
    if (name === "cbrt") {
      if (!is("(", "{")) fail("braces", "Brackets are missing after cbrt.", "Write cbrt(x).");
      return ["root", "3", operand()];
    }
    const base = logarithmBase(name);
    let exponent = isPower() ? powerOfFunction() : null;
    if (same(exponent, ["-", "1"])) {
      if (!INVERSES.has(name)) fail("inverse", `“${word}” with the power -1 can mean two things.`, `Write 1/${word}(…), or the inverse function by its own name.`, token);
      [name, exponent] = [INVERSES.get(name), null];
    }
    let argument, doubtful = false;
    if (is("(", "[", "{")) {
      const brace = is("{");
      argument = is("[") ? group() : operand();
      doubtful = exponent !== null || (brace && op(argument) !== "abs" && !/^([)\]|]|bar\))$/.test(peek(-2).kind));
    } else if (is("|", "bar(")) {
      argument = operand();
      doubtful = true;
      if (is("|", "bar(") && !closingBar() && ask("argument", start, FAR)) {
        const more = [argument];
        while (is("|", "bar(")) more.push(factor());
        argument = ["*", ...more];
      }
    } else argument = bareArgument(start);
    if (doubtful && isPower() && ask("argument", start, "It is not clear what the power belongs to.")) argument = powers(argument, at - 1);
    const tree = apply(name, argument, base, start);
    return exponent === null ? tree : power(tree, exponent);
  };
  const logarithmBase = (name) => {
    if (!is("_")) return null;
    if (name !== "log") fail("syntax", "A lower index has no meaning at this function.", "Take it away.");
    take();
    return is("number") ? number() : is("{", "(", "name", "constant") ? operand() : unexpected();
  };
  const powerOfFunction = () => {
    const token = take();
    if (token.kind === "raised") return raisedNumber(token);
    if (is("{", "(")) return operand();
    const negative = is("-") && take();
    const here = peek();
    if (is("name")) return minus(operand(), negative);
    if (!is("number")) unexpected();
    const first = here.end - here.start > 1 && ask("power", here.start, "It is not clear how many of these digits are the power.");
    return minus(first ? firstDigit(here) : number(), negative);
  };
  const apply = (name, argument, base, start) => {
    if (base !== null) return ["log", base, argument];
    if (name === "lg") return ["log", "10", argument];
    if (name !== "log") return [name, argument];
    let ten = context.log === "10";
    if (context.log === "ask") {
      if (logBase < 0) logBase = ask("log", start, "“log” can be the natural logarithm or the one to base 10.");
      ten = logBase;
    }
    return ten ? ["log", "10", argument] : ["ln", argument];
  };
  /** An argument without brackets: a run of numbers, coefficients and one variable with its power. */
  const bareArgument = (start) => {
    const negative = is("-") && take();
    let argument;
    if (is("function")) {
      argument = factor();
      const follows = () => (isIn(UNITS) || isIn(STOPS) || is("function")) && !is("number") && peek().gap !== 2 && !closingBar();
      if (follows() && ask("argument", start, FAR)) {
        const more = [argument];
        while (follows()) more.push(factor());
        argument = ["*", ...more];
      }
    } else if (isIn(UNITS)) argument = argumentRun(start);
    else if (is("end")) fail("unfinished", "The function has no argument.", "Write sin x or sin(x).");
    else unexpected();
    if (is("/") && slashIsOpen(argument) && ask("argument", start, FAR, peek(1).end)) {
      take();
      argument = ["/", argument, factor()];
    }
    return minus(argument, negative);
  };
  const argumentRun = (start) => {
    const factors = [factor()];
    for (;;) {
      const { kind, gap } = peek();
      const found = factors.flatMap((part) => [...names(part)]);
      const taken = found.some(variable);
      if (!(isIn(UNITS) || isIn(STOPS) || is("function")) || is("number") || closingBar() || ends(kind, gap, taken, found.length)) break;
      if ((taken || gap === 2 || isIn(STOPS) || is("function")) && !ask("argument", start, FAR)) break;
      factors.push(factor());
    }
    return many("*", factors);
  };
  /** Whether the argument surely ends here: `\sin x\cos x`, `\sin x(1+x)`, `\sin x\,y`, `\sin x e^x`. */
  const ends = (kind, gap, taken, named) => {
    if (kind === "function") return named || gap === 2;
    const exponential = kind === "constant" && /^(\^|raised)$/.test(peek(1).kind);
    return taken && (gap === 2 || exponential || STOPS.has(kind) || /^(fraction|root|vulgar)$/.test(kind));
  };
  /** Whether `\sin x/2` can mean the sine of a quotient. In `\ln x/x` and `\sin x/\cos x` nobody means that. */
  const slashIsOpen = (argument) => {
    if (/^(function|differential)$/.test(peek(1).kind)) return false;
    const state = [at, asked.length, tokens, { ...limits }, logBase];
    tokens = [...tokens];
    at++;
    let below = null;
    try {
      below = factor();
    } catch (error) {
      if (!error.code) throw error;
    }
    [at, asked.length, tokens, limits, logBase] = state;
    return below === null || ![...names(below)].some((name) => names(argument).has(name));
  };

  // -- integrals, derivatives, limits, evaluation bars ----------------------------------------------------------------------

  const differential = () => {
    const token = take();
    if (!frame) fail("differential", "This dx does not belong to an integral.", "Put it at the end of the integrand, outside of brackets.", token);
    if (frame.variable) fail("differential", "There is more than one dx in this integral.", "Write one integral sign for each.", token);
    frame.variable = token.value;
    frame.inside = fractions > 0 || is("/");
  };
  const integral = () => {
    const sign = take();
    const found = {};
    while (is("_", "^") && !(peek().kind in found)) found[take().kind] = script();
    if ("_" in found !== "^" in found) fail("limits", "An integral has both limits or neither.", "Write \\int_0^1 or \\int.", sign);
    const held = fractions;
    fractions = 0;
    const own = { bars: openBars };
    const integrand = apart(sum, 0, own);
    fractions = held;
    if (!own.variable) {
      if (!is("end", ")", "]", "}")) unexpected();
      fail("differential", "This integral has no dx.", "Write dx (or the letter of the variable) at its end.", sign);
    }
    integralEnd = at;
    return ["integral", integrand, own.variable, ...("_" in found ? [found._, found["^"]] : [])];
  };
  /** A limit of an integral: a group, or one signed thing. */
  const script = () => {
    if (is("number") && !peek().gap && peek(1).kind === "^") return number();
    const negative = is("-") && take();
    if (negative) return minus(operand());
    if (is("+")) take();
    if (!is("{", "(", "number", "name", "constant", "infinity", "fraction", "root")) unexpected();
    return operand();
  };
  const between = (body, opening) => {
    if (is("^")) { // [F]^1_0, but not [x+1]^2
      const state = [at, asked.length];
      let upperFirst = false;
      take();
      try {
        script();
        upperFirst = is("_");
      } catch (error) {
        if (!error.code) throw error;
      }
      [at, asked.length] = state;
      if (!upperFirst) return body;
    } else if (!is("_")) return body;
    const found = {};
    let variable = "";
    while (is("_", "^") && !(peek().kind in found)) {
      const { kind } = take();
      const opened = peek();
      if (is("{", "(") && peek(1).kind === "name" && peek(2).kind === "=") {
        variable = peek(1).value;
        at += 3;
        found[kind] = sum();
        expect(CLOSING.get(opened.kind), opened);
      } else found[kind] = script();
    }
    if (!("_" in found && "^" in found)) fail("limits", "Two limits belong to these brackets.", "Write [F]_0^1.", opening);
    let free = [...names(body)];
    if (free.length !== 1) free = free.filter((name) => !context.parameters.has(name));
    if (!variable && free.length !== 1) fail("limits", "It is not clear which letter the limits are for.", "Write [F]_(x=0)^1.", opening);
    return ["between", body, variable || free[0], found._, found["^"]];
  };
  const brackets = () => {
    const opening = peek();
    return between(group(), opening);
  };
  const bar = () => {
    const opening = peek();
    const [, body] = absolute();
    const tree = between(body, opening);
    return tree === body ? fail("limits", "The limits are missing after this bar.", "Write [F]_0^1.", opening) : tree;
  };
  const derivative = () => {
    const token = take();
    const [variable, order, body] = token.value;
    return ["derivative", body ?? operandOf(token, "derivative"), variable, order];
  };
  /** What a derivative or a limit is taken of: a bracket, or one term; a bare sum behind it is asked about. */
  const operandOf = (token, what) => {
    const message = `It is not clear how far this ${what} goes.`;
    if (is("(", "[")) {
      const start = at;
      const body = group();
      if (!isPower()) {
        if (!is("*", "/") && !(isIn(JOINS) && !closingBar())) return body;
        if (!ask("operator", token.start, message)) return body;
      }
      at = start;
    }
    const terms = [signedTerm()];
    if (is("+", "-") && !/^(derivative|limit)$/.test(peek(1).kind) && ask("operator", token.start, message)) {
      while (is("+", "-")) {
        const negative = take().kind === "-";
        terms.push(minus(term(), negative));
      }
    }
    return many("+", terms);
  };
  const limit = () => {
    const token = take();
    const need = (fine, message) => fine || fail("limits", message, "Write \\lim_{x\\to 0}, or lim_(x->0).", token);
    need(is("_"), "A limit needs its point.");
    take();
    const opening = take();
    need(/^[{(]$/.test(opening.kind) && is("name"), "A limit needs its variable and point.");
    const variable = take().value;
    need(take().kind === "to", "The arrow of the limit is missing.");
    const held = frame;
    frame = null;
    const [point, side] = pointOf();
    expect(CLOSING.get(opening.kind), opening);
    frame = held;
    return ["limit", operandOf(token, "limit"), variable, point, side];
  };
  /** The point of a limit and its side: `0^+`, `0^{-}`, `2-`. */
  const pointOf = () => {
    const negative = is("-");
    if (is("-", "+")) take();
    const terms = [minus(term(), negative)];
    while (is("+", "-") && !/^[)}]$/.test(peek(1).kind)) {
      const less = take().kind === "-";
      terms.push(minus(term(), less));
    }
    const tree = many("+", terms);
    if (is("+", "-")) return [tree, take().kind];
    if (!is("^")) return [tree, ""];
    take();
    const opening = peek();
    const braces = is("{") && take();
    const side = take();
    if (!/^[-+]$/.test(side.kind)) fail("limits", "This side of the limit cannot be read.", "Write 0^+ or 0^-.", side);
    if (braces) expect("}", opening);
    return [tree, side.kind];
  };

  const plainOperand = () => take().value;
  const OPERANDS = {
    __proto__: null, number, choice, fraction, root: () => root(), name: plainOperand, constant: plainOperand, vulgar: plainOperand,
    arbitrary: () => ["C", take().value], infinity: () => (take(), "infinity"),
    "(": group, "{": group, "[": brackets, "|": absolute, "bar(": absolute, leftdot: bar,
    function: application, integral, derivative, limit,
  };

  /** A whole text: an expression, an equation, an inequality or an answer in words. */
  const statement = () => {
    let tree;
    if (is("answer")) tree = [take().value];
    else if (is("end")) fail("empty", "There is no formula here.", "Write one.");
    else {
      tree = sum();
      if (is("=", "relation")) {
        tree = [take().value, tree, sum()];
        if (is("=", "relation")) fail("syntax", "One line holds one equation.", "Start a new line with the second equals sign.");
      }
    }
    if (!is("end")) unexpected();
    return tree;
  };

  /** Only C may stand anywhere; c, k, K and C_1 are constants of integration as added terms. */
  const added = (tree) => {
    const [sign, a, b] = op(tree) ? tree : "";
    if (sign === "+" || sign === "=") return tree.slice(1).flatMap(added);
    if (sign === "-" || (sign === "/" && rational(b))) return added(a);
    const rest = sign === "*" ? tree.slice(1).filter((part) => !rational(part)) : [];
    return rest.length === 1 ? added(rest[0]) : [tree];
  };
  try {
    const tree = statement();
    const fine = added(tree);
    for (const part of walk(tree)) {
      if (op(part) !== "C" || part[1] === "C" || fine.includes(part)) continue;
      const token = tokens.find(({ kind, value }) => kind === "arbitrary" && value === part[1]);
      fail("undeclared", `“${part[1]}” is not declared.`, "A constant of integration is added at the end.", token);
    }
    return { tree, asked };
  } catch (error) {
    if (!error.code) throw error;
    return { error, asked };
  }
};
