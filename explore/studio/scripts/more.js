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

// --- other wishes -----------------------------------------------------------------------------------------

const wish = byId("wish");

// Shows the wishes of the study.
export function wished({ pairs, most, stitches, solid }) {
  if (!wish) return;
  wish.pairs.value = pairs;
  wish.pairs.max = most;
  [wish.least.value, wish.most.value] = solid;
  byId("wish-stitches").replaceChildren(...stitches.map(({ name, words, on, least }) => {
    const label = element("label", "", "pick swatch"), box = element("input"), image = element("img");
    box.type = "checkbox";
    box.name = "stitch";
    box.value = least ? `${name}:${least}` : name;
    box.checked = on;
    image.loading = "lazy";
    image.src = `/swatches/${name}.svg`;
    image.alt = "";
    label.append(box, image, words);
    return label;
  }));
}
wish?.addEventListener("submit", (event) => {
  event.preventDefault();
  attempt(async () => {
    const stitches = new FormData(wish).getAll("stitch").join(",");
    const solid = [wish.least, wish.most].map((each) => Number(each.value) / 100).join("-");
    await ask(`${base}/wish`, { flags: { pairs: wish.pairs.value, stitches, solid } });
    byId("wished").open = false;
    await ask(`${base}/more`, { count: Number(more.dataset.count) });
  });
});
