// One square enlarged, two side by side, and the picks.

for (const dialog of document.querySelectorAll("dialog")) {
  dialog.querySelector("[data-close]").addEventListener("click", () => dialog.close());
  dialog.addEventListener("click", ({ target, clientX, clientY }) => {
    const box = dialog.getBoundingClientRect();
    const beside = clientX < box.left || clientX > box.right || clientY < box.top || clientY > box.bottom;
    if (target === dialog && beside) dialog.close();
  });
}

function showTick(button, number) {
  const { ticked } = pickOf(number);
  button.setAttribute("aria-pressed", String(ticked));
  button.textContent = ticked ? "Ticked" : "Tick";
}

// --- enlarged ----------------------------------------------------------------------------------------------

const large = byId("large");
let current = 0;

function openLarge(number) {
  showLarge(number);
  large.showModal();
  byId("after").focus();
}

function showLarge(number) {
  current = number;
  const numbers = shownNumbers();
  byId("large-name").textContent = `Square ${number}`;
  byId("place").textContent = `${numbers.indexOf(number) + 1} of ${numbers.length}`;
  byId("large-facts").replaceChildren(
    ...SQUARES.get(number).facts.flatMap(([label, words]) => [element("dt", label), element("dd", words)]),
  );
  byId("note").value = pickOf(number).note;
  showTick(byId("large-tick"), number);
  byId("large-commands").replaceChildren(
    command("More like this one", line("vary", [number])),
    command("Its pricking, at true size", line("pricking", [number])),
  );
  draw(byId("large-picture"), number, true);
}

function step(by) {
  const numbers = shownNumbers();
  showLarge(numbers[(numbers.indexOf(current) + by + numbers.length) % numbers.length]);
}

byId("before").addEventListener("click", () => step(-1));
byId("after").addEventListener("click", () => step(1));
byId("large-tick").addEventListener("click", () => toggle(current));
byId("note").addEventListener("input", (event) => setPick(current, { note: event.target.value }));
byId("large-compare").addEventListener("click", () => openCompare([current, ...ticked(), ...shownNumbers()]));
large.addEventListener("keydown", (event) => {
  const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  if (!by || event.altKey || event.ctrlKey || event.metaKey || event.target.matches("textarea, select, input")) return;
  event.preventDefault();
  step(by);
});
// She goes on where she left off: at the square seen last.
large.addEventListener("close", () => {
  const card = cards.find((each) => numberOf(each) === current);
  (card.hidden ? list : pictureOf(card)).focus();
});

// --- side by side ------------------------------------------------------------------------------------------

const compare = byId("compare");
const SIDES = ["left", "right"];
const chooser = (side) => compare.querySelector(`[data-side=${side}]`);

for (const side of SIDES) {
  chooser(side).append(...[...SQUARES.keys()].map((number) => new Option(number, number)));
  chooser(side).addEventListener("change", showCompare);
  compare.querySelector(`[data-tick=${side}]`).addEventListener("click", () => toggle(Number(chooser(side).value)));
}

// The first two different ones of the numbers.
function openCompare(numbers) {
  const [left, right] = [...new Set([...numbers, ...SQUARES.keys()])];
  chooser("left").value = left;
  chooser("right").value = right;
  showCompare();
  compare.showModal();
  chooser("right").focus();
}

function showCompare() {
  const numbers = SIDES.map((side) => Number(chooser(side).value));
  SIDES.forEach((side, i) => {
    draw(compare.querySelector(`[data-picture=${side}]`), numbers[i], true);
    showTick(compare.querySelector(`[data-tick=${side}]`), numbers[i]);
    compare.querySelector(`[data-head=${side}]`).textContent = `Square ${numbers[i]}`;
  });
  const [left, right] = numbers.map((number) => SQUARES.get(number).facts);
  byId("differences").tBodies[0].replaceChildren(...left.map((fact, i) => compared(fact, right[i])));
  const lines = numbers[0] === numbers[1] || !alike(...numbers) ? [] : [command("The differences coloured", line("compare", numbers))];
  byId("compare-commands").replaceChildren(...lines);
}

// Whether they can lie on each other.
function alike(one, other) {
  return SQUARES.get(one).like === SQUARES.get(other).like;
}

function compared([label, left], [, right]) {
  const row = element("tr", "", left === right ? "" : "differs");
  const head = element("th", label);
  head.scope = "row";
  row.append(head, element("td", left), element("td", right));
  return row;
}

byId("compare-open").addEventListener("click", () => openCompare([...ticked(), ...shownNumbers()]));

// --- the picks ---------------------------------------------------------------------------------------------

const picks = byId("picks");

function showPicks() {
  const numbers = ticked();
  byId("picks-none").hidden = numbers.length > 0;
  byId("clear").disabled = !numbers.length;
  byId("picks-list").replaceChildren(...numbers.map(picked));
  const next = [];
  if (numbers.length) next.push(command("Keep these picks in the study", line("pick", numbers)));
  next.push(command("Or with the notes, once picks.json is saved", line("pick", ["--from", "downloads"])));
  next.push(...series(numbers));
  byId("picks-commands").replaceChildren(...next);
}

// A series is of those with one print, of 9 squares unless it is told, and of 40 at most.
function series(numbers) {
  const printOf = (number) => SQUARES.get(number).hung;
  const first = numbers.find(printOf);
  const hung = numbers.filter((number) => printOf(number) && printOf(number) === printOf(first));
  if (!hung.length || hung.length > 40) return [];
  const those = hung.length < numbers.length ? `, of those with the print of ${first}` : "";
  const count = hung.length > 9 ? ["--squares", hung.length] : [];
  return [command(`A series for a wall${those}`, line("series", [...hung, ...count]))];
}

function picked(number) {
  const row = element("li");
  const button = element("button", "Untick");
  button.type = "button";
  button.setAttribute("aria-label", `Untick square ${number}`);
  button.addEventListener("click", () => {
    toggle(number);
    byId("save").focus();
  });
  row.append(element("b", String(number)), element("p", pickOf(number).note), button);
  return row;
}

byId("picks-open").addEventListener("click", () => {
  byId("said").textContent = "";
  showPicks();
  picks.showModal();
  byId("save").focus();
});
byId("save").addEventListener("click", save);
byId("load").addEventListener("click", () => byId("file").click());
byId("file").addEventListener("change", async (event) => {
  const [file] = event.target.files;
  if (file) await load(file);
  event.target.value = "";
});
byId("clear").addEventListener("click", () => {
  for (const number of ticked()) toggle(number);
  byId("save").focus();
});

// --- beginning ---------------------------------------------------------------------------------------------

onLook.push(() => {
  if (large.open) draw(byId("large-picture"), current, true);
  if (compare.open) showCompare();
});
onPick.push(() => {
  if (large.open) showTick(byId("large-tick"), current);
  if (compare.open) showCompare();
  if (picks.open) showPicks();
});
recall();
for (const show of onPick) show();
for (const card of cards) watcher.observe(card);
setLook(look);
