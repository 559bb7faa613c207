"""The page for a browser: its template, style and script, and what fills it."""
