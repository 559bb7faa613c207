"""From a stamp and a brief to many designs: reading, searching, keeping, and the command line."""
