// Other prints that lie in the same piece, each where it suits or where she says.

import { ask, byId, drawn, element, listen, tell } from "./house.js";
import { print, wish } from "./wishes.js";

const MOST = 4, details = byId("beside"), lying = byId("lying");
const names = new Map([[print.of, byId("wishes").dataset.name]]);
const buttons = [...byId("others").querySelectorAll("button")];
for (const { dataset } of buttons) names.set(dataset.print, dataset.name);
const heard = new Set();

// Their pictures are read once she wants to see them.
details.addEventListener("toggle", () => {
  for (const button of buttons.filter((each) => !each.dataset.drawn)) {
    button.dataset.drawn = "yes";
    ask(`/prints/read?of=${encodeURIComponent(button.dataset.print)}`)
      .then(({ outline }) => button.querySelector("svg").append(drawn("path", { d: outline, "fill-rule": "evenodd" })))
      .catch(() => button.closest("li").remove());
  }
});

function change(references, places) {
  print.beside = references;
  print.places = [...places, ...Array(MOST).fill("suits")].slice(0, references.length + 1);
  if (references.length && print.turn !== null) byId("own-turn").click();
  show();
  wish();
}

for (const button of buttons) {
  button.addEventListener("click", () => {
    change([...print.beside, button.dataset.print], print.places);
    tell(`${button.dataset.name} lies beside it.`);
    lying.lastElementChild.querySelector("select").focus();
  });
}

// What is known of another print changes what is said of all.
function hear(reference) {
  if (heard.has(reference)) return;
  heard.add(reference);
  const end = listen(`/prints/ribbon?of=${encodeURIComponent(reference)}`, (event) => {
    if (event.kind !== "ribbon") return;
    end();
    wish();
  });
}

export function show() {
  const every = [print.of, ...print.beside];
  print.beside.forEach(hear);
  byId("turn").disabled = every.length > 1;
  byId("lying-told").textContent = every.length > 1 ? "Each is set upright by itself." : `Up to ${MOST} lie in one piece.`;
  byId("others").hidden = every.length >= MOST;
  lying.replaceChildren(...every.map((reference, place) => {
    const item = element("li"), label = element("label", `${names.get(reference) ?? reference} lies `);
    const select = byId("a-place").content.firstElementChild.cloneNode(true);
    select.value = print.places[place] ?? "suits";
    select.addEventListener("input", (event) => {
      event.stopPropagation();
      print.places[place] = select.value;
      wish();
    });
    label.append(select);
    item.append(label);
    if (place) {
      const button = element("button", "Take away");
      button.type = "button";
      button.setAttribute("aria-label", `Take ${names.get(reference) ?? reference} away`);
      button.addEventListener("click", () => {
        change(print.beside.filter((_, other) => other !== place - 1), print.places.filter((_, other) => other !== place));
        details.querySelector("summary").focus();
      });
      item.append(button);
    }
    return item;
  }));
  if (every.length > 1) details.open = true;
}

