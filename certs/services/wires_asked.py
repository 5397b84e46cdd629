"""What goes with which method of testing wires: a sample and a machine, or a reel and a paper."""

from certs.rules.wire_tests import Method
from certs.services.test_evidence import CannotRecord
from inventory.models import CutPiece, Reel, TestingMachine


def method_asked(method: str) -> Method:
    """Read the method by its name. Raises CannotRecord."""
    try:
        return Method(method)
    except ValueError as error:
        message = "Say whether the wires were taken from the rope or tested before laying."
        raise CannotRecord(message, field="method") from error


def reel_asked(
    method: Method,
    *,
    sample: CutPiece | None,
    reel: Reel | None,
    machine: TestingMachine | None,
    paper: str,
) -> Reel:
    """Give the reel whose rope was tested. Raises CannotRecord for what the method cannot use."""
    if method is Method.AFTER_UNLAYING:
        if sample is None:
            message = "Name the sample that was unlaid; cut one from the reel if there is none."
            raise CannotRecord(message, field="sample")
        if machine is None:
            raise CannotRecord("Name the machine that the wires were tested on.", field="machine")
        if reel is not None and reel.pk != sample.reel_id:
            raise CannotRecord(f"{sample.code} was not cut from {reel.code}.", field="reel")
        return sample.reel
    if sample is not None:
        message = "Wires tested before laying were never in a sample: leave it out."
        raise CannotRecord(message, field="sample")
    if reel is None:
        raise CannotRecord("Name the reel whose wires were tested.", field="reel")
    if not paper.strip():
        message = "Name the maker’s paper in which the wires tested before laying stand."
        raise CannotRecord(message, field="paper")
    return reel


def check_sample(piece: CutPiece | None) -> None:
    """Refuse a piece that was cut for something else, or never (CannotRecord)."""
    if piece is None:
        return
    if piece.purpose != CutPiece.Purpose.SAMPLE:
        message = (
            f"{piece.code} was not cut as a test sample; cut one from the reel and unlay that."
        )
        raise CannotRecord(message, field="sample")
    if piece.is_reversed:
        message = f"The cut of {piece.code} was reversed: there is no such piece."
        raise CannotRecord(message, field="sample")
