"""What is kept: study folders and their files, sheets, tables, and the run that fills them.

`study` is a folder and `state` what it says of itself; `free` where a new one may stand; `request` what a run is to
do and `session` the run; `outlines` a traced stamp as text; `sheets` and their `pages`, `browsing` (the page),
`listing` (tables and lines); `picks` and `picking`, `downloads`, where browsers save them; `leavings` of page and
picks, `earlier` what killed commands of earlier versions left.
"""
