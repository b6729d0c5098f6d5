// A worked solution line by line: on the page, and on a board that fills the screen.

const pressed = (button, on) => button.setAttribute("aria-pressed", String(on));
const act = (root, name) => root.querySelector(`[data-act=${name}]`);
const linesOf = (solution) => [...solution.querySelector(".ev-lines").children];

/** The solutions of a family's other numbers, which are no part of the page before somebody goes near them. */
document.addEventListener("click", ({ target }) => {
  if (!target.closest(".ev-family, .ev-family__row, [data-act=board]")) return;
  for (const waiting of document.querySelectorAll(".ev-instances noscript")) waiting.outerHTML = waiting.innerHTML;
  each(".ev-instances .ev-pace", startPace);
}, true);

function startPace(row) {
  const solution = row.closest("details");
  const lines = linesOf(solution), list = lines[0].parentElement;
  const step = act(row, "step"), next = act(row, "next");
  let at = 0, on = false;
  const show = () => {
    lines.forEach((line, number) => { line.hidden = on && number > at; });
    next.hidden = !on || at >= lines.length - 1;
    pressed(step, on);
    list.ariaLive = on ? "polite" : null;
  };
  step.addEventListener("click", () => { on = !on; at = 0; show(); });
  next.addEventListener("click", () => {
    at += 1;
    show();
    if (next.hidden) step.focus();
    lines[at].scrollIntoView({ block: "nearest" });
  });
  act(row, "board").addEventListener("click", () => openBoard(solution));
  row.hidden = lines.length < 2;
}

/** The board: every line waits (`data-wait=all`), then shows its reason (`data-wait=line`), then itself. */
function openBoard(solution) {
  const board = document.querySelector(".ev-board");
  const place = board.querySelector(".ev-board__lines"), beside = board.querySelector("select"), ask = act(board, "ask");
  const every = [...document.querySelectorAll(".ev-solution")], all = every.filter((other) => !other.closest(".ev-instances"));
  const opener = act(solution, "board"), dealt = [solution, ...every.filter((other) => !all.includes(other))];
  let shown = [], at = 0, turn = 0;

  const column = (source) => {
    const made = document.createElement("section");
    made.append(source.querySelector("summary .ev-fold__title").cloneNode(true), source.querySelector(".ev-lines").cloneNode(true));
    for (const named of made.querySelectorAll("[id]")) named.removeAttribute("id");
    for (const line of made.querySelectorAll("[hidden]")) line.hidden = false;
    return made;
  };
  const lay = () => {
    const columns = [solution, ...all.filter((other) => other.id === beside.value)].map(column);
    place.replaceChildren(...columns);
    const lists = columns.map((each) => [...each.querySelector(".ev-lines").children]);
    shown = lists.flatMap((list) => list.slice(1)).length ? lists[0].flatMap((_, n) => lists.map((list) => list[n])).filter(Boolean) : [];
    shown.push(...lists.slice(1).flatMap((list) => list.slice(lists[0].length)));
    shown.forEach((line) => { line.dataset.wait = "all"; });
    at = 0;
    lists.forEach(() => move(1));
  };
  const state = (line) => line.dataset.wait ?? "";
  function move(way) {
    if (way > 0 && at < shown.length) {
      const line = shown[at], why = line.querySelector(".ev-line__reason");
      if (state(line) === "all" && why && ask.ariaPressed === "true") line.dataset.wait = "line";
      else { delete line.dataset.wait; at += 1; }
      line.scrollIntoView({ block: "nearest" });
    } else if (way < 0 && (at > 1 || state(shown[at] ?? {dataset: {}}) === "line")) {
      if (at < shown.length && state(shown[at]) === "line") shown[at].dataset.wait = "all";
      else shown[at -= 1].dataset.wait = "all";
    }
  }
  const deeds = {
    numbers: () => {
      solution = dealt[turn = (turn + 1) % dealt.length];
      beside.value = "";
      lay();
    },
    next: () => move(1), back: () => move(-1), close: () => board.close(), ask: () => pressed(ask, ask.ariaPressed !== "true"),
    scheme: () => { board.dataset.mdColorScheme = getComputedStyle(board).colorScheme.includes("dark") ? "day" : "night"; },
  };
  board.onclick = ({ target }) => (deeds[target.closest("[data-act]")?.dataset.act] ?? (target.closest(".ev-board__lines") ? deeds.next : () => {}))();
  board.onkeydown = (event) => {
    if (event.target === beside) return;
    if (event.key === "n" && dealt[1]) deeds.numbers();
    const way = { " ": 1, ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 }[event.key];
    if (!way || (event.key === " " && event.target.closest("button"))) return;
    event.preventDefault();
    move(way);
  };
  board.onclose = () => { if (document.fullscreenElement) document.exitFullscreen(); opener.focus(); };
  beside.replaceChildren(beside.options[0], ...all.filter((other) => other !== solution).map((other) => new Option(other.querySelector(".ev-fold__title").textContent, other.id)));
  beside.value = "";
  beside.onchange = lay;
  beside.parentElement.hidden = all.length < 2;
  board.showModal();
  place.focus();
  board.requestFullscreen?.().catch(() => {});
  lay();
}
