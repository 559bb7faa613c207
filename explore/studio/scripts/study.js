// A study on the table: squares as they are found, which of them she keeps, and one of them large.

import { Called, called, ask, byId, element, inked, listen, tell } from "./house.js";
import { coloured } from "./colours.js";
import { large, openLarge } from "./large.js";
import { taste, wished } from "./more.js";

const study = byId("study"), name = study.dataset.name;
const again = JSON.parse(study.dataset.again);
export const base = `/study/${encodeURIComponent(name)}`;
const squares = new Map();
let marks = { kept: [], away: [], notes: {}, stays: [], colours: { ink: "" }, undo: 0, redo: 0 }, fades = {};
let kept = new Set(), away = new Set();
let look = "drawing", filter = "all";

export const state = (number) => (kept.has(number) ? "kept" : away.has(number) ? "away" : "");
// What is kept or was brought back does not fade.
const isFaded = (number) => number in fades && !state(number) && !marks.stays.includes(number);
const isShown = (number) => (filter === "all" ? !away.has(number) && !isFaded(number) : filter === "faded" ? isFaded(number) : filter === state(number));
export const noteOn = (number) => marks.notes[number] ?? "";
export const picture = (number, wanted = look) => `${base}/${number}/${wanted}.svg?at=${squares.get(number).at}${inked(wanted, marks.colours.ink)}`;
export const square = (number) => squares.get(number);
export const theLook = () => look;

// --- what is told -----------------------------------------------------------------------------------------

listen(`${base}/told`, (event, order) => {
  ({ square: found, facts: explained, marks: marked, wishes: wished, faded, search: searched })[event.kind](event, order);
});

function found({ number, at }) {
  const known = squares.get(number);
  squares.set(number, { few: [], facts: [], surely: 0, corners: true, ...known, number, at });
  if (known) {
    known.card.querySelector("img").src = picture(number);
    return;
  }
  squares.get(number).card = carded(number);
  // They come in their order, but for one that another command writes.
  let following = null;
  for (let last = byId("squares").lastElementChild; last && Number(last.dataset.number) > number; last = last.previousElementSibling) following = last;
  byId("squares").insertBefore(squares.get(number).card, following);
  dress(number);
  count();
}

function explained(event) {
  const one = squares.get(event.number);
  if (!one) return;
  Object.assign(one, { few: event.few, facts: event.facts, surely: event.surely, corners: event.corners });
  dress(event.number);
  if (large() === event.number) openLarge(event.number);
}

// The squares that two states of the marks tell otherwise.
function touched(one, other) {
  const either = [...one.kept, ...other.kept, ...one.away, ...other.away, ...one.stays, ...other.stays, ...Object.keys(one.notes), ...Object.keys(other.notes)];
  const told = ({ kept: its, away: off, stays, notes }) => [new Set(its), new Set(off), new Set(stays), notes];
  const [[k, a, s, n], [K, A, S, N]] = [told(one), told(other)];
  return new Set(either.map(Number).filter((each) => k.has(each) !== K.has(each) || a.has(each) !== A.has(each) || s.has(each) !== S.has(each) || n[each] !== N[each]));
}

// Squares that the wishes of the study no longer hold of.
function faded({ whys }) {
  fades = whys;
  redress();
  count();
}

let newest = 0;

// An answer may come after what was told of later changes.
function marked(event, order) {
  if (order < newest) return;
  newest = order;
  const before = marks;
  marks = event;
  kept = new Set(marks.kept);
  away = new Set(marks.away);
  byId("pick-command").textContent = marks.command;
  byId("undo").disabled = !marks.undo;
  byId("redo").disabled = !marks.redo;
  if (before.colours.ink !== marks.colours.ink) {
    coloured(marks.colours);
    if (look === "lace") repaint();
  }
  for (const number of touched(before, marks)) if (squares.has(number)) dress(number);
  if (large()) openLarge(large());
  count();
  taste(marks.liking);
}

let searching = {};

function searched(event) {
  searching = event;
  const looking = event.state !== "ended";
  byId("search").textContent = event.state === "looking" && !event.words ? `Looking: ${event.found} of ${event.wanted} found.`
    : event.state === "mending" ? `${event.words} Looking for what mends it.` : event.words;
  byId("stop").hidden = event.state !== "looking";
  if (byId("more")) byId("more").parentElement.classList.toggle("looking", looking);
  if (byId("more")) byId("more").hidden = looking || !squares.size;
  byId("progress").hidden = event.state !== "looking";
  byId("progress").max = event.wanted || 1;
  byId("progress").value = event.found || 0;
  byId("mends").replaceChildren(...(event.mends ?? []).map(mended));
  count();
}

function mended({ words, flags }) {
  const button = element("button", `Try ${words}`, "main");
  button.type = "button";
  button.addEventListener("click", () => attempt(async () => {
    const told = await ask("/find", { ...again, flags: { ...again.flags, ...flags } });
    location.assign(`/study/${encodeURIComponent(told.study)}`);
  }));
  return button;
}

// --- a square among others --------------------------------------------------------------------------------

function carded(number) {
  const card = element("li", "", "square"), show = element("button", "", "show"), image = element("img");
  card.dataset.number = number;
  image.loading = "lazy";
  image.alt = Called(number);
  image.src = picture(number);
  show.type = "button";
  show.append(image);
  show.addEventListener("click", () => openLarge(number, true));
  const decide = element("div", "", "row");
  for (const [wanted, words] of [["kept", "Keep"], ["away", "Put away"]]) {
    const button = element("button", words);
    button.type = "button";
    button.dataset.wanted = wanted;
    button.setAttribute("aria-label", `${words} ${called(number)}`);
    button.addEventListener("click", () => mark(number, button.dataset.wanted));
    decide.append(button);
  }
  card.append(show, element("p", "", "few"), element("p", "", "note"), decide);
  return card;
}

