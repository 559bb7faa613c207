// What she ticks and notes: kept in this browser, saved to a file that `stampwork pick` reads, loaded from one.

const FORMAT = "stampwork picks";
const VERSION = 1;
const onPick = [];
const own = new Map(); // what was ticked or noted here; all else is as in the study's picks.json
const kept = new Map(STUDY.picks.map(({ number, note, ticked }) => [number, { ticked, note }]));

function pickOf(number) {
  return own.get(number) || kept.get(number) || { ticked: false, note: "" };
}

function ticked() {
  return [...SQUARES.keys()].filter((number) => pickOf(number).ticked).sort((a, b) => a - b);
}

// words, joins: what `record` takes down.
function setPicks(numbers, change, words, joins) {
  for (const number of numbers) own.set(number, { ...pickOf(number), ...change });
  picksChanged(words, joins);
}

function picksChanged(words, joins) {
  remember();
  for (const show of onPick) show();
  record(words, joins);
}

function toggle(number) {
  const ticked = !pickOf(number).ticked;
  setPicks([number], { ticked }, `${nameOf(number)} ${ticked ? "ticked" : "unticked"}`);
}

// A browser may refuse to keep anything; then ticks last as long as the page.
function remember() {
  try {
    localStorage.setItem(STUDY.key, JSON.stringify([...own]));
  } catch {
    byId("said").textContent = "This browser keeps nothing; save picks.json before you close the page.";
  }
}

function recall() {
  try {
    for (const [number, { ticked, note }] of JSON.parse(localStorage.getItem(STUDY.key)) || []) {
      if (SQUARES.has(number)) own.set(number, { ticked: ticked === true, note: String(note || "") });
    }
  } catch {
    own.clear();
  }
}

function picksText() {
  const noted = (numbers) => numbers.map((number) => ({ number, note: pickOf(number).note.trim() }));
  const picks = ticked();
  const aside = [...SQUARES.keys()].filter((number) => pickOf(number).note.trim() && !picks.includes(number));
  const data = { format: FORMAT, version: VERSION, study: STUDY.study, picks: noted(picks) };
  if (aside.length) data.notes = noted(aside);
  return JSON.stringify(data, null, 1) + "\n";
}

function save() {
  const link = element("a");
  link.href = URL.createObjectURL(new Blob([picksText()], { type: "application/json" }));
  link.download = "picks.json";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  byId("said").textContent = `Saved ${counted(ticked().length, "pick")}.`;
}

function counted(number, word) {
  return `${number} ${word}${number === 1 ? "" : "s"}`;
}

// What a file of picks holds, as [number, ticked, note]; throws what to say of one that cannot be taken.
function picksIn(text) {
  let data;
  try {
    data = JSON.parse(text);
  } catch {
    throw new Error("This file is not a JSON text.");
  }
  if (!data || data.format !== FORMAT || data.version !== VERSION || !Array.isArray(data.picks)) {
    throw new Error(`This file is no "${FORMAT}" of version ${VERSION}.`);
  }
  if (data.study !== STUDY.study) throw new Error(`These are picks of ${data.study}, not of ${STUDY.study}.`);
  const aside = Array.isArray(data.notes) ? data.notes : [];
  const entries = [...data.picks.map((each) => [each, true]), ...aside.map((each) => [each, false])];
  if (!entries.every(([each]) => each && Number.isInteger(each.number) && typeof (each.note ?? "") === "string")) {
    throw new Error('This file is damaged: every entry must have a "number" and a "note".');
  }
  return entries.map(([{ number, note }, isPick]) => [number, isPick, (note ?? "").trim()]);
}

// Ticks are added to those there are; a note gives way to another one only, and that is told.
function take(text) {
  const said = [];
  let taken = 0;
  for (const [number, isPick, note] of picksIn(text)) {
    if (!SQUARES.has(number)) {
      said.push(`There is no ${nameOf(number)}.`);
      continue;
    }
    const before = pickOf(number);
    if (note && before.note && note !== before.note) said.push(`The note on ${number} was "${before.note}".`);
    taken += isPick;
    own.set(number, { ticked: isPick || before.ticked, note: note || before.note });
  }
  picksChanged(`${counted(taken, "pick")} loaded`);
  return [`Loaded ${counted(taken, "pick")}.`, ...said].join(" ");
}

async function load(file) {
  try {
    byId("said").textContent = take(await file.text());
  } catch (error) {
    byId("said").textContent = error.message;
  }
}

// --- commands to copy ---------------------------------------------------------------------------------------

function command(words, line) {
  const row = element("div", "", "command");
  const code = element("code", line);
  const copy = element("button", "Copy");
  copy.type = "button";
  copy.setAttribute("aria-label", `Copy the command: ${words}`);
  copy.addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(line);
    } catch {
      getSelection().selectAllChildren(code);
      document.execCommand("copy");
    }
    copy.textContent = "Copied";
    setTimeout(() => (copy.textContent = "Copy"), 2000);
  });
  row.append(element("span", words), code, copy);
  return row;
}

function line(name, numbers) {
  return [STUDY.program, name, STUDY.folder, ...numbers].join(" ");
}
