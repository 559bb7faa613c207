"""From a stamp and a brief to many squares: reading, searching, keeping, and the command line."""
