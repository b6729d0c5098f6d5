// The grammar: a strict Pratt parser, the twin of notation/parser.py, operands.py, application.py, powers.py, calculus.py, limits.py.
// One run follows a plan: the answers to the questions that it asks, in order; without one it takes reading 0.

const LETTERS = "xeC";
const STARTS = "xeCf?([{|<r%ihSDLl";
const UNITS = "0xeC%rih?";
const STOPS = "([{|<";
const CLOSING = table("(:) [:] {:} <:> |:| l:>");

/** One run: {tree} or {error}, with what was asked: [{kind, start, end, ways}]. */
const run = (given, context, plan, kinds) => {
  let tokens = [...given];
  let at = 0, frame = null, fractions = 0, integralEnd = -1, openBars = 0, logBase = -1, depth = 0;
  const asked = [], manyBars = tokens.filter(({ kind }) => kind === "|")[3];

  const peek = (by = 0) => tokens[at + by];
  const is = (wanted, by = 0) => wanted.includes(peek(by).kind);
  const closingBar = () => is("|") && openBars > 0;
  const take = () => (is("$") ? peek() : tokens[at++]);
  const skip = (wanted) => is(wanted) && take();
  const fail = (code, token = peek()) => refuse(code, token.start, token.end);
  const check = (fine, code, token) => fine || fail(code, token);
  const variable = (name) => !context.parameters.has(name) && usual(name);

  const unexpected = () => fail(is(")]}>") ? "unopened" : is("$") ? "unfinished" : is("d") ? "differential" : "syntax");
  const expect = (kind, opening) => (is(kind) ? take() : is("$") ? fail("unclosed", opening) : unexpected());
  /** Which reading to follow at an ambiguous place, by the plan. */
  const ask = (kind, { start }, { end } = peek(), ways = 2) => {
    asked.push({ kind, start, end, ways });
    return (kinds ? kinds[kind] : plan[asked.length - 1]) ?? 0;
  };
  /** What `read` reads with this many levels more. */
  const deeper = (read, levels = 1) => {
    depth += levels;
    check(depth < 49, "limit");
    const tree = read();
    depth -= levels;
    return tree;
  };
  const power = (base, exponent) => {
    check(!(Math.abs(compiled(exponent)({})) > 1e4), "limit", peek(-1));
    return ["^", base, exponent];
  };
  /** What `read` reads with the frame and the open bars put aside. */
  const apart = (read, bars = 0, inner = null) => {
    const held = [frame, openBars];
    [frame, openBars] = [inner, bars];
    const tree = read();
    [frame, openBars] = held;
    return tree;
  };
  /** A product that goes on while something holds. */
  const gather = (first, goesOn) => {
    const factors = [first];
    while (goesOn()) factors.push(factor());
    return many("*", factors);
  };

  // -- sums, products, factors ------------------------------------------------------------------------------------------

  const sum = () => {
    const terms = [signedTerm()];
    while (is("+-") && !frame?.variable) {
      const negative = take().kind === "-";
      terms.push(minus((is("-") ? signedTerm : term)(), negative));
    }
    check(!(frame?.inside && terms[1]), "syntax");
    return many("+", terms);
  };
  const signedTerm = () => {
    let signs = 0;
    skip("+");
    while (skip("-")) signs++;
    check(signs < 33, "limit");
    let tree = term();
    while (signs--) tree = minus(tree);
    return tree;
  };
  const term = () => {
    const first = peek();
    let factors = is("d") ? [] : [factor()], nesting = 0;
    const all = () => (factors[0] ? many("*", factors) : "1");
    for (;;) {
      if (skip("*")) {
        if (!is("d")) factors.push(signedFactor());
      } else if (skip("/")) {
        const top = all(), bottom = signedFactor(), goesOn = () => is(STARTS) && !closingBar();
        factors = [["/", top, goesOn() && !is("SDLl") && ask("slash", first) ? gather(bottom, goesOn) : bottom]];
        check(++nesting < 33, "limit");
      } else if (is("d")) {
        if (frame?.variable && !frame.inside) break;
        differential();
        check(!is(`0${STARTS}`) || (is("|") && frame?.bars), "syntax");
        if (!is("/")) break;
      } else if (is(STARTS) && !(is("|") && barCloses()) && !finished()) factors.push(beside(factors));
      else if (is("02h") && !finished()) fail("number-after");
      else break;
    }
    return all();
  };
  const finished = () => {
    check(integralEnd !== at || is("$"), "syntax");
    return frame?.variable;
  };
  const barCloses = () => openBars && (!manyBars || !is(STARTS, 1) || is("|", 1) || !ask("bars", peek()));
  const beside = (factors) => {
    const before = peek(-1), mixed = is("%") && is("0", -1) && isWhole(factors.at(-1)), tree = factor();
    return mixed && isFraction(tree) && ask("mixed", before, peek(-1)) ? ["+", factors.pop(), tree] : tree;
  };
  const signedFactor = () => {
    const negative = skip("-");
    return minus(factor(), negative);
  };
  const factor = () => {
    const start = peek(), base = operand();
    return is("^2") ? powers(base, start) : base;
  };
  const operand = () => deeper(OPERANDS[peek().kind] ?? unexpected);

  // -- powers -----------------------------------------------------------------------------------------------------------

  const powers = (base, start) => {
    const by = is("{", 1) ? 2 : 1;
    if (is("^") && is("+-", by) && is(")}$", by + 1)) return base; // the side of a limit, 0^+ or 0^{-}, is no power
    const raised = deeper(() => exponent(base, start));
    if (!is("^2")) return power(base, raised);
    const stacked = ask("tower", start);
    const nested = deeper(() => powers(stacked ? power(base, raised) : raised, peek()));
    return stacked ? nested : power(base, nested);
  };
  const raisedNumber = ({ value }) => minus(value.replace("-", ""), value < 0);
  const exponent = (base, start) => {
    const token = take();
    if (token.kind === "2") return raisedNumber(token);
    if (is("{(")) return operand();
    const sign = skip("+-"), negative = sign?.kind === "-", bare = peek();
    check(!(sign && sign.gap && bare.gap), "exponent", sign); // x^ + C: the power was left out
    if (!is("xeC0ir%<|({fh")) unexpected();
    check(!is("f") || is("({", 1), "exponent");
    return minus(bareExponent(operand(), bare, base, start), negative);
  };
  const bareExponent = (tree, bare, base, start) => {
    const named = bare.kind === "x", coefficient = bare.kind === "0" || (named && !variable(bare.value));
    if (tree === "1" && bare.kind === "0" && is("/")) {
      if (!ask("one", start, peek(1))) return tree;
      take();
      return ["/", tree, operand()];
    }
    const letter = is(`${LETTERS}?`) || (is("f") && peek().value[0] !== "\\");
    return letter && !peek().gap && coefficient && !names(base)[0] && (!named || is("x")) && ask("exponent", start)
      ? gather(tree, () => is(`${LETTERS}f?`) && !peek().gap) : tree;
  };

  // -- numbers, groups, fractions, roots ----------------------------------------------------------------------------------

  const number = () => {
    const token = take(), [one, other] = token.value;
    return other && ask("thousands", token, token) ? other : one;
  };
  const choice = () => {
    const { value, start, end, gap } = peek();
    const picked = ask("word", peek(), peek(), value.length);
    tokens.splice(at, 1, ...pieceTokens(value[picked] ?? value.at(-1), start, end, gap));
    return operand();
  };
  const group = (bars = 0, inner = null) => {
    const opening = take(), tree = apart(sum, bars, inner);
    expect(CLOSING.get(opening.kind), opening);
    return tree;
  };
  const absolute = () => ["abs", group(is("|") ? openBars + 1 : 0)];
  const braced = (inner) => is("{") ? group(0, inner) : is("0") ? firstDigit() : is(`${LETTERS}i%r`) ? operand() : fail("braces");
  /** As TeX does, `\frac12` takes one digit; what is left of the number is a token of its own. */
  const firstDigit = () => {
    const token = peek(), [digits, other] = token.value;
    check(!other && isWhole(digits), "braces");
    if (!digits[1]) return operand();
    tokens[at] = { ...token, value: [whole(digits.slice(1))], start: token.start + 1, gap: 0 };
    return digits[0];
  };
  const fraction = () => {
    take();
    fractions++;
    const top = braced(frame);
    fractions--;
    return ["/", top, braced()];
  };
  const root = () => {
    const token = take(), how = token.value.replace(/.?sqrt/, "sqrt");
    let index = /\d/.test(how) ? how : "2";
    if (is("[") && /\D/.test(how)) {
      const opening = peek();
      index = group();
      check(isWhole(index) && index > 1 && index < 100, "root", opening);
    }
    const read = () => {
      if (how === "\\" && is("0")) {
        const { start, end } = peek();
        return end - start > 1 && !ask("root", token) ? operand() : firstDigit();
      }
      if (is("(")) return operand();
      if (how === "\\" || is("{")) return braced();
      const inside = operand();
      if (!is(`${STARTS}^2`) || is("|") || peek().gap > 1 || !ask("root", token)) return inside;
      return gather(is("^2") ? powers(inside, peek(-1)) : inside, () => is(STARTS) && !is("|"));
    };
    const inside = read();
    return index === "2" ? ["sqrt", inside] : ["root", index, inside];
  };

  // -- functions ----------------------------------------------------------------------------------------------------------

  const application = () => {
    const token = peek();
    let name = FUNCTIONS.get(token.value.replace("\\", ""));
    if (name === "sqrt") return root();
    take();
    if (name === "cbrt") {
      check(is("({"), "braces");
      return ["root", "3", operand()];
    }
    let base, exponent, argument, doubtful;
    if (skip("_")) {
      check(name === "log", "syntax", peek(-1));
      base = is("0") ? number() : is("{(xe") ? operand() : unexpected();
    }
    if (is("^2")) exponent = powerOfFunction();
    if (same(exponent, ["-", "1"])) {
      check(INVERSES.has(name), "inverse", token);
      [name, exponent] = [INVERSES.get(name)];
    }
    if (is("([{")) {
      const brace = is("{");
      argument = is("[") ? group() : operand();
      doubtful = exponent || (brace && op(argument) !== "abs" && !is(")>]|", -2));
    } else if (is("|<")) {
      argument = operand();
      doubtful = true;
      if (is("|<") && !closingBar() && ask("argument", token)) argument = gather(argument, () => is("|<"));
    } else argument = bareArgument(token);
    if (doubtful && is("^2") && ask("argument", token)) argument = powers(argument, peek(-1));
    if (name === "log" && !base && context.log === "ask" && logBase < 0) logBase = ask("log", token);
    if (name === "lg" || (name === "log" && !base && (context.log === "ask" ? logBase : context.log === "10"))) base = "10";
    const tree = base ? ["log", base, argument] : [name === "log" ? "ln" : name, argument];
    return exponent ? power(tree, exponent) : tree;
  };
  const powerOfFunction = () => {
    const token = take();
    if (token.kind === "2") return raisedNumber(token);
    if (is("{(")) return operand();
    const negative = skip("-"), here = peek();
    if (!is("0x")) unexpected();
    return minus(is("x") ? operand() : here.end - here.start > 1 && ask("power", here) ? firstDigit() : number(), negative);
  };
  /** An argument without brackets: a run of numbers, coefficients and one variable with its power. */
  const bareArgument = (token) => {
    const negative = skip("-");
    let argument;
    if (is("f")) {
      const goesOn = () => is(`xeC%rih?f${STOPS}`) && peek().gap < 2 && !closingBar();
      argument = factor();
      if (goesOn() && ask("argument", token)) argument = gather(argument, goesOn);
    } else {
      if (!is(UNITS)) unexpected();
      const found = [];
      do {
        found.push(factor());
      } while (!argumentEnds(found.flatMap(names), token));
      argument = many("*", found);
    }
    if (is("/") && slashIsOpen(argument) && ask("argument", token, peek(1))) {
      take();
      argument = ["/", argument, factor()];
    }
    return minus(argument, negative);
  };
  /** Whether a bare argument ends here, surely or as the plan says: `\sin x\cos x`, `\sin x(1+x)`, `\sin x\,y`, `\sin x e^x`. */
  const argumentEnds = (named, token) => {
    const printed = peek().gap > 1, taken = named.some(variable);
    if (!is(UNITS + STOPS + "f") || is("0") || closingBar()) return true;
    if (is("f") ? named[0] || printed : taken && (printed || is(`${STOPS}%rh`) || (is("e") && is("^2", 1)))) return true;
    return (taken || printed || is(`${STOPS}f`)) && !ask("argument", token);
  };
  /** The value of `read`, or nothing where it is refused; the place is then as before. */
  const attempt = (read) => {
    const state = [at, asked.length, tokens, depth, logBase];
    tokens = [...tokens];
    try {
      return read();
    } catch (error) {
      if (!error.code) throw error;
    } finally {
      [at, asked.length, tokens, depth, logBase] = state;
    }
  };
  /** Whether `\sin x/2` can mean the sine of a quotient. In `\ln x/x` and `\sin x/\cos x` nobody means that. */
  const slashIsOpen = (argument) => {
    const below = !is("fd", 1) && attempt(() => (at++, names(factor())));
    return below !== false && !below?.some((name) => names(argument).includes(name));
  };

  // -- integrals, derivatives, limits, evaluation bars ----------------------------------------------------------------------

  const differential = () => {
    const token = take();
    check(frame && !frame.variable, "differential", token);
    frame.variable = token.value;
    frame.inside = fractions > 0 || is("/");
  };
  /** A limit of an integral: a group, or one signed thing. */
  const script = () => {
    if (is("0") && !peek().gap && is("^", 1)) return number();
    if (skip("-")) return minus(operand());
    skip("+");
    return is("{(0xei%r") ? operand() : unexpected();
  };
  /** A lower and an upper script, in either order; `read` reads each. */
  const scripts = (read) => {
    const found = {};
    while (is("_^") && !(peek().kind in found)) found[take().kind] = read();
    return [found._, found["^"]];
  };
  const integral = () => {
    const sign = peek();
    take();
    const [lower, upper] = scripts(script), held = fractions, own = { bars: openBars };
    check(!lower === !upper, "limits", sign);
    fractions = 0;
    const integrand = apart(sum, 0, own);
    fractions = held;
    if (!own.variable && !is("$)]}")) unexpected();
    check(own.variable, "differential", sign);
    integralEnd = at;
    return ["integral", integrand, own.variable, ...(lower ? [lower, upper] : [])];
  };
  const between = (body, opening) => {
    if (!is("_") && !(is("^") && attempt(() => (take(), script(), is("_"))))) return body; // [x+1]^2, but [F]^1_0
    let variable;
    const [lower, upper] = scripts(() => {
      if (!(is("{(") && is("x", 1) && is("=", 2))) return script();
      const opened = peek();
      variable = peek(1).value;
      at += 3;
      const end = sum();
      expect(CLOSING.get(opened.kind), opened);
      return end;
    });
    check(lower && upper, "limits", opening);
    let free = names(body);
    if (free.length !== 1) free = free.filter((name) => !context.parameters.has(name));
    check(variable || free.length === 1, "limits", opening);
    return ["between", body, variable ?? free[0], lower, upper];
  };
  const brackets = () => {
    const opening = peek();
    return between(group(), opening);
  };
  const bar = () => {
    const opening = peek(), body = group(), tree = between(body, opening);
    check(tree !== body, "limits", opening);
    return tree;
  };
  const derivative = () => {
    const token = take(), [variable, order, body] = token.value;
    return ["derivative", body ?? operandOf(token), variable, order];
  };
  /** What a derivative or a limit is taken of: a bracket, or one term; a bare sum behind it is asked about. */
  const operandOf = (token) => {
    if (is("([")) {
      const start = at, body = group();
      if (!is("^2")) {
        if (!is("*/") && !(is("xeCf?([{|<r%i") && !closingBar())) return body;
        if (!ask("operator", token)) return body;
      }
      at = start;
    }
    const terms = [signedTerm()];
    if (is("+-") && !is("DL", 1) && ask("operator", token)) {
      while (is("+-")) {
        const negative = take().kind === "-";
        terms.push(minus(term(), negative));
      }
    }
    return many("+", terms);
  };
  const limit = () => {
    const token = take();
    check(skip("_"), "limits", token);
    const opening = take();
    check(/[{(]/.test(opening.kind) && is("x"), "limits", token);
    const { value } = take(), held = frame;
    check(take().kind === "t", "limits", token);
    frame = null;
    const [point, side] = pointOf();
    expect(CLOSING.get(opening.kind), opening);
    frame = held;
    return ["limit", operandOf(token), value, point, side];
  };
  /** The point of a limit and its side: `0^+`, `0^{-}`, `2-`. */
  const pointOf = () => {
    const terms = [];
    let negative = is("-");
    skip("+-");
    do {
      terms.push(minus(term(), negative));
      negative = is("-");
    } while (is("+-") && !is(")}", 1) && take());
    const tree = many("+", terms);
    if (is("+-")) return [tree, take().kind];
    if (!skip("^")) return [tree, ""];
    const opening = peek(), braces = skip("{"), side = take();
    check(/^[-+]/.test(side.kind), "limits", side);
    if (braces) expect("}", opening);
    return [tree, side.kind];
  };

  const plainOperand = () => take().value;
  const OPERANDS = {
    0: number, "?": choice, "%": fraction, r: root, x: plainOperand, e: plainOperand, h: () => ["/", ...take().value.split("⁄")],
    C: () => ["C", take().value], i: () => take() && "infinity", "(": () => group(), "{": () => group(), "[": brackets,
    "|": absolute, "<": absolute, l: bar, f: application, S: integral, D: derivative, L: limit,
  };

  /** A whole text: an expression, an equation, an inequality or an answer in words. */
  const statement = () => {
    check(!is("$"), "empty");
    let tree = is("!") ? [take().value] : sum();
    if (is("=~")) {
      tree = [take().value, tree, sum()];
      check(!is("=~"), "syntax");
    }
    if (!is("$")) unexpected();
    checkConstants(tree, true);
    return tree;
  };
  /** Only C may stand anywhere; c, k, K and C_1 are constants of integration as added terms. */
  const checkConstants = (tree, added) => {
    const [sign, ...parts] = op(tree) ? tree : "";
    const loose = sign === "C" && parts[0] !== "C" && !added;
    check(!loose, "undeclared", tokens.find(({ kind, value }) => kind === "C" && value === parts[0]));
    const others = parts.filter((part) => !isRational(part));
    const fine = added && (/^[-+=]$/.test(sign) || (sign === "*" && !others[1]) || (sign === "/" && isRational(parts[1])));
    if (sign !== "C") for (const part of parts) checkConstants(part, fine);
  };
  try {
    return { tree: statement(), asked };
  } catch (error) {
    if (!error.code) throw error;
    return { error, asked };
  }
};
