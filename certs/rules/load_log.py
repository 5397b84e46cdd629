"""The force log of a testing machine: text with a time and a force in each line, made samples.

It decides what is read, what is reported by line and skipped, and when a log cannot be relied on.
What the samples show is left to `load_trace`.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, NoReturn

from certs.rules.log_columns import (
    NEWTONS_PER_UNIT,
    SECONDS_PER_UNIT,
    Columns,
    find_columns,
    is_unit_row,
    join_rows,
    known_force_unit,
    known_time_unit,
)
from certs.rules.log_layout import (
    Layout,
    decode,
    find_layout,
    first_data_line,
    is_ambiguous,
    split_lines,
)
from certs.rules.log_rows import LineProblem, RowReader, Sample
from inventory.rules.refusal import Refusal

__all__ = ["LineProblem", "LoadLog", "Sample", "UnreadableLog", "read_log"]

# Own decisions: about 80 minutes at 100 readings a second; and a log that is wrong in more than
# one line of ten is not trusted for the other nine.
MAX_ROWS: Final = 500_000
MAX_BAD_PERCENT: Final = 10

_SHOWN_PROBLEMS: Final = 5
_PLAIN_COLUMNS: Final = 2
_HEADING_WITHIN: Final = 100
_THOUSANDS: Final = (
    "The sign “{mark}” in the forces may separate thousands or decimals."
    " Have the machine write them without thousands marks."
)


@dataclass(frozen=True, slots=True)
class LoadLog:
    """What was read; times strictly increase. `metadata` holds the lines above the heading."""

    samples: tuple[Sample, ...]
    problems: tuple[LineProblem, ...]
    separator: str
    decimal_mark: str
    time_unit: str
    force_unit: str
    metadata: Mapping[str, str]


class UnreadableLog(Refusal):
    """The log is not relied on; `problems` lists the lines at fault, where lines are."""

    def __init__(
        self, message: str, *, field: str = "log", problems: Sequence[LineProblem] = ()
    ) -> None:
        """Take a whole sentence and the lines it speaks of."""
        super().__init__(message, field=field)
        self.problems = tuple(problems)


def read_log(
    log: str | bytes, *, force_unit: str | None = None, time_unit: str | None = None
) -> LoadLog:
    """Read a force log: CSV with comma, semicolon or tab, decimal point or comma.

    `force_unit` and `time_unit` say what the heading leaves out; one that contradicts the heading
    is refused. Lines that hold no reading, and times that do not increase, are reported and
    skipped. Raises `UnreadableLog`.
    """
    lines = split_lines(decode(log))
    layout = find_layout(lines)
    if layout is None:
        message = (
            "No line of this log holds two numbers. A force log has a time and a force in each"
            " line, separated by comma, semicolon or tab."
        )
        raise UnreadableLog(message)
    first = first_data_line(lines, layout)
    columns, heading_at, rows_from = _find_table(lines, layout, first)
    time_name = _unit("time", columns.time_unit, _known_time(time_unit))
    force_name = _unit(
        "force", columns.force_unit, _known_force(force_unit), written=columns.force_written
    )
    rows = [(n, line) for n, line in enumerate(lines[rows_from:], rows_from + 1) if line.strip()]
    if len(rows) > MAX_ROWS:
        message = f"This log has {len(rows)} lines; at most {MAX_ROWS} are read."
        raise UnreadableLog(message)
    reader = RowReader(layout, columns, SECONDS_PER_UNIT[time_name], NEWTONS_PER_UNIT[force_name])
    if is_ambiguous(reader.forces(rows)):
        raise UnreadableLog(_THOUSANDS.format(mark=layout.decimal_mark))
    samples, problems = reader.read(rows)
    _refuse_if_mostly_bad(samples, problems)
    return LoadLog(
        samples=tuple(samples),
        problems=tuple(problems),
        separator=layout.separator,
        decimal_mark=layout.decimal_mark,
        time_unit=time_name,
        force_unit=force_name,
        metadata=_metadata(lines[:heading_at], layout),
    )


def _find_table(lines: Sequence[str], layout: Layout, first: int) -> tuple[Columns, int, int]:
    """Return the columns, the index of the heading, and that of the first row below it.

    Without a heading, two plain columns are the time and the force; more cannot be told apart.
    """
    # Upward first; downward too, since a line of metadata can look like numbers.
    near = (*range(first - 1, -1, -1), *range(first + 1, min(len(lines), first + _HEADING_WITHIN)))
    for at in near:
        cells, above = layout.cells(lines[at]), layout.cells("".join(lines[max(at - 1, 0) : at]))
        has_names = is_unit_row(cells) and len(above) == len(cells)
        found = find_columns(join_rows(above, cells) if has_names else cells)
        if isinstance(found, Columns):
            return found, at - has_names, at + 1
        if found is not None:
            message = f"More than one column could be meant: {', '.join(found)}. Keep one of them."
            raise UnreadableLog(message)
    if len(layout.cells(lines[first])) != _PLAIN_COLUMNS:
        message = (
            "No heading says which column is the time and which the force. Write one such as"
            " “Time [s];Force [kN]” above the numbers."
        )
        raise UnreadableLog(message)
    return Columns(0, 1, _PLAIN_COLUMNS, None, None), first, first


def _known_time(written: str | None) -> str | None:
    unit = known_time_unit(written or "")
    return unit if unit or not written else _refuse_unit(written, "time", SECONDS_PER_UNIT)


def _known_force(written: str | None) -> str | None:
    unit = known_force_unit(written or "")
    return unit if unit or not written else _refuse_unit(written, "force", NEWTONS_PER_UNIT)


def _refuse_unit(written: str, quantity: str, units: Mapping[str, Decimal]) -> NoReturn:
    message = f"“{written}” is no unit of {quantity} known here; give one of {', '.join(units)}."
    raise UnreadableLog(message, field=f"{quantity}_unit")


def _unit(quantity: str, named: str | None, given: str | None, *, written: str = "") -> str:
    """Return the unit that the heading names or the reader gives; neither or two are refused."""
    if named and given and named != given:
        message = (
            f"The log says its {quantity} is in {named}, and {given} was given."
            " Make sure which is right."
        )
        raise UnreadableLog(message, field=f"{quantity}_unit")
    unit = named or given
    if unit is None:
        seen = f" (it says “{written}”)" if written else ""
        message = f"The log names no unit of {quantity} that is known here{seen}. Say which it is."
        raise UnreadableLog(message, field=f"{quantity}_unit")
    return unit


def _refuse_if_mostly_bad(samples: Sequence[Sample], problems: Sequence[LineProblem]) -> None:
    total = len(samples) + len(problems)
    if len(samples) > 1 and len(problems) * 100 <= total * MAX_BAD_PERCENT:
        return
    shown = "; ".join(str(problem) for problem in problems[:_SHOWN_PROBLEMS])
    more = "; and so on" if len(problems) > _SHOWN_PROBLEMS else ""
    message = f"{len(problems)} of {total} lines of this log cannot be used. {shown}{more}."
    raise UnreadableLog(message, problems=problems)


def _metadata(lines: Sequence[str], layout: Layout) -> dict[str, str]:
    """Return the lines above the heading as name and value; a second use of a name is numbered."""
    found: dict[str, str] = {}
    for number, line in enumerate(lines, 1):
        text = line.strip().lstrip("#*% ")
        cells = [cell.strip() for cell in layout.cells(text)]
        if not any(cells):
            continue
        name, value = cells[0], " ".join(cells[1:])
        if ":" in name:
            name, _, value = (part.strip() for part in text.partition(":"))
        name = name or f"line {number}"
        found[name if name not in found else f"{name} (line {number})"] = value
    return found
