// What she wishes to have made of a print: what it comes to follows at once, and what mends it where it cannot be had.

import { ask, byId, element, lately, tell } from "./house.js";
import { beside, dressed, flags, form, leave, take, theForm } from "./fields.js";
import { formDrawn, ghost, symmetryDrawn } from "./ghost.js";

// The print that the page is about. begins: the size from which it is known, null while that is open.
// beside: other prints in the same piece; places: of each, the page's own first, where it lies.
export const print = { of: form.dataset.of, turn: null, outline: "", begins: null, beside: [], places: [] };
let measures = {}, inIt = {};

export function wanted() {
  const { of, turn, beside } = print;
  // In a strip they follow each other.
  return { of, turn, beside, places: theForm() === "strip" ? [] : print.places, flags: flags() };
}

export function pictures() {
  for (const label of form.querySelectorAll("[data-form]")) formDrawn(label, print.outline);
  for (const label of form.querySelectorAll("[data-symmetry]")) symmetryDrawn(label, print.outline);
}

// --- what it comes to -------------------------------------------------------------------------------------

let asked = 0, answered = 0, looking = false;

// Its size is told at once. Where the print lies takes longer: it is looked at once at a time, and then for the wishes
// of that moment.
export async function wish() {
  const mine = ++asked, given = wanted();
  let told;
  try {
    told = await ask("/wishes", given);
  } catch (error) {
    told = { why: error.message, unread: true };
  }
  if (mine !== asked) return;
  if (told.command) byId("find-command").textContent = told.command;
  measures = told;
  answered = mine;
  showTaken(told.each ?? {});
  // What was said of other wishes is not true of these.
  inIt = {};
  show();
  if (looking) return;
  looking = true;
  for (let seen = 0; seen !== answered;) {
    seen = answered;
    if (!measures.unread) await (measures.why ? mend : look)(() => seen === asked);
  }
  looking = false;
}

async function mend(still) {
  try {
    const { mends } = await ask("/wishes/mends", wanted());
    if (!still()) return;
    measures = { ...measures, mends };
    show();
  } catch {
    // What cannot be had is told already.
  }
}

// While she thinks, the studio begins with the squares that it will look for; other pieces gain nothing by it.
const ahead = lately(() => ask("/wishes/ahead", wanted()).catch(() => {}), 700);

async function look(still) {
  const given = wanted();
  try {
    const told = await ask("/wishes/room", given);
    if (!still()) return;
    inIt = told;
    if (told.laid?.words) measures = { ...measures, ...told.laid };
    show();
    if (told.why) {
      const { mends } = await ask("/wishes/mends", given);
      if (!still()) return;
      inIt = { ...told, mends };
      show();
    }
    const rooms = Object.keys(told.by_symmetry).length || byId("symmetries").hidden ? told : await ask("/wishes/symmetries", given);
    if (!still()) return;
    byRoom(rooms);
    if (!told.why && theForm() === "square" && !print.beside.length) ahead();
  } catch (error) {
    if (!still()) return;
    inIt = { why: error.message };
    show();
  }
}

function show() {
  line("measures", measures);
  line("in-it", measures.why ? {} : inIt);
  byId("find").disabled = Boolean(measures.why);
  const mends = measures.why ? measures.mends : inIt.mends;
  byId("mends").replaceChildren(...(mends ?? []).map(offered));
  if (measures.why) return;
  for (const id of ["ghost", "little"]) ghost(byId(id), inIt.laid?.outline ?? measures.outline, inIt.size ?? 0, inIt.laid?.prints, print.outline);
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
    take(mended);
    wish();
    // What is pressed goes away: the focus stays near it.
    byId("find").disabled = false;
    byId("find").focus();
  });
  return button;
}

// What no field shows, each to be let go.
function showTaken(words) {
  byId("taken").replaceChildren(...beside().map((name) => {
    const item = element("li"), button = element("button", `${words[name] ?? name} \u00d7`);
    button.type = "button";
    button.setAttribute("aria-label", `Let go: ${words[name] ?? name}`);
    button.addEventListener("click", () => {
      leave(name);
      byId("pairs-number").focus();
      wish();
    });
    item.append(button);
    return item;
  }));
}

// The symmetries that give the print most room first.
function byRoom({ by_symmetry: rooms }) {
  const place = form.querySelector("#symmetries > div");
  const labels = [...place.querySelectorAll(`[data-of="${theForm()}"]`)];
  for (const label of labels) label.classList.toggle("no-room", rooms[label.dataset.symmetry] === 0);
  if (place.contains(document.activeElement)) return;
  const enough = (label) => Math.min(rooms[label.dataset.symmetry] ?? 0, print.begins || 12);
  labels.sort((one, other) => enough(other) - enough(one));
  place.append(...labels);
}

// Wishes that she made before, as the address has them.
export function again() {
  const address = new URLSearchParams(location.search);
  print.beside = address.getAll("beside");
  print.places = address.getAll("place");
  const { of, turn, beside, place, ...made } = Object.fromEntries(address);
  if (turn) print.turn = Number(turn);
  dressed();
  take(made);
  const others = byId("more-edgings");
  if (others.contains(form.querySelector("[name=edging]:checked"))) others.open = true;
}

const soon = lately(wish);
form.addEventListener("input", ({ target }) => (target.name || target.id === "pairs" || target.dataset.stitch) && soon());

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  byId("find").disabled = true;
  tell("They are looked for.");
  try {
    const { study } = await ask("/find", wanted());
    location.assign(`/study/${encodeURIComponent(study)}`);
  } catch (error) {
    measures = { why: error.message };
    show();
    byId("find").disabled = false;
  }
});
