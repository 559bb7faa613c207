"""Designs that keep a brief, found: stamps laid, compositions round them, each settled, decoded and checked.

`context` is a piece under its rules with its models and solver; `laying` places a stamp on it and blocks it;
`composing` has the solver choose the figures of a square, `compose` lays ornaments where none of them fit and on other
forms, and chooses stitches and fillings; `attempt` settles the composition, decodes and checks it: every search goes
through it. `workshop` is what the jobs of a brief share, `kinds` the one of forms that
take turns with several pieces (`form_kind`), stage by stage (`staging`),
`several` the one of several stamps; `squares`, `strips` and `frames` hold what is a
form's own, `workshops` and `sizing` list them by form, `more` is more of a measure. `search` runs the jobs over
`workers`, a search's own or those of a `crew`; what was worked out before is in `memory`. `favouring` puts first what a
taste likes, `accepting` keeps designs that differ (`diversity`); `dispersion` chooses from a pool.
"""
