"""The pricking of a square at true size."""
