"""The rule book as a page for a safety meeting."""

import dataclasses
import os
import re
from itertools import pairwise

import pytest

from survey.errors import UserError
from survey.sheets.book_page import MARKER, render_book, write_book_page
from tests.made_assessments import TODAY, go
from tests.made_books import OWN, SHIPPED, hostile_book
from tests.pages import Page

TEXT = render_book(OWN)


def article(code: str, text: str = TEXT) -> str:
    """What stands on the page under one rule, as read."""
    found = text.partition(f'<article class="rule" id="{code}">')[2].partition("</article>")[0]
    page = Page(found)
    return " ".join(page.sections.values())


def row(name: str, text: str = TEXT) -> str:
    """What stands in the row of one limit or table, as read."""
    found = text.partition(f'<th scope="row">{name}')[2].partition("</tr>")[0]
    return " ".join(Page(f"<tr><th>{found}</tr>").sections.values())


def test_the_page_is_sound():
    page = Page(TEXT)
    assert page.open == []
    levels = [level for level, _ in page.headings]
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    ids = [value for name, value in page.attributes if name == "id"]
    assert len(ids) == len(set(ids))


def test_nothing_runs_and_nothing_is_fetched():
    page = Page(TEXT)
    assert not set(page.tags) & {"script", "img", "link", "iframe", "object", "embed", "form"}
    assert not [name for name, _ in page.attributes if name.startswith("on")]
    assert not re.search(r"url\(|@import|(?:src|href)=\"(?!#)|//", TEXT)
    assert "default-src 'none'" in TEXT


def test_text_of_the_book_is_never_markup():
    text = render_book(hostile_book())
    page = Page(text)
    assert page.open == []
    assert not set(page.tags) & {"script", "img"}
    assert page.tags.count("style") == 1
    assert not set(text) & set("\x1b\u202e")


def test_every_rule_limit_and_table_of_the_book_stands_on_it():
    titles = [heading for level, heading in Page(TEXT).headings if level == 3]
    for rule in OWN:
        assert f"{rule.code}: {rule.name} for {_for(rule)}" in titles
        said = article(rule.code)
        assert rule.source in said
        assert rule.place in said
    for named in (*OWN.limits.values(), *OWN.tables.values()):
        assert named.source in row(named.name)
        assert named.place in row(named.name)


def _for(rule) -> str:
    return "the site" if rule.subject.value == "site" else f"each {rule.subject.value}"


def test_topics_and_rules_stand_in_the_order_of_the_codes():
    articles = re.findall(r'<article class="rule" id="([^"]*)"', TEXT)
    assert articles == ["DIG-2", "DIG-3", "DIG-10", "LINE-1", "OWN-1", "REL-1"]
    topics = [heading for level, heading in Page(TEXT).headings if level == 2]
    assert topics == [
        "Local rules in force", "How a site is judged", "Contents", "Excavation", "Buried lines",
        "Our own", "Limits and tables that no rule uses",
    ]  # fmt: skip


def test_the_contents_lead_to_every_rule():
    contents = TEXT.partition("<nav")[2].partition("</nav>")[0]
    linked = re.findall(r'href="#([^"]*)"', contents)
    ids = [value for name, value in Page(TEXT).attributes if name == "id"]
    assert set(linked) <= set(ids)
    assert {rule.code for rule in OWN} <= set(linked)


def test_a_rule_says_when_with_the_figure_then_what_who_may_release_and_who_acts():
    assert article("DIG-2").startswith(
        "DIG-2: spoil too near to a pit for each pier "
        "When spoil distance is less than spoil set-back (3 ft) "
        "Then NO-GO : the crew does not start. The competent person or a licensed engineer may "
        "release it. "
        "Says Spoil at [pier] lies [spoil distance] from the edge; 3 ft is needed. "
        "La tierra en [pier] está a [spoil distance] del borde; hacen falta 3 ft. "
        "To do, by crew Move it back from [pier] . Retírela de [pier] . "
        "Source 29 CFR 1926.651(j)(2); dig.rules:17 "
    )


def test_what_is_spanish_is_marked_as_spanish():
    assert Page(TEXT).attributes.count(("lang", "es")) == 2


@pytest.mark.parametrize(
    ("code", "then"),
    [
        ("DIG-10", "Then ENGINEER REVIEW : a licensed engineer decides first. Only a licensed "
         "engineer may release it. Standing release: REL-1 ."),
        ("DIG-3", "Then count soil class as C; other rules see it. Says"),
        ("LINE-1", "Then GO WITH CONDITIONS : the crew does this and ticks it. Nobody may release "
         "it."),
        ("OWN-1", "Then HOLD : the site waits until this is cleared up."),
        ("REL-1", "Then DIG-10 is released. Given by T. Quill, licence PE 12 (OH), from "
         "2026-01-01 to 2026-12-31 Rests on detail D-3: pits at most 3 ft wide"),
    ],
)  # fmt: skip
def test_each_outcome_stands_in_words(code, then):
    assert then in article(code)


def test_what_a_rule_looks_round_at_is_taken_apart():
    assert (
        "When any utility where: all of these: utility kind is one of: gas | propane "
        "clearance to utility is less than line set-back (4 ft) Then"
    ) in article("LINE-1")


