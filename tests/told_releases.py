"""The careful house with other releases, and what comes out: sheet, record, lines to read."""

from __future__ import annotations

import copy
import json
import re
from dataclasses import dataclass
from typing import Any

from survey.answers import read_survey
from survey.assessment import Assessment, assess
from survey.document import read_document
from survey.rulebook.book import load_book
from survey.rulebook.rules import RuleBook
from survey.sheets import render, write_record
from survey.sheets.summary import summary
from tests.demo_surveys import ENGINEER, careful_house
from tests.pages import Page

BOOK = load_book()
PIERS = ["P1", "P2", "P3", "P4", "P5"]
EVERY = "P1 to P5"
NOTE = "Letter of 20 Nov 2026: one pit at a time"
NOT_COUNTED, RELEASED = "Releases that do not count", "Released findings"
COMPETENT = {"releasing_role": "competent person", "released_by": "B. Wherry",
             "licence_number": None}  # fmt: skip


def release(label: str = "R1", **changes: str | None) -> dict[str, str]:
    """An engineer's release of FOOT-1 everywhere; a field changed to none is left blank."""
    whole = {"label": label, "released_finding": "FOOT-1", "released_place": EVERY, **ENGINEER,
             "release_note": NOTE} | changes  # fmt: skip
    return {key: value for key, value in whole.items() if value is not None}


def house(*releases: dict[str, str], **site: str) -> dict[str, Any]:
    """The careful house with other releases of FOOT-1, and answers of the site changed."""
    document = copy.deepcopy(careful_house())
    others = [one for one in document["releases"] if one["released_finding"] != "FOOT-1"]
    document["releases"] = [*releases, *({**one, "label": f"own {i}"} for i, one in
                                         enumerate(others))]  # fmt: skip
    document["site"] |= site
    return document


@dataclass(frozen=True)
class Told:
    """What comes out: the judgement, the sheet as a page, the record and the terminal's lines."""

    assessment: Assessment
    text: str
    page: Page
    record: dict[str, Any]
    lines: str

    @property
    def verdict(self) -> str:
        assert self.record["verdict"] == self.assessment.verdict.value
        assert self.page.headings[1] == (2, self.assessment.verdict.value)
        return self.assessment.verdict.value

    def lifted(self, code: str = "FOOT-1") -> list[str]:
        """The places at which a finding is released, the same in the record and on the sheet."""
        found = [one for one in self.record["findings"] if one["code"] == code]
        places = [one["place"] for one in found if one["release"] is not None]
        assert (f"{code} " in self.section(RELEASED)) == bool(places)
        for label, line in self.pier_lines().items():
            at_pier = [one for one in found if label in one["piers"]]
            marks = {f"({code})" if one["release"] else code for one in at_pier
                     if one["outcome"] != "ask" or one["release"]}  # fmt: skip
            assert marks <= set(line), (label, line)
        return sorted(places)

    def pier_lines(self) -> dict[str, list[str]]:
        """The codes at each pier in the table of piers, as marked: ``FOOT-1``, ``(FOOT-1)``."""
        rows, order = {}, [row["pier"] for row in self.record["piers"]]
        table = self.text.partition("<h2>Pier locations</h2>")[2].partition("</table>")[0]
        head = r'<tr><th scope="row"><bdi dir="ltr">(.*?)</bdi>(.*?)</tr>'
        for where, row in re.findall(head, table, re.DOTALL):
            for part in where.split(", "):
                first, _, last = part.partition(" to ")
                at = order.index(first)
                for label in order[at : order.index(last or first, at) + 1]:
                    assert label not in rows
                    rows[label] = re.findall(r"\(?[A-Z]{2,8}-\d+\??\)?", row)
        assert list(order) == [label for label in order if label in rows]
        return rows

    def section(self, heading: str) -> str:
        found = [text for title, text in self.page.sections.items() if title.startswith(heading)]
        return found[0] if found else ""

    def boxes(self) -> str:
        """The table that the crew ticks."""
        return self.section("Conditions: ")


def told(document: dict[str, Any], book: RuleBook = BOOK) -> Told:
    words = book.vocabulary
    raw = read_document(json.dumps(document), "site.json", words)
    survey, problems = read_survey(raw, words)
    return as_told(assess(survey, problems, book))


def as_told(made: Assessment) -> Told:
    assert made.disagreement == ()
    text = render(made)
    return Told(made, text, Page(text), json.loads(write_record(made)), summary(made))


def refused(found: Told, label: str = "R1") -> list[str]:
    """Why a release does not count, by the record; each reason stands on the sheet as well."""
    on_findings = [(r["release"]["label"], r["why"]) for one in found.record["findings"]
                   for r in one["refused"]]  # fmt: skip
    unused = [(r["release"]["label"], r["why"]) for r in found.record["unused_releases"]]
    whys = list(dict.fromkeys(why for at, why in (*on_findings, *unused) if at == label))
    for why in whys:
        said = why.partition("; answer first")[0]
        assert " ".join(said.split()) in found.section(NOT_COUNTED), found.section(NOT_COUNTED)
    if whys:
        assert label in found.section(NOT_COUNTED)
        assert "Releases that do not count: " in found.lines
    return whys
