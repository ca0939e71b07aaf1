"""The list of words, limits and tables that the safety lead pages through."""

import dataclasses

import pytest

from survey.rulebook.reading import read_book
from survey.rulebook.study.listing import list_words
from survey.rulebook.uses import uses
from survey.vocabulary import SCOPES
from tests.made_books import OWN, SHIPPED


def entry(text: str, name: str) -> list[str]:
    """The lines of one entry below its first."""
    (found,) = (part for part in text.split("\n\n") if part.split("\n")[0] == name)
    return [line.strip() for line in found.split("\n")[1:]]


ALL = list_words(OWN)


def test_every_word_that_a_rule_may_use_stands_in_it_once():
    heads = [part.split("\n")[0] for part in ALL.split("\n\n")]
    for word in OWN.vocabulary.words:
        usable = any(word.subject in parts for parts in SCOPES.values())
        assert heads.count(word.name) == usable, word.name


def test_words_stand_below_what_they_are_said_of():
    piers = ALL.index("SAID OF EACH PIER\n")
    pairs = ALL.index("SAID OF EACH PIER AND UTILITY\n")
    assert piers < ALL.index("\npit depth\n") < pairs < ALL.index("\nclearance to utility\n")
    assert "In rules for two piers, add 'of this pier' or" in " ".join(ALL[piers:].split())


def test_an_asked_word_gives_prompt_unit_range_direction_sheet_and_rules():
    assert entry(ALL, "spoil distance") == [
        "Distance from the pit's edge to the spoil, tools and materials",
        "length (ft), from 0 in up to 200 ft, lower is worse",
        "asked on sheet Piers of the form; chosen by us",
        "named in DIG-2",
    ]


def test_choices_stand_from_best_to_worst_where_that_is_declared():
    assert "choice, from best to worst: marked or cleared | cannot give the exact place" in ALL
    assert entry(ALL, "soil class")[1] == ("choice, from best to worst: stable rock | A | B | C")
    assert entry(ALL, "wall of utility")[1] == "reference; rules may print it, not judge by it"
    assert "choice: none | sloped | benched" in " ".join(ALL.split())


def test_a_question_that_depends_on_another_says_when_it_applies():
    assert entry(ALL, "slope of sides")[3] == "does not apply unless 'side protection' is sloped"


def test_a_figure_that_is_worked_out_names_its_calculation():
    assert "worked out by layout.clearance_to_utility" in entry(ALL, "clearance to utility")


def test_a_conclusion_names_its_rules_and_what_it_starts_from():
    lines = entry(ALL, "soil class")
    assert "concluded by DIG-3" in lines
    assert "before any rule counts it worse: as 'tested soil class'" in lines
    assert "where no rule concludes it: not needed" in entry(ALL, "cave-in protection")


def test_a_question_of_the_firm_gives_file_and_line():
    assert "the firm's own question at firm.rules:14" in entry(ALL, "dog loose on site")
    assert "dog loose on site" not in list_words(SHIPPED)


def test_a_limit_gives_figure_law_source_place_and_rules():
    assert entry(ALL, "spoil set-back = 3 ft") == [
        "set by law: a firm may make it stricter, never looser", "our safety plan 4.2",
        "firm.rules:3", "named in DIG-2",
    ]  # fmt: skip
    assert entry(ALL, "most days = 3 days") == [
        "common practice", "dig.rules:6", "named in no rule",
    ]  # fmt: skip


def test_a_limit_in_a_count_is_used_by_its_rule():
    assert entry(ALL, "line set-back = 4 ft")[-1] == "named in LINE-1"
    assert entry(ALL, "utility kind")[-1] == "named in LINE-1"


def test_a_table_gives_every_row():
    assert entry(ALL, "steepest slope, by soil class, pit depth")[1:4] == [
        "stable rock, up to 20 ft  0.5H:1V",
        "A, up to 12 ft            1H:1V",
        "B, up to 20 ft            1H:1V",
    ]
    assert entry(ALL, "steepest slope, by soil class, pit depth")[-1] == "named in DIG-10"


def test_the_keys_of_a_table_are_used_by_the_rules_that_look_it_up():
    assert entry(ALL, "pit depth")[-1] == "named in DIG-10"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("SPOIL dist", "\n\nspoil distance\n"),  # its name
        ("indented only", "\n\nthumb test\n"),  # a choice
        ("one-call  centre", "\n\nlocate request made\n"),  # its prompt
        ("651(j)", None),  # the source of no figure in the firm's book
        ("safety plan", "\n\nspoil set-back = 3 ft\n"),
        ("plan 4.3", "\n\nsteepest slope, by soil class, pit depth\n"),
    ],
)
def test_a_text_picks_out_what_has_it_in_name_prompt_choices_or_source(text, found):
    listed = list_words(OWN, text)
    if found is None:
        assert listed.startswith(f"No word, limit or table has '{text}' in it.")
    else:
        assert found in listed
        assert len(listed) < len(ALL) / 10


def test_where_nothing_has_the_text_the_nearest_names_are_given():
    told = " ".join(list_words(OWN, "spol distnce").split())
    assert told.startswith(
        "No word, limit or table has 'spol distnce' in it. Nearest: spoil distance, "
    )
    assert "ladder in pit" in list_words(OWN, "laddr")
    assert list_words(OWN, "zzzz xx").endswith("No name reads like it.")


def test_lines_fit_a_terminal():
    assert max(map(len, ALL.split("\n"))) <= 80


def test_a_word_of_the_other_pier_counts_as_the_word_and_a_printed_word_is_used():
    book = read_book({"pair.rules": """
rule PAIR-1 two pits
  for   each pier and other pier
  when  pit depth of this pier is more than footing depth of other pier
  then  note
  say   {station of this pier} and {pit width of other pier}
  do    Look.
  who   crew
  from  common practice
  release nobody
  case  pit depth of this pier not known gives ask
"""})  # fmt: skip
    assert set(uses(book)) == {"pit depth", "footing depth", "station", "pit width"}


def test_rules_are_named_in_the_order_of_their_numbers():
    book = dataclasses.replace(
        SHIPPED,
        levels=tuple(
            tuple(
                dataclasses.replace(rule, say="{spoil distance}") if rule.code == "DIG-10" else rule
                for rule in reversed(level)
            )
            for level in SHIPPED.levels
        ),
    )
    assert [rule.code for rule in uses(book)["spoil distance"]] == ["DIG-2", "DIG-10"]
