import pytest

from survey.sheets import summary
from tests.made_assessments import EACH_VERDICT, for_engineer, judged, no_go, on_hold


@pytest.mark.parametrize("verdict", EACH_VERDICT)
def test_the_verdict_comes_first(verdict):
    assert summary(EACH_VERDICT[verdict]()).startswith(f"{verdict}: Larch Lane 14 (larch-lane)\n")


def test_what_stands_in_the_way_is_named_with_its_place():
    text = summary(no_go())
    assert "\nPiers\n  NO-GO: P1 to P4\n" in text
    assert "\nStops\n  LINE-2 no locate request: whole site\n" in text
    assert "\n  DIG-1 pit with nothing to hold its sides: P1, P2\n" in text
    assert "\nFor the engineer\n  FOOT-1 pit under our own footing: P1 to P3\n" in text
    assert "\nOpen: 2 answers not known\n  spoil distance of P3 (Piers P6)\n" in text
    assert text.endswith("\nConditions: 3 (DIG-3, LINE-1, CREW-1)")


def test_cells_of_one_question_stand_together():
    assert "  spoil distance of P1 to P4 (Piers P4 to P7)\n" in summary(on_hold())


def test_piers_stand_by_verdict_from_the_worst():
    assert "  ENGINEER REVIEW: P2 to P4\n  GO: P1\n" in summary(for_engineer())


@pytest.mark.parametrize("piers", [0, 1, 30])
def test_it_is_short_however_much_there_is_to_say(piers):
    for assessment in (no_go(max(piers, 4)), judged(piers=piers, blank=True), on_hold(30)):
        lines = summary(assessment).split("\n")
        assert len(lines) <= 30
        assert max(map(len, lines)) <= 100


def test_nothing_in_the_survey_can_steer_the_terminal():
    text = summary(judged(name="lane\x1b[2J\n\r\u202e", site={"job name": "A" * 900}))
    assert set(text) & set("\x1b\r\u202e") == set()
    assert max(map(len, text.split("\n"))) <= 100
