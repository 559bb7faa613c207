// A print at rising numbers of pairs: alone and coarse first, then in a square that can be made.

import { BROKE, byId, listen } from "./house.js";

const asked = byId("ladder").dataset.asked;

const stop = listen(`/ladder/told?${asked}`, (event) => {
  if (event.kind === "failed") byId("amiss").textContent = BROKE;
  if (event.kind === "ladder" || event.kind === "failed") {
    byId("doing").textContent = event.kind === "ladder" ? "Every rung is worked out." : "";
    stop();
    return;
  }
  const rung = byId(`rung-${event.pairs}`), image = rung.querySelector("img");
  rung.classList.remove("coarse");
  rung.classList.add(event.state);
  rung.querySelector(".words").textContent = `${event.width}: ${event.words}`;
  if (!event.drawn) return;
  image.src = `/ladder/drawing?${asked}&pairs=${event.pairs}&state=${event.state}`;
  image.alt = event.state === "full" ? `A square on ${event.pairs} pairs` : `The print alone, as large as ${event.pairs} pairs have room for`;
  image.hidden = false;
});
