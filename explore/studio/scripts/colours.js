// Her thread and her cloth: lace is drawn in them, on this page and wherever else the studio shows it.

import { byId, lately } from "./house.js";
import { base, change, setLook } from "./study.js";

const form = byId("colours").querySelector("form");
let now = {};

for (const dot of form.querySelectorAll("[data-colour]")) dot.style.backgroundColor = dot.dataset.colour;

// Shows the colours that the study has.
export function coloured({ thread, cloth, words }) {
  now = { thread, cloth };
  for (const [what, colour] of Object.entries(now)) {
    for (const each of form.elements[what]) each.checked = each.value === colour;
    form.querySelector(`[data-own=${what}]`).value = colour;
  }
  byId("colours-told").textContent = words;
  byId("study").style.setProperty("--felt", cloth);
  byId("study").style.setProperty("--thread", thread);
}

const send = lately((wanted) => change(`${base}/colours`, wanted, "The lace is drawn in these colours."));
form.addEventListener("input", ({ target }) => {
  // What she chooses next goes with it, though no answer has come yet.
  now = { ...now, [target.dataset.own ?? target.name]: target.value };
  setLook("lace");
  send(now);
});
form.addEventListener("submit", (event) => event.preventDefault());
document.addEventListener("pointerdown", ({ target }) => {
  if (!byId("colours").contains(target)) byId("colours").open = false;
});
document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || !byId("colours").open) return;
  byId("colours").open = false;
  byId("colours").querySelector("summary").focus();
});
