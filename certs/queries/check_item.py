"""One line of the checklist of a draft. What must be so is decided by `checklist`."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CheckItem:
    """One thing that must be so; `about` is the code of the thing where it can be mended."""

    name: str
    is_met: bool
    text: str
    about: str = ""
