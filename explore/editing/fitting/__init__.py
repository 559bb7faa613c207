"""Fitting a chosen piece to something she owns."""
