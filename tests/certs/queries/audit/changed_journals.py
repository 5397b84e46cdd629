"""Changes of the journal and the keys past the program, and what the audit has to say of each.

Some are done by somebody who knows how the journal is made and writes all of it anew.
"""

from base64 import b64decode, b64encode
from datetime import timedelta

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from django.db import transaction

from certs.rules.disagreement import What
from inventory.models import Checkpoint, JournalEntry, JournalHead, MerkleNode, SigningKey
from inventory.rules.checkpoint import LogHead, log_origin
from inventory.rules.signed_note import sign_note
from inventory.rules.tree_growth import root_of_peaks
from inventory.services import journal
from tests.certs.queries.audit.world import ORIGIN, entries, write_anew
from tests.factories import MOMENT, given_person

EARLIER = MOMENT - timedelta(days=30)
ENTRY, CHAIN, ORDER, HEAD = What.ENTRY, What.CHAIN, What.NUMBERING, What.HEAD
NODE, SIGNED, SHORT = What.NODE, What.CHECKPOINT, What.CUT_SHORT
# An entry in the middle, which all checkpoints cover.
NUMBER = 9


class HeldKey:
    """A key of somebody who signs what he likes."""

    def __init__(self):
        self._private = Ed25519PrivateKey.generate()
        public = self._private.public_key()
        self.public_key_bytes = public.public_bytes(Encoding.Raw, PublicFormat.Raw)

    def sign(self, data):
        return self._private.sign(data)


def append(**facts):
    said = {"act": "take_bundle", "subject": "R-00001", "detail": {}, "at": MOMENT} | facts
    with transaction.atomic():
        journal.append(by=given_person(), **said)


def an_entry_is_dated_back():
    JournalEntry.objects.filter(number=NUMBER).update(at=EARLIER)


def an_entry_is_dated_back_in_its_text():
    entry = JournalEntry.objects.get(number=NUMBER)
    text = entry.canonical.replace(MOMENT.date().isoformat(), EARLIER.date().isoformat())
    JournalEntry.objects.filter(number=NUMBER).update(at=EARLIER, canonical=text)


def an_entry_is_dated_back_and_all_written_anew():
    told = entries()
    told[NUMBER]["_at"] = EARLIER
    told[NUMBER]["at"] = EARLIER.isoformat(timespec="milliseconds")
    write_anew(told)


def an_entry_is_appended_with_an_old_date():
    append(at=EARLIER)


def two_entries_are_swapped():
    end = JournalHead.objects.get().size
    for frm, to in [(3, end), (NUMBER, 3), (end, NUMBER)]:
        JournalEntry.objects.filter(number=frm).update(number=to)


def two_entries_are_swapped_and_all_written_anew():
    told = entries()
    told[3], told[NUMBER] = told[NUMBER], told[3]
    write_anew(told)


def an_entry_is_taken_out():
    JournalEntry.objects.filter(number=NUMBER).delete()


def the_end_is_cut_off():
    JournalEntry.objects.filter(number__gte=JournalHead.objects.get().size - 2).delete()


def the_end_is_cut_off_and_all_written_anew():
    write_anew(entries()[:-2])


def everything_is_cut_off():
    write_anew([])


def what_was_done_is_reworded_and_all_written_anew():
    told = entries()
    place = next(n for n, entry in enumerate(told) if entry["act"] == "record_proof_test")
    told[place]["detail"]["peak_n"] = 10**6
    write_anew(told)


def a_key_is_replaced(purpose):
    def replace():
        public = b64encode(HeldKey().public_key_bytes).decode()
        if purpose == "paper":
            row = SigningKey.objects.get(purpose=purpose)
            raw = bytearray(b64decode(row.public_key))
            raw[-1] ^= 1
            public = b64encode(raw).decode()
        SigningKey.objects.filter(purpose=purpose).update(public_key=public)

    return replace


def a_key_is_replaced_and_all_signed_anew():
    key = HeldKey()
    row = SigningKey.objects.get(purpose="log")
    SigningKey.objects.filter(pk=row.pk).update(public_key=b64encode(key.public_key_bytes).decode())
    for checkpoint in Checkpoint.objects.all():
        sign_anew(checkpoint, key)


