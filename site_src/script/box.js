// The answer box: what was typed is read, set and said; a check compares it with the numbers that the build put beside the box.

const N = globalThis.everyline?.notation;
const FIT = 1e-9, NOISE = 1e-12, ALIKE = 1e-6, C = 0.6180339;
const largest = (values) => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
const finite = (values) => values.every(Number.isFinite);
/** The 32-bit FNV-1a hash by which the build marks a text (render/box.py). */
const mark = (text) => [...text.replaceAll(" ", "")].reduce((found, letter) => Math.imul(found ^ letter.codePointAt(), 0x1000193), 0x811c9dc5) >>> 0;
const parts = (tree) => (Array.isArray(tree) ? [tree, ...tree.slice(1).flatMap(parts)] : [tree]);
const constants = (tree) => parts(tree).filter((part) => part[0] === "C" && Array.isArray(part)).map((part) => part[1]);
const decimals = (tree) => parts(tree).map((part) => (/^\d.*\./.test(part) && part.split(".")[1].length) || 0);
/** A tree without the terms that are its constant of integration. */
const withoutConstant = (tree) => {
  if (tree[0] !== "+") return constants(tree).length ? "0" : tree;
  const kept = tree.slice(1).filter((term) => !constants(term).length);
  return kept.length > 1 ? ["+", ...kept] : kept[0] ?? "0";
};

/** A number as a tree, if it is a fraction of small numbers. */
const fraction = (value) => {
  for (let below = 1; below <= 60; below++) {
    const above = Math.round(Math.abs(value) * below);
    if (above < 1000 && Math.abs(Math.abs(value) * below - above) < 1e-8 * below * Math.max(1, Math.abs(value))) {
      const size = below === 1 ? `${above}` : ["/", `${above}`, `${below}`];
      return value < 0 ? ["-", size] : size;
    }
  }
};
/** Whether an exact value is left as it came: a fraction or a root that is not worked out, a sine that has a value, a sum of numbers. */
const untidy = (tree) => {
  const whole = (part) => /^\d+$/.test(part);
  const numeric = (part) => whole(part) || (/^[-/]$/.test(part[0]) && whole(part[1]));
  const divisor = (a, b) => (b ? divisor(b, a % b) : a);
  return parts(tree).some(([sign, a, b, ...more]) =>
    (sign === "/" && ((whole(a) && whole(b) && divisor(+a, +b) > 1) || b === "1" || a === "0" || a?.[0] === "/" || b?.[0] === "/")) ||
    (sign === "^" && whole(a) && whole(b)) || (sign === "sqrt" && whole(a) && Number.isInteger(Math.sqrt(+a))) ||
    (/^(sin|cos|tan|arc...)$/.test(sign) && !N.names(a).length) || (sign === "ln" && (a === "1" || parts(a).includes("e"))) ||
    (/^[+*]$/.test(sign) && [a, b, ...more].filter((part) => part && numeric(part)).length > 1) || (sign === "-" && a[0] === "-"));
};

/** What an answer is worth in one zone: "fits", "off", "partly", "undefined" or "large"; with its values and their gaps. */
const compare = (trial, zone, value) => {
  const at = zone.points.length ? zone.points.map((point, place) => ({
    [trial.x]: point, ...Object.fromEntries(Object.entries(zone.letters ?? {}).map(([name, row]) => [name, row[place]])), ...zone.at,
  })) : [zone.at];
  const raw = at.map(value);
  const first = trial.kind === "indefinite" ? raw[0] : 0;
  const values = raw.map((each) => (each - first) * trial.scale);
  const known = raw.flatMap((each, place) => (Number.isFinite(each) ? [place] : []));
  const gaps = known.map((place) => raw[place] * trial.scale - zone.values[place]);
  const close = FIT * largest(zone.values) + NOISE * largest(raw.filter(Number.isFinite)) + 4 * zone.bound;
  const even = (some) => (trial.kind === "indefinite" ? Math.max(...some) - Math.min(...some) : largest(some)) <= close;
  const large = close > ALIKE * largest(zone.values) + 1e-9;
  const state = known.length < Math.min(4, raw.length) ? "undefined" : large ? "large" : !even(gaps) ? "off" : gaps.length < raw.length ? "partly" : "fits";
  const breaks = gaps.slice(1).flatMap((gap, place) => (Math.abs(gap - gaps[place]) > 2 * close ? [place] : []));
  return { state, raw, values, gaps, zone, breaks, lost: raw.findIndex((each) => !Number.isFinite(each)) };
};
const where = (point) => `${+point.toFixed(2)}`.replace("-", "−").replace(".", WORDS.decimal[1]);
/** The mark of an answer, the same in whatever order its terms stand. */
const written = (tree) => mark((tree[0] === "+" ? tree.slice(1) : [tree]).map((term) => N.plain(term)).sort().join());

