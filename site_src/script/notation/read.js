// Reading a text: one tree, or an error that says what could be meant. The twin of notation/read.py.

const tooDoubtful = ({ start, end }) =>
  refuse("limit", start, end, "Too much of this can be read in two ways.", "Use \\frac, brackets, and \\left| \\right| for absolute values.");
const isNew = (tree, trees) => tree !== undefined && !trees.some((known) => same(known, tree));
/** A run with a plan: its tree if it has one. A reading that is too large to be weighed is still a reading. */
const attempt = (tokens, context, plan, kinds) => {
  const done = run(tokens, context, plan, kinds);
  if (done.error?.code === "limit") throw done.error;
  return done;
};
const nextPlans = (plan, asked) => asked.slice(plan.length).flatMap(({ ways }, more) =>
  Array.from({ length: ways - 1 }, (_, other) => [...plan, ...Array(more).fill(0), other + 1]));

/** The trees of every plan, and the place where the first two part. */
const everyPlan = (tokens, context, first, asked) => {
  const trees = first === undefined ? [] : [first];
  const waiting = nextPlans([], asked);
  let [where] = asked;
  for (let runs = 0; waiting.length; runs++) {
    if (runs === 40) tooDoubtful(asked[0]);
    const plan = waiting.shift();
    const { tree, asked: here } = attempt(tokens, context, plan);
    if (isNew(tree, trees)) {
      if (trees.length === 1) where = here[plan.length - 1];
      trees.push(tree);
    }
    waiting.push(...nextPlans(plan, here));
  }
  return [trees, where];
};
/** With many doubtful places: the readings that settle every place of one kind in the same way. */
const alike = (tokens, context, asked) => {
  const kinds = [...new Set(asked.map(({ kind }) => kind))].sort();
  if (kinds.length > 3) tooDoubtful(asked[0]);
  const trees = [];
  for (let number = 0; number < 2 ** kinds.length; number++) {
    const { tree } = attempt(tokens, context, [], Object.fromEntries(kinds.map((kind, place) => [kind, (number >> place) & 1])));
    if (isNew(tree, trees)) trees.push(tree);
  }
  if (trees.length === 1) tooDoubtful(asked[0]);
  return [trees, asked[0]];
};
/** The different trees of a text, and the place that was asked about (null when there is one tree only). */
const explore = (text, context) => {
  const tokens = lex(text, context);
  const { tree, error, asked } = run(tokens, context, []);
  if (!asked.length) {
    if (error) throw error;
    return [[tree], null];
  }
  let [trees, where] = asked.length > 5 ? alike(tokens, context, asked) : everyPlan(tokens, context, tree, asked);
  if (!trees.length) throw error;
  if (trees.length > 8) [trees, where] = alike(tokens, context, asked);
  return [trees, trees.length > 1 ? where : null];
};

/**
 * Read a text. `context`: `names` (variable and parameters), `parameters`, `log` ("natural", "10", "ask"), `decimal` ("point", "comma"),
 * `constants` (false: no constant of integration), `answer` (drop a leading `F(x) =`).
 * Gives {tree}, or {error: {code, message, start, end, help, readings}} with places as code points; `readings` are trees.
 */
const parse = (text, given = {}) => {
  const context = { log: "ask", decimal: "point", constants: true, ...given };
  context.names = new Set(given.names);
  context.parameters = new Set(given.parameters);
  const head = given.answer ? HEAD.exec([...text].map(plainSign).join(""))?.[0] ?? "" : "";
  try {
    let rest = [...text].slice(head.length).join("");
    if (head.includes("$")) rest = rest.replace(/[ $]+$/, "");
    const [trees, where] = explore(rest, context);
    if (!where) return { tree: trees[0] };
    const help = where.kind === "log" ? "Write ln x for the natural logarithm and log_10(x) for the one to base 10."
      : `Write ${trees.map(plain).join(" or ")}.`;
    return refuse("ambiguous", where.start, where.end, where.message, help, trees);
  } catch (error) {
    if (!error.code) throw error;
    return { error: { ...error, start: error.start + head.length, end: error.end + head.length } };
  }
};
