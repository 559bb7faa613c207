"""What hangs beside squares on a wall: the sheet, labels, the catalogue."""
