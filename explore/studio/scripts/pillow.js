// At the pillow: the order of work, one line large; a tap or a key goes on. Where she is, the study keeps.

import { ask, byId, lately } from "./house.js";

const base = byId("pillow").dataset.base;
// Lines of more letters are set smaller, so that one sees all of it.
const LONG = 160;
let lines = [], at = 0;

const words = ({ kind, number, words: told }) => (kind === "step" ? `${number}. ${told}` : told);

function show() {
  if (!lines.length) return;
  byId("part").textContent = lines[at].part || "Before you begin";
  byId("line").textContent = words(lines[at]);
  byId("line").classList.toggle("long", lines[at].words.length > LONG);
  const next = lines[at + 1];
  byId("then").textContent = next ? `Then: ${words(next).slice(0, LONG)}${words(next).length > LONG ? " ..." : ""}` : "This is the last line.";
  byId("far").textContent = `Line ${at + 1} of ${lines.length}`;
  byId("where").max = lines.length - 1;
  byId("where").value = at;
  byId("where").setAttribute("aria-valuetext", `line ${at + 1}`);
  byId("back").disabled = !at;
  byId("done").disabled = at === lines.length - 1;
}

const keep = lately(async () => {
  try {
    await ask(`${base}/pillow/at`, { at });
    byId("amiss").textContent = "";
  } catch (error) {
    byId("amiss").textContent = error.message;
  }
}, 200);

function go(to) {
  at = Math.min(Math.max(to, 0), lines.length - 1);
  show();
  keep();
}

byId("back").addEventListener("click", () => go(at - 1));
byId("done").addEventListener("click", () => go(at + 1));
byId("where").addEventListener("input", () => go(Number(byId("where").value)));
document.addEventListener("keydown", (event) => {
  if (event.target.matches("input, a, summary") || event.ctrlKey || event.metaKey || event.altKey) return;
  const by = { ArrowRight: 1, ArrowLeft: -1, ...(event.target.matches("button") ? {} : { " ": 1, Enter: 1 }) }[event.key];
  if (!by) return;
  event.preventDefault();
  go(at + by);
});

try {
  const told = await ask(`${base}/pillow/lines`);
  lines = told.lines;
  at = Math.min(told.at, lines.length - 1);
  show();
  byId("done").focus();
} catch (error) {
  byId("amiss").textContent = error.message;
}
