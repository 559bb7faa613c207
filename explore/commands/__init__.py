"""The commands, one a file, each called after its command.

A command reads its options, calls the rooms behind it and says what came of it. What takes long to load is
loaded inside the command that needs it, so that its help is there at once.
"""
