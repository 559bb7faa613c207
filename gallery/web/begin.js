// What follows the look and the picks, wherever it is shown; then all is shown for the first time.

onLook.push(() => {
  if (large.open) draw(byId("large-picture"), current, true);
  if (compare.open) showCompare();
  if (picks.open) showPicks();
});
onPick.push(() => {
  if (large.open) showPick();
  if (compare.open) showCompare();
  if (picks.open) showPicks();
});
// On a phone the squares come first.
if (matchMedia("(max-width: 36rem)").matches) for (const each of document.querySelectorAll(".legend")) each.open = false;
recall();
now = pageState();
for (const show of onPick) show();
for (const card of cards) watcher.observe(card);
showSteps();
showLetters();
setLook(look);
