// From text to tokens {kind, value, start, end, gap}: the twin of notation/lexer.py, digits.py and strangers.py.
// Places are code points of the text as given. A gap is 0 for none, 1 as typed, 2 a printed one such as `\,`.

/** Stop with a refusal, which `parse` makes the error. */
const refuse = (code, start, end, help = "", readings = []) => {
  throw { code, start, end: Math.max(start, end), help, readings };
};

/** The text with one sign for those that look like it, a sign for each code point. */
const plainSigns = (text) => [...text].map((given) => {
  const sign = DRESSED.test(given) ? given.normalize("NFKC") : given;
  return ALIKE.find((signs) => signs.includes(sign))?.[0] ?? (sign[1] ? "\uffff" : sign);
}).join("");

/** The plain name of a letter as written: `\theta` and `θ` are `theta`, `x_{12}` is `x_12`. */
const letterName = (text) => {
  const [base, subscript] = text.replace(/[\\{}]/g, "").split("_");
  const name = GREEK_SIGNS.get(base) ?? base;
  return subscript ? `${name}_${subscript}` : name;
};

const whole = (digits) => digits.replace(/^0+(?=\d)/, "");
/** The texts of the numbers that some digits can mean: one, or two where a sign may set off thousands or decimals. */
const readNumber = (typed, decimal, start) => {
  const digits = typed.replace(/[{}]/g, ""), [left, right, more] = digits.split(/[.,]/);
  if (digits.length > 60) refuse("limit", start, start + typed.length);
  if (more) refuse("number", start, start + typed.length);
  if (!right) return [whole(left)];
  const read = `${whole(left || "0")}.${right}`;
  const thousands = !digits.includes(decimal === "comma" ? "," : ".") && right.length === 3 && /^[1-9]\d{0,2}$/.test(left);
  return thousands ? [left + right, read] : [read];
};

/** Every way to read a run of letters, each as [kind, value] pieces; a function word drives out loose letters. */
const splitWord = (word, names, constants, integral) => {
  let found = [];
  const kind = (part, last) =>
    names.has(part) ? "x" : FUNCTIONS.has(part) ? "f"
    : /^(pi|e)$/.test(part) || (part === "E" && part === word) ? "e"
    : integral && last && part[0] === "d" && (part[1] && !part[2] || GREEK.has(part.slice(1))) ? "d"
    : constants && (part === "C" || (part === word && /^[ckK]$/.test(part))) ? "C" : "";
  const go = (at, pieces) => {
    if (found.length > 16) return;
    if (at === word.length) found.push(pieces);
    for (let end = word.length; end > at; end--) {
      const part = word.slice(at, end), is = kind(part, end === word.length);
      if (is) go(end, [...pieces, [is, is === "e" ? part.toLowerCase() : is === "d" ? part.slice(1) : part]]);
    }
  };
  if (!word[32]) go(0, []);
  for (const wanted of "dfe") {
    const kept = found.filter((pieces) => pieces.some(([kind, value]) => kind === wanted && (value[1] || wanted === "d")));
    if (kept[0]) found = kept;
  }
  return found;
};

/** How many letters two words share in order, as Python's difflib counts them. */
const shared = (a, b) => {
  let best = 0, x, y;
  for (let i = 0; i < a.length; i++) for (let j = 0; j < b.length; j++) {
    let k = 0;
    while (a[i + k] && a[i + k] === b[j + k]) k++;
    if (k > best) [best, x, y] = [k, i, j];
  }
  return best && best + shared(a.slice(0, x), b.slice(0, y)) + shared(a.slice(x + best), b.slice(y + best));
};

const pieceTokens = (pieces, start, end, gap) => pieces.map(([kind, value], place) => {
  const from = start;
  start = pieces[place + 1] ? start + value.length + (kind === "d") : end;
  return { kind, value, start: from, end: start, gap: place ? 0 : gap };
});

