"""From a strip to a frame: corners and turnovers that can be worked, with the fewest pinholes changed.

`changes` is what of a frame is worked otherwise than the strip has it, `where` it lies, `nearest` the fewest and how
few are proven; `joining` makes the nearest frame that can be worked, `offers` tries all corners and turnovers,
`making` keeps one; `centres` searches the middle of a frame and `filling` keeps such mats; `telling`, `door`.
"""
