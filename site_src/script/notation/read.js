// Reading a text: one tree, or an error that says what could be meant. The twin of notation/read.py.

/** What is said of a refusal, by its code; ① is the place in the text. */
const MESSAGES = {
  empty: WORDS.empty, unopened: WORDS.unopened, unclosed: WORDS.unclosed, unfinished: WORDS.unfinished, limit: WORDS.too_large,
  "number-after": WORDS.number_after, undeclared: WORDS.undeclared, differential: WORDS.differential, ambiguous: WORDS.ambiguous,
};
const isNew = (tree, trees) => tree && !trees.some((known) => same(known, tree));
const nextPlans = (plan, asked) => asked.slice(plan.length).flatMap(({ ways }, more) =>
  Array.from({ length: ways - 1 }, (_, other) => [...plan, ...Array(more).fill(0), other + 1]));

/** The different trees of a text, and the place that was asked about, if there are several. */
const explore = (text, context) => {
  const tokens = lex(text, context);
  const { tree: first, error, asked } = run(tokens, context, []);
  let [where] = asked, trees = first ? [first] : [];
  if (!where && error) throw error;
  const tooMany = () => refuse("limit", asked[0].start, asked[0].end);
  /** One more run. A reading that is too large to be weighed is still a reading. */
  const add = (plan, kinds) => {
    const { tree, error, asked } = run(tokens, context, plan, kinds);
    if (error?.code === "limit") throw error;
    if (isNew(tree, trees)) {
      if (trees.length === 1 && !kinds) where = asked[plan.length - 1];
      trees.push(tree);
    }
    return asked;
  };
  if (!asked[5]) {
    const waiting = nextPlans([], asked);
    for (let runs = 0; waiting[0]; runs++) {
      if (runs > 39) tooMany();
      const plan = waiting.shift();
      waiting.push(...nextPlans(plan, add(plan)));
    }
    if (!trees[0]) throw error;
  }
  if (asked[5] || trees[8]) { // with many doubtful places, those of one kind are settled in the same way
    const kinds = [...new Set(asked.map(({ kind }) => kind))].sort();
    if (kinds[3]) tooMany();
    [trees, where] = [[], asked[0]];
    for (let number = 0; number < 2 ** kinds.length; number++) {
      add([], Object.fromEntries(kinds.map((kind, place) => [kind, (number >> place) & 1])));
    }
    if (!trees[0]) throw error;
    if (!trees[1]) tooMany();
  }
  return [trees, trees[1] && where];
};

/**
 * Read a text. `context`: `names` (variable and parameters), `parameters`, `log` ("natural", "10", "ask"), `decimal` ("point", "comma"),
 * `constants` (false: no constant of integration), `answer` (drop a leading `F(x) =`).
 * Gives {tree}, or {error: {code, message, start, end, help, readings}} with places as code points; `readings` are trees.
 */
const parse = (text, given) => {
  const context = { log: "ask", constants: true, ...given, names: new Set(given?.names), parameters: new Set(given?.parameters) };
  const head = (context.answer && HEAD.exec(plainSigns(text))?.[0]) || "", signs = [...text], { length } = head;
  try {
    const rest = signs.slice(length).join("");
    const [trees, where] = explore(head.includes("$") ? rest.replace(/[ $]+$/, "") : rest, context);
    return where ? refuse("ambiguous", where.start, where.end, fill(WORDS.write, trees.map(plain).join(` ${WORDS.either} `)), trees) : { tree: trees[0] };
  } catch (error) {
    if (!error.code) throw error;
    const start = error.start + length, end = error.end + length;
    const message = fill(MESSAGES[error.code] ?? WORDS.unclear, signs.slice(start, end).join(""));
    return { error: { ...error, message, start, end } };
  }
};