const lex = (given, { names: declared, constants, decimal }) => {
  let text = plainSigns(given), gap = 0;
  if (text[6000]) refuse("limit", 0, text.length);
  const names = new Set(declared), tokens = [];
  const integral = /\\int(?![A-Za-z])|∫|(?<![A-Za-z\\])int(?![A-Za-z])/.test(text);
  BINDERS.slice(0, integral ? 3 : 2).forEach((binder, which) => {
    for (const found of text.matchAll(binder)) names.add(letterName(which ? found[1] ?? found[2] : found[4] ?? found[10]));
  });

  const match = (pattern, at) => {
    pattern.lastIndex = at;
    return pattern.exec(text);
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
    if (/^d.$/.test(word) && names.has(word[1])) refuse("differential", start, start + 2);
    if (word[1] && !word[40] && !end) {
      let best = "", score = 0.6;
      for (const known of [...FUNCTIONS.keys(), ...[...names].filter((name) => name[1]), "pi", "infinity"]) {
        const here = 2 * shared(known, word) / (known + word).length;
        if (here > score || (here === score && known > best)) [best, score] = [known, here];
      }
      if (best) refuse("undeclared", start, start + word.length, fill(WORDS.did_you_mean, best));
    }
    const bad = end ? 0 : Math.max(0, [...word].findIndex((c) => !names.has(c) && c !== "e" && !(constants && c === "C")));
    refuse("undeclared", start + bad, end || start + bad + 1);
  };
  const derivativeAt = (start) => {
    const found = match(AT_DERIVATIVE, start);
    if (!found) return 0;
    const first = found[4] ? 1 : 7, [above, raised, body, variable, below, lowered] = found.slice(first);
    const order = (text = "1") => +text.replace("²", 2).replace("³", 3).slice(0, 4);
    const n = order(above ?? raised), end = start + found[0].length;
    if (n !== order(below ?? lowered) || n < 1 || n > 20) refuse("syntax", start, end);
    if (body && !names.has(letterName(body))) unknown(letterName(body), found.indices[first + 2][0]);
    return add("D", [letterName(variable), `${n}`, body && letterName(body)], start, end);
  };
  const withSubscript = (base, end) => {
    const found = match(AT_SUBSCRIPT, end);
    return found ? [`${base}_${found[1] ?? found[2] ?? found[3]}`, end + found[0].length] : [];
  };
  const letters = (word, start, end) => {
    let readings;
    const [name, stop] = FUNCTIONS.has(word) ? [] : withSubscript(word.at(-1), end);
    if (names.has(name) || (name?.[0] === "C" && constants)) {
      const differential = word.at(-2) === "d" && integral && names.has(name);
      const head = word.slice(0, differential ? -2 : -1), last = [differential ? "d" : names.has(name) ? "x" : "C", name];
      readings = (head ? splitWord(head, names, constants) : [[]]).map((pieces) => [...pieces, last]);
      if (!readings[0]) unknown(word.slice(0, -1), start);
      end = stop;
    } else readings = splitWord(word, names, constants, integral);
    if (!readings[0]) unknown(word, start);
    return readings[1] ? add("?", readings, start, end) : addPieces(readings[0], start, end);
  };
  const greekName = (name, start, end) => {
    const [longer, stop] = withSubscript(name, end);
    if (names.has(longer)) [name, end] = [longer, stop];
    if (!names.has(name)) unknown(name, start, end);
    return add("x", name, start, end);
  };
  const entry = (typed, start, end) => {
    const [kind, ...value] = VOCABULARY.get(typed);
    return add(kind, value.join(""), start, end);
  };
  const answer = (start) => {
    const found = match(AT_ANSWER, start);
    return found && [found[1] ? "diverges" : "doesnotexist", start + found[0].length];
  };

  const read = {
    bar: (start, end, side) => add(side === "l" ? "<" : ">", "", end - 1, end),
    number(start) {
      const [typed] = match(AT_NUMBER, start), end = start + typed.length;
      const power = /^[eE][-+]?\d/.exec(text.slice(end, end + 3));
      if (power) refuse("number", start, end + power[0].length);
      return add("0", readNumber(typed, decimal, start), start, end);
    },
    word(start, end, word) {
      const derivative = word[0] === "d" && derivativeAt(start);
      if (derivative) return derivative;
      if (VOCABULARY.has(word) && !names.has(word)) return entry(word, start, end);
      const [says, stop] = answer(start) ?? [];
      if (says && !/[^ .$]/.test(text.slice(stop))) return add("!", says, start, text.length);
      const after = integral && word.at(-1) === "d" && match(AT_GREEK, end);
      if (!after) return letters(word, start, end);
      if (word[1]) letters(word.slice(0, -1), start, end - 1);
      return add("d", letterName(after[1]), end - 1, end + after[0].length);
    },
    upright(start, end, typed, inside) {
      const differential = integral && match(AT_UPRIGHT_D, start);
      if (differential) return add("d", letterName(differential[1]), start, start + differential[0].length);
      const at = start + typed.indexOf(inside, typed.indexOf("{")), [says, stop] = answer(at) ?? [];
      if (says && stop === at + inside.length) return add("!", says, start, end);
      if (FUNCTIONS.has(inside)) return add("f", `\\${inside}`, start, end);
      if (/^(or|and)$/.test(inside)) return entry(inside, start, end);
      const readings = splitWord(inside, names, constants, integral);
      if (!readings[0] || readings[1]) unknown(inside, at);
      return addPieces(readings[0], start, end);
    },
    raised(start, end, typed) {
      const digits = typed.normalize("NFKC").replace(/−/g, "-");
      if (!/^-?\d{1,9}$/.test(digits)) refuse("syntax", start, end);
      return add("2", `${+digits}`, start, end);
    },
    typed(start, end, typed) {
      const name = typed.slice(1);
      if (FUNCTIONS.has(name) && name !== "sqrt") return add("f", typed, start, end);
      if (GREEK.has(name) || GREEK_SIGNS.has(typed)) return greekName(GREEK_SIGNS.get(typed) ?? name, start, end);
      const dot = /^\\(left|right)$/.test(typed);
      const derivative = /frac$/.test(typed) && derivativeAt(start);
      if (derivative) return derivative;
      if (VOCABULARY.has(typed)) return entry(typed, start, end + dot);
      return /^[-+*/^()[\]{}|,;_=]$/.test(typed) ? add(typed, typed, start, end) : refuse("unknown", start, end);
    },
  };

  // The formula without the white space and mathematics signs round it and without the full stop of a sentence.
  let at = text.search(/\S|$/), stop = text.trimEnd().length;
  if (text[stop - 1] === "." && !/\\(left|right)\.$/.test(text.slice(0, stop))) stop = text.slice(0, stop - 1).trimEnd().length;
  for (const [opening, closing] of [["$$", "$$"], ["$", "$"], ["\\(", "\\)"], ["\\[", "\\]"]]) {
    const inner = at + opening.length, before = stop - opening.length;
    if (text.startsWith(opening, at) && text.endsWith(closing, stop) && inner <= before) {
      [at, stop] = [inner, before];
      break;
    }
  }
  text = text.slice(0, stop);
  while (at < stop) {
    const { 0: typed, groups } = match(AT_TOKEN, at), end = at + typed.length;
    gap = groups.gap ? 2 : groups.space ? gap || 1 : gap;
    const kind = Object.keys(read).find((name) => groups[name]);
    at = kind ? read[kind](at, end, kind === "bar" ? groups.bar : typed, groups.inside) : end;
  }
  if (tokens[2000]) refuse("limit", 0, stop); // no answer is so long; the reader in Python counts parts instead
  for (let i = 0; i < 3; i++) add("$", "", stop, stop);
  return tokens;
};
