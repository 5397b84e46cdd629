"""An auditor's bundle: whole, the same twice, and judged by the stand-alone verifier.

The verifier shares no line with what writes the bundle; it runs as auditors run it, in a Python
that has nothing of this program.
"""

import io
import json
import subprocess
import sys
import zipfile
from datetime import timedelta
from hashlib import sha256

import pytest

from certs.documents.bundle_report import bundle_report_html
from certs.queries.row_facts import person_told
from certs.services import take_bundle as service
from certs.services.settle_report import close_report
from certs.services.take_bundle import Asked, CannotBundle, take_bundle
from inventory.models import JournalEntry
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from inventory.services.cut import cut_piece
from inventory.services.holds import place_hold, release_hold
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_cut_length_draft,
    issued,
)
from tests.certs.recalls import answered, given_doubt, sent, written
from tests.certs.sites import a_photograph, given_report, given_tag
from tests.certs.wires import given_paper_test
from tests.factories import (
    MOMENT,
    given_delivery,
    given_hold,
    given_person,
    given_piece,
    given_sample,
)

pytestmark = pytest.mark.django_db
LATER = MOMENT + timedelta(days=3)
# What the verifier leaves with where nothing fails, but something cannot be said.
CANNOT_SAY = 3


@pytest.fixture
def sling(tables):
    """A certified, tested, delivered sling, with a hold that was released."""
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    (tie,) = assembly.piece_ties.all()
    reel = tie.piece.reel
    given_breaking_test(sample=given_sample(reel=reel), peak_n=120_000)
    given_paper_test(reel)
    release_hold(hold=given_hold(reel), reason="measured again", by=given_person(), at=MOMENT)
    paper = issued(given_assembly_draft(assembly, kind="2.2"))
    given_delivery(assembly)
    return assembly, paper, tie.piece


def taken(code, *, at=LATER, by=None, **asked):
    file = io.BytesIO()
    bundle = take_bundle(
        asked=Asked(code, **asked), into=file, by=by or given_person(Role.AUDITOR), at=at
    )
    return bundle, file.getvalue()


def files_of(archive):
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        assert opened.testzip() is None
        return {info.filename: opened.read(info) for info in opened.infolist()}


