"""Decides how readings of a reel's length are shown: what each says, and what the ledger says."""

from collections.abc import Iterable, Iterator

from django.http import HttpRequest, HttpResponse

from certs.models import ReelReading
from certs.pages.acting import for_claim
from certs.pages.derivations import ShownDerivation, shown_steps
from certs.pages.forms.reel_readings import ReelReadingForm
from certs.pages.rendering import show
from certs.queries.reel_length import LengthReading, ReelLengths, readings_of
from certs.queries.rope_mass import limits_of, masses_of
from certs.rules.derived import Gap, plain
from certs.rules.reel_length import NO_LIMITS, Agreement, LengthEstimate
from certs.rules.roles import ClaimAct
from certs.services.read_reel import read_reel as record_reading
from inventory.models import Reel
from inventory.pages.acting import deed, done, found, perform, typed
from inventory.pages.facts import Fact
from inventory.pages.reading import moment, shown_mass, shown_metres
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.queries.stock import reel_balance
from inventory.queries.things import reel_of_code

_VERDICTS = {
    True: ("agrees", "good"),
    False: ("does not agree", "stop"),
    None: ("cannot say", "open"),
}


@for_claim(ClaimAct.READ_REEL, is_read_by_all=True)
def read_reel(request: HttpRequest, code: str) -> HttpResponse:
    """Show what was read of a reel's length, and ask for another reading."""
    reel = found(reel_of_code(code))
    form = ReelReadingForm(*typed(request))
    taken = perform(
        request, lambda: record_reading(reel=reel, **form.values, **deed(request)), form
    )
    if taken is not None:
        return done(request, f"Reading {taken.code} is recorded.", "certs:read_reel", code)
    lengths = readings_of(reel)
    return show(
        request,
        "certs/read_reel.html",
        area="reels",
        reel=reel,
        form=form,
        facts=_facts(reel),
        readings=_readings_table(lengths.readings),
        between=_between_table(lengths.between),
        gaps=_gaps(lengths),
        steps=_steps(lengths),
    )


def _facts(reel: Reel) -> list[Fact]:
    limits = limits_of(reel)
    bounds = f"{plain(limits.min_mm)} to {plain(limits.max_mm)} mm" if limits else "no limits held"
    note = limits.source.text if limits else NO_LIMITS
    masses = (
        Fact("Mass per length", "no value held", note=mass.reason)
        if isinstance(mass, Gap)
        else Fact("Mass per length", mass.text, note=mass.basis)
        for mass in masses_of(reel)
    )
    return [
        Fact("Left by the ledger", shown_metres(reel_balance(reel).remaining_mm)),
        *masses,
        Fact("Diameter allowed", bounds, note=note),
    ]


def _readings_table(readings: Iterable[LengthReading]) -> Table:
    columns = (
        "Reading",
        "Taken",
        "What was read",
        Column("Says, m", is_number=True),
        Column("Ledger then", is_number=True),
        Column("Ledger less reading", is_number=True),
        "Verdict",
    )
    return build_table(
        columns=columns, lines=(line for one in readings for line in _lines(one)), folds=True
    )


def _lines(one: LengthReading) -> Iterator[Line]:
    reading = one.reading
    start = (
        Cell(reading.code, note=reading.note),
        Cell(moment(reading.taken_at), note=f"by {reading.taken_by}"),
    )
    if not one.estimates:
        ledger = shown_metres(reading.ledger_mm)
        open_cell = Cell("cannot say", shape="open", note="no mass is held for this rope")
        yield Line((*start, _read(reading), "", ledger, "", open_cell))
    for estimate, agreement in zip(one.estimates, one.agreements, strict=True):
        yield Line(
            (
                *start,
                Cell(_read(reading), note=estimate.named),
                _span(estimate),
                shown_metres(reading.ledger_mm),
                _difference(agreement),
                _verdict(agreement),
            )
        )


def _read(reading: ReelReading) -> str:
    if reading.kind == ReelReading.Kind.MASS:
        return (
            f"{shown_mass(reading.gross_g or 0)} with rope, {shown_mass(reading.tare_g or 0)} empty"
        )
    return (
        f"barrel {reading.barrel_mm} mm, between flanges {reading.traverse_mm} mm,"
        f" over the winding {reading.wound_mm} mm"
    )


def _span(estimate: LengthEstimate) -> str:
    low, high = plain(estimate.low.stated), plain(estimate.high.stated)
    return low if low == high else f"{low} to {high}"


def _difference(agreement: Agreement) -> Cell:
    if agreement.least_mm == agreement.most_mm:
        text, percent = shown_metres(agreement.least_mm), f"{agreement.least_percent} %"
    else:
        least, most = shown_metres(agreement.least_mm), shown_metres(agreement.most_mm)
        text = f"{least} to {most}"
        percent = f"{agreement.least_percent} to {agreement.most_percent} %"
    return Cell(text, note=percent)


def _verdict(agreement: Agreement) -> Cell:
    word, shape = _VERDICTS[agreement.is_consistent]
    return Cell(word, shape=shape)


def _between_table(between: Iterable[Agreement]) -> Table:
    return build_table(
        columns=("One", "The other", Column("One less the other", is_number=True), "Verdict"),
        lines=(Line((one.first, one.second, _difference(one), _verdict(one))) for one in between),
        folds=True,
    )


def _gaps(lengths: ReelLengths) -> list[str]:
    return list(dict.fromkeys(gap.reason for one in lengths.readings for gap in one.gaps))


def _steps(lengths: ReelLengths) -> list[ShownDerivation]:
    """Tell the latest reading of each kind step by step."""
    latest = {one.reading.kind: one for one in reversed(lengths.readings)}
    parts = (
        part
        for one in latest.values()
        for estimate in one.estimates
        for part in (estimate.low, estimate.high)
    )
    return list(dict.fromkeys(step for part in parts for step in shown_steps(part)))
