"""The verifier as auditors run it: one file, a bare Python, no network, nothing of this program."""

import io
import json
import subprocess
import sys
import zipfile

import pikepdf
import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from certs.documents.verifier.command import main
from certs.documents.verifier_file import NAME, verifier_text
from inventory.rules.canonical import canonical_text
from inventory.rules.merkle import consistency_path
from tests.certs.documents.verifier import handed_out

PAPER = "paper.pdf"


@pytest.fixture(scope="module")
def verifier(tmp_path_factory):
    path = tmp_path_factory.mktemp("verifier") / NAME
    path.write_text(verifier_text())
    return path


@pytest.fixture
def run(verifier, tmp_path):
    def run(files, *options, **given):
        folder = tmp_path / "handed in"
        folder.mkdir()
        for name, data in files.items():
            (folder / name).parent.mkdir(exist_ok=True)
            (folder / name).write_bytes(data)
        asked = [str(folder / name) for name in given.get("asked", [])] or [str(folder)]
        # -I: neither this folder nor installed packages are seen; -S: no site packages at all.
        done = subprocess.run(
            [sys.executable, "-I", "-S", verifier, *asked, *options],
            capture_output=True, check=False, text=True, cwd=tmp_path,
        )  # fmt: skip
        assert "Traceback" not in done.stderr
        return done

    return run


def told(done):
    """Name the checks that do not hold, as {(subject, name): verdict}."""
    checks = json.loads(done.stdout)["checks"]
    return {(c["subject"], c["name"]): c["verdict"] for c in checks if c["verdict"] != "holds"}


def zipped(files):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return packed.getvalue()


def test_everything_holds_of_a_good_paper(run):
    done = run(handed_out.issued())
    assert (done.returncode, done.stderr) == (0, "")
    assert "All 8 checks hold." in done.stdout
    assert "Whether a paper is still in force cannot be told here" in done.stdout
    assert "The keys came together with what they prove." in done.stdout


def test_an_archive_is_read_as_a_folder_is(run):
    files = {"bundle.zip": zipped(handed_out.issued())}
    done = run(files, asked=["bundle.zip"])
    assert done.returncode == 0


def test_keys_that_were_got_elsewhere_count_alone(run, tmp_path):
    trusted = tmp_path / "jwks.json"
    trusted.write_bytes(handed_out.jwks())
    done = run({**handed_out.issued(), "jwks.json": b'{"keys":[]}'}, "--keys", str(trusted))
    assert done.returncode == 0
    assert "The keys came together" not in done.stdout


def test_keys_of_somebody_else_vouch_for_nothing(run, tmp_path):
    stranger = canonical_text(
        {"keys": [handed_out.Key(p, 77).jwk() for p in ("log", "credential", "paper")]}
    )
    trusted = tmp_path / "jwks.json"
    trusted.write_text(stranger)
    done = run(handed_out.issued(), "--keys", str(trusted), "--json")
    assert done.returncode == 1
    assert ("paper.pdf", "signature") in told(done)
    assert ("credential.json", "proof of the data") in told(done)
    assert ("paper.tlog-proof", "entry in the journal") in told(done)


def test_what_a_mill_signed_is_said_to_be_somebody_elses(run):
    mills = handed_out.without_data(key=handed_out.OTHER_PAPER)
    done = run({**handed_out.issued(), "mill.pdf": mills}, "--json")
    assert done.returncode == 3
    assert told(done) == {("mill.pdf", "whose paper it is"): "cannot say"}


def test_a_paper_of_the_house_that_was_stripped_of_its_data_is_judged_as_its_own(run):
    done = run({**handed_out.issued(), "bare.pdf": handed_out.without_data()}, "--json")
    assert ("bare.pdf", "enclosed data") in told(done)
    assert ("bare.pdf", "whose paper it is") not in told(done)


def changed(content, old, new):
    assert old in content
    return content.replace(old, new, 1)


def with_byte_turned(content, at):
    return content[:at] + bytes([content[at] ^ 1]) + content[at + 1 :]


def overlaid(content):
    """Add an incremental update by hand, as a pen would: a new object and a new trailer."""
    start = content.rindex(b"startxref")
    before = int(content[start:].split()[1])
    at = len(content) + 1
    added = b"\n999 0 obj\n<</Note (paid)>>\nendobj\n"
    xref = f"xref\n999 1\n{at:010} 00000 n \ntrailer\n<</Size 1000/Prev {before}/Root 1 0 R>>\n"
    return content + added + xref.encode() + b"startxref\n%d\n%%%%EOF\n" % (at + len(added) - 1)


