// From text to tokens {kind, value, start, end, gap}: the twin of notation/lexer.py, digits.py and strangers.py.
// Places are code points of the text as given. A gap is 0 for none, 1 as typed, 2 a printed one such as `\,`.

/** Stop with a refusal: what `parse` returns as its error. */
const refuse = (code, start, end, message, help = "", readings = []) => {
  throw { code, message, start, end: Math.max(start, end), help, readings };
};

const plainSign = (sign) => {
  const code = sign.codePointAt(0);
  if (code > 0xff00 && code < 0xff5f) return String.fromCharCode(code - 0xfee0);
  const like = ALIKE.find((signs) => signs.includes(sign));
  return like ? like[0] : sign.length > 1 ? "\uffff" : sign;
};

/** The plain name of a letter as written: `\theta` and `θ` are `theta`, `x_{12}` is `x_12`. */
const letterName = (text) => {
  const [base, subscript] = text.split("_");
  const name = GREEK_SIGNS.get(base) ?? base.replace("\\", "");
  return subscript ? `${name}_${subscript.replace(/[{}]/g, "")}` : name;
};

/** The texts of the numbers that some digits can mean: one, or two where a sign may set off thousands or decimals. */
const readNumber = (typed, context, start) => {
  const end = start + typed.length;
  const digits = typed.replace(/\{(.)\}/g, "$1");
  if (digits.length > 60) refuse("limit", start, end, "This number has too many digits.", "At most 60 digits can be read.");
  const whole = (text) => text.replace(/^0+(?=\d)/, "");
  const parts = digits.split(/[.,]/);
  if (parts.length === 1) return [whole(digits)];
  if (parts.length > 2) refuse("number", start, end, "This number cannot be read.", "Write the digits without marks between thousands.");
  const [left, right] = parts;
  const decimal = `${whole(left || "0")}.${right}`;
  const thousands = !digits.includes(context.decimal === "comma" ? "," : ".") && right.length === 3 && /^[1-9]\d{0,2}$/.test(left);
  return thousands ? [left + right, decimal] : [decimal];
};

/** Every way to read a run of letters, each as [kind, value] pieces; a function word drives out loose letters. */
const splitWord = (word, names, constants, integral) => {
  let found = [];
  const piece = (part, last, whole) =>
    names.has(part) ? "name" : FUNCTIONS.has(part) ? "function"
    : part === "pi" || part === "e" || (part === "E" && whole) ? "constant"
    : integral && last && part[0] === "d" && (part.length === 2 || GREEK.has(part.slice(1))) ? "differential"
    : constants && (part === "C" || (whole && /^[ckK]$/.test(part))) ? "arbitrary" : "";
  const go = (at, pieces) => {
    if (found.length > 16) return;
    if (at === word.length) found.push(pieces);
    for (let end = word.length; end > at; end--) {
      const part = word.slice(at, end);
      const kind = piece(part, end === word.length, part === word);
      const value = kind === "constant" ? part.toLowerCase() : kind === "differential" ? part.slice(1) : part;
      if (kind) go(end, [...pieces, [kind, value]]);
    }
  };
  if (word.length <= 32) go(0, []);
  for (const wanted of ["differential", "function", "constant"]) {
    const kept = found.filter((pieces) => pieces.some(([kind, v]) => kind === wanted && (v.length > 1 || wanted === "differential")));
    if (kept.length) found = kept;
  }
  return found;
};

/** How many letters two words share in order, as Python's difflib counts them. */
const shared = (a, b) => {
  let best = 0, x = 0, y = 0;
  for (let i = 0; i < a.length; i++) for (let j = 0; j < b.length; j++) {
    let k = 0;
    while (i + k < a.length && a[i + k] === b[j + k]) k++;
    if (k > best) [best, x, y] = [k, i, j];
  }
  return best && best + shared(a.slice(0, x), b.slice(0, y)) + shared(a.slice(x + best), b.slice(y + best));
};

const nearest = (word, words) => {
  let best = "", score = 0.6;
  if (word.length < 40) for (const known of words) {
    const here = 2 * shared(known, word) / (known.length + word.length);
    if (here > score || (here === score && known > best)) [best, score] = [known, here];
  }
  return best;
};

const pieceTokens = (pieces, start, end, gap) => pieces.map(([kind, value], place) => {
  const from = start;
  start = place === pieces.length - 1 ? end : start + value.length + (kind === "differential");
  return { kind, value, start: from, end: start, gap: place ? 0 : gap };
});

