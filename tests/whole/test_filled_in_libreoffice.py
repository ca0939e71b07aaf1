"""A surveyor fills the blank form in LibreOffice: typing, choosing from lists, moving things about.

Cells are found by the hidden keys alone, so this goes on working when the form's layout changes.
"""

import datetime as dt
import io
import json
import re
from collections import defaultdict
from dataclasses import dataclass, field
from functools import partial
from itertools import cycle

import pytest
from openpyxl.drawing.image import PILImage
from pypdf import PdfReader

from survey.answers import read_survey
from survey.assessment import assess
from survey.document import read_document
from survey.model import LISTS
from survey.rulebook.book import load_book
from survey.vocabulary import MEASURES, NOT_KNOWN, VOCABULARY, Kind, Subject, read_quantity
from survey.vocabulary.walk import FIRST_VISIT, MAY_STAY_BLANK, PAGES, questions
from survey.workbook import open_survey, write_form
from tests.demo_surveys import careful_house, survey_of
from tests.office import SOFFICE, office, uno_python

pytestmark = pytest.mark.skipif(
    SOFFICE is None or uno_python() is None, reason="no LibreOffice that a script can use"
)

WORDS = {
    subject: {word.key: word for word in VOCABULARY.asked_of(subject)}
    for subject in (Subject.SITE, *LISTS)
}
LISTED = (Kind.CHOICE, Kind.YES_NO, Kind.REFERENCE)  # where a list drops down
PAPER = {"letter": (612, 792), "a4": (595, 842)}  # points
MOVED_PIER = 2  # a row is inserted above it


@dataclass
class Places:
    """Where the form has its questions, by the hidden keys; cells are (sheet, column, row)."""

    site: dict[str, tuple[str, int, int]] = field(default_factory=dict)
    lists: dict[Subject, tuple[str, int, dict[str, int]]] = field(default_factory=dict)

    def row(self, subject, number):
        """The cells of a row of a list, counted from 0, by key."""
        sheet, head, columns = self.lists[subject]
        return {key: (sheet, column, head + 1 + number) for key, column in columns.items()}


def places_of(person, sheets):
    found = Places()
    for sheet in sheets:
        for number, row in enumerate(grid := person.texts(sheet)):
            if "site_answer" in row:
                answers, keys = row.index("site_answer"), row.index("site_question")
                for below, line in enumerate(grid[number + 1 :], start=number + 1):
                    if line[keys] in WORDS[Subject.SITE]:
                        found.site[line[keys]] = (sheet, answers, below)
            for subject in LISTS:
                columns = {key: at for at, key in enumerate(row) if key in WORDS[subject]}
                if "label" in row and columns:
                    found.lists[subject] = (sheet, number, {"label": row.index("label"), **columns})
    return found


def ways(word, text):
    """The ways in which people write one answer."""
    if word.kind is Kind.DATE:
        day = dt.date.fromisoformat(text)
        return [text, f"{day.day} {day:%b} {day.year}", f"{day:%B} {day.day}, {day.year}"]
    if word.kind not in MEASURES or word.unit not in MEASURES[word.kind].units:
        return [text]
    value = read_quantity(text, word.kind, word.unit)
    bare = value / MEASURES[word.kind].units[word.unit]
    found = [text, f" {text.replace(' ', chr(0xA0))} ", f"{bare:.12g}"]
    if word.kind is Kind.LENGTH:
        feet, inches = divmod(value, 12)
        found.append(f"{value * 25.4:.12g} mm")
        if inches == int(inches):
            found += [f"{feet:g}'-{inches:g}\"", f"{feet:g}’ {inches:g}”", f"{feet:g}ft {inches:g}"]
    return found


@dataclass
class Surveyor:
    """Types answers into the form, each in another way, and keeps what the form says to it."""

    person: object
    places: Places
    written: dict = field(default_factory=lambda: {"pier_survey": 1, "site": {}})
    rules: dict = field(default_factory=dict)
    picked: list = field(default_factory=list)
    counts: list = field(default_factory=list)
    locked: list = field(default_factory=list)
    odd: list = field(default_factory=list)
    turn: cycle = field(default_factory=lambda: cycle(range(7)))

    def answer(self, cell, word, text):
        if word.kind in LISTED:
            if word.name not in self.rules:  # a column has one rule for all of its cells
                self.rules[word.name] = word, self.person.validation(*cell)
            self.picked.append((word.name, text))
            self.person.type(*cell, text)
        else:
            written = ways(word, text)
            self.person.type(*cell, written[next(self.turn) % len(written)])

    def site(self, answers):
        for key, text in answers.items():
            self.answer(self.places.site[key], WORDS[Subject.SITE][key], text)
        self.written["site"] = answers
        self.count()

    def rows(self, subject, rows):
        for number, answers in enumerate(rows):
            cells = self.places.row(subject, number)
            self.person.type(*cells["label"], answers["label"])
            for key, text in answers.items():
                if key != "label":
                    self.answer(cells[key], WORDS[subject][key], text)
        self.written[LISTS[subject]] = rows
        self.count()

    def count(self):
        """Keep how many answers are open by the cover, and by what was typed so far."""
        raw = read_document(json.dumps(self.written), "so far.json")
        self.counts.append((self.by_the_cover(), open_answers(read_survey(raw)[0])))

    def by_the_cover(self):
        grid = self.person.texts("Start")
        head = next(
            number for number, row in enumerate(grid) if {"Sheet", "Still open"} <= set(row)
        )
        column = grid[head].index("Still open")
        sheets = {page.sheet for page in PAGES}
        return {row[0]: int(float(row[column])) for row in grid[head:] if row[0] in sheets}

    def try_to_change(self, sheet, column, row):
        before = self.person.read(sheet, column, row)
        self.locked.append((before, self.person.type(sheet, column, row, "changed")))


