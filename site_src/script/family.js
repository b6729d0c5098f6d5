// "Same kind, new numbers": a button that puts the next question of a family in place of the one on the page, with its own answer box.

const startFamily = (list) => {
  const page = list.closest(".ev-problem");
  const asked = [...page.querySelectorAll(".ev-question > section")].at(-1);
  const items = [...list.children], first = [...asked.childNodes];
  const place = made("span", "", { "aria-live": "polite" });
  const more = made("button", WORDS.again, { type: "button", class: "md-button" });
  const back = made("button", WORDS.first, { type: "button", class: "md-button", hidden: "" });
  const row = made("p", "", { class: "ev-family__row" });
  const folds = made("div", "", { class: "ev-folds ev-family__folds" });
  row.append(more, back, place);
  page.querySelector(".ev-question").after(row);
  const own = page.querySelector("[data-everyline=answer]"), holder = own ?? row;
  let box = own, at = -1;

  /** The box as it was before anybody wrote in it, for another question. */
  const fresh = (trial) => {
    const copy = own.cloneNode(true);
    copy.querySelector("input").value = "";
    for (const part of copy.querySelectorAll(".ev-box__seen, .ev-box__spoken, .ev-box__said")) part.replaceChildren();
    delete copy.querySelector(".ev-box__said").dataset.verdict;
    copy.dataset.trial = trial;
    return copy;
  };
  const swap = (next) => {
    box?.replaceWith(next ?? "");
    box = next ?? box;
  };
  const show = (number) => {
    if (at >= 0) {
      items[at].firstElementChild.append(...asked.childNodes);
      items[at].append(folds.firstElementChild);
    }
    at = number;
    const item = items[at];
    asked.replaceChildren(...(item ? item.firstElementChild.childNodes : first));
    if (item && own && item.dataset.trial) {
      const next = fresh(item.dataset.trial);
      swap(next);
      startBox(next);
    } else if (own) swap(own);
    if (item) folds.append(item.lastElementChild);
    (box ?? holder).after(folds);
    page.toggleAttribute("data-dealt", Boolean(item));
    back.hidden = !item;
    place.textContent = item ? WORDS.place.replace("①", at + 2).replace("②", items.length + 1) : "";
  };
  more.addEventListener("click", () => show((at + 1) % items.length));
  back.addEventListener("click", () => {
    show(-1);
    more.focus();
  });
};
