// Two to four squares side by side, and what differs.

const compare = byId("compare");
const halves = [...compare.querySelectorAll(".half")];
const chooser = (side) => compare.querySelector(`select[data-side="${side}"]`);
const squareAt = (side) => Number(chooser(side).value);
const most = Math.min(halves.length, SQUARES.size);
let beside = 2;

for (const { dataset } of halves) {
  chooser(dataset.side).append(...[...SQUARES.keys()].map((number) => new Option(number, number)));
  chooser(dataset.side).addEventListener("change", showCompare);
  compare.querySelector(`[data-tick="${dataset.side}"]`).addEventListener("click", () => toggle(squareAt(dataset.side)));
}
for (const radio of compare.querySelectorAll("[name=beside]")) {
  radio.closest("label").hidden = Number(radio.value) > most;
  radio.addEventListener("change", () => {
    beside = Number(radio.value);
    showCompare();
  });
}

// The first different ones of the numbers, count of them; those that are not shown yet wait behind them.
function openCompare(numbers, count) {
  const each = [...new Set([...numbers, ...SQUARES.keys()])];
  halves.forEach(({ dataset }, i) => (chooser(dataset.side).value = each[i] ?? each[0]));
  beside = Math.max(2, Math.min(count, most));
  showCompare();
  compare.showModal();
  chooser("2").focus();
}

function showCompare() {
  for (const radio of compare.querySelectorAll("[name=beside]")) radio.checked = Number(radio.value) === beside;
  compare.dataset.beside = beside;
  halves.forEach((half, i) => (half.hidden = i >= beside));
  const numbers = halves.slice(0, beside).map(({ dataset }) => squareAt(dataset.side));
  numbers.forEach((number, i) => {
    draw(compare.querySelector(`[data-picture="${i + 1}"]`), number, true);
    showTick(compare.querySelector(`[data-tick="${i + 1}"]`), number);
  });
  const table = byId("differences");
  table.tHead.rows[0].replaceChildren(element("td"), ...numbers.map((number) => headed(headingOf(number), "col")));
  const facts = numbers.map((number) => new Map(SQUARES.get(number).facts));
  const labels = [...new Set(facts.flatMap((each) => [...each.keys()]))];
  table.tBodies[0].replaceChildren(...labels.map((label) => compared(label, facts.map((each) => each.get(label) ?? "-"))));
  byId("compare-commands").replaceChildren(...differences(numbers));
}

// The command for the first with each of the others that can lie on it.
function differences([first, ...others]) {
  const alike = (other) => other !== first && SQUARES.get(other).like === SQUARES.get(first).like;
  return [...new Set(others)]
    .filter(alike)
    .map((other) => command(`The differences of ${first} and ${other} coloured`, line("compare", [first, other])));
}

function headed(words, scope) {
  const head = element("th", words);
  head.scope = scope;
  return head;
}

function compared(label, values) {
  const differs = values.some((value) => value !== values[0]);
  const row = element("tr", "", differs ? "differs" : "");
  const head = headed(label, "row");
  if (differs) head.append(element("span", ", differs", "unseen"));
  row.append(head, ...values.map((value) => element("td", value)));
  return row;
}

byId("compare-open").addEventListener("click", () => openCompare([...ticked(), ...shownNumbers()], ticked().length));
