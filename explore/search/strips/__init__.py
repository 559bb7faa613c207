"""The search for strips: repeats that meet themselves, from the rules alone or round a stamp."""
