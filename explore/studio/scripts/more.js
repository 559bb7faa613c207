// More squares for the study: as they come, or like those that she keeps.

import { ask, byId, element, lately } from "./house.js";
import { attempt, base, change } from "./study.js";

const more = byId("more"), liking = byId("liking");

// Tells what is learnt of what she keeps, once she has stopped for a moment. on: whether more are looked for so.
export const taste = more ? lately(learnt, 400) : () => {};

async function learnt(on) {
  liking.checked = on;
  let told;
  try {
    told = await ask(`${base}/taste`);
  } catch (error) {
    byId("amiss").textContent = error.message;
    return;
  }
  byId("as-kept").hidden = !told.taste;
  byId("taste").hidden = !told.words;
  byId("taste").textContent = told.words;
  byId("more-commands").replaceChildren(...told.commands.map((line) => {
    const typed = element("p");
    typed.append(element("code", line));
    return typed;
  }));
}

more?.addEventListener("click", () => attempt(() => ask(`${base}/more`, { count: Number(more.dataset.count) })));
liking?.addEventListener("change", () => change(`${base}/liking`, { on: liking.checked },
  liking.checked ? "More are looked for by what you keep." : "More are looked for as they come."));
