"""Searches for a program that goes on, several at a time: `events` is what is told of one, `searches` runs them, `bell`
wakes whoever listens."""