function dress(number) {
  const { card, few } = squares.get(number), now = state(number);
  card.className = ["square", now, number === large() ? "chosen" : "", look === "lace" ? "lace" : ""].join(" ").trim();
  const fading = isFaded(number);
  card.classList.toggle("faded", fading);
  card.querySelector(".few").replaceChildren(element("strong", `${number} `), fading ? fades[number] : few.join(", "));
  card.querySelector(".note").textContent = noteOn(number);
  card.querySelector(".note").hidden = !noteOn(number);
  for (const button of card.querySelectorAll("[data-wanted]")) button.setAttribute("aria-pressed", button.dataset.wanted === now);
  const other = card.querySelector("[data-wanted=away], [data-wanted=stays]"), words = fading ? "Bring back" : "Put away";
  if (other.textContent !== words) {
    other.textContent = words;
    other.dataset.wanted = fading ? "stays" : "away";
    other.setAttribute("aria-label", `${words} ${called(number)}`);
  }
  card.hidden = !isShown(number);
}

// Once for all that comes within a picture of the screen.
let counting = 0;
function count() {
  counting ||= requestAnimationFrame(counted);
}

function counted() {
  counting = 0;
  const shown = shownNumbers().length;
  const lost = [...squares.keys()].filter(isFaded).length;
  const many = { all: squares.size - marks.away.length - lost, kept: marks.kept.length, away: marks.away.length, faded: lost };
  document.querySelector("[data-filter=faded]").hidden = !lost && filter !== "faded";
  for (const button of document.querySelectorAll("[data-filter]")) {
    const words = { all: "All", kept: "Kept", away: "Put away", faded: "Faded" }[button.dataset.filter];
    button.textContent = `${words} (${Math.max(0, many[button.dataset.filter])})`;
  }
  byId("none").textContent = shown ? "" : squares.size
    ? { kept: "None is kept yet. Press Keep under one that you like.", away: "None is put away.", all: "All are put away or faded.", faded: "None is faded." }[filter]
    : searching.state === "looking" ? "The first one comes in a moment." : "";
  byId("tools").hidden = !squares.size;
  byId("on").hidden = !marks.kept.length;
  byId("on").textContent = `To the papers of ${marks.kept.length === 1 ? "the one that you kept" : `the ${marks.kept.length} that you kept`}`;
  if (byId("more") && searching.state === undefined) byId("more").hidden = !squares.size;
  byId("pick-line").hidden = !marks.kept.length;
}

export function shownNumbers() {
  return [...squares.keys()].filter(isShown).sort((one, other) => one - other);
}

export function redress() {
  for (const number of squares.keys()) dress(number);
}

// --- what she does ----------------------------------------------------------------------------------------

export async function attempt(act) {
  byId("amiss").textContent = "";
  try {
    await act();
  } catch (error) {
    byId("amiss").textContent = error.message;
  }
}

export function mark(number, wanted) {
  const after = state(number) === wanted ? "" : wanted;
  return change(`${base}/mark`, { number, state: after }, `${Called(number)} is ${{ kept: "kept", away: "put away", stays: "among the others again", "": "neither kept nor put away" }[after]}.`);
}

export function setNote(number, note) {
  return change(`${base}/mark`, { number, note }, "The note is kept.");
}

export function change(address, given, words) {
  return attempt(async () => {
    const told = await ask(address, given);
    marked(told, told.order);
    tell(words);
  });
}

byId("undo").addEventListener("click", () => change(`${base}/undo`, {}, "Taken back."));
byId("redo").addEventListener("click", () => change(`${base}/redo`, {}, "Done again."));
byId("stop").addEventListener("click", () => attempt(() => ask(`${base}/stop`, {})));
byId("like").addEventListener("submit", (event) => {
  event.preventDefault();
  const wish = new FormData(byId("like"));
  attempt(async () => {
    const told = await ask(`${base}/${large()}/like`, { amount: wish.get("amount"), keep: wish.getAll("keep") });
    location.assign(`/study/${encodeURIComponent(told.study)}`);
  });
});
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.target.matches("textarea, input[type=number]")) return;
  const back = event.key === "z" && !event.shiftKey, forth = event.key === "y" || (event.key.toLowerCase() === "z" && event.shiftKey);
  if (!back && !forth) return;
  event.preventDefault();
  byId(back ? "undo" : "redo").click();
});

for (const button of document.querySelectorAll("[data-filter]")) {
  button.addEventListener("click", () => {
    filter = button.dataset.filter;
    for (const each of document.querySelectorAll("[data-filter]")) each.setAttribute("aria-pressed", each === button);
    redress();
    count();
  });
}

function repaint() {
  for (const number of squares.keys()) squares.get(number).card.querySelector("img").src = picture(number);
}

export function setLook(wanted) {
  if (wanted === look) return;
  look = wanted;
  for (const each of document.querySelectorAll("[data-look]")) each.setAttribute("aria-pressed", each.dataset.look === look);
  repaint();
  redress();
  if (large()) openLarge(large());
}

for (const button of document.querySelectorAll("[data-look]")) {
  button.addEventListener("click", () => setLook(button.dataset.look));
}
