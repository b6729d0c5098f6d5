// A set is a list of questions. With this file they are dealt one at a time, and the place is kept until the next visit.
(() => {
  "use strict";

  const kept = {
    read: (name) => { try { return Number(localStorage.getItem(name)) || 0; } catch { return 0; } },
    write: (name, value) => { try { localStorage.setItem(name, String(value)); } catch { /* a browser that keeps nothing */ } },
  };

  function button(text, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "md-button ev-deal__button";
    made.textContent = text;
    made.addEventListener("click", act);
    return made;
  }

  function deal(list) {
    const cards = [...list.children];
    if (list.dataset.dealt || cards.length < 2) return;
    list.dataset.dealt = "";
    const name = `everyline-set:${list.dataset.set}`;
    let at = Math.min(kept.read(name), cards.length - 1);
    let all = false;

    function show(move) {
      cards.forEach((card, number) => { card.hidden = !all && number !== at; });
      back.disabled = all || at === 0;
      next.disabled = all || at === cards.length - 1;
      both.textContent = all ? WORDS.single : WORDS.all;
      both.setAttribute("aria-pressed", String(all));
      kept.write(name, at);
      // The heading says which question it is: whoever cannot see the page hears it.
      const heading = move && cards[at].querySelector("h2");
      if (heading) { heading.tabIndex = -1; heading.focus(); }
    }

    const back = button(WORDS.previous, () => { at -= 1; show(true); });
    const next = button(WORDS.next, () => { at += 1; show(true); });
    const both = button(WORDS.all, () => { all = !all; show(false); });
    const row = document.createElement("div");
    row.className = "ev-deal__buttons";
    row.append(back, next, both);
    list.after(row);
    const named = cards.findIndex((card) => location.hash && card.querySelector(`[id="${CSS.escape(location.hash.slice(1))}"]`));
    if (named >= 0) at = named;
    show(false);
  }

  const start = () => document.querySelectorAll(".ev-deal").forEach(deal);
  // The theme puts a new page in place of the old one without loading this file again, and tells so here.
  if (window.document$) window.document$.subscribe(start);
  else if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
