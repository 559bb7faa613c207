// Keys: arrows on the sheet; one letter each for a tick and the look, which can be turned off (WCAG 2.2, 2.1.4).

const LETTERS = "stampwork letters";
const LETTER_KEYS = { t: tickHere, l: otherLook, "?": () => openKeys() };

// --- on the sheet ------------------------------------------------------------------------------------------

// The nearest square of the next row that is there, up or down.
function beyond(card, shown, down) {
  const { top, left } = card.getBoundingClientRect();
  const boxes = shown.map((each) => [each, each.getBoundingClientRect()]);
  const rows = boxes.filter(([, box]) => (down ? box.top > top + 1 : box.top < top - 1));
  const next = (down ? Math.min : Math.max)(...rows.map(([, box]) => box.top));
  const row = rows.filter(([, box]) => Math.abs(box.top - next) <= 1);
  return row.sort(([, a], [, b]) => Math.abs(a.left - left) - Math.abs(b.left - left))[0]?.[0];
}

list.addEventListener("keydown", (event) => {
  const card = event.target.closest(".card");
  if (!card || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const shown = [...list.children].filter((each) => !each.hidden);
  const place = shown.indexOf(card);
  const ways = {
    ArrowLeft: () => shown[place - 1],
    ArrowRight: () => shown[place + 1],
    ArrowUp: () => beyond(card, shown, false),
    ArrowDown: () => beyond(card, shown, true),
    Home: () => shown[0],
    End: () => shown.at(-1),
  };
  if (!(event.key in ways)) return;
  event.preventDefault();
  // At the end of a row of squares there is nowhere to go, and the sheet stays where it is.
  ways[event.key]()?.querySelector(event.target.matches(".tick") ? ".tick" : ".picture").focus();
});

// --- everywhere --------------------------------------------------------------------------------------------

// The square that she is at: enlarged, side by side, or on the sheet.
function tickHere(target) {
  const side = target.closest("[data-side]");
  const card = target.closest(".card");
  if (large.open && !compare.open) toggle(current);
  else if (side) toggle(squareAt(side.dataset.side));
  else if (card) tickCard(card);
}

function otherLook() {
  setLook(look === "lace" ? "drawing" : "lace");
}

const takesText = (target) => target.matches("textarea, select, input:not([type=radio], [type=checkbox])");

document.addEventListener("keydown", (event) => {
  const { key, target } = event;
  if (event.altKey || takesText(target)) return;
  if (event.ctrlKey || event.metaKey) {
    const again = key.toLowerCase() === "y" || (key.toLowerCase() === "z" && event.shiftKey);
    if (!again && key.toLowerCase() !== "z") return;
    event.preventDefault();
    (again ? redo : undo)();
  } else if (byId("letters").checked && Object.hasOwn(LETTER_KEYS, key.toLowerCase())) {
    event.preventDefault();
    LETTER_KEYS[key.toLowerCase()](target);
  }
});

// --- the keys told -----------------------------------------------------------------------------------------

const keys = byId("keys");

function openKeys() {
  if (!keys.open) keys.showModal();
}

for (const button of document.querySelectorAll("[data-keys]")) button.addEventListener("click", openKeys);

// What a screen reader is told holds as long as the letters do.
function showLetters() {
  for (const each of document.querySelectorAll("[data-letter]")) {
    if (byId("letters").checked) each.setAttribute("aria-keyshortcuts", each.dataset.letter);
    else each.removeAttribute("aria-keyshortcuts");
  }
}

try {
  byId("letters").checked = localStorage.getItem(LETTERS) !== "off";
} catch {
  byId("letters").checked = true;
}
byId("letters").addEventListener("change", (event) => {
  showLetters();
  try {
    localStorage.setItem(LETTERS, event.target.checked ? "on" : "off");
  } catch {
    tell("This browser keeps nothing: that holds as long as the page is open.");
  }
});
