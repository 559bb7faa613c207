// Small drawings of a print where it would lie: on the grid of a square, and under a symmetry.

import { drawn } from "./house.js";

// So many pinholes a side are drawn at the most: more are a grey blur.
const MOST = 48;

// The square and its grid, the print as large as it can lie, in the middle. side, size: pitches.
export function ghost(place, side, size, outline) {
  const parts = [drawn("rect", { x: -100, y: -100, width: 200, height: 200 })];
  const step = 200 / side;
  if (side <= MOST) {
    const holes = [];
    for (let row = 0; row <= 2 * side; row++) {
      for (let at = row % 2; at <= 2 * side; at += 2) {
        holes.push(`M${(at * step / 2 - 100).toFixed(1)} ${(row * step / 2 - 100).toFixed(1)}h0`);
      }
    }
    parts.push(drawn("path", { d: holes.join(""), stroke: "#b9aa99", "stroke-width": 1.2, "stroke-linecap": "round", fill: "none" }));
  }
  const scale = (200 * size) / side / 960;
  if (size) parts.push(drawn("path", { d: outline, "fill-rule": "evenodd", opacity: .8, transform: `scale(${scale}) translate(-500 -500)` }));
  place.replaceChildren(...parts);
}

// A label whose picture shows what its symmetry does to a print that lies in one corner.
export function symmetryDrawn(label, outline) {
  const every = JSON.parse(label.dataset.matrices);
  const diagonal = every.length < 8 && every.some(([[a], [, d]]) => !a && !d) && !every.some(([[a], [, d]]) => a === 1 && d === -1)
    && label.dataset.symmetry !== "quarter-turn";
  // Where the print lies, and how large: so that no copy meets another.
  const [x, y, scale] = every.length === 1 ? [0, 0, .16] : every.length === 8 ? [-62, -27, .042]
    : diagonal ? [-58, -2, .06] : every.length === 2 ? [-45, -45, .085] : [-48, -48, .078];
  const copies = every.map(([[a, b], [c, d]]) =>
    drawn("path", { d: outline, "fill-rule": "evenodd", transform: `matrix(${a} ${c} ${b} ${d} 0 0) translate(${x} ${y}) scale(${scale}) translate(-500 -500)` }));
  label.querySelector("svg").replaceChildren(...copies);
}
