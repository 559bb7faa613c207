// Undo and redo of all that she does here: ticks, notes, order and filters. A step is the page before and after it.

const steps = [];
let done = 0; // how many of the steps stand
let now = "";

function pageState() {
  const fields = [...filters.elements].filter((each) => each.matches("input, select"));
  return JSON.stringify({
    own: [...own],
    sort: byId("sort").value,
    only: pressed(byId("only")),
    fields: fields.map((each) => (each.type === "checkbox" ? each.checked : each.value)),
  });
}

// Takes down a change that was just made. joins: changes of one name that follow each other, such as the letters of a
// note, are one step.
function record(words, joins = "") {
  const after = pageState();
  if (after === now) return;
  const last = done === steps.length && steps.at(-1);
  if (joins && last && last.joins === joins) Object.assign(last, { words, after });
  else steps.splice(done++, Infinity, { words, joins, before: now, after });
  if (steps.at(-1).before === after) {
    steps.pop();
    done -= 1;
  }
  now = after;
  tell("");
  showSteps();
}

// What comes next is a step of its own.
function seal() {
  if (steps.length) steps.at(-1).joins = "";
}

function restore(state) {
  const { own: picks, sort: order, only, fields } = JSON.parse(state);
  own.clear();
  for (const [number, pick] of picks) own.set(number, pick);
  byId("sort").value = order;
  press(byId("only"), only);
  [...filters.elements]
    .filter((each) => each.matches("input, select"))
    .forEach((each, i) => (each.type === "checkbox" ? (each.checked = fields[i]) : (each.value = fields[i])));
  now = state;
  remember();
  keepingFocus(() => {
    sort();
    filter();
    for (const show of onPick) show();
  });
  showSteps();
}

function undo() {
  if (!done) return;
  const { words, before } = steps[--done];
  seal();
  restore(before);
  tell(`Undone: ${words}.`);
}

function redo() {
  if (done === steps.length) return;
  const { words, after } = steps[done++];
  restore(after);
  tell(`Done again: ${words}.`);
}

// Says it where she is: what lies behind an open window is not read out.
function tell(words) {
  for (const place of document.querySelectorAll("[data-told]")) place.textContent = words;
}

// A button that can do nothing keeps its place and the focus.
function showSteps() {
  for (const [name, possible, words] of [
    ["undo", done > 0, steps[done - 1]?.words],
    ["redo", done < steps.length, steps[done]?.words],
  ]) {
    for (const button of document.querySelectorAll(`[data-step=${name}]`)) {
      button.setAttribute("aria-disabled", String(!possible));
      button.title = possible ? words : "";
    }
  }
}

function pressed(button) {
  return button.getAttribute("aria-pressed") === "true";
}

function press(button, wanted) {
  button.setAttribute("aria-pressed", String(wanted));
}

for (const button of document.querySelectorAll("[data-step]")) {
  button.addEventListener("click", button.dataset.step === "undo" ? undo : redo);
}
document.addEventListener("change", seal);