def rewritten(content):
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(content)) as pdf:
        pdf.save(out)
    return out.getvalue()


def in_signature(content):
    """Turn one digit in the middle of the signature's value."""
    at = content.index(b"/Contents <") + 200
    digit = b"0" if content[at : at + 1] != b"0" else b"1"
    return content[:at] + digit + content[at + 1 :]


def in_padding(content):
    end = content.index(b"00>", content.index(b"/Contents <"))
    return content[:end] + b"01" + content[end + 2 :]


TAMPERED = [
    pytest.param(lambda pdf: with_byte_turned(pdf, 600), True, id="a byte of the page"),
    pytest.param(in_signature, True, id="the signature's value"),
    pytest.param(in_padding, True, id="the room beside the signature"),
    pytest.param(overlaid, False, id="an overlay added"),
    pytest.param(lambda pdf: pdf + b"% a comment\n", False, id="a comment added"),
    pytest.param(lambda pdf: pdf + bytes(2000), False, id="zero bytes added"),
    pytest.param(rewritten, True, id="written anew by another program"),
]


@pytest.mark.parametrize(("tamper", "breaks_signature"), TAMPERED)
def test_a_changed_paper_is_found_out(run, tamper, breaks_signature):
    files = handed_out.issued()
    done = run({**files, PAPER: tamper(files[PAPER])}, "--json")
    found = told(done)
    assert done.returncode == 1
    assert found.pop((PAPER, "file as issued")) == "fails"
    assert found.pop((PAPER, "signature")) == ("fails" if breaks_signature else "cannot say")


def test_enclosed_data_of_another_paper_are_found_out(run):
    """Even where the paper was signed with the house's own key."""
    files = handed_out.issued()
    other = handed_out.credential(number="AT-2026-00002")
    done = run({**files, PAPER: handed_out.paper(other)}, "--json")
    assert told(done) == {
        (PAPER, "file as issued"): "cannot say",
        ("paper.pdf, enclosed data", "data as issued"): "cannot say",
    }
    assert done.returncode == 3


def test_an_enclosed_record_that_was_changed_is_found_out(run):
    files = handed_out.issued()
    done = run({**files, PAPER: handed_out.paper(record=b'{"format":"test"}')}, "--json")
    assert told(done)["paper.pdf, enclosed data", "record enclosed"] == "fails"


def test_evaluation_keys_vouch_for_nobody(run):
    record = b'{"format":"test","keys":{"is_evaluation":true}}'
    done = run({**handed_out.issued(), PAPER: handed_out.paper(record=record)}, "--json")
    assert told(done)[PAPER, "who vouches for the keys"] == "cannot say"


def test_a_paper_of_another_house_is_found_out(run):
    files = handed_out.issued()
    done = run({**files, PAPER: handed_out.paper(key=handed_out.OTHER_PAPER)}, "--json")
    assert told(done)[PAPER, "signature"] == "fails"


@pytest.mark.parametrize(
    ("name", "tamper", "check"),
    [
        pytest.param(
            "credential.json",
            lambda data: changed(data, b"AT-2026-00001", b"AT-2026-00009"),
            "proof of the data",
            id="data changed",
        ),
        pytest.param(
            "credential.json",
            lambda _: handed_out.credential(key=handed_out.Key("credential", 99)),
            "proof of the data",
            id="data signed by a stranger",
        ),
        pytest.param(
            "credential.json",
            lambda data: changed(data, b'"issuer"', b'"issuer":"x","issuer"'),
            "file",
            id="data with a name twice",
        ),
        pytest.param(
            "paper.tlog-proof",
            lambda data: changed(data, b"index 5", b"index 4"),
            "entry in the journal",
            id="proof of another place",
        ),
        pytest.param(
            "paper.tlog-proof",
            lambda data: changed(data, b"tlog-proof@v1\nextra ", b"tlog-proof@v1\nextra A"),
            "file",
            id="entry changed",
        ),
        pytest.param(
            "paper.tlog-proof",
            lambda data: changed(data, b"rope.example/log\n9", b"rope.example/log\n8"),
            "entry in the journal",
            id="checkpoint changed",
        ),
    ],
)
def test_changed_data_and_proofs_are_found_out(run, name, tamper, check):
    files = handed_out.issued()
    done = run({**files, name: tamper(files[name])}, "--json")
    assert done.returncode == 1
    assert told(done)[name, check] == "fails"


