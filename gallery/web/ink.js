// Drawings: made into SVG without any id when they come near the window or are printed; those with every thread are
// kept packed.

const STUDY = JSON.parse(byId("study").textContent);
const SQUARES = new Map(STUDY.squares.map((square) => [square.number, square]));
const SVG = "http://www.w3.org/2000/svg";
let look = STUDY.look;

// A square, strip or other piece by its number, as a heading and within a sentence.
const headingOf = (number) => `${STUDY.piece[0].toUpperCase()}${STUDY.piece.slice(1)} ${number}`;
const nameOf = (number) => `${STUDY.piece} ${number}`;

function byId(id) {
  return document.getElementById(id);
}

function element(name, words, classes) {
  const made = document.createElement(name);
  if (words) made.textContent = words;
  if (classes) made.className = classes;
  return made;
}

async function unpacked(packed) {
  const bytes = Uint8Array.from(atob(packed), (sign) => sign.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return JSON.parse(await new Response(stream).text());
}

function svgOf({ reach, paths, layers, box = [-reach, -reach, 2 * reach] }) {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", `${box.join(" ")} ${box[2]}`);
  svg.setAttribute("aria-hidden", "true");
  for (const [path, colour, width, butt, alpha] of layers) {
    const drawn = document.createElementNS(SVG, "path");
    drawn.setAttribute("d", paths[path]);
    drawn.setAttribute("fill", width ? "none" : colour);
    if (width) {
      drawn.setAttribute("stroke", colour);
      drawn.setAttribute("stroke-width", width);
      drawn.setAttribute("stroke-linejoin", "round");
      if (!butt) drawn.setAttribute("stroke-linecap", "round");
    }
    if (alpha !== undefined) drawn.setAttribute("opacity", alpha);
    svg.append(drawn);
  }
  return svg;
}

// Draws a square into its place in the look of the moment, at once; large: with every thread, as soon as that is
// unpacked. Whatever is asked for last is what stays.
async function draw(place, number, large = false) {
  const wanted = `${number} ${look} ${large}`;
  if (place.dataset.drawn === wanted) return;
  place.dataset.drawn = wanted;
  const { drawings } = SQUARES.get(number);
  const packed = large && drawings[`${look}-large`];
  const drawing = packed ? await unpacked(packed) : drawings[look];
  if (place.dataset.drawn !== wanted) return;
  place.classList.toggle("lace", look === "lace");
  place.replaceChildren(svgOf(drawing));
}

// --- the look ---------------------------------------------------------------------------------------------

const onLook = [];

for (const group of document.querySelectorAll("[data-looks]")) {
  group.addEventListener("change", (event) => setLook(event.target.value));
}

// The legend of the look that is shown, wherever there is place for one.
function showLegend() {
  for (const place of document.querySelectorAll("[data-legend]")) place.replaceChildren(...STUDY.legend[look].map(explained));
}

function explained(sample) {
  const item = element("li");
  const picture = element("span", "", look === "lace" ? "picture lace" : "picture");
  picture.append(svgOf(sample));
  item.append(picture, sample.words);
  return item;
}

onLook.push(showLegend);

function setLook(wanted) {
  look = wanted;
  for (const radio of document.querySelectorAll("[data-looks] input")) radio.checked = radio.value === look;
  for (const redraw of onLook) redraw();
}
