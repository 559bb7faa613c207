"""Designs that keep a brief, found: stamps laid, compositions round them, each settled, decoded and checked."""
