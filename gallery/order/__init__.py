"""The order of work in words and on paper."""
