// The pages work without this file. It copies formulas as LaTeX, opens the fold that an address names,
// and remembers which folds a person opened, so that printing shows those and no others. It comes last of the parts of its script.
/** What a selection says, with each formula as LaTeX; null when there is no formula in it. */
function selected(selection) {
  const range = selection.getRangeAt(0);
  const around = range.commonAncestorContainer;
  const inside = (around.nodeType === Node.ELEMENT_NODE ? around : around.parentElement).closest("math[data-tex]");
  if (inside) return inside.dataset.tex;
  const holder = document.createElement("div");
  holder.className = "ev-offscreen";
  holder.append(range.cloneContents());
  const formulas = holder.querySelectorAll("math[data-tex]");
  if (!formulas.length) return null;
  const alone = formulas.length === 1 && holder.textContent.trim() === formulas[0].textContent.trim();
  for (const math of formulas) math.replaceWith(alone ? math.dataset.tex : `$${math.dataset.tex}$`);
  document.body.append(holder);
  const text = holder.innerText;
  holder.remove();
  return text.trim();
}

document.addEventListener("copy", (event) => {
  const selection = document.getSelection();
  if (!event.clipboardData || !selection || selection.isCollapsed) return;
  const text = selected(selection);
  if (text === null) return;
  event.clipboardData.setData("text/plain", text);
  event.preventDefault();
});

// A click also stands for Enter and Space on a summary. The theme opens every fold to print; only these were asked for.
document.addEventListener("click", (event) => {
  const fold = event.target instanceof Element && event.target.closest("summary")?.parentElement;
  if (fold) setTimeout(() => fold.toggleAttribute("data-kept", fold.open));
});

// A family's page has many of these folds: each is made ready when it is opened.
document.addEventListener("toggle", ({ target: fold }) => {
  if (!fold.matches(".ev-finish:not([data-started])")) return;
  fold.dataset.started = "";
  startFinish(fold.querySelector(".ev-finish__work"));
}, true);

function show() {
  const named = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  for (let fold = named && named.closest("details"); fold; fold = fold.parentElement.closest("details")) {
    fold.open = true;
    fold.setAttribute("data-kept", "");
  }
  if (named && named.closest("details")) named.scrollIntoView();
}

window.addEventListener("hashchange", show);

function start() {
  each("[data-everyline=answer]", (box) => {
    startBox(box);
    startWaiting(box);
  });
  each(".ev-instances", startFamily);
  each(".ev-deal", startDeal);
  each(".ev-note", startNote);
  each(".ev-pace", startPace);
  each(".ev-problem[data-problem]", startNotes);
  each(".ev-progress", startProgress);
  show();
}

start();
// The theme puts a new page in place of the old one without loading this file again, and tells so here.
window.document$?.subscribe(start);
