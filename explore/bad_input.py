"""What is said when something given cannot be taken."""


class BadInput(ValueError):
    """Something given cannot be taken: what docstrings call refused.

    The message is one line: what, where, and what is allowed instead.
    """
