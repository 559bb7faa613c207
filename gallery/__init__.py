"""Drawings of lace. They take designs and what `constraints` says of them, and ask nothing of any search.

`paper` knows nothing of lace; `hands`: on which hand the footside lies, and sides as she sees them; `looks` are how a
design is drawn; `seeing`: how surely an eye knows a print in it; `sheets`, `exhibition` and `web` show designs,
`pricking`, `diagram` and `order` are the papers for the pillow. `pictures` are the README's, outside the wheel.
"""
