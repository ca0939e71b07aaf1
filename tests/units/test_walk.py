"""The order of the form asks every question once, and what it depends on before it."""

from survey.rulebook.book import load_book
from survey.rulebook.uses import uses
from survey.vocabulary import VOCABULARY, Kind, Origin, Subject, Word
from survey.vocabulary.walk import (
    FIRST_VISIT,
    MAY_STAY_BLANK,
    OWN_QUESTIONS,
    PAGES,
    blocks_of,
    page_of,
    questions,
)

DOG = Word("loose dog", Subject.SITE, Kind.YES_NO, Origin.SEEN, "Is there a dog?")


def test_every_question_stands_on_one_page():
    asked = [word.name for page in PAGES for word in questions(page, VOCABULARY)]
    subjects = {page.subject for page in PAGES}
    assert sorted(asked) == sorted(
        word.name for subject in subjects for word in VOCABULARY.asked_of(subject)
    )


def test_a_question_of_a_firm_s_own_stands_last_on_the_last_page_of_its_subject():
    kit = page_of(DOG)
    assert kit.sheet == "Kit"
    with_dog = VOCABULARY.extended([DOG])
    assert list(blocks_of(kit, with_dog))[-1] == (OWN_QUESTIONS, (DOG,))
    assert sum(DOG in questions(page, with_dog) for page in PAGES) == 1


def test_the_page_of_a_question():
    assert page_of(VOCABULARY["gas odour"]).sheet == "Site"
    assert page_of(VOCABULARY["pit depth"]).sheet == "Piers"


def test_what_a_question_depends_on_is_asked_first_and_on_the_short_form_too():
    order = {
        word.name: place
        for place, word in enumerate(w for page in PAGES for w in questions(page, VOCABULARY))
    }
    for name, place in order.items():
        when = VOCABULARY[name].asks_when
        if when is not None:
            assert order[when.word] < place, name
            assert name not in FIRST_VISIT or when.word in FIRST_VISIT, name


def test_the_short_form_asks_on_every_page_that_is_walked():
    short = {
        page.sheet: [w for w in questions(page, VOCABULARY) if w.name in FIRST_VISIT]
        for page in PAGES
    }
    assert not short["Kit"]
    assert not short["Releases"]
    assert all(short[sheet] for sheet in ("Office", "Site", "Walls", "Piers", "Utilities", "Soil"))


def test_nothing_that_a_rule_may_ask_for_may_stay_blank():
    assert not MAY_STAY_BLANK & set(uses(load_book()))
    assert all(VOCABULARY[name].asks_when is None for name in MAY_STAY_BLANK)