def open_answers(survey):
    """How many answers each sheet still asks for: blank ones that apply, for what is known."""

    def asks(row, word):
        while word.asks_when is not None:
            if row.value(word.asks_when.word) not in word.asks_when.choices:
                return False
            word = VOCABULARY[word.asks_when.word]
        return True

    return {
        page.sheet: sum(
            row.value(word.name) is NOT_KNOWN and asks(row, word)
            for row in survey.rows(page.subject)
            for word in questions(page, VOCABULARY)
            if word.name not in MAY_STAY_BLANK
        )
        for page in PAGES
    }


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("filled")


@pytest.fixture(scope="module")
def done(folder):
    """The careful house filled in from the blank; what was seen on the way."""
    write_form(folder / "blank.xlsx")
    house = careful_house()
    with office() as person:
        sheets = person.open(folder / "blank.xlsx")
        names = [name for name, _shown, _locked in sheets]
        places = places_of(person, names)
        surveyor = Surveyor(person, places)
        surveyor.count()
        for sheet in {cell[0] for cell in places.site.values()}:
            surveyor.try_to_change(sheet, 0, 0)
        for sheet, head, columns in places.lists.values():
            for row in range(head + 1):
                surveyor.try_to_change(sheet, columns["label"] + 1, row)
        surveyor.site(house["site"])
        for subject, name in LISTS.items():
            surveyor.rows(subject, house.get(name, []))
        person.save(folder / "as typed.xlsx")
        look_for_what_is_odd(surveyor)
        put_a_picture(surveyor, folder)
        move_things_about(surveyor)
        person.save(folder / "moved.xlsx")
        person.save(folder / "moved.ods")
        person.close()
        write_form(folder / "short.xlsx", short=True)
        for paper in PAPER:
            person.open(folder / "short.xlsx")
            person.paper(paper)
            person.save(folder / f"{paper}.pdf")
            person.close()
    return surveyor


def look_for_what_is_odd(surveyor):
    """Type a station beyond the wall's end, and the right one again; keep what the cover says."""
    cell = surveyor.places.row(Subject.PIER, 0)["station"]
    cover = partial(surveyor.person.texts, "Start")
    surveyor.odd.append(cover())
    surveyor.person.type(*cell, "60 ft")
    surveyor.odd.append(cover())
    surveyor.person.type(*cell, "6 ft")
    surveyor.odd.append(cover())


def put_a_picture(surveyor, folder):
    drawn = io.BytesIO()
    PILImage.new("RGB", (40, 30), "grey").save(drawn, "PNG")
    (folder / "north wall.png").write_bytes(drawn.getvalue())
    cells = surveyor.places.row(Subject.PHOTO, 0)
    surveyor.person.type(*cells["label"], "Photo 1")
    sheet, column, row = max(cells.values())
    assert surveyor.person.picture(sheet, column + 1, row, folder / "north wall.png") == 1


def move_things_about(surveyor):
    """A row and a column more, a column elsewhere, a heading renamed, a hidden key lost."""
    person, places = surveyor.person, surveyor.places
    piers, head, columns = places.lists[Subject.PIER]
    person.insert_row(piers, head + 1 + MOVED_PIER)
    walls, _head, of_walls = places.lists[Subject.WALL]
    for sheet in (piers, walls, places.site["gas_odour"][0]):
        assert person.unprotect(sheet)
    person.insert_column(walls, of_walls["wall_height"])
    to = max(columns.values()) + 2
    person.move_column(piers, columns["station"], to)
    heading = next(
        row for row in range(head)
        if person.read(piers, columns["pit_depth"], row).casefold() == "pit depth"
    )  # fmt: skip
    person.type(piers, columns["pit_depth"], heading, "How deep we dig")
    assert person.hidden(piers, columns["pit_width"], head)
    person.clear(piers, columns["pit_width"], head)
    sheet, _column, row = places.site["gas_odour"]
    person.insert_row(sheet, row)


def same(one, other):
    """Whether two surveys say the same, figures to within a rounding of their last place."""
    if isinstance(one, float) and isinstance(other, float):
        return one == pytest.approx(other, abs=1e-9)
    return one == other


