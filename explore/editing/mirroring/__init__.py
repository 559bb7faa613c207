"""From a strip to a frame: corners and turnovers that can be worked, with the fewest pinholes changed."""
