// The page of one print: it is inked and set upright, and laid on the grid at rising sizes.

import { BROKE, ask, byId, drawn, element, listen, tell } from "./house.js";
import { show as showBeside } from "./beside.js";
import "./fit.js";
import { again, pictures, print, wish } from "./wishes.js";

const turn = byId("turn");
let stopRibbon = () => {};

// --- the print --------------------------------------------------------------------------------------------

function address(path, more = {}) {
  const given = new URLSearchParams({ of: print.of, ...(print.turn === null ? {} : { turn: print.turn }), ...more });
  return `${path}?${given}`;
}

async function show() {
  byId("amiss").textContent = "";
  byId("to-ladder").href = address("/ladder");
  let read;
  try {
    read = await ask(address("/prints/read"));
  } catch (error) {
    byId("amiss").textContent = error.message;
    return;
  }
  print.outline = read.outline;
  const path = drawn("path", { d: read.outline, "fill-rule": "evenodd", class: "wet" });
  // It lies as it leant, then it is set upright.
  if (print.turn === null && read.leant) path.style.transform = `rotate(${read.leant}deg)`;
  byId("inked").replaceChildren(path);
  requestAnimationFrame(() => requestAnimationFrame(() => (path.style.transform = "")));
  byId("notes").replaceChildren(...read.notes.map((note) => element("li", `${note[0].toUpperCase()}${note.slice(1)}.`)));
  byId("stamp-command").textContent = read.command;
  turn.disabled = print.beside.length > 0;
  if (print.turn === null) turn.value = Math.round(-read.leant);
  byId("turned").textContent = print.turn === null ? "" : `${print.turn} degrees to the right`;
  byId("own-turn").hidden = print.turn === null;
  pictures();
  tell("The print is read.");
  lay();
  wish();
}

turn.addEventListener("input", () => {
  const path = byId("inked").firstChild;
  if (path) path.style.transform = `rotate(${Number(turn.value) - (print.turn ?? Number(turn.dataset.read ?? turn.value))}deg)`;
  byId("turned").textContent = `${turn.value} degrees to the right`;
});
turn.addEventListener("pointerdown", () => (turn.dataset.read = print.turn ?? turn.value));
turn.addEventListener("change", () => {
  print.turn = Number(turn.value);
  turn.dataset.read = turn.value;
  show();
});
byId("own-turn").addEventListener("click", () => {
  print.turn = null;
  delete turn.dataset.read;
  turn.focus();
  show();
});

// --- the ribbon -------------------------------------------------------------------------------------------

function lay() {
  stopRibbon();
  const ribbon = byId("ribbon"), sizes = new Map();
  ribbon.replaceChildren();
  print.begins = null;
  byId("begins").textContent = "It is being laid on the grid.";
  stopRibbon = listen(address("/prints/ribbon"), (event) => {
    if (event.kind === "failed") {
      byId("begins").textContent = "";
      byId("amiss").textContent = BROKE;
      return;
    }
    if (event.kind === "size") sizes.set(event.size, event);
    else print.begins = event.begins;
    const rising = [...sizes.values()].sort((one, other) => one.size - other.size);
    const first = rising.find((each) => each.known.match(/^known/));
    ribbon.replaceChildren(...rising.map((each) => stage(each, each === first)));
    byId("begins").textContent = first ? `It begins to be known at ${first.size} pitches.`
      : event.kind === "ribbon" ? "It is known at no size. Carve its parts bolder and farther apart, or take it hardly known." : byId("begins").textContent;
    if (event.kind !== "ribbon") return;
    // What she looks for is seen without searching.
    const mark = ribbon.querySelector(".begins");
    if (mark) ribbon.scrollLeft = mark.offsetLeft - (ribbon.clientWidth - mark.offsetWidth) / 2;
    wish();
  });
}

function stage({ size, known, splits, lost }, isFirst) {
  const item = element("li", "", isFirst ? "begins" : known.match(/^known/) ? "" : "not");
  const picture = element("span", "", "picture"), image = element("img");
  image.src = address("/prints/drawing", { size, splits });
  image.alt = "";
  image.width = image.height = 40 + 4 * size;
  picture.append(image);
  item.append(picture, element("strong", `${size} pitches`), element("span", known));
  if (lost.length) item.append(element("span", `lost: ${lost.map((each) => each.replace(/^at the /, "")).join(", ")}`, "quiet"));
  if (isFirst) item.append(element("span", "it begins here", "flag"));
  return item;
}

again();
showBeside();
show();
