"""Decides how far a reel is understood while it is typed in: its rope, its heats, its findings.

What stands under which field is decided in `receiving_slots`, what agrees with what by the rules.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from certs.pages.forms.receiving import ReceiveCheckedForm
from certs.pages.receiving_slots import (
    Asked,
    Slot,
    SlotLine,
    asked,
    lines_by_field,
    summary_of,
)
from certs.queries.receiving import Measured
from certs.rules.ladle_analysis import TOPIC as ANALYSIS
from certs.rules.measured_diameter import FIELDS, Readings
from certs.services.foresee_check import Foreseen, TypedReel, foresee_check
from inventory.models import Heat, Party
from inventory.pages.facts import Fact
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.reels import HeatRows
from inventory.pages.forms.rows import Rows
from inventory.pages.rope_facts import facts_of_designation
from inventory.queries.receipts import heats_named, latest_heats
from inventory.rules.analysis import check_analysis
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class SoFar:
    """A form half filled in: what it is understood as, and what stands under its fields."""

    understood: Sequence[Fact]
    asked: Mapping[str, Asked]
    rows: Sequence[Mapping[str, Asked]]
    diameter: Slot
    heats: Slot
    summary: SlotLine
    offered: Sequence[Heat]

    @property
    def slots(self) -> list[Slot]:
        """List every slot of the page."""
        of_rows = (one.slot for row in self.rows for one in row.values())
        return [*(one.slot for one in self.asked.values()), *of_rows, self.diameter, self.heats]


class _Reading:
    """What can be read of a form at this moment, whatever else is missing or wrong."""

    def __init__(self, form: Ask) -> None:
        """Read it anew, as a form that was told to keep silent has forgotten what it read."""
        data = form.data if form.is_bound else None
        self.form = ReceiveCheckedForm(data, initial=form.initial)
        self.heats = HeatRows(data, prefix="heat")
        self.form.is_valid()
        self.read: dict[str, Any] = getattr(self.form, "cleaned_data", {})
        self.rows = [_row(one) for one in self.heats.forms]
        self.mill: Party | None = self.read.get("mill")
        if not form.is_bound and isinstance(form.initial.get("mill"), Party):
            self.mill = form.initial["mill"]
        numbers = {row["number"].strip() for row in self.rows if row.get("number")}
        self.known = heats_named(self.mill, numbers) if self.mill else {}

    def errors(self, form: Ask, name: str) -> list[str]:
        """Say what cannot be read of a field in which something stands."""
        if not form.is_bound or not str(form[name].data or "").strip():
            return []
        return [str(error) for error in form.errors.get(name, ())]


def so_far(form: Ask, heats: Rows) -> SoFar:
    """Tell how far a form is understood; nothing is asked of what nobody has typed."""
    reading = _Reading(form)
    understood, problem = _understood(form)
    foreseen = _foresee(reading) if understood and form.is_bound else None
    told = lines_by_field(foreseen) if foreseen else {}
    refusal = foreseen.refusal if foreseen else None
    errors = {name: reading.errors(reading.form, name) for name in form.fields}
    if problem:
        errors["designation"].append(problem)
    if refusal is not None and refusal.field in errors:
        errors[refusal.field].append(refusal.message)
    return SoFar(
        understood=understood,
        asked={
            name: asked(form[name], errors=errors[name], lines=told.get(name, ()))
            for name in form.fields
        },
        rows=[_asked_of_heat(one, at, reading, told) for at, one in enumerate(heats.forms)],
        diameter=Slot(
            "found-diameter",
            "In mm: two readings at right angles in each of two places, such as 12.3.",
            lines=tuple(told.get("diameter", ())),
        ),
        heats=Slot("found-heats", "", lines=tuple(told.get("heats", ()))),
        summary=summary_of(foreseen) if foreseen else SlotLine("", "", _WAITING),
        offered=latest_heats(reading.mill) if reading.mill else (),
    )


_WAITING = "What you type is compared as soon as the rope is understood."


def _understood(form: Ask) -> tuple[list[Fact], str]:
    """Return what the designation typed so far says, or why it says nothing."""
    text = form.data.get("designation", "") if form.is_bound else form.initial.get("designation")
    if not text:
        return [], ""
    try:
        return facts_of_designation(text), ""
    except Refusal as refusal:
        return [], refusal.message


def _foresee(reading: _Reading) -> Foreseen:
    read = reading.read
    return foresee_check(
        TypedReel(
            designation=read.get("designation", ""),
            mill=reading.mill,
            mill_reel_number=read.get("mill_reel_number", ""),
            length_mm=read.get("length_mm"),
            marked_grade=read.get("marked_grade", ""),
            declared_force_n=read.get("declared_force_n"),
            declared_mass_g_per_100m=read.get("declared_mass_g_per_100m"),
            document=read.get("number") or read.get("document_on_file") or "",
            heats=list(_heats(reading)),
            measured=_measured(read),
        )
    )


def _measured(read: Mapping[str, Any]) -> Measured:
    """Give what was measured; a pair or four readings count only when they are whole."""
    figures = [read.get(name) for name in FIELDS]
    weighed = (read.get("weighed_length_mm"), read.get("weighed_mass_g"))
    is_weighed = None not in weighed
    return Measured(
        standard=read.get("standard", ""),
        agreed=read.get("agreed"),
        readings=Readings(*(one or 0 for one in figures)) if None not in figures else None,
        weighed_length_mm=weighed[0] if is_weighed else None,
        weighed_mass_g=weighed[1] if is_weighed else None,
        zinc_class=read.get("zinc_class", ""),
    )


def _row(form: Ask) -> dict[str, Any]:
    form.is_valid()
    return getattr(form, "cleaned_data", {})


def _heats(reading: _Reading) -> Iterator[Heat]:
    """Give the heats named so far, as on record or as typed; each once."""
    seen = set()
    for row in reading.rows:
        number = row.get("number", "").strip()
        if not number or number in seen:
            continue
        seen.add(number)
        yield reading.known.get(number) or Heat(
            number=number,
            steel_name=row.get("steel_name", "").strip(),
            analysis=_analysis(row)[0],
        )


def _analysis(row: Mapping[str, Any]) -> tuple[dict[str, str], str]:
    """Give the analysis of a row, and why it cannot be used if it cannot."""
    try:
        return dict(check_analysis(row.get("analysis") or {})), ""
    except Refusal as refusal:
        return {}, refusal.message


def _asked_of_heat(
    form: Ask, at: int, reading: _Reading, told: Mapping[str, list[SlotLine]]
) -> dict[str, Asked]:
    row, reader = reading.rows[at], reading.heats.forms[at]
    errors = {name: reading.errors(reader, name) for name in form.fields}
    _, problem = _analysis(row)
    if problem:
        errors["analysis"].append(problem)
    number = row.get("number", "").strip()
    lines: dict[str, list[SlotLine]] = {}
    if number:
        lines["analysis"] = told.get(f"{ANALYSIS} of heat {number}", [])
        lines["number"] = [_standing(number, reading)]
    return {
        name: asked(form[name], errors=errors[name], lines=lines.get(name, ()))
        for name in form.fields
    }


def _standing(number: str, reading: _Reading) -> SlotLine:
    known = reading.known.get(number)
    if known is not None:
        text = f"{known.code}, steel {known.steel_name}. Leave steel and analysis empty."
        return SlotLine("on record", "good", text)
    return SlotLine("new", "open", "It is recorded with the reel.")
