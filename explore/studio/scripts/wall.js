// A wall: kept squares put into frames by pressing or dragging, the rest found, and the papers of all of them.

import { ask, byId, element, lately, listen, tell } from "./house.js";

const page = byId("wall"), base = page.dataset.base;
const fewest = Number(page.dataset.fewest), most = Number(page.dataset.most);
const at = new Map();
const empty = JSON.parse(page.dataset.empty);
let wall = empty, marks = { kept: [], undo: 0, redo: 0 };
// The square that she has pressed, 0 for none, and the frame that it was in, -1 for none.
let hand = 0, from = -1, newest = 0;

const picture = (number) => `${base}/${number}/drawing.svg?at=${at.get(number)}`;

// --- what is told -----------------------------------------------------------------------------------------

listen(`${base}/told`, (event, order) => {
  if (event.kind === "square") {
    at.set(event.number, event.at);
    draw();
  } else if (event.kind === "marks") marked(event, order);
  else if (event.kind === "search") searched(event);
});

function marked(event, order) {
  if (order < newest) return;
  newest = order;
  marks = event;
  wall = { ...empty, ...event.wall };
  if (document.activeElement !== byId("title")) byId("title").value = wall.title;
  byId("share").value = wall.share;
  draw();
  papers();
}

function searched(event) {
  const looking = event.state === "looking";
  byId("search").textContent = looking && !event.words ? "Looking for squares that belong." : event.words;
  byId("stop").hidden = !looking;
  byId("grow").disabled = byId("fill").disabled = looking;
  byId("progress").hidden = !looking;
  byId("progress").max = event.wanted || 1;
  byId("progress").value = event.found || 0;
}

// --- what is seen -----------------------------------------------------------------------------------------

// Buttons stay while what they show changes, so that the focus stays too.
function shown(list, count, make) {
  while (list.children.length > count) list.lastElementChild.remove();
  while (list.children.length < count) {
    const item = element("li"), button = element("button");
    button.type = "button";
    make(button, list.children.length);
    item.append(button);
    list.append(item);
  }
  return [...list.children].map((item) => item.firstElementChild);
}

function show(button, number, words, place) {
  const pressed = Boolean(number) && number === hand;
  if (button.dataset.shows !== `${number} ${at.get(number)} ${place}`) {
    button.dataset.shows = `${number} ${at.get(number)} ${place}`;
    const parts = [];
    if (number && at.has(number)) {
      const image = element("img");
      image.src = picture(number);
      image.alt = "";
      parts.push(image);
    }
    if (place) parts.push(element("span", place, "place"));
    button.replaceChildren(...parts);
  }
  button.dataset.number = number;
  button.draggable = Boolean(number);
  button.setAttribute("aria-label", words);
  button.setAttribute("aria-pressed", pressed);
}

// Once for all that comes within a picture of the screen.
let drawing = 0;
const draw = () => (drawing ||= requestAnimationFrame(drawn));

function drawn() {
  drawing = 0;
  const frames = shown(byId("frames"), wall.frames.length, framed);
  byId("frames").style.setProperty("--columns", Math.ceil(Math.sqrt(wall.frames.length)));
  frames.forEach((button, place) => {
    const number = wall.frames[place];
    button.classList.toggle("bare", !number);
    entitled(button, number, place, wall.frames.slice(0, place + 1).filter(Boolean).length);
    show(button, number, number ? `Frame ${place + 1}: square ${number}` : `Frame ${place + 1}, empty`, number ? `${number}` : `${place + 1}`);
  });
  const left = marks.kept.filter((number) => !wall.frames.includes(number) && at.has(number));
  shown(byId("shelf"), left.length, shelved).forEach((button, place) => show(button, left[place], `Square ${left[place]}`, ""));
  byId("none").hidden = Boolean(left.length);
  byId("many").textContent = `${wall.frames.length} frames`;
  byId("fewer").disabled = wall.frames.length <= fewest;
  byId("further").disabled = wall.frames.length >= most;
  byId("undo").disabled = !marks.undo;
  byId("redo").disabled = !marks.redo;
  byId("in-hand").hidden = !hand;
  byId("hand-name").textContent = `Square ${hand}`;
  byId("take-off").hidden = byId("another").hidden = from < 0;
  const full = !wall.frames.includes(0);
  byId("grow").hidden = byId("fill").hidden = full;
  byId("write").disabled = wall.frames.filter(Boolean).length < fewest;
}

// The field below a frame for the title of what hangs in it. order: which of those that hang it is.
function entitled(button, number, place, order) {
  let field = button.nextElementSibling;
  if (!field) {
    field = element("input", "", "entitled");
    field.maxLength = 120;
    field.autocomplete = "off";
    const hers = field, keep = () => {
      const own = Number(hers.dataset.number);
      if (own && hers.value !== (wall.titles[own] ?? "")) hang({ titles: { ...wall.titles, [own]: hers.value } });
    };
    field.addEventListener("input", lately(keep, 700));
    field.addEventListener("change", keep);
    window.addEventListener("pagehide", keep);
    button.after(field);
  }
  const other = field.dataset.number !== `${number}`;
  field.dataset.number = number;
  field.hidden = !number;
  field.placeholder = `No. ${order}`;
  field.setAttribute("aria-label", `Title of square ${number}, in frame ${place + 1}`);
  if (other || document.activeElement !== field) field.value = wall.titles[number] ?? "";
}

