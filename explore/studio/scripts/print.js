// The page of one print: it is inked and set upright, laid on the grid at rising sizes, and wishes are made.

import { ask, byId, drawn, element, lately, listen, tell } from "./house.js";
import { ghost, symmetryDrawn } from "./ghost.js";

const form = byId("wishes"), turn = byId("turn"), of = form.dataset.of;
let turned = null, outline = "", measures = {}, inIt = {}, begins = null, stopRibbon = () => {};

// --- the print --------------------------------------------------------------------------------------------

function address(path, more = {}) {
  const given = new URLSearchParams({ of, ...(turned === null ? {} : { turn: turned }), ...more });
  return `${path}?${given}`;
}

async function read() {
  byId("amiss").textContent = "";
  let print;
  try {
    print = await ask(address("/prints/read"));
  } catch (error) {
    byId("amiss").textContent = error.message;
    return;
  }
  outline = print.outline;
  const path = drawn("path", { d: outline, "fill-rule": "evenodd", class: "wet" });
  // It lies as it leant, then it is set upright.
  if (turned === null && print.leant) path.style.transform = `rotate(${print.leant}deg)`;
  byId("inked").replaceChildren(path);
  requestAnimationFrame(() => requestAnimationFrame(() => (path.style.transform = "")));
  byId("notes").replaceChildren(...print.notes.map((note) => element("li", `${note[0].toUpperCase()}${note.slice(1)}.`)));
  byId("stamp-command").textContent = print.command;
  turn.disabled = false;
  if (turned === null) turn.value = Math.round(-print.leant);
  byId("turned").textContent = turned === null ? "" : `${turned} degrees to the right`;
  byId("own-turn").hidden = turned === null;
  for (const label of form.querySelectorAll("[data-symmetry]")) symmetryDrawn(label, outline);
  tell("The print is read.");
  lay();
  wish();
}

turn.addEventListener("input", () => {
  const path = byId("inked").firstChild;
  if (path) path.style.transform = `rotate(${Number(turn.value) - (turned ?? Number(turn.dataset.read ?? turn.value))}deg)`;
  byId("turned").textContent = `${turn.value} degrees to the right`;
});
turn.addEventListener("pointerdown", () => (turn.dataset.read = turned ?? turn.value));
turn.addEventListener("change", () => {
  turned = Number(turn.value);
  turn.dataset.read = turn.value;
  read();
});
byId("own-turn").addEventListener("click", () => {
  turned = null;
  delete turn.dataset.read;
  turn.focus();
  read();
});

// --- the ribbon -------------------------------------------------------------------------------------------

function lay() {
  stopRibbon();
  const ribbon = byId("ribbon"), sizes = new Map();
  ribbon.replaceChildren();
  begins = null;
  byId("begins").textContent = "It is being laid on the grid.";
  stopRibbon = listen(address("/prints/ribbon"), (event) => {
    if (event.kind === "size") sizes.set(event.size, event);
    else begins = event.begins;
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

// --- wishes -----------------------------------------------------------------------------------------------

function flags() {
  const given = Object.fromEntries([...new FormData(form)].filter(([, value]) => value));
  const stitches = [...form.querySelectorAll("[data-stitch]")];
  if (stitches.some((each) => each.value !== each.dataset.usual)) {
    const wanted = stitches.filter((each) => each.value !== "no");
    given.stitches = wanted.map((each) => each.dataset.stitch + (each.value === "must" ? ":1" : "")).join(",");
  }
  return { ...given, ...taken };
}

// Mends that no field shows, such as taking the print hardly known.
let taken = {};
let asked = 0;

async function wish() {
  const mine = ++asked, given = { of, turn: turned, flags: flags() };
  try {
    const told = await ask("/wishes", given);
    if (mine !== asked) return;
    measures = told;
    byId("find-command").textContent = told.command;
  } catch (error) {
    if (mine !== asked) return;
    measures = { why: error.message, mends: [] };
  }
  // What was said of other wishes is not true of these.
  inIt = {};
  show();
  if (measures.why) return;
  try {
    const told = await ask("/wishes/room", given);
    if (mine !== asked) return;
    inIt = told;
    show();
    byRoom(told.by_symmetry);
    if (!told.why) return;
    const { mends } = await ask("/wishes/mends", given);
    if (mine !== asked) return;
    inIt = { ...told, mends };
  } catch (error) {
    if (mine === asked) inIt = { why: error.message };
  }
  show();
}

function show() {
  line("measures", measures);
  line("in-it", measures.why ? {} : inIt);
  byId("find").disabled = Boolean(measures.why);
  const mends = measures.why ? measures.mends : inIt.mends ?? [];
  byId("mends").replaceChildren(...(mends ?? []).map(offered));
  if (!measures.why) ghost(byId("ghost"), measures.half_size, inIt.size ?? 0, outline);
}

function line(id, { words, why }) {
  const place = byId(id);
  if (place.textContent !== (why ?? words ?? "")) place.textContent = why ?? words ?? "";
  place.classList.toggle("amiss", Boolean(why));
}

function offered({ words, flags: mended }) {
  const button = element("button", words);
  button.type = "button";
  button.addEventListener("click", () => {
    for (const [name, value] of Object.entries(mended)) {
      const field = form.elements[name];
      if (name === "pairs") setPairs(value);
      else if (field && [...(field.length ? field : [field])].some((each) => each.value === value)) field.value = value;
      else taken[name] = value;
    }
    byId("find").focus();
    wish();
  });
  return button;
}

// The symmetries that give the print most room first.
function byRoom(rooms) {
  if (!rooms) return;
  const place = form.querySelector(".symmetries > div");
  const labels = [...place.querySelectorAll("[data-symmetry]")];
  for (const label of labels) label.classList.toggle("no-room", !rooms[label.dataset.symmetry]);
  const focused = document.activeElement;
  if (place.contains(focused)) return;
  const enough = (label) => Math.min(rooms[label.dataset.symmetry], begins || 12);
  labels.sort((one, other) => enough(other) - enough(one));
  place.append(...labels);
}

// Wishes that she made before, as the address has them.
function again() {
  for (const [name, value] of new URLSearchParams(location.search)) {
    if (name === "pairs") setPairs(value);
    else if (name === "turn") turned = Number(value);
    else if (name === "stitches") stitch(value.split(","));
    else if (form.elements[name]?.value !== undefined && name !== "of") form.elements[name].value = value;
  }
}

function stitch(wanted) {
  const least = new Map(wanted.map((each) => each.split(":")));
  for (const each of form.querySelectorAll("[data-stitch]")) {
    const name = each.dataset.stitch;
    each.value = !least.has(name) ? "no" : least.get(name) ? "must" : "may";
  }
}

function setPairs(value) {
  byId("pairs").value = byId("pairs-number").value = value;
}

byId("pairs").addEventListener("input", () => (byId("pairs-number").value = byId("pairs").value));
byId("pairs-number").addEventListener("input", () => (byId("pairs").value = byId("pairs-number").value));
form.addEventListener("input", (event) => event.target !== turn && wishSoon());
const wishSoon = lately(wish);

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  byId("find").disabled = true;
  try {
    const { study } = await ask("/find", { of, turn: turned, flags: flags() });
    location.assign(`/study/${encodeURIComponent(study)}`);
  } catch (error) {
    measures = { why: error.message, mends: [] };
    show();
    byId("find").disabled = false;
  }
});

again();
read();