/** The verdict on a tree: {right, say: [[name, places], …]}, and {slip: [sentence, hint, fault, id]} where one is known. */
const judge = (trial, given) => {
  const tree = given[0] === "=" ? given[2] : given;
  const rises = trial.kind === "indefinite", runs = rises || trial.kind === "derivative";
  const letters = constants(tree);
  const word = tree.length === 1 && Array.isArray(tree) ? tree[0] : tree === "infinity" ? tree : `${tree}` === "-,infinity" ? "-infinity" : "";
  if (word) return trial.words.includes(mark(word)) ? { right: true, say: [["right"]] } : { say: [["wrong"]] };
  const value = N.compile(tree);
  const valued = (constant) => (at) => value({ ...at, ...Object.fromEntries(letters.map((letter) => [letter, constant])) });
  const found = trial.zones.map((zone) => compare(trial, zone, valued(rises ? C : 0)));
  const states = (...wanted) => found.filter(({ state }) => wanted.includes(state));
  const x = { x: trial.x };
  if (trial.words.length || states("large").length) return states("large").length ? { say: [["large"]] } : slipped(trial, tree, found, rises);
  if (states("fits").length === found.length) return praised(trial, tree, valued, found, letters, rises, runs);
  const [good] = states("fits", "partly");
  const [gap] = states("undefined", "partly");
  const [off] = states("off");
  if (good && !off) return { say: [["undefined", { ...x, bad: where(gap.zone.points[Math.max(0, gap.lost)]) }]] };
  if (rises && states("off", "fits").length === found.length && states("off").every(({ breaks }) => breaks.length < 3)) {
    const [place] = off.breaks;
    return { say: [["jump", { ...x, good: where(off.zone.points[place]), bad: where(off.zone.points[place + 1]) }]] };
  }
  if (good && rises) return { say: [["one-interval", { ...x, good: where(good.zone.points[0]), bad: where(off.zone.points[0]) }]] };
  return slipped(trial, tree, found, rises, Math.max(...decimals(tree)) > 0);
};

const praised = (trial, tree, valued, found, letters, rises, runs) => {
  const say = [["right"]];
  const used = N.names(tree);
  const letter = Object.keys(found[0].zone.letters ?? {}).find((name) => used.includes(name));
  if (letter && !trial.names.includes(letter)) return { say: [["letter", { letter, x: trial.x }]] };
  if (Math.max(...decimals(tree)) > 6) return { say: [["decimal"]] };
  if (letters.length && !rises) return { say: [[runs ? "function-constant" : "value-constant"]] };
  if (rises && !letters.length) say.push(["no-constant"]);
  const mine = written(withoutConstant(tree)), other = runs && trial.forms[0] !== mine;
  const gap = rises ? found[0].zone.base - compare(trial, found[0].zone, valued(0)).raw[0] : 0;
  const apart = Math.abs(gap) > FIT * Math.max(1, Math.abs(found[0].zone.base));
  if (!runs && untidy(tree)) say.push(["tidy"]);
  else if (other) say.push(["other-form"]);
  if (apart && fraction(gap)) say.push(["constant", { gap: fraction(gap) }]);
  if (other) say.push(["compare", mine]);
  return { right: true, say };
};

