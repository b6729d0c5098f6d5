// Before its day an answer is only noted, in this browser; on the day it waits in the box of the page.

const answerOf = (place) => `everyline-noted:${place.dataset.problem}`;

const startNote = (form) => {
  const field = form.querySelector("input"), said = form.querySelector("[role=status]");
  field.value = stored(answerOf(form));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (store(answerOf(form), field.value)) said.textContent = form.dataset.said;
  });
};

const startWaiting = (box) => {
  const field = box.querySelector("input"), noted = stored(answerOf(box));
  if (!noted || field.value) return;
  field.value = noted;
  field.dispatchEvent(new Event("input"));
};
