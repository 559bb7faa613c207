// The table: a print is dropped or chosen, and those that lie there are drawn.

import { ask, byId, drawn, tell } from "./house.js";

const drop = byId("drop"), file = byId("file"), told = byId("drop-told");

async function take(picture) {
  if (!picture) return;
  told.textContent = "";
  drop.classList.add("busy");
  tell(`Reading ${picture.name}.`);
  try {
    const { of } = await ask(`/prints?name=${encodeURIComponent(picture.name)}`, picture);
    location.assign(`/print?of=${encodeURIComponent(of)}`);
  } catch (error) {
    told.textContent = error.message;
    drop.classList.remove("busy");
    file.value = "";
  }
}

file.addEventListener("change", () => take(file.files[0]));
// The whole window takes it: one does not aim well with a file in hand.
document.addEventListener("dragover", (event) => {
  event.preventDefault();
  drop.classList.add("over");
});
document.addEventListener("dragleave", (event) => event.relatedTarget || drop.classList.remove("over"));
document.addEventListener("drop", (event) => {
  event.preventDefault();
  drop.classList.remove("over");
  take(event.dataTransfer.files[0]);
});

for (const link of document.querySelectorAll("[data-print]")) {
  ask(`/prints/read?of=${encodeURIComponent(link.dataset.print)}`)
    .then(({ outline }) => link.querySelector("svg").append(drawn("path", { d: outline, "fill-rule": "evenodd" })))
    .catch((error) => {
      link.querySelector("svg").remove();
      link.append(error.message);
    });
}
