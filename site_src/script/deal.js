// A set is a list of questions. They are dealt one at a time, and the place is kept until the next visit.

const startDeal = (list) => {
  const cards = [...list.children], name = `everyline-set:${list.dataset.set}`;
  if (cards.length < 2) return;
  let at = Math.min(Number(stored(name)) || 0, cards.length - 1);
  let all = false;

  const show = (move) => {
    cards.forEach((card, number) => { card.hidden = !all && number !== at; });
    back.disabled = all || at === 0;
    next.disabled = all || at === cards.length - 1;
    both.textContent = all ? WORDS.single : WORDS.all;
    pressed(both, all);
    store(name, at);
    // The heading says which question it is: whoever cannot see the page hears it.
    const heading = move && cards[at].querySelector("h2");
    if (heading) { heading.tabIndex = -1; heading.focus(); }
  };
  const button = (text, does) => {
    const element = made("button", text, { type: "button", class: "md-button ev-deal__button" });
    element.addEventListener("click", does);
    return element;
  };
  const back = button(WORDS.previous, () => { at -= 1; show(true); });
  const next = button(WORDS.next, () => { at += 1; show(true); });
  const both = button(WORDS.all, () => { all = !all; show(false); });
  const row = made("div", "", { class: "ev-deal__buttons" });
  row.append(back, next, both);
  list.after(row);
  const named = cards.findIndex((card) => location.hash && card.querySelector(`[id="${CSS.escape(location.hash.slice(1))}"]`));
  if (named >= 0) at = named;
  show(false);
};
