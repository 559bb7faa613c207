// The fields in which she says what she wishes, and the wishes that no field shows.

import { byId } from "./house.js";

export const form = byId("wishes");
// Wishes that no field shows, such as taking the print hardly known.
let taken = {};
// A measure in mm takes the place of one in pitches, and the other way round.
const INSTEAD = { width: "half_size", height: "half_height", half_size: "width", half_height: "height" };

export const theForm = () => form.elements.form.value;
export const beside = () => Object.keys(taken);

export function flags() {
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

// What does not go with the form is not shown, and not sent.
export function dressed() {
  const now = theForm(), edged = form.elements.edging.value;
  for (const each of form.querySelectorAll("[data-forms]")) {
    const off = !each.dataset.forms.split(" ").includes(now) || (each.id === "sides" && !edged);
    each.hidden = off;
    if (each.matches("fieldset")) each.disabled = off;
    else each.querySelector("input").disabled = off;
  }
  for (const label of form.querySelectorAll("[data-of]")) label.hidden = label.querySelector("input").disabled = label.dataset.of !== now;
  if (form.querySelector("#symmetries [data-of] :checked:disabled")) form.elements.symmetry.value = "";
  byId("find").textContent = form.querySelector(`[data-form="${now}"]`).dataset.find;
}

// Sets a field; false if none can hold that value.
function set(name, value) {
  const field = form.elements[name];
  if (name === "pairs") byId("pairs").value = byId("pairs-number").value = value;
  else if (name === "stitches") stitch(value.split(","));
  else if (field?.dataset?.unit && value.endsWith(field.dataset.unit)) field.value = parseFloat(value);
  else if (field?.type === "number") field.value = value;
  else if (name === "pitch") pitch(value === "5mm" ? "" : value);
  else {
    // Of two that are called so the one that goes with the form.
    const fit = [...(field?.length ? field : [])].find((each) => each.value === value && !each.disabled);
    if (!fit) return false;
    fit[fit.type === "radio" ? "checked" : "selected"] = true;
  }
  delete taken[name];
  return true;
}

// One that fits something is none of the usual ones.
function pitch(value) {
  const field = form.elements.pitch;
  if (![...field.options].some((each) => each.value === value)) field.append(new Option(value.replace("mm", " mm"), value));
  field.value = value;
}

function stitch(names) {
  const least = new Map(names.map((each) => each.split(":")));
  for (const each of form.querySelectorAll("[data-stitch]")) {
    const name = each.dataset.stitch;
    each.value = !least.has(name) ? "no" : least.get(name) ? "must" : "may";
  }
}

// Wishes made at once, such as those that mend others.
export function take(wishes) {
  if (wishes.form && wishes.form !== theForm()) {
    taken = {};
    set("form", wishes.form);
    dressed();
  }
  for (const [name, value] of Object.entries(wishes)) {
    if (!set(name, value)) taken[name] = value;
    leave(INSTEAD[name]);
  }
  dressed();
}

export function leave(name) {
  delete taken[name];
  if (form.elements[name]?.type === "number") form.elements[name].value = "";
}

byId("pairs").addEventListener("input", () => (byId("pairs-number").value = byId("pairs").value));
byId("pairs-number").addEventListener("input", () => (byId("pairs").value = byId("pairs-number").value));
form.addEventListener("input", ({ target: { name, value } }) => {
  if (name === "form") taken = {};
  delete taken[name];
  if (value) leave(INSTEAD[name]);
  if (name === "form" || name === "edging") dressed();
});
