// One square enlarged, and the picks.

for (const dialog of document.querySelectorAll("dialog")) {
  dialog.querySelector("[data-close]").addEventListener("click", () => dialog.close());
  dialog.addEventListener("click", ({ target, clientX, clientY }) => {
    const box = dialog.getBoundingClientRect();
    const beside = clientX < box.left || clientX > box.right || clientY < box.top || clientY > box.bottom;
    if (target === dialog && beside) dialog.close();
  });
}

function showTick(button, number) {
  press(button, pickOf(number).ticked);
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
  byId("large-name").textContent = headingOf(number);
  byId("place").textContent = `${numbers.indexOf(number) + 1} of ${numbers.length}`;
  byId("large-facts").replaceChildren(
    ...SQUARES.get(number).facts.flatMap(([label, words]) => [element("dt", label), element("dd", words)]),
  );
  showPick();
  byId("large-commands").replaceChildren(
    command("More like this one", line("vary", [number])),
    command("Its pricking, at true size", line("pricking", [number])),
  );
  draw(byId("large-picture"), number, true);
}

// While she writes, the note is left alone.
function showPick() {
  const { note } = pickOf(current);
  if (byId("note").value !== note) byId("note").value = note;
  showTick(byId("large-tick"), current);
}

function step(by) {
  const numbers = shownNumbers();
  showLarge(numbers[(numbers.indexOf(current) + by + numbers.length) % numbers.length]);
}

byId("before").addEventListener("click", () => step(-1));
byId("after").addEventListener("click", () => step(1));
byId("large-tick").addEventListener("click", () => toggle(current));
byId("note").addEventListener("input", (event) =>
  setPicks([current], { note: event.target.value }, `note on ${current}`, `note on ${current}`),
);
byId("large-compare").addEventListener("click", () => openCompare([current, ...ticked(), ...shownNumbers()], 2));
large.addEventListener("keydown", (event) => {
  const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  if (!by || event.altKey || event.ctrlKey || event.metaKey || event.target.matches("textarea, select, input")) return;
  event.preventDefault();
  step(by);
});
// She goes on where she left off: at the square seen last, or beside it if it is hidden by now.
large.addEventListener("close", () => {
  const card = cards.find((each) => numberOf(each) === current);
  const next = card.hidden ? besides(card) : card;
  const picture = picks.open ? picks.querySelector(`[data-number="${current}"]`) : next && pictureOf(next);
  (picture || (picks.open ? byId("save") : byId("all"))).focus();
});

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
  const picture = element("button", "", "picture");
  picture.type = "button";
  picture.dataset.number = number;
  picture.setAttribute("aria-label", `${headingOf(number)}, enlarge`);
  picture.addEventListener("click", () => openLarge(number));
  draw(picture, number);
  const button = element("button", "Untick");
  button.type = "button";
  button.setAttribute("aria-label", `Untick ${nameOf(number)}`);
  button.addEventListener("click", () => {
    toggle(number);
    byId("save").focus();
  });
  row.append(picture, element("b", String(number)), element("p", pickOf(number).note), button);
  return row;
}

byId("picks-open").addEventListener("click", () => {
  byId("said").textContent = "";
  tell("");
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
  setPicks(ticked(), { ticked: false }, "all unticked");
  byId("save").focus();
});
