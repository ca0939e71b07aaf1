"""What the rule book rests on, as a page."""

import dataclasses
import html
import re
from itertools import pairwise

import pytest

from survey.errors import UserError
from survey.rulebook.book import load_book, read_and_try
from survey.sheets import book_page
from survey.sheets._citations import read_source
from survey.sheets.sources_page import MARKER, render_sources, sources_of, write_sources_page
from tests.made_books import HOSTILE, OWN, SHIPPED, SHIPPED_FILES, hostile_book
from tests.pages import Page

BOOK = load_book()
TEXT = render_sources(BOOK)
FIRM = render_sources(OWN)
MARKED_FILES = {
    "dig.rules": SHIPPED_FILES["dig.rules"]
    .replace("from  29 CFR 1926.651(j)(2)", "from  29 CFR 1926.651(j)(2) (figure from memory)", 1)
    .replace("from  common practice", "from  IBC 1804.1 (seen in a secondary copy); statics", 1)
}
MARKED = read_and_try(MARKED_FILES, {})


def plain(text):
    """A text with its markup taken out, as read."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", text)).split())


def section(anchor, text=TEXT):
    """The markup of one section."""
    return text.partition(f'id="{anchor}">')[2].partition("</section>")[0]


def rows(markup):
    """Each row of the tables in a piece of markup: its cells, as read."""
    return [
        [plain(cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)]
        for row in re.findall(r"<tr[^>]*>(.*?)</tr>", markup, re.DOTALL)
    ]


def all_of(book):
    return [*book, *book.limits.values(), *book.tables.values()]


@pytest.mark.parametrize("text", [TEXT, FIRM])
def test_the_page_is_sound(text):
    page = Page(text)
    assert page.open == []
    levels = [level for level, _ in page.headings]
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    ids = [value for name, value in page.attributes if name == "id"]
    assert len(ids) == len(set(ids))
    linked = {value for name, value in page.attributes if name == "href"}
    assert linked <= {f"#{one}" for one in ids}


def test_nothing_runs_and_nothing_is_fetched():
    page = Page(TEXT)
    assert not set(page.tags) & {"script", "img", "link", "iframe", "object", "embed", "form"}
    assert not [name for name, _ in page.attributes if name.startswith("on")]
    assert not re.search(r"url\(|@import|(?:src|href)=\"(?!#)|//", TEXT)
    assert "default-src 'none'" in TEXT


@pytest.mark.parametrize(
    "source",
    [
        HOSTILE,
        f"IBC {HOSTILE}",
        f"IBC 1804.1 ({HOSTILE}), {HOSTILE}",
        f"{HOSTILE} from memory; common practice {HOSTILE}",
    ],
)
def test_text_of_the_book_is_never_markup(source):
    text = render_sources(hostile_book(source))
    page = Page(text)
    assert page.open == []
    assert not set(page.tags) & {"script", "img"}
    assert page.tags.count("style") == 1
    assert not set(text) & set("\x1b\u202e")


@pytest.mark.parametrize(("book", "text"), [(BOOK, TEXT), (OWN, FIRM)])
def test_every_source_line_of_the_book_stands_word_for_word_beside_its_owner(book, text):
    lines = rows(section("lines", text))
    for one in all_of(book):
        name = getattr(one, "code", one.name)
        assert [name, " ".join(one.source.split()), one.place] in lines


def test_each_part_that_says_from_memory_stands_in_the_list_with_what_rests_on_it():
    listed = rows(section("from-memory"))[1:]
    parts = [
        (part, one)
        for one in all_of(BOOK)
        for part in re.split(r"; (?![^(]*\))", " ".join(one.source.split()))
        if "from memory" in part
    ]
    assert len(parts) > 20
    for part, one in parts:
        name = getattr(one, "code", one.name)
        found = [resting for text, resting in listed if part in text]
        assert any(re.search(rf"(?:^| ){re.escape(name)}(?:$|\W)", resting) for resting in found)


def test_nothing_stands_in_a_list_that_does_not_say_so():
    for anchor, mark in (("from-memory", "from memory"), ("secondary", "second")):
        listed = rows(section(anchor))[1:]
        assert listed
        assert all(mark in text for text, _ in listed)


def test_the_lists_of_what_is_to_be_checked():
    text = render_sources(MARKED)
    assert rows(section("from-memory", text))[1:] == [
        ["29 CFR 1926.651(j)(2) (figure from memory)", "spoil set-back : 2 ft (set by law)"]
    ]
    assert rows(section("secondary", text))[1:] == [
        ["IBC 1804.1 (seen in a secondary copy); statics", "most days : 3 days"]
    ]
    assert plain(section("from-memory", FIRM)) == "Values from memory None."
    assert plain(section("secondary", FIRM)) == "Seen in a secondary copy None."


def test_legal_limits_are_all_there_with_figure_clause_and_rules_and_nothing_else():
    legal = rows(section("legal"))[1:]
    every = [one for one in all_of(BOOK) if getattr(one, "legal", False)]
    assert sorted(row[0] for row in legal) == sorted(one.name for one in every)
    assert rows(section("legal", render_sources(SHIPPED)))[1] == [
        "spoil set-back", "2 ft set by law", "29 CFR 1926.651(j)(2) dig.rules:3", "DIG-2",
    ]  # fmt: skip
    none = dataclasses.replace(
        SHIPPED, tables={},
        limits={"most days": SHIPPED.limits["most days"]},
    )  # fmt: skip
    assert plain(section("legal", render_sources(none))) == "Legal limits None."


def test_common_practice_is_all_there_figures_and_rules_and_nothing_else():
    practice = rows(section("practice"))
    marked = [one for one in all_of(BOOK) if "common practice" in one.source]
    names = [row[0] for row in practice if row[0] not in ("Rule", "Limit or table")]
    said = [f"{one.code} {one.name}" if hasattr(one, "code") else one.name for one in marked]
    assert sorted(names) == sorted(said)
    assert rows(section("practice", FIRM)) == [
        ["Limit or table", "Figure", "Source", "Rules"],
        ["line set-back", "4 ft", "common practice line.rules:3", "LINE-1"],
        ["most days", "3 days", "common practice dig.rules:6", "none"],
        ["Rule", "Source"],
        ["DIG-3 wet ground", "common practice"],
        ["LINE-1 gas near a pit", "common practice"],
        ["OWN-1 dog that nobody holds (the firm's own)", "common practice"],
    ]


def test_the_counts():
    def counts(book):
        return {one.value: (rules, figures) for one, _, rules, figures in sources_of(book).counts()}

    assert counts(SHIPPED) == {
        "confirmed": (2, 2), "from memory": (0, 0), "seen in a secondary copy": (0, 0),
        "common practice": (3, 2), "our own": (0, 0), "no clause named": (0, 0),
    }  # fmt: skip
    assert counts(MARKED) == {
        "confirmed": (2, 1), "from memory": (0, 1), "seen in a secondary copy": (0, 1),
        "common practice": (1, 0), "our own": (0, 0), "no clause named": (0, 0),
    }  # fmt: skip
    assert rows(FIRM.partition("<h2>Local rules")[0])[1:] == [
        [one.value, meaning, str(rules), str(figures)]
        for one, meaning, rules, figures in sources_of(OWN).counts()
    ]


def test_a_topic_gives_each_publication_with_its_clauses_and_what_rests_on_each():
    topic = sources_of(MARKED).topics[0]
    assert rows(section(topic.anchor, render_sources(MARKED))) == [
        ["Clause", "Standing", "What rests on it"],
        ["29 CFR 1926 Subpart P"],
        ["1926.651(j)(2) figure from memory", "from memory", "spoil set-back : 2 ft (set by law)"],
        ["1926.651(j)(2)", "confirmed", "DIG-2 spoil too near to a pit"],
        ["App. B Table B-1", "confirmed",
         "steepest slope (set by law) DIG-10 sides cut too steep"],
        ["Common practice"],
        ["common practice", "common practice", "DIG-3 wet ground"],
    ]  # fmt: skip


def test_every_clause_that_a_rule_cites_stands_in_its_topic_with_the_rule():
    text = {topic.name: rows(section(topic.anchor)) for topic in sources_of(BOOK).topics}
    for rule in BOOK:
        for part in read_source(rule.source):
            for one in part.citations:
                assert any(
                    row[0].startswith(one.clause or "as a whole")
                    and row[1] == "; ".join(s.value for s in one.standings)
                    and re.search(rf"\b{rule.code} {re.escape(rule.name)}", row[2])
                    for row in text[rule.topic]
                    if len(row) == 3
                ), (rule.code, one)


def test_publications_are_counted_and_lead_to_their_topics():
    publications = rows(section("publications"))[1:]
    named = [row[0] for row in publications]
    assert "29 CFR 1926 Subpart P" in named
    assert not set(named) & {"Common practice", "Our own", "Other"}
    assert rows(section("publications", FIRM))[1:] == [["29 CFR 1926 Subpart P", "3", "Excavation"]]
    assert f"{len(named)} publications. Book {BOOK.fingerprint}" in Page(TEXT).sections[""]


def test_what_is_the_firm_s_own_is_marked_and_what_it_changed_is_told():
    local = Page(FIRM).section("Local rules in force")
    for change in OWN.changes:
        assert f"{change.what} {change.why}".strip() in local
    excavation = rows(section("topic-1", FIRM))
    own = "spoil set-back : 3 ft (set by law) (the firm's own)"
    assert ["Our own"] in excavation
    assert ["our safety plan 4.2", "our own", own] in excavation
    release = ["detail D-3: pits at most 3 ft wide", "our own",
               "REL-1 detail D-3 for poured walls (the firm's own)"]  # fmt: skip
    assert release in rows(section("topic-3", FIRM))
    assert "LINE-2" not in plain(section("lines", FIRM))


def test_the_shipped_book_has_nothing_of_a_firm_s():
    assert "(the firm's own)" not in TEXT
    assert Page(TEXT).section("Local rules") == (
        "Local rules No local rules: the shipped book as it is."
    )


def test_a_firm_s_file_of_figures_alone_is_marked_too():
    rule = SHIPPED_FILES["dig.rules"].partition("rule DIG-2")[2].partition("\n\n")[0]
    rule = rule.replace("spoil set-back", "pole length").replace("2 ft       gives", "3 ft gives")
    firm = {
        "figures.rules": "limit pole length = 3 ft\n  from  our tool list\n",
        "rules.rules": f"topic Poles\n\nrule OWN-2{rule}\n",
    }
    text = render_sources(read_and_try(SHIPPED_FILES, firm))
    assert "pole length : 3 ft (the firm's own)" in plain(text)
    assert ["Our own"] in rows(text)


def test_an_earlier_page_is_replaced_and_nothing_else_is_left(tmp_path):
    page = tmp_path / "sources.html"
    write_sources_page(SHIPPED, page)
    write_sources_page(OWN, page)
    assert page.read_text("utf-8") == FIRM
    assert FIRM.startswith(MARKER)
    assert list(tmp_path.iterdir()) == [page]


def test_another_page_of_the_book_and_any_other_file_are_left_alone(tmp_path):
    book, mine = tmp_path / "book.html", tmp_path / "mine.html"
    book_page.write_book_page(SHIPPED, book)
    mine.write_text("<!DOCTYPE html>\nmine")
    for file in (book, mine):
        before = file.read_bytes()
        with pytest.raises(UserError, match=r"not an earlier page of a rule book's sources"):
            write_sources_page(SHIPPED, file)
        assert file.read_bytes() == before
    write_sources_page(SHIPPED, tmp_path / "sources.html")
    with pytest.raises(UserError, match="left alone"):
        book_page.write_book_page(SHIPPED, tmp_path / "sources.html")


def test_a_name_that_no_browser_opens_is_refused(tmp_path):
    with pytest.raises(UserError, match=r"sources\.pdf: .* ends in \.html"):
        write_sources_page(SHIPPED, tmp_path / "sources.pdf")
    assert list(tmp_path.iterdir()) == []