const lex = (given, context) => {
  const signs = [...given];
  if (signs.length > 6000) refuse("limit", 0, signs.length, "This is too long to be a formula.", "Split it into parts.");
  let text = signs.map(plainSign).join("");
  const { constants } = context;
  const integral = INTEGRAL.test(text);
  const names = new Set(context.names);
  for (const pattern of BINDERS.slice(0, integral ? 3 : 2)) for (const found of text.matchAll(pattern)) {
    names.add(letterName(pattern === BINDERS[0] ? found[4] ?? found[10] : found[1] ?? found[2]));
  }

  const tokens = [];
  let gap = 0;
  const match = (pattern, at) => {
    PATTERNS[pattern].lastIndex = at;
    return PATTERNS[pattern].exec(text);
  };
  const add = (kind, value, start, end) => {
    tokens.push({ kind, value, start, end, gap });
    gap = 0;
    return end;
  };
  const addPieces = (pieces, start, end) => {
    tokens.push(...pieceTokens(pieces, start, end, gap));
    gap = 0;
    return end;
  };

  const unknown = (word, start, end) => {
    if (/^d.$/.test(word) && names.has(word[1])) refuse(
      "differential", start, start + 2, `This ${word} does not belong to an integral.`, "Write the integral sign in front of the integrand.");
    if (word.length > 1 && !end) {
      const close = nearest(word, [...FUNCTIONS.keys(), ...names, "pi", "infinity"]);
      if (close) refuse("undeclared", start, start + word.length, `The word “${word}” is not known here.`, `Did you mean ${close}?`);
    }
    const bad = end ? 0 : Math.max(0, [...word].findIndex((c) => !(names.has(c) || c === "e" || (constants && c === "C"))));
    const letter = end ? word : word[bad];
    refuse("undeclared", start + bad, end || start + bad + 1, `“${letter}” is not declared.`, "Undeclared letters are never multiplied.");
  };

  const derivativeAt = (start) => {
    const found = match("derivative", start);
    if (!found) return 0;
    const [above1, above2, fn, variable, below1, below2] = found[4] ? found.slice(1) : found.slice(7);
    const order = (text) => +(text ?? "1").replace("²", "2").replace("³", "3").slice(0, 4);
    const [above, below] = [order(above1 ?? above2), order(below1 ?? below2)];
    const stop = start + found[0].length;
    if (above !== below || above < 1 || above > 20) refuse(
      "syntax", start, stop, "The two powers in this derivative do not fit together.", "Write \\frac{d^2}{dx^2}, order 20 at most.");
    if (fn && !names.has(letterName(fn))) unknown(letterName(fn), found.indices[found[3] ? 3 : 9][0]);
    return add("derivative", [letterName(variable), `${above}`, fn && letterName(fn)], start, stop);
  };

  const withSubscript = (base, end) => {
    const found = match("subscript", end);
    return found && [`${base}_${found[1] ?? found[2] ?? found[3]}`, end + found[0].length];
  };

  const letters = (word, start, end) => {
    let readings = [];
    const [name, stop] = (!FUNCTIONS.has(word) && withSubscript(word.at(-1), end)) || [];
    if (name && (names.has(name) || (name[0] === "C" && constants))) {
      const differential = word.at(-2) === "d" && integral && names.has(name);
      const kind = differential ? "differential" : names.has(name) ? "name" : "arbitrary";
      const head = word.slice(0, differential ? -2 : -1);
      readings = (head ? splitWord(head, names, constants, false) : [[]]).map((pieces) => [...pieces, [kind, name]]);
      if (!readings.length) unknown(word.slice(0, -1), start);
      end = stop;
    } else readings = splitWord(word, names, constants, integral);
    if (!readings.length) unknown(word, start);
    return readings.length > 1 ? add("choice", readings, start, end) : addPieces(readings[0], start, end);
  };

  const greekName = (name, start, end) => {
    const [longer, stop] = withSubscript(name, end) || [];
    if (names.has(longer)) [name, end] = [longer, stop];
    if (!names.has(name)) unknown(name, start, end);
    return add("name", name, start, end);
  };

  const bar = (start, end, side) => add({ l: "bar(", r: "bar)" }[side] ?? "|", null, start, end);

  const read = {
    number(start) {
      const typed = match("number", start)[0];
      const end = start + typed.length;
      const power = /^[eE][-+]?\d/.exec(text.slice(end, end + 3));
      if (power) refuse("number", start, end + power[0].length, "This may mean a power of ten or the number e.", "Write 2*10^3 or 2*e.");
      return add("number", readNumber(typed, context, start), start, end);
    },
    word(start, end, word) {
      const derivative = word[0] === "d" && derivativeAt(start);
      if (derivative) return derivative;
      if (/^([iI]nfinity|infty|inf|oo)$/.test(word) && !names.has(word)) return add("infinity", null, start, end);
      for (const [phrase, answer] of ANSWERS) {
        if (text.startsWith(phrase, start) && /^[ .$]*$/.test(text.slice(start + phrase.length)))
          return add("answer", answer, start, text.length);
      }
      if (/^(int|lim|or|and)$/.test(word) && !names.has(word)) return add(COMMANDS.get(word) ?? word, null, start, end);
      const after = integral && word.at(-1) === "d" && match("greekAfterD", end);
      if (!after) return letters(word, start, end);
      if (word.length > 1) letters(word.slice(0, -1), start, end - 1);
      return add("differential", letterName(after[1]), end - 1, end + after[0].length);
    },
    upright(start, end, typed, inside) {
      const differential = integral && match("upright", start);
      if (differential) return add("differential", letterName(differential[1]), start, start + differential[0].length);
      if (ANSWERS.has(inside)) return add("answer", ANSWERS.get(inside), start, end);
      if (FUNCTIONS.has(inside)) return add("function", `\\${inside}`, start, end);
      if (/^(or|and)$/.test(inside)) return add(inside, null, start, end);
      const readings = splitWord(inside, names, constants, integral);
      if (readings.length !== 1) unknown(inside, start + typed.indexOf(inside, typed.indexOf("{")));
      return addPieces(readings[0], start, end);
    },
    command(start, end, typed) {
      const name = typed.slice(1);
      if (FUNCTIONS.has(name) && name !== "sqrt") return add("function", typed, start, end);
      if (GREEK.has(name)) return greekName(name, start, end);
      const kind = COMMANDS.get(name);
      const derivative = kind === "fraction" && derivativeAt(start);
      if (derivative) return derivative;
      if (kind) return add(kind, kind === "root" ? "\\" : name, start, end);
      if (RELATIONS.has(typed)) return add("relation", RELATIONS.get(typed), start, end);
      if (/^([lr]?vert|mid|\|)$/.test(name)) return bar(start, end, name[0]);
      if (/^(left|right)$/.test(name)) return add(`${name}dot`, null, start, end + 1);
      const close = nearest(name, [...FUNCTIONS.keys(), ...GREEK.keys(), ...COMMANDS.keys()]);
      return refuse("unknown", start, end, `The command “${typed}” is not known here.`, close && `Did you mean \\${close}?`);
    },
    symbol(start, end, sign) {
      if (sign === "|") {
        const before = SIZE_BEFORE.exec(text.slice(Math.max(0, start - 8), start));
        return bar(start, end, before && (before[2] || (/t$/.test(before[1]) && before[1][0])));
      }
      if (sign === "=") return add(sign, sign, start, end);
      if (RELATIONS.has(sign)) return add("relation", RELATIONS.get(sign), start, end);
      return add({ "**": "^", "->": "to" }[sign] ?? sign, null, start, end);
    },
    raised(start, end, typed) {
      const digits = [...typed].map((c) => "0123456789-"[SUPERSCRIPTS.indexOf(c)]).join("");
      if (!/^-?\d{1,9}$/.test(digits)) refuse("syntax", start, end, "This raised number cannot be read.", "Write the power with ^.");
      return add("raised", `${+digits}`, start, end);
    },
    other(start, end, sign) {
      if (GREEK_SIGNS.has(sign)) return greekName(GREEK_SIGNS.get(sign), start, end);
      if (sign === "π") return add("constant", "pi", start, end);
      if (VULGAR.has(sign)) return add("vulgar", ["/", ...VULGAR.get(sign).split("/")], start, end);
      if (RELATIONS.has(sign)) return add("relation", RELATIONS.get(sign), start, end);
      const kind = SIGNS.get(sign);
      if (!kind) refuse("unknown", start, end, `The character “${signs[start]}” has no meaning here.`);
      return add(kind.slice(0, 4) === "root" ? "root" : kind, kind.slice(4), start, end);
    },
  };

  let [at, stop] = [text.length - text.trimStart().length, text.trimEnd().length];
  if (text[stop - 1] === "." && !/\\(left|right)\.$/.test(text.slice(0, stop))) stop = text.slice(0, stop - 1).trimEnd().length;
  for (const [opening, closing] of [["$$", "$$"], ["$", "$"], ["\\(", "\\)"], ["\\[", "\\]"]]) {
    const size = opening.length;
    if (text.startsWith(opening, at) && stop - at >= 2 * size && text.startsWith(closing, stop - size)) {
      [at, stop] = [at + size, stop - size];
      break;
    }
  }
  text = text.slice(0, stop);
  while (at < stop) {
    const { 0: typed, groups } = match("token", at);
    const stopped = at + typed.length;
    if (groups.space) gap ||= 1;
    if (groups.gap) gap = 2;
    const kind = Object.keys(read).find((name) => groups[name] !== undefined);
    at = kind ? read[kind](at, stopped, typed, groups.inside) : stopped;
  }
  for (let i = 0; i < 3; i++) add("end", null, stop, stop);
  return tokens;
};
