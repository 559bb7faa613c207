"""From a stamp and a brief to many designs: the rooms, each of which may use those before it.

reading (prints), search (designs that keep a brief), serving (searches side by side), asking (briefs), storage
(studies), mending (what would mend a brief), editing (other pieces made of those found), papers, commands. `cli` alone
exits and turns errors into lines.
"""
