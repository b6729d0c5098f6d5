// Before its day an answer is only noted, in this browser; on the day it waits in the box of the page.
(() => {
  "use strict";

  const name = (place) => `everyline-noted:${place.dataset.problem}`;
  const kept = (place) => { try { return localStorage.getItem(name(place)) ?? ""; } catch { return ""; } };

  function startNote(form) {
    const field = form.querySelector("input"), said = form.querySelector("[role=status]");
    field.value = kept(form);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      try { localStorage.setItem(name(form), field.value); } catch { return; }
      said.textContent = form.dataset.said;
    });
  }

  function startBox(box) {
    const field = box.querySelector("input"), noted = kept(box);
    if (!noted || field.value) return;
    field.value = noted;
    field.dispatchEvent(new Event("input"));
  }

  const start = () => {
    document.querySelectorAll(".ev-note").forEach(startNote);
    document.querySelectorAll(".ev-box[data-problem]").forEach(startBox);
  };
  // The theme puts a new page in place of the old one without loading this file again, and tells so here.
  if (window.document$) window.document$.subscribe(start);
  else if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
