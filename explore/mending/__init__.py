"""What would mend a brief that cannot be had or gave nothing: small changes of it, each run before it is told.

`trying` runs changes through a command's door, alone and two at once, and says the sentence; `changes` of a brief by
size, `measures` those of pairs, sizes and pitches; `briefs` is the door of commands that take a brief, `searching`
has those of `explore` and `stamp`. The other doors are with their commands.
"""