def test_other_data_under_the_same_number_are_found_out(run):
    files = handed_out.issued()
    data = json.loads(files["credential.json"])
    subject = {**data["credentialSubject"], "results": ["more"]}
    again = handed_out.sign_credential(
        {"@context": data["@context"], "issuer": data["issuer"], "credentialSubject": subject},
        verification_method=data["proof"]["verificationMethod"],
        created=data["proof"]["created"],
        sign=handed_out.CREDENTIAL.sign,
    )
    done = run({**files, "credential.json": canonical_text(again).encode()}, "--json")
    assert told(done) == {("credential.json", "data as issued"): "fails"}


@pytest.mark.parametrize(
    ("ends", "code"),
    [
        pytest.param({"rope_expires": "2027-01-01T00:00:00Z"}, 0, id="retired later"),
        pytest.param({"rope_expires": "2026-01-01T00:00:00Z"}, 1, id="retired before"),
        pytest.param({"rope_revoked": "2027-01-01T00:00:00Z"}, 0, id="revoked later"),
        pytest.param({"rope_revoked": "2026-01-01T00:00:00Z"}, 1, id="revoked before"),
    ],
)
@pytest.mark.parametrize("purpose", ["paper", "credential"])
def test_a_key_counts_for_what_the_journal_dates_before_its_end(run, purpose, ends, code):
    done = run({**handed_out.issued(), "jwks.json": handed_out.jwks(**{purpose: ends})})
    assert done.returncode == code


def test_without_a_proof_of_the_journal_a_revoked_key_proves_nothing(run):
    files = handed_out.issued()
    revoked = handed_out.jwks(paper={"rope_revoked": "2027-01-01T00:00:00Z"})
    done = run({PAPER: files[PAPER], "jwks.json": revoked}, "--json")
    assert told(done)[PAPER, "signature"] == "fails"


def test_a_revoked_key_of_the_journal_vouches_for_no_checkpoint(run):
    revoked = handed_out.jwks(log={"rope_revoked": "2027-01-01T00:00:00Z"})
    done = run({**handed_out.issued(), "jwks.json": revoked}, "--json")
    assert told(done)["paper.tlog-proof", "entry in the journal"] == "cannot say"
    assert done.returncode == 3


def test_a_revocation_counts_wherever_it_is_told(run):
    """A DID document that leaves it out does not bring the key back."""
    revoked = handed_out.jwks(credential={"rope_revoked": "2026-01-01T00:00:00Z"})
    files = {**handed_out.issued(), "jwks.json": revoked, "did.json": handed_out.did_document()}
    done = run(files, "--json")
    assert told(done)["credential.json", "proof of the data"] == "fails"


@pytest.mark.parametrize(
    ("left_out", "unsaid"),
    [
        pytest.param("paper.tlog-proof", (PAPER, "file as issued"), id="no proof"),
        pytest.param("jwks.json", (PAPER, "signature"), id="no keys"),
    ],
)
def test_what_cannot_be_checked_is_not_called_good(run, left_out, unsaid):
    files = {name: data for name, data in handed_out.issued().items() if name != left_out}
    done = run(files, "--json")
    assert told(done)[unsaid] == "cannot say"
    assert done.returncode == 3


def test_the_keys_of_a_did_document_and_a_root_are_enough_for_data_and_paper(run):
    files = handed_out.issued()
    root = handed_out.PAPER.certificate_pem.split("-----BEGIN")[2]
    keys = {"did.json": handed_out.did_document(), "root.pem": f"-----BEGIN{root}".encode()}
    done = run({PAPER: files[PAPER], "credential.json": files["credential.json"], **keys}, "--json")
    assert set(told(done).values()) == {"cannot say"}
    assert {name for _, name in told(done)} == {"file as issued", "data as issued"}


LEAVES = handed_out.leaves_with(b"entry", size=9)


def growth(old, new):
    path = [node.hex() for node in consistency_path(old, LEAVES[:new])]
    return canonical_text({"from": old, "to": new, "path": path}).encode()


