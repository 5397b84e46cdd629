"""Writes an entry of the log: time, level, logger, message; with no secret and on its own line.

Only what Python adds to an error, its traceback, takes more lines.
"""

import logging

from inventory.rules.secrets_hidden import on_one_line, without_secrets


class Discreet(logging.Formatter):
    """Takes out secrets and line breaks, whoever logged them."""

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802 -- the name of the library
        """Write the line of an entry."""
        return on_one_line(super().formatMessage(record))

    def format(self, record: logging.LogRecord) -> str:
        """Write an entry with what belongs to it."""
        return without_secrets(super().format(record))
