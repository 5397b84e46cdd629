"""What a testing machine, as calibrated on a day, must show for a proof load.

The bounds are derived by `certs.rules.force_to_show`; which load is asked for is not decided here.
"""

from dataclasses import dataclass
from datetime import date

from certs.models import ProofTest
from certs.queries.machine_support import calibration_on, class_of, problems_on
from certs.queries.specification_rows import machine_class_rows
from certs.queries.splice_ceiling import HAND_SPLICE_TOLD, hand_splice_ceiling, has_hand_splice
from certs.rules.force_to_show import ShownForce, force_to_show
from certs.rules.proof_test import NO_CEILING, PROOF_CLASS
from inventory.models import Assembly, Calibration, TestingMachine


@dataclass(frozen=True, slots=True)
class ForceAsked:
    """What to show, with the calibration it rests on; None where no class of machine is held.

    `problems` say why a test there and then would support no certificate; `notes` tell of limits
    that come of themselves.
    """

    shown: ShownForce | None
    calibration: Calibration | None
    problems: tuple[str, ...]
    notes: tuple[str, ...]


def force_asked(
    machine: TestingMachine,
    *,
    day: date,
    required_n: int,
    ceiling_n: int | None = None,
    assembly: Assembly | None = None,
) -> ForceAsked:
    """Tell what a machine must show for a proof load, and at most for a load not to be passed (N).

    An assembly with hand splices brings a limit of its own. Raises Refusal for a class that the
    table does not hold.
    """
    calibration = calibration_on(machine, day=day)
    splice_n = hand_splice_ceiling(assembly) if assembly else None
    lowest_n = min((n for n in (ceiling_n, splice_n) if n is not None), default=None)
    shown = _shown(calibration, required_n=required_n, ceiling_n=lowest_n)
    forces_n = [int(bound.stated) for bound in (shown.least, shown.most) if bound] if shown else []
    return ForceAsked(
        shown=shown,
        calibration=calibration,
        problems=tuple(
            problems_on(calibration, day=day, forces_n=forces_n, needed_class=PROOF_CLASS)
        ),
        notes=tuple(_notes(assembly, ceiling_n=lowest_n, splice_n=splice_n)),
    )


def force_asked_of(test: ProofTest) -> ForceAsked:
    """Tell what the machine had to show in a test; its problems stand with the test."""
    shown = _shown(test.calibration, required_n=test.required_n, ceiling_n=test.ceiling_n)
    return ForceAsked(shown, test.calibration, problems=(), notes=())


def _shown(
    calibration: Calibration | None, *, required_n: int, ceiling_n: int | None
) -> ShownForce | None:
    row = class_of(calibration)
    if row is None:
        return None
    return force_to_show(
        required_n=required_n,
        row=row,
        rows=machine_class_rows(),
        ceiling_n=ceiling_n,
        resolution_n=calibration.resolution_n if calibration else None,
    )


def _notes(assembly: Assembly | None, *, ceiling_n: int | None, splice_n: int | None) -> list[str]:
    if assembly is None or not has_hand_splice(assembly):
        return []
    if splice_n is None and ceiling_n is None:
        return [NO_CEILING]
    return [] if splice_n is None else [HAND_SPLICE_TOLD]
