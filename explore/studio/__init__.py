"""The studio: a table to work at in her browser, on her machine, over the same study folders as the commands.

`opening` says what is opened, in the `browser` that is there; `server` listens on the loopback, `threshold` lets in
who has the key. `app` has the table, `of_prints`, `of_studies`, `of_walls`, `of_mirrors`, `of_ladders` and `of_papers`
what their pages ask for; `answers` makes pages and refusals, of `pages` (templates) and `scripts`. `workroom` is what
all requests share: `folder`, outside which nothing is touched; `prints`, and the `reader` that reads them in a process
apart; a `ribbon` and a `ladder` for each of them; a `board` for each study with its `marks` and the `hunt` that fills
it, by wishes, as she `likes` one, or by the `tasting` of what she keeps, `fading` where other wishes leave squares
out; what is `hanging` on a wall; a mirror `sliding` along a strip; the `easel`, a process that draws, `swatches` too,
lace in her `colours`; a `scribe` for papers; `streams` of what is told to every tab.

The page of a print has `choices` to offer; `asked` reads what it sends. `wishes` tells what hers come to, `shapes` the
outline of it, `rooms` how large the print can lie there, `side_by_side` the same of several, `fits` what fits
something that she owns.

`typed` tells commands that do the same. The state is the folder: ending the studio loses nothing.
"""
