"""What a firm's own files may do to the shipped book, and what they may not."""

from __future__ import annotations

import pytest

from survey.resources import folder
from survey.rulebook.book import load_book, read_and_try
from survey.rulebook.local import stricter_ways
from survey.rulebook.messages import RuleBookError
from survey.rulebook.reading import read_book
from survey.rulebook.rules import Lift, RuleBook
from survey.rulebook.study.edges import unnoticed

SHIPPED = """\
topic Pits
legal limit protection depth = 5 ft
  from 29 CFR 1926.652(a)(1)(ii)
legal limit least distance = 2 ft
  from 29 CFR 1926.651(j)(2)
limit greatest load = 30 kip
  from common practice
legal table least slope
  by   soil class
  row  stable rock gives 0H:1V
  row  A gives 0.75H:1V
  row  B gives 1H:1V
  row  C gives 1.5H:1V
  from 29 CFR 1926 Subpart P App. B
rule DIG-1 deep pit
  for     each pier
  when    pit depth is at least protection depth
  then    stop
  say     Deep.
  do      Hold it.
  who     crew
  from    29 CFR 1926.652(a)(1)
  release nobody
  case    pit depth 5 ft gives stop
  case    pit depth 4 ft 11 in gives nothing
rule DIG-2 near spoil
  for     each pier
  when    spoil distance is less than least distance
  then    stop
  say     Near.
  do      Move it.
  who     crew
  from    29 CFR 1926.651(j)(2)
  release competent person
  case    spoil distance 1 ft gives stop
  case    spoil distance 2 ft gives nothing
rule DIG-3 steep sides
  for     each pier
  when    slope of sides is less than least slope
  then    stop
  say     Steep.
  do      Flatten it.
  who     crew
  from    29 CFR 1926 Subpart P App. B
  release licensed engineer
  case    slope of sides 1H:1V, soil class C gives stop
rule FOOT-1 heavy pier
  for     each pier
  when    pier load is more than greatest load
  then    engineer
  say     Heavy.
  do      Ask the engineer.
  who     engineer
  from    common practice
  release licensed engineer
  case    pier load 31 kip gives engineer
  case    pier load 30 kip gives nothing
rule SOIL-1 wet ground
  for     each pier
  when    seepage at pit is yes
  then    count soil class as C
  say     Wet.
  from    common practice
  case    seepage at pit yes gives C
"""
REASON = "  reason  We know better\n  by      Bo Muster\n  licence PE 1, Exampleland\n"
OWN_RULE = """\
  for     each pier
  when    pier load is more than greatest load
  then    stop
  say     Heavy.
  do      Leave it.
  who     crew
  from    firm's rule
  release licensed engineer
  case    pier load 31 kip gives stop
"""


def own(text: str) -> RuleBook:
    return read_and_try({"pits.rules": SHIPPED}, {"firm/own.rules": text})


def mistakes(text: str) -> list[str]:
    with pytest.raises(RuleBookError) as caught:
        own(text)
    return [str(mistake) for mistake in caught.value.mistakes]


def changes(book: RuleBook) -> list[str]:
    return [change.what for change in book.changes]


def limit(legal: str, name: str, figure: str) -> str:
    return f"{legal}limit {name} = {figure}\n  from our own\n"


def test_without_own_files_nothing_is_changed():
    assert read_and_try({"pits.rules": SHIPPED}, {}).changes == ()


@pytest.mark.parametrize(
    ("name", "figure", "what"),
    [
        (
            "protection depth",
            "4 ft",
            "legal limit 'protection depth' is 4 ft; stricter, shipped: 5 ft",
        ),
        ("least distance", "3 ft", "legal limit 'least distance' is 3 ft; stricter, shipped: 2 ft"),
    ],
)
def test_a_legal_limit_may_be_tightened(name, figure, what):
    assert changes(own(limit("legal ", name, figure))) == [what]


@pytest.mark.parametrize(
    ("name", "figure"), [("protection depth", "5 ft 1 in"), ("least distance", "1 ft 11 in")]
)
def test_a_legal_limit_can_not_be_loosened_and_both_lines_are_shown(name, figure):
    (said,) = mistakes(limit("legal ", name, figure))
    assert f"firm/own.rules:1:13: '{name}' of {figure} is looser than the law" in said
    assert f"  1 | legal limit {name} = {figure}" in said
    assert "The law stands at pits.rules:" in said
    assert f"| legal limit {name} =" in said.split("The law stands")[1]


