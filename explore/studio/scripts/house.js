// What every page of the studio does: asks the server, tells in words, makes drawings.

const SVG = "http://www.w3.org/2000/svg";

export function byId(id) {
  return document.getElementById(id);
}

export function element(name, words = "", classes = "") {
  const made = document.createElement(name);
  if (words) made.textContent = words;
  if (classes) made.className = classes;
  return made;
}

export function drawn(name, attributes) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

// What the pieces of a study are called: "square 3", and where a sentence begins "Square 3".
const WHAT = document.body.dataset.what ?? "square";
export const called = (number) => `${WHAT} ${number}`;
export const Called = (number) => `${WHAT[0].toUpperCase()}${called(number).slice(1)}`;

// One quiet line for whoever reads with ears.
export function tell(words) {
  byId("told").textContent = words;
}

// Of what is worked out for a page and came to no end.
export const BROKE = "The search broke off; the terminal in which the studio was begun tells more.";

// What the address of a drawing says besides, where it is lace in her colours.
export const inked = (look, ink) => (look === "drawing" ? "" : `&in=${ink}`);

// Asks the server. What it refuses is an error whose message is one line for her.
export async function ask(address, given) {
  const body = given === undefined || given instanceof Blob ? given : JSON.stringify(given);
  // What she did goes on its way even if she leaves the page at once; browsers do that for 64 KiB.
  const keepalive = typeof body === "string" && body.length < 20000;
  let answer;
  try {
    answer = await fetch(address, given === undefined ? {} : { method: "POST", body, keepalive });
  } catch {
    throw new Error("The studio does not answer. Is it still running in its terminal?");
  }
  const text = await answer.text();
  let said;
  try {
    said = JSON.parse(text);
  } catch {
    said = { why: text };
  }
  if (!answer.ok) throw new Error(said.why || "That did not work.");
  return said;
}

// Listens to what is told without end; while nobody looks, it does not. hear: called with each event and its number.
export function listen(address, hear) {
  let source, last = 0;
  const begin = () => {
    source = new EventSource(`${address}${address.includes("?") ? "&" : "?"}after=${last}`);
    source.onopen = () => (byId("gone").hidden = true);
    source.onerror = () => (byId("gone").hidden = false);
    source.onmessage = (event) => {
      last = Number(event.lastEventId);
      hear(JSON.parse(event.data), last);
    };
  };
  const end = () => {
    source?.close();
    source = undefined;
  };
  const onSight = () => (document.hidden ? end() : source || begin());
  document.addEventListener("visibilitychange", onSight);
  window.addEventListener("pagehide", end);
  window.addEventListener("pageshow", (event) => event.persisted && onSight());
  if (!document.hidden) begin();
  return () => {
    document.removeEventListener("visibilitychange", onSight);
    end();
  };
}

// The last of many calls, once nothing has come for a moment.
export function lately(act, wait = 60) {
  let timer;
  return (...given) => {
    clearTimeout(timer);
    timer = setTimeout(() => act(...given), wait);
  };
}
