"""What is said when something given cannot be taken."""


class BadInput(ValueError):
    """Something given cannot be taken. The message is one line: what, where, and what is allowed instead."""


def plain_only(command: str, form: str, edging: str) -> None:
    """Refused if a brief asks a command for another form than a square with a footside."""
    for key, value, allowed in (("form", form, "square"), ("edging", edging, "footside")):
        if value != allowed:
            raise BadInput(f"{key} is {value}; allowed for {command}: {allowed}")
