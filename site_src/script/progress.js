// What a reader tried, kept in this browser only: noted on problem pages, shown on the page of progress.

const WAITS = [1, 3, 7, 21, 60], DAY = 864e5;
const home = new URL("../..", document.currentScript.src).pathname, kept = `everyline:${home}`;
const today = () => Math.floor(Date.now() / DAY);
const noted = () => { try { return JSON.parse(stored(kept)) ?? {}; } catch { return {}; } };
const note = (all) => store(kept, JSON.stringify(all));

/** One more try of a problem: how often, whether it was right and without help, and the day on which it should come back. */
function tried(one, right, helped) {
  const step = right && !helped ? Math.min((one.step ?? -1) + 1, WAITS.length - 1) : 0;
  return { ...one, tries: (one.tries ?? 0) + 1, right: one.right || right, alone: one.alone || (right && !helped), step, due: today() + WAITS[step] };
}

function startNotes(page) {
  let helped = false, done = false;
  const put = (right) => {
    if (done) return;
    done = right;
    const all = noted(), { problem, chapter, title, address } = page.dataset;
    all[problem] = { ...tried(all[problem] ?? {}, right, helped), chapter, title, address: address ?? location.pathname.slice(home.length) };
    note(all);
  };
  page.addEventListener("toggle", ({ target }) => {
    if (!target.open || done || !target.matches(".ev-hint, .ev-answer, .ev-solution")) return;
    helped = true;
    if (!target.matches(".ev-hint") && !(noted()[page.dataset.problem]?.due > today())) put(false);
  }, true);
  // Right, slip, wrong, undefined, jump or one-interval; what is near enough (a decimal, a letter left) is no try yet.
  page.addEventListener("everyline:answer", ({ detail: { verdict } }) => { if (/^[rswujo]/.test(verdict)) put(verdict === "right"); });
}

function startProgress(page) {
  const all = Object.values(noted()), part = (name) => page.querySelector(name);
  part(".ev-progress__off").hidden = true;
  part(".ev-progress__buttons").hidden = false;
  for (const row of page.querySelectorAll("tr[data-chapter]")) {
    const mine = all.filter(({ chapter }) => chapter === row.dataset.chapter);
    [mine, mine.filter(({ right }) => right), mine.filter(({ alone }) => alone)].forEach((some, place) => { row.cells[place + 2].textContent = some.length; });
  }
  const due = all.filter((one) => one.due <= today()).sort((a, b) => a.due - b.due).slice(0, 12);
  part(".ev-progress__due").replaceChildren(...due.map(({ title, address }) => {
    const item = document.createElement("li"), link = document.createElement("a");
    link.textContent = title;
    link.href = home + address;
    item.append(link);
    return item;
  }));
  part(".ev-progress__none").hidden = due[0];
  act(page, "keep").onclick = () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(noted(), null, 1)], { type: "application/json" }));
    link.download = "progress.json";
    link.click();
    URL.revokeObjectURL(link.href);
  };
  act(page, "delete").onclick = ({ target }) => {
    if (!confirm(target.dataset.sure)) return;
    try { localStorage.removeItem(kept); } catch { /* nothing was kept */ }
    startProgress(page);
  };
}
