// At the pillow: the order of work, one line large; a tap or a key goes on. Where she is, the study keeps.

import { ask, byId, element } from "./house.js";

const base = byId("pillow").dataset.base;
// Lines of more letters are set smaller, so that one sees all of it.
const LONG = 160;
// What she goes through: every line, and after some of them a look where all pairs hang.
let views = [], count = 0, edge = "", at = 0, sent = 0, keeping = false;

const words = ({ kind, number, words: told }) => (kind === "step" ? `${number}. ${told}` : told);
const shortened = (told) => (told.length > LONG ? `${told.slice(0, LONG)} ...` : told);
const told = ({ line, look }) => (look ? `Look where the pairs hang, counted from the ${edge}.` : words(line));

function show() {
  if (!views.length) return;
  const { line, look, number } = views[at], next = views[at + 1];
  byId("part").textContent = line.part || "Before you begin";
  byId("line").textContent = told(views[at]);
  byId("line").classList.toggle("long", Boolean(look) || told(views[at]).length > LONG);
  byId("look").hidden = !look;
  byId("look").replaceChildren(...(look ?? []).map(hanging));
  byId("then").textContent = next ? `Then: ${shortened(told(next))}` : "This is the last line.";
  byId("far").textContent = `${look ? "After line" : "Line"} ${number + 1} of ${count}`;
  byId("where").max = views.length - 1;
  byId("where").value = at;
  byId("where").setAttribute("aria-valuetext", byId("far").textContent);
  byId("back").disabled = !at;
  byId("done").textContent = look ? "They hang so, go on" : "Done, next line";
  byId("done").disabled = at === views.length - 1;
}

function hanging([pairs, who, where]) {
  const item = element("li");
  item.append(element("strong", pairs), who ? ` ${who}` : "", element("span", where, "at"));
  return item;
}

// One after the other, so that the last one is what is kept; if she leaves meanwhile, it goes on its way at once.
async function keep() {
  if (keeping) return;
  keeping = true;
  try {
    while (sent !== at) await send();
    byId("amiss").textContent = "";
  } catch (error) {
    sent = -1; // it is sent again with the next line
    byId("amiss").textContent = error.message;
  }
  keeping = false;
}

function send() {
  sent = at;
  return ask(`${base}/pillow/at`, { at: views[at].number, looking: Boolean(views[at].look) });
}

window.addEventListener("pagehide", () => {
  if (sent !== at) send().catch(() => {}); // nobody is there any more to be told
});

function go(to) {
  at = Math.min(Math.max(to, 0), views.length - 1);
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
  const { lines, edge: from, at: number, looking } = await ask(`${base}/pillow/lines`);
  [edge, count] = [from, lines.length];
  views = lines.flatMap((line, index) => [
    { line, number: index },
    ...(line.look.length ? [{ line, look: line.look, number: index }] : []),
  ]);
  const kept = views.findLastIndex((view) => view.number === Math.min(number, count - 1) && (looking || !view.look));
  at = sent = Math.max(kept, 0);
  show();
  byId("done").focus();
} catch (error) {
  byId("amiss").textContent = error.message;
}
