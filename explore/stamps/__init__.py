"""The stamps that come with the program, drawn for a garden society's lace exhibition."""