def test_a_legal_limit_stays_one_and_keeps_its_kind():
    (said,) = mistakes(limit("", "protection depth", "4 ft"))
    assert "is a legal limit of the shipped book" in said
    assert "Write 'legal limit'." in said
    (said,) = mistakes(limit("legal ", "protection depth", "4 psf"))
    assert "measures length in the shipped book" in said
    (said,) = mistakes(limit("legal ", "greatest load", "20 kip"))
    assert "'greatest load' is a limit of the shipped book" in said


@pytest.mark.parametrize(("figure", "way"), [("20 kip", "stricter"), ("40 kip", "looser")])
def test_a_plain_limit_may_be_changed_either_way_and_the_change_says_which(figure, way):
    book = own(limit("", "greatest load", figure))
    assert changes(book) == [f"limit 'greatest load' is {figure}; {way}, shipped: 30 kip"]
    assert len(book.turned) == 1  # the case at 31 kip, or the one at 30
    assert {rule.code: len(rule.case_fields) for rule in book}["FOOT-1"] == 1


def test_a_limit_that_is_set_to_the_same_figure_is_no_change():
    assert changes(own(limit("legal ", "protection depth", "60 in"))) == []


def table(*figures: str) -> str:
    rows = zip(("stable rock", "A", "B", "C"), figures, strict=True)
    said = "".join(f"  row {choice} gives {figure}\n" for choice, figure in rows)
    return f"legal table least slope\n  by soil class\n{said}  from our own\n"


def test_a_legal_table_may_be_tightened_row_by_row_and_never_loosened():
    book = own(table("0H:1V", "0.75H:1V", "1.2H:1V", "1.5H:1V"))
    assert changes(book) == ["legal table 'least slope' for B is 1.2H:1V; stricter, shipped: 1H:1V"]
    (said,) = mistakes(table("0H:1V", "0.75H:1V", "1.2H:1V", "1.4H:1V"))
    assert "'least slope' of 1.4H:1V is looser than the law, which says 1.5H:1V for C" in said


def test_a_plain_table_that_such_a_rule_uses_keeps_its_rows():
    """Other rows could make it looser where no figure tells."""
    rule = OWN_RULE.replace(
        "pier load is more than greatest load", "spoil distance is less than near"
    )
    rule = rule.replace("release licensed engineer", "release nobody")
    rule = rule.replace("pier load 31 kip", "spoil distance 1 ft, pit depth 4 ft")

    def near(*rows: str) -> str:
        said = "".join(f"  row up to {row}\n" for row in rows)
        return f"table near\n  by pit depth\n{said}  from common practice\n"

    shipped = {
        "pits.rules": near("5 ft gives 2 ft", "9 ft gives 3 ft") + "rule DIG-9 near\n" + rule
    }
    stricter = {"own.rules": near("5 ft gives 2 ft", "9 ft gives 4 ft")}
    assert len(read_and_try(shipped, stricter).changes) == 1
    with pytest.raises(
        RuleBookError, match="the rows of 'near' are not those of the shipped book, and nobody"
    ):
        read_and_try(shipped, {"own.rules": near("6 ft gives 2 ft", "9 ft gives 3 ft")})


def test_own_rules_are_added_and_may_use_what_is_shipped():
    book = own("rule OWN-1 heavier pier\n" + OWN_RULE)
    assert changes(book) == ["rule OWN-1 added: heavier pier"]
    assert [rule.code for rule in book if rule.local] == ["OWN-1"]


def test_a_code_of_the_shipped_book_is_taken():
    (said,) = mistakes("rule FOOT-1 heavier pier\n" + OWN_RULE)
    assert "write 'replace rule FOOT-1'" in said


def test_a_rule_may_be_replaced_with_a_reason_and_a_name():
    book = own("replace rule FOOT-1 too heavy a pier\n" + OWN_RULE + REASON)
    (change,) = book.changes
    assert change.what == (
        "rule FOOT-1 replaced: too heavy a pier; shipped: heavy pier; "
        "outcome stop, stricter than engineer"
    )
    assert change.why == "We know better (Bo Muster, PE 1, Exampleland)"
    (rule,) = [rule for rule in book if rule.code == "FOOT-1"]
    assert (rule.local, rule.topic) == (True, "Pits")
    said = "\n".join(mistakes("replace rule FOOT-1 too heavy a pier\n" + OWN_RULE))
    assert "the rule has no 'reason' line" in said
    assert "the rule has no 'by' line" in said


def test_a_rule_may_be_switched_off_with_a_reason_and_a_name():
    book = own("switch off rule FOOT-1\n" + REASON)
    assert changes(book) == ["rule FOOT-1 switched off: heavy pier"]
    assert "FOOT-1" not in [rule.code for rule in book]
    assert len(mistakes("switch off rule FOOT-1\n")) == 3
    unsaid = REASON.replace("We know better", "-").replace("Bo Muster", "x")
    assert len(mistakes("switch off rule FOOT-1\n" + unsaid)) == 2


