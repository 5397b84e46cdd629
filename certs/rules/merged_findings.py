"""Tells once what findings say of several places in the same words.

Four legs built alike would otherwise be told four times. What is found is not changed.
"""

from collections.abc import Iterable
from dataclasses import replace

from certs.rules.finding import Finding

MARK = ": "


def merged(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Join findings that are alike but for the place their text begins with, in their order.

    A text begins with its place and a colon; places are parted by semicolons.
    """
    found: dict[Finding, list[str]] = {}
    for finding in findings:
        place, _, rest = finding.text.partition(MARK)
        found.setdefault(replace(finding, text=rest), []).append(place)
    return tuple(
        replace(alike, text=MARK.join(part for part in ("; ".join(places), alike.text) if part))
        for alike, places in found.items()
    )
