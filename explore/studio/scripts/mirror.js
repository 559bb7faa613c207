// A mirror that she slides along a strip: where a corner or a turnover can be worked lights up, with what it gives.

import { BROKE, ask, byId, drawn, listen } from "./house.js";

const page = byId("mirror"), base = `${page.dataset.study}/${page.dataset.number}/mirror`;
const { rows, across, box: [left, top, wide, high] } = JSON.parse(page.dataset.measures);
// The mirror slides along one repeat; half a one lies before it and behind it.
const FIRST = Math.floor(rows / 2);
// The dots stand beside the outer edge, clear of its fans.
const EDGE = left + wide - 0.2;
const over = byId("over"), where = byId("where"), kinds = [...document.getElementsByName("kind")];
const places = new Map(), taken = {};
let kind = "corner-down", at = 0, ended = false;

const key = (what, way, row) => `${what}-${way}-${row}`;
const rowAt = (place) => (FIRST + place) % rows;
const placeHere = (place = at) => places.get(key(...kind.split("-"), rowAt(place)));
const works = (place) => Boolean(placeHere(place)?.words);

over.setAttribute("viewBox", `${left} ${top} ${wide} ${high}`);
byId("strip").style.setProperty("--shape", `${wide} / ${high}`);
byId("strip").style.setProperty("--ratio", wide / high);
where.max = rows - 1;

// --- what is told -----------------------------------------------------------------------------------------

const stop = listen(`${base}/told`, (event) => {
  if (event.kind === "place") places.set(key(event.what, event.way, event.row), event);
  if (event.kind === "failed") {
    byId("doing").textContent = "";
    byId("amiss").textContent = BROKE;
    stop();
  }
  if (event.kind === "mirror") {
    for (const each of event.places) places.set(key(each.what, each.way, each.row), each);
    ended = true;
    byId("doing").textContent = event.places.length ? "Every place has been tried." : "No place along this strip gives a corner or a turnover.";
    stop();
  }
  show();
});

// --- what is seen -----------------------------------------------------------------------------------------

function show() {
  const [what, way] = kind.split("-"), y = FIRST + at, here = placeHere(), slant = way === "down" ? across : -across;
  const lights = Array.from({ length: rows }, (_, place) => {
    const one = placeHere(place), light = one?.words ? (one.changed ? "lit" : "lit whole") : one || ended ? "dark" : "untried";
    return drawn("circle", { cx: EDGE, cy: FIRST + place, r: light.startsWith("lit") ? 0.42 : 0.14, class: `${light}${place === at ? " now" : ""}` });
  });
  const line = what === "corner" ? { x1: EDGE, y1: y - (EDGE - across) * Math.sign(slant), x2: -1, y2: y + slant + Math.sign(slant) } : { x1: left, y1: y, x2: EDGE, y2: y };
  over.replaceChildren(...lights, drawn("line", { ...line, class: "glass" }));
  const name = what === "corner" ? "corner" : "turnover", working = works(at);
  byId("here").textContent = working ? `Row ${rowAt(at)}: a ${name} that can be worked, ${here.words}.`
    : here || ended ? `Row ${rowAt(at)}: no ${name} can be worked here.` : `Row ${rowAt(at)} has not been tried yet.`;
  where.value = at;
  where.setAttribute("aria-valuetext", byId("here").textContent);
  const image = byId("picture");
  image.hidden = !working;
  const address = `${base}/${key(what, way, rowAt(at))}.svg`;
  if (working && image.getAttribute("src") !== address) image.src = address;
  image.alt = working ? `The ${name} that the mirror gives at row ${rowAt(at)}` : "";
  byId("before").disabled = nearest(-1) === undefined;
  byId("after").disabled = nearest(1) === undefined;
  byId("take").disabled = !working;
  byId("take").textContent = `Take this ${name}`;
  told();
}

// The nearest place on one side that can be worked.
function nearest(by) {
  for (let place = at + by; place >= 0 && place < rows; place += by) if (works(place)) return place;
  return undefined;
}

function told() {
  const { corner, turnover } = taken, fits = corner && turnover && corner.way === turnover.way;
  const words = [corner && `corner at row ${corner.row}, and ${corner.way} from there`, turnover && `turnover at row ${turnover.row} for sides that go ${turnover.way}`];
  byId("taken").textContent = corner || turnover ? `You took: ${words.filter(Boolean).join("; ")}.${corner && turnover && !fits ? " They do not go together: the side goes one way." : ""}` : "";
  const numbered = fits && [corner, turnover].map(({ what, way, row }) => places.get(key(what, way, row)).number);
  const ready = Boolean(numbered && numbered.every(Boolean));
  byId("frame").disabled = !ready;
  byId("frame-line").hidden = !ready;
  if (ready) byId("frame-command").textContent = `${page.dataset.framing} --corner ${numbered[0]} --turnover ${numbered[1]}`;
  return numbered;
}

// --- what she does ----------------------------------------------------------------------------------------

function slide(to) {
  at = Math.min(Math.max(to, 0), rows - 1);
  show();
}

where.addEventListener("input", () => slide(Number(where.value)));
byId("before").addEventListener("click", () => slide(nearest(-1)));
byId("after").addEventListener("click", () => slide(nearest(1)));
for (const each of kinds) {
  each.addEventListener("change", () => {
    kind = each.value;
    show();
  });
}

const under = (event) => {
  const seen = over.getBoundingClientRect();
  slide(Math.round(top + ((event.clientY - seen.top) / seen.height) * high) - FIRST);
};
over.addEventListener("pointerdown", (event) => {
  over.setPointerCapture(event.pointerId);
  under(event);
});
over.addEventListener("pointermove", (event) => over.hasPointerCapture(event.pointerId) && under(event));

byId("take").addEventListener("click", () => {
  const here = placeHere();
  taken[here.what] = here;
  // A corner wants a turnover next, of sides that go its way.
  if (here.what === "corner" && taken.turnover?.way !== here.way) {
    kind = `turnover-${here.way}`;
    for (const each of kinds) each.checked = each.value === kind;
  }
  show();
});
byId("frame").addEventListener("click", async () => {
  const [corner, turnover] = told();
  byId("amiss").textContent = "";
  byId("frame").disabled = true;
  byId("doing").textContent = "The frame is being made.";
  try {
    await ask(`${base}/frame`, { corner, turnover });
    location.assign(page.dataset.study);
  } catch (error) {
    byId("doing").textContent = "";
    byId("amiss").textContent = error.message;
    byId("frame").disabled = false;
  }
});
show();
