// One square large: from the whole down to its threads, with all that is told of it, to be kept or put away.

import { Called, byId, element, lately } from "./house.js";
import { base, mark, noteOn, picture, redress, setNote, shownNumbers, square, state, theLook } from "./study.js";

const stage = byId("stage"), image = byId("large-picture"), zoom = byId("zoom"), note = byId("note");
let number = 0;

export const large = () => number;

// Shows a square large. bySelf: she asked for it, so the focus goes there.
export function openLarge(wanted, bySelf = false) {
  const other = wanted !== number;
  number = wanted;
  byId("large").hidden = false;
  byId("large-name").textContent = Called(number);
  const address = picture(number, theLook() === "lace" ? "threads" : "drawing");
  if (image.getAttribute("src") !== address) image.src = address;
  image.alt = `${Called(number)}, large`;
  stage.classList.toggle("lace", theLook() === "lace");
  const now = state(number);
  byId("keep").setAttribute("aria-pressed", now === "kept");
  byId("away").setAttribute("aria-pressed", now === "away");
  byId("facts").replaceChildren(...square(number).facts.flatMap(([label, words]) => [element("dt", label), element("dd", words)]));
  // What goes on and on has no corners to stay.
  const corners = byId("like").querySelector("[value=corner]");
  corners.parentElement.hidden = !square(number).corners;
  if (corners.parentElement.hidden) corners.checked = false;
  if (other || document.activeElement !== note) sent = note.value = noteOn(number);
  const doors = now === "kept" ? [["Make its papers", `papers?of=${number}`], ["Work it at the pillow", `${number}/pillow`]] : [];
  if (document.body.dataset.what === "strip") doors.push(["Slide a mirror along it", `${number}/mirror`]);
  // They stay while they are the same, so that the focus stays.
  if ([...byId("doors").children].map((link) => link.pathname + link.search).join() !== doors.map(([, to]) => `${base}/${to}`).join()) {
    byId("doors").replaceChildren(...doors.map(([words, to], place) => {
      const link = element("a", words, place || now !== "kept" ? "button" : "button main");
      link.href = `${base}/${to}`;
      return link;
    }));
  }
  if (other) redress();
  if (!bySelf) return;
  setZoom(1);
  byId("large-name").focus({ preventScroll: true });
  if (matchMedia("(max-width: 60rem)").matches) byId("large").scrollIntoView();
}

function step(by) {
  const shown = shownNumbers();
  if (!shown.length) return;
  const at = shown.indexOf(number);
  openLarge(shown[(at < 0 ? 0 : at + by + shown.length) % shown.length]);
}

byId("previous").addEventListener("click", () => step(-1));
byId("following").addEventListener("click", () => step(1));
byId("keep").addEventListener("click", () => mark(number, "kept"));
byId("away").addEventListener("click", () => mark(number, "away"));
// What was sent is not sent again, so that leaving the field takes nothing back that was undone.
let sent = "";
function send() {
  if (note.value === sent) return;
  sent = note.value;
  setNote(number, note.value);
}
note.addEventListener("input", lately(send, 700));
note.addEventListener("change", send);

// --- nearer and farther -----------------------------------------------------------------------------------

// What lies in the middle stays there, or under the finger.
function setZoom(wanted, x = stage.clientWidth / 2, y = stage.clientHeight / 2) {
  const before = Number(zoom.value), now = Math.min(Math.max(wanted, 1), Number(zoom.max));
  zoom.value = now;
  image.style.width = `${100 * now}%`;
  stage.scrollLeft = (stage.scrollLeft + x) * (now / before) - x;
  stage.scrollTop = (stage.scrollTop + y) * (now / before) - y;
  zoom.setAttribute("aria-valuetext", now === 1 ? "whole" : `${now} times as large`);
}

let shown = 1;
zoom.addEventListener("input", () => {
  const now = Number(zoom.value);
  zoom.value = shown;
  setZoom(now);
  shown = Number(zoom.value);
});
const nearer = (by) => {
  setZoom(Number(zoom.value) * by);
  shown = Number(zoom.value);
};
byId("larger").addEventListener("click", () => nearer(1.5));
byId("smaller").addEventListener("click", () => nearer(1 / 1.5));
byId("whole").addEventListener("click", () => nearer(0.01));
stage.addEventListener("keydown", (event) => {
  if (event.key === "+" || event.key === "=") nearer(1.25);
  else if (event.key === "-") nearer(0.8);
  else return;
  event.preventDefault();
});
stage.addEventListener("wheel", (event) => {
  if (!event.ctrlKey) return;
  event.preventDefault();
  const box = stage.getBoundingClientRect();
  setZoom(Number(zoom.value) * (event.deltaY < 0 ? 1.2 : 1 / 1.2), event.clientX - box.left, event.clientY - box.top);
  shown = Number(zoom.value);
}, { passive: false });

let held;
stage.addEventListener("pointerdown", (event) => {
  if (event.pointerType !== "mouse") return; // fingers scroll by themselves
  held = { x: event.clientX + stage.scrollLeft, y: event.clientY + stage.scrollTop };
  stage.setPointerCapture(event.pointerId);
});
stage.addEventListener("pointermove", (event) => {
  if (!held) return;
  stage.scrollLeft = held.x - event.clientX;
  stage.scrollTop = held.y - event.clientY;
});
stage.addEventListener("pointerup", () => (held = undefined));
