"""The catalogue of seats: what a ``seat`` paragraph may say, and how a pier is judged by it."""

import pytest

from survey.assessment import assess
from survey.rulebook import production
from survey.rulebook.book import load_book, read_and_try
from survey.rulebook.messages import RuleBookError
from survey.rulebook.study.edges import unnoticed, untold
from tests.demo_surveys import careful_house, survey_of

SEAT = """
seat SEAT-31 on a corbel
  prefer   1
  say      bracket on a corbel of the footing
  say es   soporte sobre una ménsula de la zapata
  footing  footing thickness is at least 10 in
  wall     wall material is poured concrete
  load     pier load is at most 20000 lb
  do       Cut the corbel at pier {pier}.
  do es    Corte la ménsula en el pilote {pier}.
  caution  Keep the bars.
  caution es  Conserve las varillas.
  from     our own
  answers  footing thickness 12 in, wall material poured concrete, pier load 9000 lb
  case     footing thickness 10 in        gives nothing
  case     footing thickness 9.9 in       gives does not suit
  case     footing thickness not known    gives ask
  case     wall material wood             gives does not suit
  case     pier load 20000 lb             gives nothing
  case     pier load 20000.1 lb           gives does not suit
"""
SHIPPED = load_book()


def book(text=SEAT, shipped=""):
    return read_and_try({"seat.rules": text + shipped}, {})


def mistakes(text):
    with pytest.raises(RuleBookError) as fault:
        book(text)
    return str(fault.value)


def seats(document, rules, pier=0):
    judged = assess(survey_of(document), (), rules)
    assert judged.disagreement == ()
    return {seat.name: seat for seat in judged.piers[pier].seats}


def with_wall(**answers):
    site = careful_house()
    site["walls"][0] |= answers
    return site


def test_a_seat_suits_where_all_that_it_needs_is_so():
    (seat,) = seats(careful_house(), book()).values()
    assert (seat.name, seat.state, seat.why) == ("on a corbel", "suits", ())
    assert seat.do == "Cut the corbel at pier P1."
    assert seat.do_es == "Corte la ménsula en el pilote P1."
    assert seat.prompt_es == "soporte sobre una ménsula de la zapata"


def test_each_need_that_is_not_met_is_told_with_the_figure_and_what_is_needed():
    (seat,) = seats(with_wall(footing_thickness="9 in", wall_material="wood"), book()).values()
    assert seat.state == "does not suit"
    assert seat.why == (
        "footing: footing thickness of South: 9 in; it needs: footing thickness is at least 10 in",
        "wall: wall material of South: wood; it needs: wall material is poured concrete",
    )


def test_an_open_answer_leaves_it_open_and_is_asked_for():
    (seat,) = seats(with_wall(footing_thickness="not known"), book()).values()
    assert seat.state == "can't tell"
    assert seat.why == ("answer footing thickness (walls[1].footing_thickness)",)


def test_one_need_that_is_not_met_counts_it_out_whatever_else_is_open():
    site = with_wall(footing_thickness="not known", wall_material="wood")
    assert seats(site, book())["on a corbel"].state == "does not suit"


def test_a_need_that_does_not_apply_is_not_met_and_the_sheet_says_why():
    site = with_wall(footing_kind="none found")
    for name in ("footing_thickness", "footing_width", "footing_projection", "footing_cracks",
                 "footing_reinforcement", "footing_honeycomb", "concrete_strength",
                 "footing_face_can_be_prepared"):  # fmt: skip
        del site["walls"][0][name]
    (seat,) = seats(site, book()).values()
    assert seat.state == "does not suit"
    assert seat.why[0] == (
        "footing: footing kind of South: none found; it needs: footing kind is one of: concrete, "
        "thickened slab edge, brick or stone, rubble"
    )


def test_where_none_suits_the_rules_are_told():
    rule = """
rule SEAT-10 pier where no seat suits
  for   each pier
  when  seats that suit is none
  then  engineer
  say   No seat suits pier {pier}.
  do    Move the pier.
  who   engineer
  from  common practice
  release licensed engineer
  case  seats that suit none gives engineer
  case  seats that suit some gives nothing
"""
    rules = book(SEAT + rule)
    thin = with_wall(footing_thickness="9 in")
    codes = {(f.rule.code, f.place) for f in assess(survey_of(thin), (), rules).findings}
    assert codes == {("SEAT-10", "P1"), ("SEAT-10", "P2"), ("SEAT-10", "P3")}
    second = SEAT.replace("SEAT-31 on a corbel", "SEAT-32 on a plinth").replace("10 in", "8 in")
    second = second.replace("9.9 in", "7.9 in").replace("prefer   1", "prefer   2")
    both = book(SEAT + second + rule)
    assert assess(survey_of(thin), (), both).findings == ()
    assert [seat.state for seat in seats(thin, both).values()] == ["does not suit", "suits"]


