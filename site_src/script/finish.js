// “Finish the solution”: the lines of the worked solution with gaps at the end, one more each time.

const startFinish = (work) => {
  const says = JSON.parse(work.dataset.say);
  const gaps = [...work.querySelectorAll(".ev-gapped")];
  const lines = document.getElementById(work.dataset.of)?.querySelector("ol.ev-lines");
  const button = (text, does) => {
    const made_ = made("button", text, { type: "button", class: "md-button ev-button" });
    made_.addEventListener("click", does);
    return made_;
  };

  /** The line of a gap with a field to fill it in. */
  const ask = (line, gap, solved) => {
    const trial = JSON.parse(gap.dataset.trial), [, read] = reading(trial);
    const whole = line.querySelector(".ev-line__formula"), shown = whole.cloneNode(true);
    const label = says.label.replace("{line}", +gap.dataset.line + 1);
    const form = made("form", "", { class: "ev-gap__form" }), said = made("p", "", { role: "status" });
    const field = made("input", "", { class: "ev-box__field", autocomplete: "off", autocapitalize: "none", spellcheck: "false", "aria-label": label });
    const end = () => {
      whole.replaceWith(shown);
      form.replaceChildren(said);
      solved();
    };
    const check = () => {
      const { tree, error, ways } = read(field.value);
      const { right, say } = tree ? judge(trial, tree) : {};
      said.replaceChildren(right ? says.right : ways?.length ? says.ask : error && field.value.trim() ? error.message : says[say?.[0][0]] ?? says.wrong);
      if (ways?.length) said.append(choices(ways, field, check));
      inSight(said);
      if (right) end();
    };
    form.append(field, made("button", says.check, { class: "md-button ev-button" }), button(says.show, () => {
      said.textContent = "";
      end();
    }), said);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      check();
    });
    whole.replaceChildren(gap.querySelector("math").cloneNode(true));
    line.append(form);
  };

  const leaveOut = (count) => {
    const list = lines.cloneNode(true);
    for (const part of list.querySelectorAll("[id], [hidden]")) {
      part.removeAttribute("id");
      part.hidden = false;
    }
    for (const finer of list.querySelectorAll("details")) finer.remove();
    // The same formula twice on a page is not two places to go to.
    for (const wide of list.querySelectorAll("[role=region]")) ["role", "aria-label"].forEach((name) => wide.removeAttribute(name));
    const rows = [...list.children].slice(list.querySelector(".ev-line--start") ? 1 : 0);
    let left = count;
    for (const gap of gaps.slice(-count)) {
      ask(rows[gap.dataset.line], gap, () => {
        left--;
        if (!left) list.after(count < gaps.length ? button(says.more, () => leaveOut(count + 1)) : made("p", says.done));
        (list.querySelector("input") ?? list.nextSibling).focus?.();
      });
    }
    work.replaceChildren(list);
    if (count > 1) list.querySelector("input").focus();
  };
  if (lines) leaveOut(1);
};
