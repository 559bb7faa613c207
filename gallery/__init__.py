"""Drawings of lace: one square, a contact sheet, a page."""
