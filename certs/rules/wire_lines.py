"""Reads the wires of a test from lines of text, one wire a line, and says what is wrong by line.

Layer; diameter in mm; force in N; wires it stands for; force of the retest. The last two may be
left out. Tab or semicolon between, decimal point or comma; another unit may be written. A force is
read to the thousandth of a newton, half up.
"""

from collections.abc import Sequence
from typing import Final

from certs.rules.load_log import LineProblem
from certs.rules.log_layout import split_lines
from certs.rules.wire_strength import MN_PER_N, Wire
from inventory.rules.refusal import Refusal
from inventory.rules.units import diameter_nm, exact_force_n, round_half_up

# Own decision: more lines than this are no sample of a rope but a mistaken file.
MOST_LINES: Final = 1000
COLUMNS: Final = "layer; diameter in mm; force in N; wires it stands for; force of the retest"
_FEWEST, _MOST = 3, 5
_MOST_DIGITS: Final = 4


class UnreadableWires(Refusal):
    """Lines that are no wires; `problems` name each with its reason."""

    def __init__(self, problems: Sequence[LineProblem]) -> None:
        """Take the lines at fault, at least one."""
        first = problems[0]
        more = _more(len(problems) - 1)
        super().__init__(f"Line {first.line}: {first.reason}{more}", field="wires")
        self.problems = tuple(problems)


def read_wires(text: str) -> tuple[Wire, ...]:
    """Read wires; empty lines and a heading are passed over, and a line at fault never is.

    Raises UnreadableWires with every line at fault, Refusal where there is none or far too many.
    """
    lines = [(number, line) for number, line in enumerate(split_lines(text), 1) if line.strip()]
    if lines and _is_heading(lines[0][1]):
        lines = lines[1:]
    if not lines:
        raise Refusal(f"Give one wire a line: {COLUMNS}.", field="wires")
    if len(lines) > MOST_LINES:
        message = f"{len(lines)} wires are more than a sample has; give at most {MOST_LINES}."
        raise Refusal(message, field="wires")
    wires, problems = [], []
    for number, line in lines:
        try:
            wires.append(_wire(line))
        except Refusal as refusal:
            problems.append(LineProblem(number, line.strip(), refusal.message))
    if problems:
        raise UnreadableWires(problems)
    return tuple(wires)


def _more(count: int) -> str:
    if not count:
        return ""
    return " One more line is at fault." if count == 1 else f" {count} more lines are at fault."


def _is_heading(line: str) -> bool:
    """Tell a heading: nowhere after the first cell does a cell begin with a digit."""
    return not any(cell[:1].isdigit() for cell in _cells(line)[1:])


def _cells(line: str) -> list[str]:
    cells = [cell.strip() for cell in line.split("\t" if "\t" in line else ";")]
    while cells and not cells[-1]:
        cells.pop()
    return cells


def _wire(line: str) -> Wire:
    cells = _cells(line)
    if not _FEWEST <= len(cells) <= _MOST:
        raise Refusal(f"A wire has {_FEWEST} to {_MOST} columns, not {len(cells)}: {COLUMNS}.")
    layer, diameter, force, represents, retest = (*cells, "", "")[:_MOST]
    return Wire(
        layer=layer,
        diameter_nm=_diameter_nm(diameter),
        force_mn=_force_mn(force),
        represents=_count(represents),
        retest_force_mn=_force_mn(retest) if retest else None,
    )


def _force_mn(text: str) -> int:
    return round_half_up(exact_force_n(text, unit="N") * MN_PER_N)


def _diameter_nm(text: str) -> int:
    try:
        return diameter_nm(text)
    except Refusal as refusal:
        message = f"“{text}” is no diameter of a wire; write it in mm, such as 1.33."
        raise Refusal(message) from refusal


def _count(text: str) -> int:
    if not text:
        return 1
    is_count = text.isascii() and text.isdecimal() and len(text) <= _MOST_DIGITS
    if not is_count or int(text) == 0:
        message = f"“{text}” is no number of wires; write a whole number such as 6."
        raise Refusal(message)
    return int(text)
