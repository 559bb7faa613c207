"""Two squares of studies compared: the `pair`, what is told of them (`telling`), and the `page` that shows it."""
