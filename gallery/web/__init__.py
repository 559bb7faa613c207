"""The page for a browser: its template, style and script, and what fills it.

`browse` fills them; `telling` is what is told of each design and of the brief, `legend` what the looks show, `vector`
the looks with a compact pen.
"""
