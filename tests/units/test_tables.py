"""Plain tables for a database of one's own."""

import csv
import io
from dataclasses import replace

from survey.tables import tables
from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, VOCABULARY, Units
from survey.vocabulary.walk import PAGES, questions
from tests.demo_surveys import careful_house, survey_of


def rows(survey, page):
    return list(csv.DictReader(io.StringIO(tables(survey)[page])))


def house(**changes):
    document = careful_house()
    document["piers"][0] |= changes
    return survey_of(document, "house")


def test_there_is_a_table_for_each_page_with_a_field_for_each_question():
    found = tables(house())
    assert list(found) == [page.sheet for page in PAGES]
    for page in PAGES:
        heads = next(csv.reader(io.StringIO(found[page.sheet])))
        assert heads[:2] == ["survey", "label"]
        keys = [head.split(" [")[0] for head in heads[2:]]
        assert keys == [word.key for word in questions(page, VOCABULARY)]


def test_figures_are_bare_numbers_in_the_unit_of_the_heading():
    survey = house(pit_depth="5 ft 6 in", pit_width="36 in")
    assert rows(survey, "Piers")[0]["pit_depth [ft]"] == "5.5"
    metric = replace(survey, units=Units.METRIC)
    assert rows(metric, "Piers")[0]["pit_width [mm]"] == "914.4"


def test_not_known_is_empty_and_what_does_not_apply_says_so():
    survey = house(pit_depth=None)
    assert survey.piers[0].value("slope of sides") is DOES_NOT_APPLY
    assert survey.piers[0].value("pit depth") is NOT_KNOWN
    first = rows(survey, "Piers")[0]
    assert first["pit_depth [ft]"] == ""
    assert first["slope_of_sides [H:1V]"] == str(DOES_NOT_APPLY)


def test_text_that_a_spreadsheet_would_take_for_a_formula_stays_text():
    document = careful_house()
    document["site"]["remarks"] = "=HYPERLINK(1), they said"
    (site,) = rows(survey_of(document, "house"), "Plan")
    assert site["remarks"] == "'=HYPERLINK(1), they said"