/** The quotients of two rows of numbers, where the lower is not small beside its largest. */
const quotients = (tops, bottoms) => tops.flatMap((top, place) => (Math.abs(bottoms[place]) > 1e-3 * largest(bottoms) ? [top / bottoms[place]] : []));
/** The number that all quotients are, if it is one. */
const common = (found) => (found.length > 1 && finite(found) && largest(found.map((each) => each - found[0])) <= ALIKE * Math.abs(found[0]) ? found[0] : NaN);

/** The term of an answer that has a wrong factor, if everything else in it is right. */
const wrongTerm = (trial, tree, found) => {
  const missing = found.flatMap(({ zone, values }) => zone.values.map((value, place) => value - values[place]));
  return tree[0] === "+" && tree.slice(1).find((term) =>
    common(quotients(missing, trial.zones.flatMap((zone) => compare(trial, zone, N.compile(term)).values))));
};

/** A wrong answer: the slip that leads to it, or by what factor it or one of its terms is wrong, or nothing but that it is wrong. */
const slipped = (trial, tree, found, rises, decimal) => {
  const trap = trial.traps.find(([place, values]) => {
    const mine = found[place].values.slice(0, values.length);
    return finite(mine) && largest(mine.map((value, n) => value - values[n])) <= ALIKE * largest(values) + 1e-12;
  });
  const factors = quotients(found.flatMap(({ values }) => values), found.flatMap(({ zone }) => zone.values));
  const factor = common(factors), runs = trial.zones[0].points.length;
  if (decimal && finite(factors) && largest(factors.map((each) => each - 1)) < 0.01) return { say: [["decimal"]] };
  const steady = runs && !(trap && factor < 0) && factor && fraction(factor);
  const say = steady ? [[rises ? "factor" : "slope-factor", { factor: steady }]] : [];
  if (trap) return { say: [["wrong"], ...say], slip: [...trial.sentences[trap[2]].slice(1), trap[3], trial.sentences[trap[2]][0]] };
  const term = runs && !steady && wrongTerm(trial, tree, found);
  if (term) say.push(["term-factor", { term }]);
  return { say: [say.length ? ["wrong"] : [rises ? "wrong-rise" : "wrong"], ...say, ["hint"]] };
};

/** An element with text in it. */
const made = (name, text = "", attributes = {}) => {
  const element = document.createElement(name);
  element.textContent = text;
  for (const key in attributes) element.setAttribute(key, attributes[key]);
  return element;
};
/** A formula as an element. The notation writes the markup from a tree that it has read itself. */
const set = (tree) => {
  const holder = made("span");
  holder.innerHTML = N.mathml(tree);
  return holder.firstChild;
};
/** Bring what was said into the window: on a phone the keyboard covers what stands below a field. */
const inSight = (place) => place.scrollIntoView({ block: "nearest" });
/** A sentence with formulas at its `{named}` places. */
const sentence = (text, places = {}) => {
  const line = made("span");
  for (const piece of text.split(/(\{\w+\})/)) line.append(piece[0] === "{" ? shown(places[piece.slice(1, -1)]) : piece);
  return line;
};
const shown = (place) => (Array.isArray(place) || /^[a-z\d]/i.test(place) ? set(place) : `${place}`);

