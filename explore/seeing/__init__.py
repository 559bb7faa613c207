"""How surely a print is known in lace: pictures as an eye sees them, shapes it could be taken for, and the verdict."""
