// Some squares looked at together: side by side, nine at a time, at true size, from across the room.

import { Called, ask, byId, called, element, inked, tell } from "./house.js";

const together = byId("together"), base = together.dataset.base;
const squares = JSON.parse(together.dataset.squares);
let kept = JSON.parse(together.dataset.kept);
const MOST = 4;
const asked = new URLSearchParams(location.search).get("of")?.split(",").map(Number).filter((each) => squares.some(({ number }) => number === each));
let chosen = (asked?.length ? asked : kept.length > 1 ? kept : squares.map(({ number }) => number)).slice(0, MOST);
let view = "beside", look = "drawing";
// Pixels of this screen on 100 mm, as she measured them; a guess before that.
const SCREEN = "stampwork studio, pixels to 100 mm";
let hundred = Number(localStorage.getItem(SCREEN)) || 378;

const HINTS = {
  beside: "Two to four, as large as they go. Choose which below.",
  nine: "As they would hang: each in its turn.",
  true: "As large as the finished lace, once the bar is right.",
  across: "As small as the finished lace looks from there. Do you still know the print?",
};
// From so far away, m, a screen is looked at.
const ARM = 0.6;

const square = (number) => squares.find((each) => each.number === number);
const picture = (number, wanted = look) => `${base}/${number}/${wanted}.svg?at=${square(number).at}${inked(wanted, together.dataset.ink)}`;

function shown(number, width) {
  const image = element("img");
  image.src = picture(number, look === "lace" && width === undefined && view === "beside" ? "threads" : look);
  image.alt = Called(number);
  if (width) {
    image.style.width = `${width}px`;
    image.style.height = "auto";
  }
  return image;
}

function captioned(number, image, deciding) {
  const figure = element("figure"), caption = element("figcaption", Called(number));
  if (deciding) {
    const button = element("button", kept.includes(number) ? "Kept" : "Keep");
    button.type = "button";
    button.setAttribute("aria-pressed", kept.includes(number));
    button.setAttribute("aria-label", `Keep ${called(number)}`);
    button.addEventListener("click", () => mark(number));
    caption.append(button);
  }
  figure.append(image, caption);
  return figure;
}

async function mark(number) {
  const state = kept.includes(number) ? "" : "kept";
  try {
    kept = (await ask(`${base}/mark`, { number, state })).kept;
    tell(state ? `${Called(number)} is kept.` : `${Called(number)} is kept no longer.`);
    draw();
    document.querySelector(`[aria-label="Keep ${called(number)}"]`)?.focus();
  } catch (error) {
    byId("amiss").textContent = error.message;
  }
}

const VIEWS = {
  beside: () => chosen.map((number) => captioned(number, shown(number), true)),
  nine: () => Array.from({ length: chosen.length ? 9 : 0 }, (_, place) => shown(chosen[place % chosen.length])),
  true: () => chosen.map((number) => captioned(number, shown(number, square(number).side_mm * hundred / 100))),
  across: () => chosen.map((number) => captioned(number, shown(number, square(number).side_mm * hundred / 100 * ARM / Number(byId("distance").value)))),
};

function draw() {
  byId("hint").textContent = HINTS[view];
  byId("ruler").hidden = view !== "true";
  byId("far").hidden = view !== "across";
  byId("bar-size").value = hundred;
  byId("bar").style.width = `${hundred}px`;
  byId("metres").textContent = `${byId("distance").value} m`;
  byId("view").className = `view ${view}${look === "lace" ? " lace" : ""}`;
  byId("view").replaceChildren(...VIEWS[view]());
  for (const button of byId("strip").querySelectorAll("button")) button.setAttribute("aria-pressed", chosen.includes(Number(button.dataset.number)));
  for (const button of document.querySelectorAll("[data-view]")) button.setAttribute("aria-pressed", button.dataset.view === view);
}

byId("strip").append(...squares.map(({ number }) => {
  const item = element("li"), button = element("button"), image = element("img");
  button.type = "button";
  button.dataset.number = number;
  image.loading = "lazy";
  image.src = picture(number, "drawing");
  image.alt = "";
  button.append(image, element("span", `${number}`));
  button.setAttribute("aria-label", `Look at ${called(number)}`);
  button.addEventListener("click", () => {
    chosen = chosen.includes(number) ? chosen.filter((each) => each !== number) : [...chosen, number].slice(-MOST);
    draw();
  });
  item.append(button);
  return item;
}));
for (const button of document.querySelectorAll("[data-view]")) {
  button.addEventListener("click", () => {
    view = button.dataset.view;
    draw();
  });
}
byId("look").addEventListener("click", () => {
  look = look === "lace" ? "drawing" : "lace";
  byId("look").setAttribute("aria-pressed", look === "lace");
  draw();
});
byId("bar-size").addEventListener("input", () => {
  hundred = Number(byId("bar-size").value);
  localStorage.setItem(SCREEN, hundred);
  draw();
});
byId("distance").addEventListener("input", draw);
together.style.setProperty("--felt", together.dataset.cloth);
draw();
