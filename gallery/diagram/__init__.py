"""The working diagram of a square."""
