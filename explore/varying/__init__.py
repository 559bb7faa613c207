"""Varying a chosen square: its cousins, which keep a part of it, and the small steps away from it."""
