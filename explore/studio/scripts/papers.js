// The papers of one square: made as she works, looked at page by page, saved and printed.

import { ask, byId, element, listen, tell } from "./house.js";

const base = byId("papers").dataset.base, form = byId("ways");
let hush = () => {};

async function show() {
  const told = await ask(`${base}/papers`);
  byId("command").textContent = told.command;
  byId("made").hidden = !told.pages;
  if (told.busy) return follow();
  byId("make").disabled = false;
  byId("state").textContent = told.pages ? `Your booklet has ${told.pages} pages.` : "Choose how you work, then make the papers.";
  byId("make").textContent = told.pages ? "Make them anew" : "Make the papers";
  byId("parts").replaceChildren(...told.parts.map(({ words, first }) => {
    const link = element("a", words, "button");
    link.href = `#page-${first}`;
    return link;
  }));
  byId("pages").replaceChildren(...Array.from({ length: told.pages }, (_, number) => paged(number, told)));
}

function paged(number, { at, parts }) {
  const item = element("li"), link = element("a"), image = element("img");
  item.id = `page-${number}`;
  const begins = parts.find((each) => each.first === number);
  link.href = `${base}/booklet.pdf#page=${number + 1}`;
  link.target = "_blank";
  image.loading = "lazy";
  image.src = `${base}/papers/${number}.png?at=${at}`;
  image.alt = "";
  link.append(image, element("span", begins ? `${begins.words}, page ${number + 1}` : `Page ${number + 1}`));
  item.append(link);
  return item;
}

// Tells how far it is, until it is done.
function follow() {
  hush();
  byId("progress").hidden = byId("stop").hidden = false;
  byId("made").hidden = byId("make").disabled = true;
  byId("progress").value = 0;
  byId("state").textContent = "The papers are being made.";
  hush = listen(`${base}/papers/progress`, (event) => {
    if (event.kind === "part") {
      byId("progress").max = event.of;
      byId("progress").value = event.done;
      byId("state").textContent = `${event.part} is there: ${event.done} of ${event.of}.`;
      return;
    }
    hush();
    byId("progress").hidden = byId("stop").hidden = true;
    byId("make").disabled = false;
    byId("amiss").textContent = event.why;
    attempt(show);
    if (!event.why) tell("The papers are made.");
  });
}

async function attempt(act) {
  try {
    await act();
  } catch (error) {
    byId("amiss").textContent = error.message;
  }
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  byId("amiss").textContent = "";
  attempt(async () => {
    const told = await ask(`${base}/papers/make`, { ways: Object.fromEntries(new FormData(form)) });
    byId("command").textContent = told.command;
    follow();
  });
});
byId("stop").addEventListener("click", () => attempt(() => ask(`${base}/papers/stop`, {})));
attempt(show);
