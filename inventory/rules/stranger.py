"""Names the one person who stands for strangers; no user name of a person may hold a bracket."""

from typing import Final

STRANGER: Final = "(stranger)"
