"""Whether a mill's reel was received before: a mill gives a number to one reel only.

Which reels have the number is found in the record by the caller.
"""

from collections.abc import Sequence

from certs.rules.derived import Given, Source
from certs.rules.finding import Finding, Verdict

TOPIC = "Mill reel number"
RULE = "one number of a mill, one reel"
RECORD = Source(name="reels on record of the same mill", confidence="as recorded")


def reel_number_finding(number: str, earlier: Sequence[str]) -> Finding:
    """Say whether the number is new; `earlier` holds the codes of reels received with it."""
    if not number:
        text = "The mill's reel number is not known, so the reel may have been received before."
        return Finding(TOPIC, Verdict.CANNOT_SAY, text, RULE, RECORD)
    given = (Given("number", "mill reel number", number, ""),)
    if earlier:
        text = f"Number {number} of this mill was received already as {', '.join(earlier)}."
        return Finding(TOPIC, Verdict.DISAGREE, text, RULE, RECORD, given)
    text = f"Number {number} of this mill was not received before."
    return Finding(TOPIC, Verdict.AGREE, text, RULE, RECORD, given)