function framed(button, place) {
  button.addEventListener("click", () => {
    const number = Number(button.dataset.number);
    if (hand && hand !== number) put(place);
    else take(hand === number ? 0 : number, place);
  });
  button.addEventListener("dragstart", (event) => begin(event, Number(button.dataset.number), place));
  button.addEventListener("dragover", (event) => {
    event.preventDefault();
    button.classList.add("over");
  });
  button.addEventListener("dragleave", () => button.classList.remove("over"));
  button.addEventListener("drop", (event) => {
    event.preventDefault();
    button.classList.remove("over");
    if (hand) put(place);
  });
  button.addEventListener("dragend", () => take(0));
}

function shelved(button) {
  button.addEventListener("click", () => {
    const number = Number(button.dataset.number);
    take(hand === number ? 0 : number);
  });
  button.addEventListener("dragstart", (event) => begin(event, Number(button.dataset.number), -1));
  button.addEventListener("dragend", () => take(0));
}

// --- what she does ----------------------------------------------------------------------------------------

async function attempt(act) {
  byId("amiss").textContent = "";
  try {
    await act();
  } catch (error) {
    byId("amiss").textContent = error.message;
    draw();
  }
}

function take(number, place = -1) {
  hand = number;
  from = number ? place : -1;
  tell(number ? `Square ${number} is in your hand; press a frame.` : "");
  draw();
}

function begin(event, number, place) {
  event.dataTransfer.setData("text/plain", `${number}`);
  event.dataTransfer.effectAllowed = "move";
  hand = number;
  from = place;
}

function put(place) {
  const frames = [...wall.frames], number = hand;
  if (from >= 0) frames[from] = frames[place];
  frames[place] = number;
  take(0);
  hang({ frames }, `Square ${number} hangs in frame ${place + 1}.`);
}

// What she changes is seen at once; it is kept a moment later.
function hang(change, words) {
  byId("search").textContent = "";
  wall = { ...wall, ...change };
  draw();
  return attempt(async () => {
    const told = await ask(`${base}/wall/hang`, wall);
    marked(told, told.order);
    if (words) tell(words);
  });
}

byId("lay-down").addEventListener("click", () => take(0));
byId("take-off").addEventListener("click", () => {
  const frames = wall.frames.with(from, 0), number = hand;
  take(0);
  hang({ frames }, `Square ${number} is off the wall.`);
});
byId("another").addEventListener("click", () => {
  const number = hand, frames = wall.frames.with(from, 0);
  take(0);
  attempt(async () => {
    const told = await ask(`${base}/wall/fill`, { ...wall, frames, without: number });
    marked(told, told.order);
    tell("Another one hangs there.");
  });
});
byId("fewer").addEventListener("click", () => {
  // An empty frame goes first.
  const bare = wall.frames.lastIndexOf(0);
  hang({ frames: wall.frames.toSpliced(bare < 0 ? -1 : bare, 1) });
});
byId("further").addEventListener("click", () => hang({ frames: [...wall.frames, 0] }));
const entitle = () => byId("title").value !== wall.title && hang({ title: byId("title").value });
byId("title").addEventListener("input", lately(entitle, 700));
byId("title").addEventListener("change", entitle);
window.addEventListener("pagehide", entitle);
byId("share").addEventListener("change", () => hang({ share: byId("share").value }));
for (const way of ["undo", "redo"]) {
  byId(way).addEventListener("click", () => attempt(async () => {
    const told = await ask(`${base}/${way}`, {});
    byId("search").textContent = "";
    marked(told, told.order);
  }));
}
byId("fill").addEventListener("click", () => attempt(async () => {
  const told = await ask(`${base}/wall/fill`, wall);
  marked(told, told.order);
  const bare = told.wall.frames.filter((each) => !each).length;
  byId("search").textContent = bare ? `No more of these squares belong: ${bare} of the frames stay empty.` : "Every frame is filled.";
}));
byId("grow").addEventListener("click", () => attempt(() => ask(`${base}/wall/grow`, wall)));
byId("stop").addEventListener("click", () => attempt(() => ask(`${base}/stop`, {})));
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && hand) take(0);
});

// --- the papers -------------------------------------------------------------------------------------------

const papers = lately(async () => {
  let told;
  try {
    told = await ask(`${base}/wall/papers`);
  } catch (error) {
    byId("amiss").textContent = error.message;
    return;
  }
  byId("command").textContent = told.command;
  byId("titles-file").hidden = !told.titles;
  byId("titles-name").textContent = told.titles_file;
  byId("titles").textContent = told.titles;
  byId("papers").hidden = !told.at;
  if (told.busy) follow();
  if (!told.at) return;
  byId("sheet-picture").src = `${base}/wall/papers/exhibition.png?at=${told.at}`;
  for (const [link, file] of [["sheet", "exhibition"], ["labels", "labels"], ["catalogue", "catalogue"]]) byId(link).href = `${base}/wall/papers/${file}.pdf`;
  byId("hung").href = `/study/${encodeURIComponent(told.study)}`;
}, 300);

let following = null;
function follow() {
  following ??= listen(`${base}/wall/progress`, (event) => {
    byId("writing").textContent = event.kind !== "ended" ? `They are made: ${event.part}.` : event.why || "They are made.";
    byId("write").disabled = event.kind !== "ended";
    if (event.kind !== "ended") return;
    following();
    following = null;
    papers();
  });
}
byId("write").addEventListener("click", () => attempt(async () => {
  byId("write").disabled = true;
  await ask(`${base}/wall/write`, wall);
  follow();
}));