def differences(read, wanted):
    """Every answer that is not the same in two surveys; photos are another matter."""
    one, other = (
        [row for row in survey.every_row() if row.subject is not Subject.PHOTO]
        for survey in (wanted, read)
    )
    assert [row.label for row in one] == [row.label for row in other]
    return [
        (row.label, name, answer.value, there.value(name))
        for row, there in zip(one, other, strict=True)
        for name, answer in row.answers.items()
        if not same(answer.value, there.value(name))
    ]


def test_nothing_but_answers_can_be_written(done):
    assert len(done.locked) > 20
    assert [(before, after) for before, after in done.locked if before != after] == []


def test_every_answer_with_choices_is_picked_from_a_list_that_drops_down(done):
    assert {word.kind for word, _rule in done.rules.values()} == set(LISTED)
    for word, rule in done.rules.values():
        assert rule["kind"] == "LIST", word
        assert rule["drops_down"], word
        assert rule["prompt"], word
    for name, text in done.picked:
        assert text in done.rules[name][1]["offers"], name


def test_a_list_of_choices_refuses_what_is_not_on_it(done):
    for word, rule in done.rules.values():
        if word.kind is not Kind.REFERENCE:  # a wall may be named before it is listed
            assert rule["refuses"], word
            states = ["not known"] + ["does not apply"] * (word.asks_when is not None)
            assert rule["offers"] == [*word.choices, *states]


def test_the_cover_counts_what_is_open_as_it_is_filled_in(done):
    for told, counted in done.counts:
        assert told == counted
    totals = [sum(counted.values()) for _told, counted in done.counts]
    assert totals[0] > totals[1]
    assert len(totals) == 2 + len(LISTS)


def test_the_cover_says_what_is_odd_until_it_is_put_right(done):
    before, beyond, after = (" ".join(" ".join(row) for row in cover) for cover in done.odd)
    assert "beyond the wall's end" in beyond
    assert "P1" in beyond
    assert "beyond the wall's end" not in before
    assert before == after


@pytest.mark.parametrize("file", ["as typed.xlsx", "moved.xlsx", "moved.ods"])
def test_what_was_typed_is_what_is_read(file, done, folder):
    survey, problems = read_survey(open_survey(folder / file))
    wanted = survey_of(careful_house(), "Fennel House")
    assert problems == ()
    assert differences(survey, wanted) == []
    book = load_book()
    judged, directly = assess(survey, problems, book), assess(wanted, (), book)
    assert judged.verdict is directly.verdict
    assert [(one.rule.code, one.place) for one in judged.findings] == [
        (one.rule.code, one.place) for one in directly.findings
    ]


@pytest.mark.parametrize("file", ["moved.xlsx", "moved.ods"])
def test_a_picture_put_beside_a_row_is_read_with_it(file, done, folder):
    survey, _problems = read_survey(open_survey(folder / file))
    (photo,), (picture,) = survey.photos, survey.pictures
    assert photo.label == "Photo 1"
    assert f"{picture.sheet}!row {picture.row}" == photo.where
    assert PILImage.open(io.BytesIO(picture.content)).size == (40, 30)


@pytest.fixture(scope="module")
def printed(done, folder):
    """The texts of the pages of a short form, by paper and by the sheet that stands in the head."""
    found = {}
    for paper, size in PAPER.items():
        found[paper] = defaultdict(list)
        for page in PdfReader(folder / f"{paper}.pdf").pages:
            box = page.mediabox
            assert sorted(round(float(side)) for side in (box.width, box.height)) == list(size)
            text = page.extract_text()
            found[paper][re.search(r"Pier survey: (\w+)", text)[1]].append(" ".join(text.split()))
    return found


def test_letter_and_a4_paper_have_the_same_columns_on_each_page(printed):
    letter, a4 = printed["letter"], printed["a4"]
    assert letter.keys() == a4.keys()
    for page in PAGES:
        if page.subject is not Subject.SITE and page.sheet in letter:
            shown = [
                [[word.name for word in asked(page) if heading(word) in text] for text in pages]
                for pages in (letter[page.sheet], a4[page.sheet])
            ]
            assert shown[0] == shown[1], page.sheet


def test_every_question_of_the_short_form_is_printed_with_the_labels_beside_it(printed):
    for pages in printed.values():
        for page in PAGES:
            text = " ".join(pages[page.sheet])
            for word in asked(page):
                site = page.subject is Subject.SITE
                assert (word.prompt if site else heading(word)) in text, word
            if page.subject is not Subject.SITE and page.sheet in pages:
                label = page.subject.value.capitalize()
                assert all(label in text for text in pages[page.sheet]), page.sheet


def asked(page):
    """The questions of a page that the short form asks."""
    whole = page.subject is Subject.PHOTO
    return [w for w in questions(page, VOCABULARY) if whole or w.name in FIRST_VISIT]


def heading(word):
    return word.name[0].upper() + word.name[1:]
