"""Laying a stamp on the grid: where whole prints fit, what blocks show them best, and why none may."""
