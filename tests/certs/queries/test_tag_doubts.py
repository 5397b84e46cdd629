from certs.queries.tag_status import tag_answer
from certs.services.settle_report import close_report
from tests.certs.sites import given_report, given_tag
from tests.factories import MOMENT, given_assembly, given_person, given_piece


def doubts(tag):
    return list(tag_answer(tag.code).doubts)


def test_an_open_report_is_told_and_changes_no_standing(db):
    tag = given_tag(given_piece())
    before = tag_answer(tag.code)
    given_report(tag, kind="failure")
    after = tag_answer(tag.code)
    [doubt] = after.doubts
    assert "it broke or slipped" in doubt
    assert "Broken wires" not in doubt
    assert (before.doubts, before.standing, before.reasons) == ((), after.standing, after.reasons)


def test_a_closed_report_is_told_no_more(db):
    tag = given_tag()
    report = given_report(tag)
    close_report(report=report, reason="Dirt, no damage.", by=given_person(), at=MOMENT)
    assert doubts(tag) == []


def test_a_report_at_one_tag_is_told_at_every_tag_of_the_assembly(db):
    assembly = given_assembly()
    piece = assembly.piece_ties.first().piece
    ours, others = given_tag(assembly=assembly), given_tag(piece)
    given_report(ours)
    assert len(doubts(others)) == 1


def test_a_report_about_another_piece_is_not_told(db):
    given_report()
    assert doubts(given_tag()) == []


def test_many_reports_of_one_kind_are_told_once(db):
    tag = given_tag()
    for kind in ("damage", "failure", "damage"):
        given_report(tag, kind=kind)
    damage, failure = doubts(tag)
    assert "damage seen" in damage
    assert "it broke or slipped" in failure
