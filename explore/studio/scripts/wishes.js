// What she wishes to have made of a print: what it comes to follows at once, and what mends it where it cannot be had.

import { ask, byId, element, lately, tell } from "./house.js";
import { formDrawn, ghost, symmetryDrawn } from "./ghost.js";

const form = byId("wishes");
// The print that all pages of this kind are about. begins: the size from which it is known, null while that is open.
export const print = { of: form.dataset.of, turn: null, outline: "", begins: null };
// Mends that no field shows, such as taking the print hardly known.
let taken = {};
const others = byId("more-edgings");
let measures = {}, inIt = {};

const theForm = () => form.elements.form.value;

export function pictures() {
  for (const label of form.querySelectorAll("[data-form]")) formDrawn(label, print.outline);
  for (const label of form.querySelectorAll("[data-symmetry]")) symmetryDrawn(label, print.outline);
}

// --- what she says ----------------------------------------------------------------------------------------

function flags() {
  const given = {};
  for (const [name, value] of new FormData(form)) if (value) given[name] = value + (form.elements[name].dataset?.unit ?? "");
  if (given.form === "square") delete given.form;
  const stitches = [...form.querySelectorAll("[data-stitch]")];
  if (stitches.some((each) => each.value !== each.dataset.usual)) {
    const wanted = stitches.filter((each) => each.value !== "no");
    given.stitches = wanted.map((each) => each.dataset.stitch + (each.value === "must" ? ":1" : "")).join(",");
  }
  return { ...given, ...taken };
}

function wanted() {
  return { of: print.of, turn: print.turn, flags: flags() };
}

// What does not go with the form is not shown, and not sent.
function dressed() {
  const now = theForm(), edged = form.elements.edging.value;
  for (const each of form.querySelectorAll("[data-forms]")) {
    each.hidden = each.disabled = !each.dataset.forms.split(" ").includes(now) || (each.id === "sides" && !edged);
  }
  for (const label of form.querySelectorAll("[data-of]")) label.hidden = label.querySelector("input").disabled = label.dataset.of !== now;
  if (form.querySelector("#symmetries [data-of] :checked:disabled")) form.elements.symmetry.value = "";
  byId("find").textContent = form.querySelector(`[data-form="${now}"]`).dataset.find;
}

// --- what it comes to -------------------------------------------------------------------------------------

let asked = 0, looking = false;

// Its size is told at once. Where the print lies takes longer: it is looked at once at a time, and then for the wishes
// of that moment.
export async function wish() {
  const mine = ++asked, given = wanted();
  let told;
  try {
    told = await ask("/wishes", given);
    byId("find-command").textContent = told.command;
  } catch (error) {
    told = { why: error.message, unread: true };
  }
  if (mine !== asked) return;
  measures = told;
  // What was said of other wishes is not true of these.
  inIt = {};
  show();
  if (looking) return;
  looking = true;
  for (let seen = 0; seen !== asked;) {
    seen = asked;
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
    if (still()) byRoom(rooms);
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
    for (const [name, value] of Object.entries(mended)) if (!set(name, value)) taken[name] = value;
    dressed();
    // What is pressed goes away: the focus stays near it.
    byId("find").disabled = false;
    byId("find").focus();
    wish();
  });
  return button;
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

// --- wishes by their names --------------------------------------------------------------------------------

// Sets a field; false if none can hold that value.
function set(name, value) {
  const field = form.elements[name];
  if (name === "pairs") byId("pairs").value = byId("pairs-number").value = value;
  else if (name === "stitches") stitch(value.split(","));
  else if (field?.dataset?.unit && value.endsWith(field.dataset.unit)) field.value = parseFloat(value);
  else if (field?.type === "number") field.value = value;
  else {
    // Of two that are called so the one that goes with the form.
    const fit = [...(field?.length ? field : [])].find((each) => each.value === value && !each.disabled);
    if (!fit) return false;
    fit[fit.type === "radio" ? "checked" : "selected"] = true;
  }
  delete taken[name];
  return true;
}

function stitch(names) {
  const least = new Map(names.map((each) => each.split(":")));
  for (const each of form.querySelectorAll("[data-stitch]")) {
    const name = each.dataset.stitch;
    each.value = !least.has(name) ? "no" : least.get(name) ? "must" : "may";
  }
}

// Wishes that she made before, as the address has them.
export function again() {
  const made = new URLSearchParams(location.search);
  set("form", made.get("form") ?? "square");
  dressed();
  for (const [name, value] of made) {
    if (name === "turn") print.turn = Number(value);
    else if (name !== "of" && !set(name, value)) taken[name] = value;
  }
  if (others.contains(form.querySelector("[name=edging]:checked"))) others.open = true;
  dressed();
}

byId("pairs").addEventListener("input", () => (byId("pairs-number").value = byId("pairs").value));
byId("pairs-number").addEventListener("input", () => (byId("pairs").value = byId("pairs-number").value));
const soon = lately(wish);
form.addEventListener("input", (event) => {
  if (event.target.id === "turn") return;
  if (event.target.name === "form") taken = {};
  if (["form", "edging"].includes(event.target.name)) dressed();
  soon();
});

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