def test_cases_are_folded_with_what_they_give_and_their_line():
    assert "<details open" not in TEXT
    assert TEXT.count("<details>") == sum(1 for _ in OWN)
    assert article("LINE-1").endswith(
        "3 cases Answers; any other is not known Gives Line "
        "utility (utility kind gas, clearance to utility 1 ft) condition line.rules:16 "
        "all utilities listed yes nothing line.rules:17 "
        "all utilities listed not known ask line.rules:18"
    )


def test_limits_and_tables_give_figures_law_and_rules():
    slope = row("steepest slope", render_book(SHIPPED))
    assert slope.startswith(
        "by soil class, pit depth stable rock, up to 20 ft: 0H:1V A, up to 12 ft: 0.75H:1V B, up "
        "to 20 ft: 1H:1V C, up to 20 ft: 1.5H:1V set by law 29 CFR 1926 Subpart P App. B Table B-1"
    )
    assert slope.endswith("dig.rules:9 DIG-10")
    assert "set by law" not in row("line set-back")
    assert row("most days").endswith("none")


def test_a_limit_stands_with_the_topic_of_a_rule_that_uses_it():
    def limits(topic: str, text: str = TEXT) -> list[str]:
        table = text.partition(f"<h2>{topic}</h2>")[2].partition("</table>")[0]
        return re.findall(r'<th scope="row">([^<]*)', table)

    assert limits("Excavation") == ["spoil set-back", "steepest slope"]
    assert limits("Buried lines") == ["line set-back"]
    assert limits("Limits and tables that no rule uses") == ["most days"]
    also_in_dig = tuple(
        tuple(
            dataclasses.replace(rule, say="{line set-back}") if rule.code == "DIG-2" else rule
            for rule in level
        )
        for level in OWN.levels
    )
    text = render_book(dataclasses.replace(OWN, levels=also_in_dig))
    assert limits("Buried lines", text) == ["line set-back"]


def test_what_the_firm_changed_is_told_at_the_top_and_in_its_place():
    local = Page(TEXT).section("Local rules in force")
    for change in OWN.changes:
        assert f"{change.what} {change.why}".strip() in local
        assert change.place in local
    changed = "legal limit 'spoil set-back' is 3 ft; stricter, shipped: 2 ft"
    own = f"The firm's own: {changed}. Why: our safety"
    assert own in row("spoil set-back")
    assert row("steepest slope").count("The firm's own: legal table 'steepest slope' for ") == 2
    assert "The firm's own: rule OWN-1 added: dog that nobody holds" in article("OWN-1")
    assert "The firm's own" not in article("DIG-2")
    assert "LINE-2" not in re.findall(r'id="([^"]*)"', TEXT)


def test_cases_that_the_firm_s_figures_turn_are_told():
    local = Page(TEXT).section("Local rules in force")
    assert (
        "case spoil distance 2 ft gives nothing the case says 'nothing', DIG-2 gives 'stop'; "
        "dig.rules:29"
    ) in local
    assert "2 cases" in article("DIG-2")


def test_a_shipped_book_says_that_it_is_as_it_is():
    text = render_book(SHIPPED)
    assert Page(text).section("Local rules") == (
        "Local rules No local rules: the shipped book as it is."
    )
    assert "The firm's own" not in text


def test_an_earlier_page_is_replaced_and_nothing_else_is_left(tmp_path):
    page = tmp_path / "book.html"
    write_book_page(SHIPPED, page)
    write_book_page(OWN, page)
    assert page.read_text("utf-8") == TEXT
    assert TEXT.startswith(MARKER)
    assert list(tmp_path.iterdir()) == [page]


def test_a_file_that_is_no_such_page_is_left_alone(tmp_path):
    from survey.sheets import write_sheet

    mine = tmp_path / "mine.html"
    mine.write_text("<!DOCTYPE html>\nmine")
    sheet, *_ = write_sheet(go(), tmp_path, today=TODAY)
    for file in (mine, sheet):
        before = file.read_bytes()
        with pytest.raises(UserError, match=r"not an earlier page of a rule book .* left alone"):
            write_book_page(SHIPPED, file)
        assert file.read_bytes() == before
    (tmp_path / "folder.html").mkdir()
    with pytest.raises(UserError, match="left alone"):
        write_book_page(SHIPPED, tmp_path / "folder.html")


def test_a_name_that_no_browser_opens_is_refused(tmp_path):
    with pytest.raises(UserError, match=r"book\.pdf: .* ends in \.html"):
        write_book_page(SHIPPED, tmp_path / "book.pdf")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(UserError, match=r"can't be written .* page of a rule book was not written"):
        write_book_page(SHIPPED, tmp_path / "nowhere" / "book.html")


def test_when_the_disk_refuses_nothing_half_written_is_left(tmp_path, monkeypatch):
    page = tmp_path / "book.html"
    write_book_page(SHIPPED, page)
    before = page.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(UserError, match="No space left on device"):
        write_book_page(OWN, page)
    assert page.read_bytes() == before
    assert list(tmp_path.iterdir()) == [page]
