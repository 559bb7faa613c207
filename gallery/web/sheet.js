// The sheet: cards that are drawn as they come near, sorted, filtered, ticked.

const list = byId("squares");
const cards = [...list.children];
const numberOf = (card) => Number(card.dataset.number);
const pictureOf = (card) => card.querySelector(".picture");
const filters = byId("filters");
const near = new Set();

// --- drawing, as cards come near; before printing all that are printed -----------------------------------------

const watcher = new IntersectionObserver(
  (entries) => {
    for (const { target, isIntersecting } of entries) {
      if (isIntersecting) near.add(target);
      else near.delete(target);
      if (isIntersecting) draw(pictureOf(target), numberOf(target));
    }
  },
  { rootMargin: "600px 0px" },
);
function drawCards() {
  for (const card of near) draw(pictureOf(card), numberOf(card));
}

// A browser that prints waits for nothing; which cards go on paper the style says.
addEventListener("beforeprint", () => {
  for (const card of cards) draw(pictureOf(card), numberOf(card));
});

onLook.push(drawCards);

// --- sorting and filtering ---------------------------------------------------------------------------------

function shownNumbers() {
  return [...list.children].filter((card) => !card.hidden).map(numberOf);
}

function sort() {
  const [, down, key] = byId("sort").value.match(/^(-?)(.+)$/);
  const value = (card) => SQUARES.get(numberOf(card))[key] ?? -1;
  const way = down ? -1 : 1;
  cards.sort((a, b) => way * (value(a) - value(b)) || numberOf(a) - numberOf(b));
  list.append(...cards);
}

// Every filter in use, as a question to a square.
function questions() {
  const asked = [];
  for (const input of filters.querySelectorAll("[data-end]")) {
    const key = input.closest("[data-key]").dataset.key;
    const limit = input.valueAsNumber;
    if (Number.isNaN(limit)) continue;
    asked.push(input.dataset.end === "low" ? (square) => square[key] >= limit : (square) => square[key] <= limit);
  }
  for (const group of filters.querySelectorAll(".choices")) {
    const out = [...group.querySelectorAll("input:not(:checked)")].map((input) => input.value);
    if (out.length) asked.push((square) => !out.includes(square[group.dataset.key]));
  }
  for (const select of filters.querySelectorAll("[data-stitch]")) {
    const stitch = select.dataset.stitch;
    if (select.value) asked.push((square) => square.stitches.includes(stitch) === (select.value === "with"));
  }
  return asked;
}

function filter() {
  const asked = questions();
  const only = pressed(byId("only"));
  for (const card of cards) {
    const square = SQUARES.get(numberOf(card));
    card.hidden = !asked.every((fits) => fits(square)) || (only && !pickOf(square.number).ticked);
  }
  const count = shownNumbers().length;
  byId("shown").textContent = `${count} of ${counted(cards.length, STUDY.piece)}`;
  byId("none").hidden = count > 0;
  byId("filters-count").textContent = asked.length ? ` (${asked.length})` : "";
}

function showAll() {
  filters.reset();
  press(byId("only"), false);
}

byId("sort").addEventListener("change", () => {
  sort();
  record(`order by ${byId("sort").selectedOptions[0].label}`);
});
filters.addEventListener("input", ({ target }) => {
  filter();
  const each = target.closest("fieldset");
  const words = each.querySelector("legend").textContent.trim().toLowerCase();
  record(`filter by ${words}`, target.type === "number" ? `${each.dataset.key} ${target.dataset.end}` : "");
});
filters.addEventListener("submit", (event) => event.preventDefault());
// The fields are as they were only when the event is over.
filters.addEventListener("reset", () =>
  setTimeout(() => {
    filter();
    record("all shown");
  }),
);
byId("all").addEventListener("click", () => {
  showAll();
  list.focus();
});
byId("filters-open").addEventListener("click", (event) => {
  filters.hidden = !filters.hidden;
  event.currentTarget.setAttribute("aria-expanded", String(!filters.hidden));
});
byId("only").addEventListener("click", ({ currentTarget }) => {
  press(currentTarget, !pressed(currentTarget));
  filter();
  record(pressed(currentTarget) ? "ticked ones only" : "unticked ones too");
});

// --- ticks -------------------------------------------------------------------------------------------------

list.addEventListener("click", (event) => {
  const card = event.target.closest(".card");
  if (event.target.closest(".tick")) tickCard(card);
  else if (event.target.closest(".picture")) openLarge(numberOf(card));
});

// Whatever becomes of the sheet, the focus stays at its square, or goes to the one beside it if that is shown no more.
function keepingFocus(change) {
  const held = document.activeElement;
  const card = held.closest(".card");
  change();
  if (!card) return;
  const next = card.hidden ? besides(card)?.querySelector(held.matches(".tick") ? ".tick" : ".picture") : held;
  (next || byId("only")).focus({ preventScroll: !card.hidden });
}

function tickCard(card) {
  keepingFocus(() => toggle(numberOf(card)));
}

// The square shown after a card, or before it if it is the last; none if no other is.
function besides(card) {
  const place = cards.indexOf(card);
  const shown = (each) => !each.hidden;
  return cards.slice(place + 1).find(shown) || cards.slice(0, place).findLast(shown);
}

function showTicks() {
  for (const card of cards) {
    const pick = pickOf(numberOf(card));
    card.classList.toggle("ticked", pick.ticked);
    press(card.querySelector(".tick"), pick.ticked);
    const note = card.querySelector(".note");
    note.textContent = pick.note;
    note.hidden = !pick.note;
  }
  const numbers = ticked();
  byId("ticked").textContent = numbers.length ? `${numbers.length} ticked: ${numbers.join(" ")}` : "Nothing ticked yet";
  byId("compare-open").disabled = cards.length < 2;
  document.body.classList.toggle("chosen", numbers.length > 0);
  document.body.classList.toggle("few", numbers.length > 0 && numbers.length <= 4);
  if (pressed(byId("only"))) filter();
}

onPick.push(showTicks);

byId("print").addEventListener("click", () => window.print());