/** How answers to a question are read, and what reads one: {tree}, or {error, ways} with the readings that differ in value. */
const reading = (trial) => {
  const names = [...trial.names, ...Object.keys(trial.zones[0]?.letters ?? {})];
  const context = { names, parameters: names.filter((name) => name !== trial.x), log: trial.log, decimal: trial.decimal, answer: true };
  return [context, (text) => {
    // A value may be written as the difference of an antiderivative's values, [F]_a^b; elsewhere the variable has no place in it.
    const bound = N.parse(text, { ...context, names: [...names, trial.x] });
    const closed = bound.tree && N.names(bound.tree).every((name) => names.includes(name));
    const { tree, error } = closed ? bound : N.parse(text, context);
    const ways = N.distinct(error?.readings ?? []);
    return ways.length === 1 ? { tree: ways[0] } : { tree, error, ways };
  }];
};
/** Buttons for the readings of a text; the chosen one is written into the field and checked. */
const choices = (ways, field, check) => {
  const row = made("span", "", { class: "ev-box__ways" });
  for (const way of ways) {
    const choice = made("button", "", { type: "button", class: "md-button" });
    choice.append(set(way));
    choice.setAttribute("aria-label", N.speech(way));
    choice.addEventListener("click", () => {
      field.value = N.plain(way);
      field.dispatchEvent(new Event("input"));
      field.focus();
      check();
    });
    row.append(choice);
  }
  return row;
};

const startBox = (box) => {
  const trial = JSON.parse(box.dataset.trial), says = JSON.parse(box.dataset.say);
  const part = (name) => box.querySelector(name);
  const field = part("input"), seen = part(".ev-box__seen"), spoken = part(".ev-box__spoken"), said = part(".ev-box__said");
  const [context, read] = reading(trial);
  const tell = (verdict, ...lines) => {
    said.dataset.verdict = verdict;
    said.dataset.notes = "";
    said.replaceChildren(...lines.map((line) => {
      const paragraph = made("p");
      paragraph.append(line);
      return paragraph;
    }));
    inSight(said);
  };

  let waiting;
  field.addEventListener("input", () => {
    const { tree, ways } = read(field.value);
    seen.replaceChildren(tree ? set(tree) : field.value.trim() && !ways?.length ? made("span", says.unread) : "");
    said.replaceChildren();
    delete said.dataset.verdict;
    clearTimeout(waiting);
    waiting = setTimeout(() => { spoken.textContent = tree ? `${says.seen}: ${N.speech(tree)}` : ""; }, 900);
  });

  const check = () => {
    const { tree, error, ways } = read(field.value);
    field.setAttribute("aria-invalid", !tree);
    if (!field.value.trim()) return tell("empty", says.empty);
    if (ways?.length) return tell("ambiguous", says.ask, choices(ways, field, check));
    if (!tree) return tell("unreadable", error.message, error.help ?? "");
    const { right, say, slip } = judge(trial, tree);
    const lines = say.map(([name, places]) => {
      const target = { hint: ".ev-hint:not([open])", compare: ".ev-reconciled,#checked" }[name];
      if (!target) return sentence(says[name], places);
      const folds = [...document.querySelectorAll(target)].filter((each) => each.offsetParent);
      const fold = folds.find((each) => each.dataset.forms?.includes(places)) ?? folds[0];
      return fold ? made("a", says[name], { href: `#${fold.id}` }) : "";
    }).filter(Boolean);
    if (slip) lines.push(sentence(slip[0], { fault: slip[2] && (N.parse(slip[2], { ...context, names: [...context.names, trial.x] }).tree ?? slip[2]) }), slip[1]);
    const verdict = right ? "right" : slip ? "slip" : say[0][0];
    tell(verdict, ...lines);
    said.dataset.notes = say.map(([name]) => name).join(" ");
    const detail = { problem: box.dataset.problem, verdict, slip: slip?.[3] ?? "" };
    box.dispatchEvent(new CustomEvent("everyline:answer", { bubbles: true, detail }));
  };
  part("form").addEventListener("submit", (event) => {
    event.preventDefault();
    check();
  });
  part(".ev-box__keys").addEventListener("click", ({ target }) => {
    const [before, after] = target.closest("[data-put]")?.dataset.put.split("§") ?? [];
    if (before === undefined) return;
    const { selectionStart: start, selectionEnd: end, value } = field;
    const inside = after === undefined ? "" : value.slice(start, end);
    field.setRangeText(before + inside + (after ?? ""), start, end, "end");
    field.focus();
    if (after !== undefined) field.setSelectionRange(start + before.length + inside.length, start + before.length + inside.length);
    field.dispatchEvent(new Event("input"));
  });
};
