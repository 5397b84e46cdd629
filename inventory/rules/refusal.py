"""The one error whose text may be shown to a reader as it stands.

What is refused, and why, is decided by the rule or service that raises it.
"""


class Refusal(Exception):  # noqa: N818 -- a refusal is an answer to the reader, not a fault
    """Say no to a request, in words fit for the person who made it."""

    def __init__(self, message: str, *, field: str = "") -> None:
        """Take a whole sentence, and the name of the input it belongs to, if it belongs to one."""
        super().__init__(message)
        self.message = message
        self.field = field