def test_the_one_to_be_preferred_comes_first_whatever_the_order_of_the_text():
    second = SEAT.replace("SEAT-31 on a corbel", "SEAT-32 on a plinth")
    later = SEAT.replace("prefer   1", "prefer   7")
    assert list(seats(careful_house(), book(later + second))) == ["on a plinth", "on a corbel"]


def test_its_cases_leave_no_edge_open():
    assert unnoticed(book()) == ()
    assert untold(book()) == ()
    loose = book(
        SEAT.replace("  case     wall material wood             gives does not suit\n", "")
    )
    assert [one.rule.code for one in unnoticed(loose)] == ["SEAT-31"]


def test_a_case_that_the_seat_does_not_keep_is_refused_and_so_are_answers_with_which_it_fails():
    wrong = SEAT.replace("footing thickness 10 in        gives nothing",
                         "footing thickness 10 in        gives does not suit")  # fmt: skip
    assert "the case says 'does not suit', SEAT-31 gives 'nothing'" in mistakes(wrong)
    fails = SEAT.replace("answers  footing thickness 12 in", "answers  footing thickness 6 in")
    assert "the case says 'nothing', SEAT-31 gives 'does not suit'" in mistakes(fails)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("prefer   1", "prefer   first", "'first' is no place among the seats"),
        ("prefer   1", "prefer   0", "'0' is no place among the seats"),
        ("  prefer   1\n", "", "the seat has no 'prefer' line"),
        ("  answers  ", "  # ", "the seat has no 'answers' line"),
        ("seat SEAT-31 on a corbel", "seat on a corbel", "'on' is no code"),
        ("seat SEAT-31 on a corbel", "seat SEAT-31 On a corbel", "can't be the name of a seat"),
        ("seat SEAT-31 on a corbel", "seat SEAT-31 bearing use", "is a word of the form already"),
        ("wall material is poured concrete", "wall material is not wood",
         "a seat says what must be so, not what must not"),
        ("footing thickness is at least 10 in", "footing thicknes is at least 10 in",
         "Did you mean 'footing thickness'?"),
        ("Cut the corbel at pier {pier}", "Cut it {piers}", "'piers'"),
        ("Corte la ménsula en el pilote {pier}.", "Corte la ménsula.", "'do es' lacks {pier}"),
        ("footing thickness 12 in, wall", "footing thicknes 12 in, wall", "'footing thicknes"),
    ],
)  # fmt: skip
def test_slips_are_told_with_their_line(old, new, told):
    assert SEAT.count(old) == 1
    said = mistakes(SEAT.replace(old, new))
    assert told in said
    assert "seat.rules:" in said


def test_a_seat_that_needs_nothing_is_refused():
    lines = [line for line in SEAT.splitlines() if line.split()[:1] not in
             (["footing"], ["wall"], ["load"])]  # fmt: skip
    assert "a seat that needs nothing" in mistakes("\n".join(lines))


def test_a_seat_that_is_there_twice_is_refused():
    again = SEAT.replace("SEAT-31", "SEAT-32")
    assert "this seat is listed already" in mistakes(SEAT + again)


def test_a_firm_adds_a_seat_and_counts_a_shipped_one_out():
    own = (
        SEAT
        + """
rule OURS-1 bed that we do not use
  for   each pier
  when  wall material is poured concrete
  then  count seat on concrete bed as does not suit
  say   We place no bed at pier {pier}.
  from  our own
  case  wall material poured concrete gives does not suit
  case  wall material wood gives nothing
"""
    )
    shipped = {"seat.rules": (load_text())}
    rules = read_and_try(shipped, {"ours/a.rules": own})
    found = seats(careful_house(), rules)
    assert found["on a corbel"].state == "suits"
    assert found["on concrete bed"].state == "does not suit"
    assert found["on concrete bed"].why == ("We place no bed at pier P1. (OURS-1)",)


def load_text():
    from survey import resources

    return (resources.folder("rules") / "seat.rules").read_text("utf-8")


def test_the_shipped_catalogue_is_ranked_and_its_seats_are_told_apart():
    names = [seat.word.name for seat in SHIPPED.seats]
    assert names == [
        "seat under cut footing", "seat on concrete bed", "seat anchored to footing",
        "seat with spanning tube",
    ]  # fmt: skip
    assert all(seat.text_es and seat.do_es for seat in SHIPPED.seats)


@pytest.mark.skipif(not production.available(), reason="durable-rules does not load here")
def test_both_evaluators_conclude_the_same_of_seats_with_open_answers():
    for answers in (
        {"footing_thickness": "not known"}, {"wall_material": "not known"},
        {"wall_material": "brick", "mortar_joints": "not known"}, {"footing_cracks": "open"},
        {"footing_honeycomb": "not known"},
    ):  # fmt: skip
        assert assess(survey_of(with_wall(**answers)), (), SHIPPED).disagreement == ()