@pytest.mark.parametrize(
    ("files", "code", "meaning"),
    [
        pytest.param({"growth.json": growth(6, 9)}, 0, "are the same", id="it grew"),
        pytest.param({}, 3, "No proof was handed in", id="nothing proves it"),
        pytest.param(
            {"growth.json": growth(5, 9).replace(b'"from":5', b'"from":6')},
            1, "is not the beginning", id="a proof of something else",
        ),
        pytest.param(
            {"other.txt": handed_out.checkpoint([*LEAVES[:8], bytes(32)]).encode(),
             "growth.json": growth(6, 9)},
            1, "two versions", id="shown in two versions",
        ),
    ],
)  # fmt: skip
def test_checkpoints_must_be_of_one_growing_journal(run, files, code, meaning):
    heads = {f"{n}.txt": handed_out.checkpoint(LEAVES[:n]).encode() for n in (6, 9)}
    done = run({**heads, **files, "jwks.json": handed_out.jwks()})
    assert done.returncode == code
    assert meaning in done.stdout


def test_a_checkpoint_by_a_stranger_is_found_out(run):
    key = handed_out.Key("log", 99)
    files = {"6.txt": handed_out.checkpoint(LEAVES[:6], key).encode()}
    assert run({**files, "jwks.json": handed_out.jwks()}).returncode == 1


def listed(files):
    hashes = {name: handed_out.hashlib.sha256(data).hexdigest() for name, data in files.items()}
    zeros = "0" * 64
    bare = canonical_text({"files": hashes, "own_sha256": zeros})
    return bare.replace(zeros, handed_out.hashlib.sha256(bare.encode()).hexdigest()).encode()


@pytest.mark.parametrize(
    ("changes", "code", "word"),
    [
        pytest.param({}, 0, "All 4 files are there", id="as listed"),
        pytest.param({"jwks.json": b'{"keys":[] }'}, 1, "changed: jwks.json", id="one changed"),
        pytest.param({"more.txt": b"more"}, 1, "not listed: more.txt", id="one added"),
        pytest.param(
            {"MANIFEST.json": b'{"files":{}}'}, 1, "The list itself was changed", id="another list"
        ),
        pytest.param({"jwks.json": None}, 1, "missing: jwks.json", id="one lost"),
    ],
)
def test_a_bundle_is_held_against_its_list(run, changes, code, word):
    files = handed_out.issued()
    there = {**files, "MANIFEST.json": listed(files), **changes}
    done = run({name: data for name, data in there.items() if data is not None})
    assert word in done.stdout
    assert done.returncode == code


@pytest.mark.parametrize(
    ("files", "asked", "code"),
    [
        pytest.param({}, ["nothing.pdf"], 2, id="no such file"),
        pytest.param({"a.zip": b"PK\3\4 and no more"}, ["a.zip"], 2, id="a damaged archive"),
        pytest.param({"a.txt": b"words"}, ["a.txt"], 1, id="nothing that it knows"),
        pytest.param({"a.txt": b"words"}, [], 3, id="nothing in the folder that it knows"),
        pytest.param({"a.pdf": b"%PDF-1.7"}, ["a.pdf"], 1, id="an unsigned paper"),
        pytest.param({"mill.pdf": b"%PDF-1.7"}, [], 3, id="a paper of somebody else"),
        pytest.param({"a.pem": b"-----BEGIN CERTIFICATE"}, ["a.pem"], 1, id="a broken key"),
        pytest.param({"a.json": b'{"a": 1.5}'}, ["a.json"], 1, id="JSON with a fraction"),
        pytest.param({"a.json": b'{"a": 1.5}'}, [], 3, id="the same in a folder"),
    ],
)
def test_says_so_when_there_is_nothing_to_check(run, files, asked, code):
    assert run(files, asked=asked).returncode == code


def test_an_archive_with_two_files_of_one_name_is_refused(run):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("a", b"1")
        with pytest.warns(UserWarning, match="Duplicate name"):
            archive.writestr("a", b"2")
    assert run({"a.zip": packed.getvalue()}, asked=["a.zip"]).returncode == 2


def test_keys_that_cannot_be_read_are_refused(tmp_path, capsys):
    keys = tmp_path / "keys.vkey"
    keys.write_text("words")
    assert main([str(tmp_path), "--keys", str(keys)]) == 2
    assert "keys.vkey" in capsys.readouterr().err


def test_the_key_of_the_journal_is_read_from_a_line(tmp_path, capsys):
    key = handed_out.LOG
    assert isinstance(key.private, Ed25519PrivateKey)
    line = str(handed_out.NoteKey(handed_out.ORIGIN, key.public_key_bytes))
    (tmp_path / "log.vkey").write_text(f"{line}\n")
    (tmp_path / "6.txt").write_text(handed_out.checkpoint(LEAVES[:6]))
    assert main([str(tmp_path)]) == 0
    assert "log-320801861c55b6e2" in capsys.readouterr().out
