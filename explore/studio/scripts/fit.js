// Something that she owns: its measures give the form and the size.

import { ask, byId, element, lately } from "./house.js";
import { take } from "./fields.js";
import { wanted, wish } from "./wishes.js";

const fields = [...document.querySelectorAll("[data-fit]")], ways = byId("ways");
let asked = 0;

const follow = lately(async () => {
  const mine = ++asked, fit = Object.fromEntries(fields.map(({ dataset, value }) => [dataset.fit, dataset.fit === "purpose" ? value : Number(value)]));
  byId("fit-told").textContent = "";
  ways.replaceChildren();
  if (!fit.height || (!fit.width && fit.purpose !== "strip")) return;
  try {
    const told = await ask("/wishes/fit", { ...wanted(), fit });
    if (mine !== asked) return;
    ways.replaceChildren(...told.ways.map(way));
    if (!told.ways.length) byId("fit-told").textContent = "Nothing comes near it. Another pitch, another edge or more pairs may.";
  } catch (error) {
    if (mine === asked) byId("fit-told").textContent = error.message;
  }
}, 250);

function way({ words, flags }) {
  const item = element("li"), button = element("button", words);
  button.type = "button";
  button.setAttribute("aria-pressed", "false");
  button.addEventListener("click", () => {
    for (const each of ways.querySelectorAll("button")) each.setAttribute("aria-pressed", each === button);
    take(flags);
    wish();
  });
  item.append(button);
  return item;
}

for (const each of fields) each.addEventListener("input", follow);
