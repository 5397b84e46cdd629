"""What stayed of a proof load, from the gauge lengths that were kept with the test."""

from certs.models import ProofTest
from certs.rules.permanent_extension import (
    PermanentExtension,
    permanent_extension,
    read_limit_pct,
)


def extension_on_record(test: ProofTest) -> PermanentExtension | None:
    """Give the permanent extension of a test; None where it was not measured."""
    before_um, after_um = test.gauge_before_um, test.gauge_after_um
    if before_um is None or after_um is None:
        return None
    return permanent_extension(
        before_um=before_um,
        after_um=after_um,
        limit_pct=read_limit_pct(test.extension_limit_pct),
    )