def verified(folder, archive):
    """Run the verifier that lies in the bundle; return its exit code and what it says."""
    (folder / "bundle.zip").write_bytes(archive)
    (folder / "verify_record.py").write_bytes(files_of(archive)["verify_record.py"])
    done = subprocess.run(
        [sys.executable, "-I", "-S", "verify_record.py", "--json", "bundle.zip"],
        cwd=folder, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stderr == ""
    return done.returncode, json.loads(done.stdout)


def test_the_verifier_finds_that_everything_holds(sling, tmp_path):
    assembly, paper, _ = sling
    _, archive = taken(assembly.code)
    code, told = verified(tmp_path, archive)
    # All but that evaluation keys vouch for nobody, which the tests sign with.
    unsaid = {check["name"] for check in told["checks"] if check["verdict"] != "holds"}
    assert unsaid == {"who vouches for the keys"}
    assert code == CANNOT_SAY
    subjects = " ".join(check["subject"] for check in told["checks"])
    assert f"{paper.number}.pdf" in subjects
    assert ".tlog-proof" in subjects


def test_the_verifier_finds_each_file_that_was_changed(sling, tmp_path):
    files = files_of(taken(sling[0].code)[1])
    touched = ("README.txt", "report.pdf", "story/lineage.svg", "holds.json", "people.json")
    touched += ("tests/PT-00001/log.csv", "journal/entries.txt", "story/story.json")
    for path in touched:
        changed = io.BytesIO()
        with zipfile.ZipFile(changed, "w") as out:
            for name, content in files.items():
                out.writestr(name, content + b" " if name == path else content)
        code, told = verified(tmp_path, changed.getvalue())
        (manifest,) = (check for check in told["checks"] if check["name"] == "list of files")
        assert code == 1, path
        assert f"changed: {path}" in manifest["meaning"]


def test_the_same_record_and_moment_give_the_same_bytes(sling):
    code, by = sling[0].code, given_person(Role.AUDITOR)
    _, first = taken(code, by=by)
    _, second = taken(code, by=by)
    one, other = files_of(first), files_of(second)
    # The first bundle is an entry of the journal by then, and the second tells of it.
    differing = {name for name in one.keys() | other.keys() if one.get(name) != other.get(name)}
    told = {name for name in differing if not name.startswith("journal/")}
    assert told <= {
        "MANIFEST.json", "README.txt", "report.pdf", "people.json",
        f"certificates/{sling[1].number}/{sling[1].number}.tlog-proof",
    }  # fmt: skip


def test_an_unchanged_record_is_bundled_to_the_byte(sling):
    code, by = sling[0].code, given_person(Role.AUDITOR)
    bundle = service.read_bundle(Asked(code), at=LATER)

    def written():
        file = io.BytesIO()
        files = service._files(bundle, asked=Asked(code), by=by)  # noqa: SLF001 -- without journal
        service.write_bundle(file, files, made_at=LATER, about="x")
        return sha256(file.getvalue()).hexdigest()

    assert written() == written()


def test_who_took_what_is_journalled_with_the_manifest(sling):
    by = given_person(Role.AUDITOR)
    bundle, archive = taken(sling[0].code, by=by)
    entry = JournalEntry.objects.order_by("-number").first()
    assert (entry.act, entry.subject, entry.by) == ("take_bundle", sling[0].code, by)
    digest = json.loads(entry.canonical)["detail"]["manifest_sha256"]
    assert digest == sha256(files_of(archive)["MANIFEST.json"]).hexdigest()
    assert bundle.written.manifest_sha256 == digest


def test_the_manifest_lists_every_other_file(sling):
    files = files_of(taken(sling[0].code)[1])
    listed = json.loads(files.pop("MANIFEST.json"))["files"]
    assert {name: told["sha256"] for name, told in listed.items()} == {
        name: sha256(content).hexdigest() for name, content in files.items()
    }
    readme = files["README.txt"].decode()
    assert [name for name in files if f"\n{name}\n" not in readme] == []


def test_the_files_are_those_of_the_record(sling):
    assembly, paper, piece = sling
    files = files_of(taken(assembly.code)[1])
    folder = f"certificates/{paper.number}/{paper.number}"
    assert sha256(files[f"{folder}.pdf"]).hexdigest() == paper.pdf_sha256
    assert files[f"{folder}.json"].decode() == paper.snapshot
    assert files[f"{folder}.credential.json"].decode() == paper.credential
    document = piece.reel.mill_document
    assert sha256(files[f"mill-documents/{document.code}.pdf"]).hexdigest() == document.file.sha256
    log = assembly.proof_tests.first().log
    assert sha256(files["tests/PT-00001/log.csv"]).hexdigest() == log.sha256
    assert {"tests/BT-00001/record.json", "tests/WT-00001/record.json"} <= files.keys()
    assert [name for name in files if name.startswith("receiving-checks/RC-")]
    (hold,) = json.loads(files["holds.json"])
    assert (hold["reason"], hold["release_reason"]) == ("broken wires seen", "measured again")


def test_no_file_of_the_bundle_has_a_private_key_or_a_link_into_the_site(sling):
    files = files_of(taken(sling[0].code)[1])
    for name, content in files.items():
        assert b"PRIVATE KEY" not in content, name
    assert b"<a " not in files["story/lineage.svg"]


def test_people_are_told_by_role_alone_where_it_is_asked(sling):
    by = given_person(Role.AUDITOR)
    by.first_name, by.last_name = "Quillon", "Ostrander"
    by.save()
    taken(sling[0].code, by=by)
    named = files_of(taken(sling[0].code, by=by)[1])
    unnamed = files_of(taken(sling[0].code, by=by, with_names=False)[1])
    assert "Quillon Ostrander, auditor" in named["people.json"].decode()
    for name, content in unnamed.items():
        if not name.startswith("certificates/"):
            assert b"Quillon" not in content, name
    assert person_told(by, with_names=False) == "auditor"


def test_a_day_in_the_past_leaves_out_what_came_later(sling):
    _, paper, piece = sling
    next_day = MOMENT + timedelta(days=1)
    later = cut_piece(
        reel=piece.reel, from_mm=None, length_mm=1000, purpose="supply",
        by=given_person(), at=next_day,
    )  # fmt: skip
    hold = place_hold(subject=piece.reel, reason="in doubt", by=given_person(), at=next_day)
    then = files_of(taken(piece.reel.code, on=MOMENT.date())[1])
    now = files_of(taken(piece.reel.code)[1])
    for path in ("story/story.json", "journal/entries.txt", "story/provenance.jsonld"):
        assert later.code not in then[path].decode()
        assert later.code in now[path].decode()
    assert hold.code not in then["holds.json"].decode()
    assert hold.code in now["holds.json"].decode()
    assert "As known on 2026-03-02" in then["README.txt"].decode()
    assert str(paper.number) in then["story/story.json"].decode()
    with pytest.raises(Refusal, match="was not on record"):
        taken(piece.reel.code, on=MOMENT.date() - timedelta(days=1))


def test_a_release_that_came_later_is_not_told_of_an_earlier_day(tables):
    piece = given_piece()
    hold = given_hold(piece)
    release_hold(hold=hold, reason="looked at", by=given_person(), at=MOMENT + timedelta(days=1))
    (then,) = json.loads(files_of(taken(piece.code, on=MOMENT.date())[1])["holds.json"])
    (now,) = json.loads(files_of(taken(piece.code)[1])["holds.json"])
    assert (then["released_at"], then["released_by"], then["release_reason"]) == (None, None, "")
    assert now["release_reason"] == "looked at"


def test_a_stretch_of_a_reel_has_what_was_cut_from_it_and_no_more(tables):
    near = given_piece(from_m=10)
    far = given_piece(reel=near.reel, from_m=500)
    story = files_of(taken(near.reel.code, from_mm=0, to_mm=30_000)[1])["story/story.json"].decode()
    assert near.code in story
    assert far.code not in story


def test_a_file_that_is_not_as_kept_is_said_so(sling, file_store, tmp_path):
    # A storage of its own, which is empty: every kept file is gone.
    _, archive = taken(sling[0].code)
    files = files_of(archive)
    lost = [name for name in files if name.endswith(".problem.txt")]
    assert len(lost) == 3
    assert b"gone from the storage" in files[lost[0]]
    assert all(name in files["README.txt"].decode() for name in lost)
    assert verified(tmp_path, archive)[0] == 0


def test_too_much_is_refused_with_its_size(sling, monkeypatch):
    monkeypatch.setattr(service, "MOST_BYTES", 10)
    with pytest.raises(CannotBundle, match="MiB of files"):
        taken(sling[0].code)
    monkeypatch.setattr(service, "MOST_BYTES", 10**9)
    monkeypatch.setattr(service, "MOST_ENTRIES", 1)
    with pytest.raises(CannotBundle, match="entries of the journal"):
        taken(sling[0].code)
    assert JournalEntry.objects.filter(act="take_bundle").count() == 0


@pytest.mark.parametrize(
    "role", [Role.STORES, Role.TEST_BENCH, Role.INSPECTION_REPRESENTATIVE, Role.ADMINISTRATOR]
)
def test_who_may_not_take_one_gets_none(tables, role):
    piece = given_piece()
    with pytest.raises(NotAllowed):
        taken(piece.code, by=given_person(role))


def test_a_bundle_is_made_without_keys_and_says_that_nothing_is_proved(tables):
    piece = given_piece()
    files = files_of(taken(piece.code)[1])
    assert "no signed checkpoint covers yet" in files["README.txt"].decode().replace("\n", " ")
    assert "journal/checkpoint.txt" not in files


def test_a_checkpoint_of_an_earlier_day_is_bound_to_that_of_today(tables, tmp_path):
    paper = issued(given_cut_length_draft())
    given_piece()
    _, archive = taken(str(paper.number), on=MOMENT.date())
    assert {"journal/checkpoint-of-that-day.txt", "journal/consistency.json"} <= {
        *files_of(archive)
    }
    code, told = verified(tmp_path, archive)
    verdicts = {check["name"]: check["verdict"] for check in told["checks"]}
    assert verdicts["one journal"] == "holds"
    assert code == CANNOT_SAY
    assert "fails" not in verdicts.values()


def test_reports_from_site_go_in_without_how_to_reach_who_made_them(tables):
    tag = given_tag(given_piece())
    report = given_report(tag, contact="Quillon, 0123", photos=[a_photograph()])
    thing = tag.piece.code
    files = files_of(taken(thing)[1])
    folder = f"site-reports/{report.code}"
    told = json.loads(files[f"{folder}/report.json"])
    assert told["words"] == report.words
    assert "contact" not in told
    stored = report.photos.get().file
    assert sha256(files[f"{folder}/photograph-1.jpg"]).hexdigest() == stored.sha256
    assert report.code in files["journal/entries.txt"].decode()
    assert "a stranger at a tag" in {one["who"] for one in json.loads(files["people.json"])}
    assert b"Quillon" not in b"".join(files.values())


def test_letters_of_a_recall_go_in_with_what_was_known_of_them(tables):
    notice = answered(sent(written(given_doubt().hold)[0]))
    code, end = notice.hold.code, MOMENT + timedelta(days=9)
    now = files_of(taken(code, at=end)[1])
    then = files_of(taken(code, at=end, on=notice.written_at.date())[1])
    before = files_of(taken(code, at=end, on=MOMENT.date())[1])
    folder = f"recall-notices/{notice.code}"
    letter = now[f"{folder}/{notice.code}.pdf"]
    assert sha256(letter).hexdigest() == notice.letter.sha256
    assert json.loads(now[f"{folder}/notice.json"])["acknowledged_by"] == "their stores"
    told = json.loads(then[f"{folder}/notice.json"])
    assert (told["sent_how"], told["acknowledged_at"], told["acknowledged_by"]) == (
        "by post",
        None,
        "",
    )
    assert not [name for name in before if name.startswith("recall-notices/")]
    assert notice.code in now["journal/entries.txt"].decode()


def test_the_readable_report_tells_of_reports_and_letters_as_of_its_day(tables, monkeypatch):
    printed = []

    def laid_out(facts, **_):
        printed.append(bundle_report_html(facts))
        return b"%PDF-"

    monkeypatch.setattr(service, "bundle_report_pdf", laid_out)
    tag = given_tag(given_piece())
    report = given_report(tag)
    close_report(
        report=report, reason="Dirt, no damage.", by=given_person(), at=MOMENT + timedelta(days=2)
    )
    end = MOMENT + timedelta(days=9)
    taken(tag.piece.code, at=end)
    taken(tag.piece.code, at=end, on=MOMENT.date())
    now, then = printed
    assert "Dirt, no damage." in now
    assert "Dirt, no damage." not in then
    assert "<b>damage seen</b>: Broken wires" in then
    assert "<b>not settled</b>" in then