def test_what_only_an_engineer_may_lift_only_an_engineer_takes_out_of_the_book():
    by_lead = REASON[: REASON.index("  licence")]
    (said,) = mistakes("switch off rule FOOT-1\n" + by_lead)
    assert "has no 'licence' line" in said
    assert "Only a licensed engineer may lift FOOT-1" in said


def test_a_milder_replacement_is_called_milder():
    text = "replace rule FOOT-1 heavy pier\n" + OWN_RULE.replace("stop", "note")
    text = text.replace("release licensed engineer", "release competent person")
    (what,) = changes(own(text + REASON))
    assert "outcome note, milder than engineer" in what
    assert "release competent person; shipped: licensed engineer" in what


@pytest.mark.parametrize(
    ("shipped", "rule", "why"),
    [
        ("release licensed engineer", "release nobody", "nobody may lift FOOT-1"),
        ("from    common practice", "from    29 CFR 1926.651(i)", "FOOT-1 states a regulation"),
    ],
)
def test_a_plain_limit_that_such_a_rule_uses_may_not_be_made_looser(shipped, rule, why):
    head, foot = SHIPPED[: SHIPPED.index("rule FOOT-1")], SHIPPED[SHIPPED.index("rule FOOT-1") :]
    kept = {"pits.rules": head + foot.replace(shipped, rule, 1)}
    read_and_try(kept, {"own.rules": limit("", "greatest load", "20 kip")})
    with pytest.raises(RuleBookError) as caught:
        read_and_try(kept, {"own.rules": limit("", "greatest load", "40 kip")})
    assert "'greatest load' of 40 kip is looser than 30 kip, and " + why in str(caught.value)


@pytest.mark.parametrize("how", ["switch off rule {}\n", "replace rule {} fault\n" + OWN_RULE])
@pytest.mark.parametrize(
    ("code", "why", "line"),
    [
        ("DIG-1", "nobody may lift DIG-1", "release nobody"),
        ("DIG-2", "DIG-2 states a regulation (29 CFR 1926.651(j)(2))", "release competent person"),
        ("SOIL-1", "other rules rest on what SOIL-1 concludes", "rule SOIL-1 wet ground"),
    ],
)
def test_what_must_stay_can_neither_be_replaced_nor_switched_off(how, code, why, line):
    (said,) = mistakes(how.format(code) + REASON)
    assert why in said
    assert "stands at pits.rules:" in said
    assert line in said.split("stands at")[1]


def test_a_conclusion_can_not_replace_a_finding():
    text = "replace rule FOOT-1 fault\n  for each pier\n  when gas odour is yes\n"
    text += "  then count soil class as C\n  say x\n  from common practice\n"
    text += "  case gas odour yes gives C\n"
    assert "a conclusion can't replace a finding" in "\n".join(mistakes(text + REASON))


RELEASE = """\
standing release REL-1 our detail
  lifts    {code}
  when     wall material is poured concrete
  engineer Bo Muster
  licence  PE 1, Exampleland
  given    2026-01-01
  until    2026-12-31
  note     Detail 3
  case     wall material poured concrete gives lifted
  case     wall material brick gives nothing
  case     wall material not known gives ask
"""


def test_a_standing_release_is_a_rule_that_lifts():
    book = own(RELEASE.format(code="FOOT-1"))
    (rule,) = [rule for rule in book if isinstance(rule.then, Lift)]
    assert rule.then.finding == "FOOT-1"
    assert changes(book)[0].startswith("standing release REL-1 (our detail) lifts FOOT-1 from 2026")


def test_nobody_s_finding_can_not_be_lifted_and_both_lines_are_shown():
    (said,) = mistakes(RELEASE.format(code="DIG-1"))
    assert "nobody may lift DIG-1" in said
    assert "  2 |   lifts    DIG-1" in said
    assert "release nobody" in said
    (said,) = mistakes(RELEASE.format(code="SOIL-1"))
    assert "SOIL-1 is no finding that can be lifted" in said


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("is poured concrete", "is not brick", "says what must be so, not what must not"),
        ("wall material is poured concrete", "no utility where utility kind is gas",
         "says what must be so"),
        ("wall material is poured concrete", "number of utilities is at most 3",
         "says what must be so"),
        ("Bo Muster", "x", "'x' says nothing"),
        ("Detail 3", "ok", "'ok' says nothing"),
        ("PE 1, Exampleland", "none", "'none' says nothing"),
        ("until    2026-12-31", "until    2028-01-03", "holds for more than 731 days"),
        ("  case     wall material brick gives nothing\n", "", "no case of REL-1 gives 'nothing'"),
        ("wall material is poured concrete", "pit depth is at least 0 ft",
         "the case says 'nothing', REL-1 gives 'ask'"),
    ],
)  # fmt: skip
def test_a_standing_release_must_be_one(old, new, what):
    text = RELEASE.format(code="FOOT-1")
    assert old in text
    assert what in "\n".join(mistakes(text.replace(old, new)))


