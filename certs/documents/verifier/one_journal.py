"""Checks that every checkpoint is of one journal that only grew.

Each is held against the next larger one by a proof of consistency. Who signed them is checked
apart.
"""

from collections.abc import Sequence

from certs.documents.verifier.answers import FAILS, HOLDS, UNSAID, Check
from certs.documents.verifier.hash_tree import proves_consistency
from certs.documents.verifier.journal_answers import Growth
from certs.documents.verifier.log_note import LogHead


def check_one_journal(
    heads: Sequence[tuple[str, LogHead]], growths: Sequence[tuple[str, Growth]]
) -> list[Check]:
    """Hold each head against the next larger one of the same journal, and check every proof."""
    checks = [
        Check(name, "growth of the journal", *_proved_growth(growth, growth.roots, heads))
        for name, growth in growths
        if growth.roots is not None
    ]
    unlike = {(head.origin, head.size, head.root): name for name, head in reversed(heads)}
    ordered = sorted((*key, name) for key, name in unlike.items())
    for at in range(1, len(ordered)):
        (origin, old_size, old_root, old_name), new = ordered[at - 1], ordered[at]
        if new[0] == origin:
            old = (old_size, old_root)
            verdict, meaning = _grew(old, (new[1], new[2]), [growth for _, growth in growths])
            checks.append(Check(f"{old_name}, {new[3]}", "one journal", verdict, meaning))
    return checks


def _proved_growth(
    growth: Growth, roots: tuple[bytes, bytes], heads: Sequence[tuple[str, LogHead]]
) -> tuple[str, str]:
    """Judge a proof that says which roots it is about."""
    old, new = (growth.old_size, roots[0]), (growth.new_size, roots[1])
    if not _leads(growth, old[1], new[1]):
        return FAILS, "The proof does not lead from the one root to the other."
    for size, root in (old, new):
        same_size = [head for _, head in heads if head.size == size]
        if not same_size:
            return UNSAID, (
                f"It leads from root to root; but no checkpoint of {size} entries was handed in, "
                "so nobody vouches for that root."
            )
        if all(head.root != root for head in same_size):
            return FAILS, f"The checkpoint of {size} entries has another root."
    return HOLDS, f"The first {growth.old_size} of {growth.new_size} entries are the same."


def _grew(
    old: tuple[int, bytes], new: tuple[int, bytes], growths: Sequence[Growth]
) -> tuple[str, str]:
    (old_size, old_root), (new_size, new_root) = old, new
    if old_size == new_size:
        return FAILS, (
            f"Two checkpoints of {old_size} entries have different roots: the journal was shown "
            "in two versions."
        )
    fitting = [g for g in growths if (g.old_size, g.new_size) == (old_size, new_size)]
    if not fitting:
        return UNSAID, (
            f"No proof was handed in that the journal of {old_size} entries is the beginning "
            f"of that of {new_size}."
        )
    if any(_leads(growth, old_root, new_root) for growth in fitting):
        return HOLDS, f"The first {old_size} of {new_size} entries are the same."
    return FAILS, f"The journal of {old_size} entries is not the beginning of that of {new_size}."


def _leads(growth: Growth, old_root: bytes, new_root: bytes) -> bool:
    return proves_consistency(
        old_size=growth.old_size,
        new_size=growth.new_size,
        old_root=old_root,
        new_root=new_root,
        path=growth.path,
    )