def sign_anew(checkpoint, key):
    origin = log_origin(ORIGIN)
    head = LogHead(origin, checkpoint.size, bytes.fromhex(checkpoint.root))
    note = sign_note(head.text, name=origin, signers=[key])
    Checkpoint.objects.filter(pk=checkpoint.pk).update(note=note)


def a_checkpoint_is_given_another_root():
    peaks = [b"\0" * 32] * Checkpoint.objects.first().size.bit_count()
    root = root_of_peaks(size=Checkpoint.objects.first().size, peaks=peaks)
    Checkpoint.objects.filter(pk=Checkpoint.objects.first().pk).update(root=root.hex())


def a_node_is_changed():
    MerkleNode.objects.filter(level=2, index=1).update(hash="0" * 64)


def a_node_is_put_in():
    MerkleNode.objects.create(level=1, index=10**6, hash="0" * 64)


def the_head_is_changed():
    JournalHead.objects.update(chain_hash="0" * 64)


def the_text_of_an_entry_is_no_json():
    JournalEntry.objects.filter(number=NUMBER).update(canonical="{")


# The id is what was done; then how, and every kind of disagreement that must be named, no other.
TAMPERS = {
    "back-dated entry: its column": (an_entry_is_dated_back, {ENTRY, What.BACKDATED}),
    "back-dated entry: its column and its text": (
        an_entry_is_dated_back_in_its_text,
        {ENTRY, What.BACKDATED, CHAIN, NODE, SIGNED, HEAD},
    ),
    "back-dated entry: the journal is written anew": (
        an_entry_is_dated_back_and_all_written_anew,
        {What.BACKDATED, SIGNED},
    ),
    "back-dated entry: a new one is appended": (
        an_entry_is_appended_with_an_old_date,
        {What.BACKDATED},
    ),
    "re-ordered journal: two entries change places": (
        two_entries_are_swapped,
        {ORDER, CHAIN, NODE, SIGNED, HEAD},
    ),
    "re-ordered journal: and it is written anew": (
        two_entries_are_swapped_and_all_written_anew,
        {SIGNED},
    ),
    "truncated journal: an entry is taken out": (
        an_entry_is_taken_out,
        {ORDER, CHAIN, NODE, SIGNED, SHORT, HEAD, What.ROW_ADDED},
    ),
    "truncated journal: the last two entries are gone": (
        the_end_is_cut_off,
        {SHORT, HEAD, NODE, What.ROW_ADDED, What.CERTIFICATE},
    ),
    "truncated journal: and it is written anew": (
        the_end_is_cut_off_and_all_written_anew,
        {SHORT, What.ROW_ADDED, What.CERTIFICATE},
    ),
    "truncated journal: nothing is left of it": (
        everything_is_cut_off,
        {SHORT, What.ROW_ADDED, What.CERTIFICATE},
    ),
    "edited journal: what was done is reworded, all written anew": (
        what_was_done_is_reworded_and_all_written_anew,
        {SIGNED},
    ),
    "edited journal: a text that is no JSON": (
        the_text_of_an_entry_is_no_json,
        {ENTRY, ORDER, CHAIN, NODE, SIGNED, HEAD, What.ACT, What.ROW_ADDED},
    ),
    "replaced key: of the log": (a_key_is_replaced("log"), {What.ROW_CHANGED, SIGNED}),
    "replaced key: of the log, all signed anew": (
        a_key_is_replaced_and_all_signed_anew,
        {What.ROW_CHANGED},
    ),
    "replaced key: of credentials": (
        a_key_is_replaced("credential"),
        {What.ROW_CHANGED, What.CREDENTIAL},
    ),
    "replaced key: of papers": (a_key_is_replaced("paper"), {What.ROW_CHANGED, What.KEY}),
    "checkpoint: another root in its column": (a_checkpoint_is_given_another_root, {SIGNED}),
    "tree: a node is changed": (a_node_is_changed, {NODE}),
    "tree: a node is put in": (a_node_is_put_in, {NODE}),
    "head: another chain": (the_head_is_changed, {HEAD}),
    "an entry that binds nothing": (
        lambda: append(act="cut_piece", subject="P-00001"),
        {What.ACT},
    ),
    "an entry of an act that nobody knows": (lambda: append(act="bless"), {What.ACT}),
}