@pytest.mark.parametrize(
    ("code", "what"),
    [
        ("DIG-2", "DIG-2 is lifted by a competent person on site, not by a standing release"),
        ("DIG-3", "DIG-3 stops the work by a regulation (29 CFR 1926 Subpart P App. B)"),
    ],
)
def test_what_is_lifted_place_by_place_is_not_lifted_for_every_job(code, what):
    (said,) = mistakes(RELEASE.format(code=code))
    assert what in said
    assert f"{code} stands at pits.rules:" in said


@pytest.mark.parametrize(
    ("text", "what"),
    [
        (limit("", "0 in", "5 ft"), "reads like a figure"),
        (limit("", "1", "2"), "reads like a figure"),
        (limit("", "pit depth of other pier", "1 ft"), "a name that ends like a word of two piers"),
        (limit("", "greatest load", "-1 kip"), "a limit below nought"),
        (limit("legal ", "protection dept", "4 ft"), "no rule uses 'protection dept'"),
        (
            "topic Ours\n  legal limit protection depth = 4 ft\n",
            "is indented, and opens a paragraph",
        ),
    ],
)
def test_what_would_silently_do_something_else_is_refused(text, what):
    assert what in "\n".join(mistakes(text))


def test_a_shipped_case_may_only_be_turned_by_a_changed_figure():
    own_figure = limit("", "greatest load", "20 kip")
    assert [m.span.file for m in own(own_figure).turned] == ["pits.rules"]
    broken = SHIPPED.replace(
        "pit depth 4 ft 11 in gives nothing", "pit depth 4 ft 11 in gives stop"
    )
    with pytest.raises(RuleBookError, match="the case says 'stop', DIG-1 gives 'nothing'"):
        read_and_try({"pits.rules": broken}, {"own.rules": own_figure})


def test_cases_may_be_added_to_a_shipped_rule_and_are_tried():
    tightened = limit("legal ", "protection depth", "4 ft")
    own(tightened + "cases DIG-1\n  case pit depth 4 ft gives stop\n")
    (said,) = mistakes(tightened + "cases DIG-1\n  case pit depth 4 ft gives nothing\n")
    assert "firm/own.rules:4:8: the case says 'nothing', DIG-1 gives 'stop'" in said


def test_shipped_cases_that_a_firm_s_figure_turns_are_told_and_set_aside():
    book = own(limit("legal ", "protection depth", "4 ft"))
    (turned,) = book.turned
    assert turned.what == "the case says 'nothing', DIG-1 gives 'stop'"
    assert turned.span.file == "pits.rules"
    edges = [one.change for one in unnoticed(book) if one.rule.code == "DIG-1"]
    assert edges  # so the changed figure has no case on both sides any more


def test_which_way_is_stricter_is_read_off_the_rules():
    def ways(when: str) -> frozenset[str]:
        text = "limit x = 5 ft\n  from common practice\nrule OWN-1 fault\n"
        text += OWN_RULE.replace("pier load is more than greatest load", when)
        text = text.replace("pier load 31 kip gives stop", "gas odour yes gives ask")
        return stricter_ways("x", list(read_book({"a.rules": text})))

    lower, higher, both = (
        frozenset(["lower"]),
        frozenset(["higher"]),
        frozenset(["lower", "higher"]),
    )
    assert ways("pit depth is at least x") == lower
    assert ways("not pit depth is at least x") == higher
    assert ways("pit depth is less than x") == higher
    assert ways("pit depth is between x and 9 ft") == lower
    assert ways("pit depth is at least x and spoil distance is less than x") == both
    assert ways("pit depth minus x is more than 1 ft") == lower
    assert ways("pit depth plus x is more than 9 ft") == higher
    assert ways("pit depth is more than 2 times x") == lower
    assert ways("pit depth is more than pit depth minus x") == higher
    assert ways("slope of sides times x is more than pit depth") == both
    assert ways("any utility where clearance to utility is less than x") == higher
    assert ways("no utility where clearance to utility is less than x") == lower
    assert ways("every utility meets clearance to utility is at least x") == lower


def test_the_demo_firm_s_rules_leave_no_edge_open():
    book = load_book(folder("demo_sites") / "firm_rules")
    assert unnoticed(book) == ()
    assert len(book.changes) == 8
