"""Tells whether there are keys to sign a paper with, and whether they vouch for anybody."""

from collections.abc import Iterator

from certs.queries.check_item import CheckItem
from inventory.models import SigningKey
from inventory.queries.signing_keys import keys_in_use

NEEDED = (SigningKey.Purpose.PAPER, SigningKey.Purpose.CREDENTIAL)
EVALUATION = (
    "The keys are for evaluation: the paper will say that its signature vouches for nobody."
)


def key_items(*, trouble: str) -> Iterator[CheckItem]:
    """A paper is issued signed or not at all.

    Args:
        trouble: what keeps the keys on record from signing, as a lost file does; empty: nothing
            that is known. Only services look at key files, so it is told from without.
    """
    held = keys_in_use()
    lacking = [purpose for purpose in NEEDED if purpose.value not in held]
    if lacking:
        labels = " and ".join(purpose.label for purpose in lacking)
        commands = " and ".join(f"manage.py make_keys --purpose {one.value}" for one in lacking)
        text = f"No key for {labels}: an administrator runs {commands}."
    elif trouble:
        text = trouble
    elif any(key.is_evaluation for key in held.values()):
        text = EVALUATION
    else:
        text = f"Signed with {' and '.join(held[purpose.value].name for purpose in NEEDED)}."
    yield CheckItem(name="Keys to sign with", is_met=not lacking and not trouble, text=text)
