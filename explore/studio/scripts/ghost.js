// Small drawings of a print where it would lie: on the grid of a piece, in a form, and under a symmetry.

import { drawn } from "./house.js";

// So many pinholes a side are drawn at the most: more are a grey blur.
const MOST = 96;
// A print is given in a box of 1000 units, 960 of them its longer side.
const LONG = 960;

// The outline of a piece, its grid, and the print as large as it can lie: prints, as path data of the piece, or else in
// the middle, so many pitches long.
export function ghost(place, { box, bounds, parity, opening, edge }, size, prints, outline) {
  const [left, top, right, bottom] = bounds, air = 2;
  place.setAttribute("viewBox", `${left - air} ${top - air} ${right - left + 2 * air} ${bottom - top + 2 * air}`);
  const parts = [drawn("path", { class: "edge", d: edge })];
  const [wide, high] = opening;
  if (wide) parts.push(drawn("path", { class: "edge", d: `M${-wide} ${-high}H${wide}V${high}H${-wide}Z` }));
  if (Math.max(box[2] - box[0], box[3] - box[1]) <= MOST) parts.push(drawn("path", { class: "holes", d: holes(box, parity, wide, high) }));
  if (prints) parts.push(drawn("path", { d: prints, "fill-rule": "evenodd", opacity: .8 }));
  else if (size) parts.push(drawn("path", { d: outline, "fill-rule": "evenodd", opacity: .8, transform: `scale(${2 * size / LONG}) translate(-500 -500)` }));
  place.replaceChildren(...parts);
}

function holes([left, top, right, bottom], parity, wide, high) {
  const found = [];
  for (let y = top; y <= bottom; y++) {
    for (let x = left + (Math.abs(left + y + parity) % 2); x <= right; x += 2) {
      if (Math.abs(x) >= wide || Math.abs(y) >= high) found.push(`M${x} ${y}h0`);
    }
  }
  return found.join("");
}

const copy = (outline, [[a, b], [c, d]], x, y, scale, down = 0) => drawn("path", {
  d: outline, "fill-rule": "evenodd",
  transform: `translate(0 ${down}) matrix(${a} ${c} ${b} ${d} 0 0) translate(${x} ${y}) scale(${scale}) translate(-500 -500)`,
});
const SAME = [[1, 0], [0, 1]];

// A label whose picture shows what its symmetry does to a print that lies in one corner, or in half a repeat of a strip.
export function symmetryDrawn(label, outline) {
  const every = JSON.parse(label.dataset.copies), turns = every.map(([turn]) => turn);
  const picture = label.querySelector("svg");
  if (label.dataset.of === "strip") {
    const [x, y] = every.length > 1 ? [-26, -50] : [0, -50];
    const repeats = every.flatMap(([turn, down]) => [-1, 0, 1].map((repeat) => copy(outline, turn, x, y, .045, 200 * down + 200 * repeat)));
    const more = every.length === 1 ? [copy(outline, SAME, 0, 50, .045)] : [];
    picture.replaceChildren(drawn("path", { class: "side", d: "M-62 -100V100M62 -100V100" }), ...repeats, ...more);
    return;
  }
  const diagonal = turns.length < 8 && turns.some(([[a], [, d]]) => !a && !d) && !turns.some(([[a], [, d]]) => a === 1 && d === -1)
    && label.dataset.symmetry !== "quarter-turn";
  // Where the print lies, and how large: so that no copy meets another.
  const [x, y, scale] = turns.length === 1 ? [0, 0, .16] : turns.length === 8 ? [-62, -27, .042]
    : diagonal ? [-58, -2, .06] : turns.length === 2 ? [-45, -45, .085] : [-48, -48, .078];
  picture.replaceChildren(...turns.map((turn) => copy(outline, turn, x, y, scale)));
}

const QUARTERS = [SAME, [[0, -1], [1, 0]], [[-1, 0], [0, -1]], [[0, 1], [-1, 0]]];
// What each form can look like: its edge, and where prints lie in it.
const FORMS = {
  square: ["M-80 -80H80V80H-80Z", QUARTERS.map((turn) => [turn, -38, -38, .06])],
  strip: ["M-34 -100V100M34 -100V100", [-66, 0, 66].map((y) => [SAME, 0, y, .055])],
  frame: ["M-88 -88H88V88H-88ZM-42 -42H42V42H-42Z", QUARTERS.flatMap((turn) => [-54, 0, 54].map((x) => [turn, x, -65, .032]))],
  rectangle: ["M-56 -92H56V92H-56Z", [[SAME, 0, -42, .075], [QUARTERS[2], 0, -42, .075]]],
};

export function formDrawn(label, outline) {
  const [edge, prints] = FORMS[label.dataset.form];
  label.querySelector("svg").replaceChildren(drawn("path", { class: "side", d: edge }), ...prints.map(([turn, x, y, scale]) => copy(outline, turn, x, y, scale)));
}
