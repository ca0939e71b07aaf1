"""What a source line of the book cites, and how far each clause was checked."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from survey.rulebook.book import load_book
from survey.sheets._citations import OTHER, OWN, Standing, in_order, natural, read_source

BOOK = load_book()
LINES = sorted(
    {one.source for one in (*BOOK, *BOOK.limits.values(), *BOOK.tables.values()) if one.source}
)
P, AA, CC = (f"29 CFR 1926 Subpart {letters}" for letters in ("P", "AA", "CC"))
PRACTICE = "Common practice"


def cited(source, *, local=False):
    """Publication, clause, remark and marks of each citation; no mark for what is confirmed."""
    return [
        (
            one.publication, one.clause, one.remark,
            [s.value for s in one.standings if s is not Standing.CONFIRMED],
        )
        for part in read_source(source, local=local)
        for one in part.citations
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("29 CFR 1926.651(j)(2)", [(P, "1926.651(j)(2)", "", [])]),
        ("29 CFR 1926.651(h)(1), (i)(1)",
         [(P, "1926.651(h)(1)", "", []), (P, "1926.651(i)(1)", "", [])]),
        ("29 CFR 1926.652(c)(2)-(4)", [(P, "1926.652(c)(2)-(4)", "", [])]),
        ("29 CFR 1926 Subpart P App. C (d)(2)(ii)(C), App. D (d)(3)(ii)(B)",
         [(P, "App. C (d)(2)(ii)(C)", "", []), (P, "App. D (d)(3)(ii)(B)", "", [])]),
        ("29 CFR 1926 Subpart P App. A (c)(2), (c)(5)",
         [(P, "App. A (c)(2)", "", []), (P, "App. A (c)(5)", "", [])]),
        ("29 CFR 1926 Subpart P App. B Table B-1", [(P, "App. B Table B-1", "", [])]),
        ("49 CFR 196.103(a), 196.3",
         [("49 CFR 196", "196.103(a)", "", []), ("49 CFR 196", "196.3", "", [])]),
        ("29 CFR 1926.651(a), 1926.1203(d)",
         [(P, "1926.651(a)", "", []), (AA, "1926.1203(d)", "", [])]),
        ("29 CFR 1926.1408(a), Table A, written for cranes",
         [(CC, "1926.1408(a)", "written for cranes", []),
          (CC, "1926.1408 Table A", "written for cranes", [])]),
        ("29 CFR 1926.9999(a)", [("29 CFR 1926", "1926.9999(a)", "", [])]),
        ("29 CFR 1910.147(c)", [("29 CFR 1910", "1910.147(c)", "", [])]),
        ("IBC 1804.1", [("IBC", "1804.1", "", [])]),
        ("IBC 2021 Table 1810.3.2.6", [("IBC 2021", "Table 1810.3.2.6", "", [])]),
        ("IBC Section 1904", [("IBC", "Section 1904", "", [])]),
        ("ASTM D1586-18", [("ASTM D1586-18", "", "", [])]),
        ("Chudley and Greeno, Building Construction Handbook, 8th ed., underpinning (25 %)",
         [("Chudley and Greeno, Building Construction Handbook, 8th ed.", "underpinning (25 %)",
           "", [])]),
        ("quality levels C and D of ASCE/CI 38-02",
         [("ASCE/CI 38-02", "quality levels C and D of ASCE/CI 38-02", "", [])]),
        ("NIOSH recommended limits, 200 ppm and 1,200 ppm",
         [("NIOSH", "recommended limits, 200 ppm and 1,200 ppm", "", [])]),
        ("statics", [(OTHER, "statics", "", ["no clause named"])]),
        ("width of the zone by state law",
         [("State one-call law", "width of the zone by state law", "", ["no clause named"])]),
    ],
)  # fmt: skip
def test_publication_and_clause_are_read_off_a_line(source, expected):
    assert cited(source) == expected


MEMORY, SECONDARY = ["from memory"], ["seen in a secondary copy"]


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("29 CFR 1926.651(k)(2); 29 CFR 1926 Subpart P App. B (c)(3)(ii) (fraction from memory)",
         [(P, "1926.651(k)(2)", "", []),
          (P, "App. B (c)(3)(ii)", "fraction from memory", MEMORY)]),
        ("29 CFR 1926.1202 (hazards of a permit space from memory), 1926.1203(a), (d)",
         [(AA, "1926.1202", "hazards of a permit space from memory", MEMORY),
          (AA, "1926.1203(a)", "", []), (AA, "1926.1203(d)", "", [])]),
        ("ACI 318-19 14.1.3, 14.5.2 (from memory)",
         [("ACI 318-19", "14.1.3", "from memory", MEMORY),
          ("ACI 318-19", "14.5.2", "from memory", MEMORY)]),
        ("ACI 318-19 14.1.3 (from memory), 14.5.2 (seen in a secondary copy), 14.5.6",
         [("ACI 318-19", "14.1.3", "from memory", MEMORY),
          ("ACI 318-19", "14.5.2", "seen in a secondary copy", SECONDARY),
          ("ACI 318-19", "14.5.6", "", [])]),
        ("AISC 360-16 B3.1, F7 (from memory); tube on a simple span",
         [("AISC 360-16", "B3.1", "from memory; tube on a simple span", MEMORY),
          ("AISC 360-16", "F7", "from memory; tube on a simple span", MEMORY)]),
        ("ACI 318-19 14.5.2; with bars 9.6.1.3 and 25.4.2 (all from memory)",
         [("ACI 318-19", "14.5.2", "with bars 9.6.1.3 and 25.4.2 (all from memory)", MEMORY)]),
        ("ACI 318-19 9.5.1.1, strength at least the load (From memory)",
         [("ACI 318-19", "9.5.1.1", "strength at least the load (From memory)", MEMORY)]),
        ("Terzaghi 1943 (shear term from memory); Bjerrum and Eide 1956",
         [("Terzaghi 1943", "", "shear term from memory", MEMORY),
          ("Bjerrum and Eide 1956", "", "", [])]),
        ("IRC R403.1.1 (seen second hand)", [("IRC", "R403.1.1", "seen second hand", SECONDARY)]),
        ("state one-call law, partly from memory or second hand",
         [("State one-call law", "partly from memory or second hand", "", MEMORY + SECONDARY)]),
        ("29 CFR 1926.651(b)(3) (distance is common practice)",
         [(P, "1926.651(b)(3)", "distance is common practice", ["common practice"]),
          (PRACTICE, "29 CFR 1926.651(b)(3) (distance is common practice)", "",
           ["common practice"])]),
        ("29 CFR 1926.651(b)(3); distance is common practice",
         [(P, "1926.651(b)(3)", "", []),
          (PRACTICE, "distance is common practice", "", ["common practice"])]),
        ("common practice; the firm sets its own limit",
         [(PRACTICE, "common practice", "the firm sets its own limit", ["common practice"])]),
        ("limits from memory", [(OTHER, "limits from memory", "",
                                 ["from memory", "no clause named"])]),
    ],
)  # fmt: skip
def test_marks_are_meant_for_the_clauses_before_them(source, expected):
    assert cited(source) == expected


@pytest.mark.parametrize("mark", ["all from memory", "both from memory", "all of it from memory"])
def test_a_mark_for_all_counts_for_the_parts_before_it_too(mark):
    source = f"common practice; AISC 360-16 E3; ICC-ES AC358 3.9 ({mark}); IBC 1804.1"
    assert cited(source) == [
        (PRACTICE, "common practice", "", ["common practice"]),
        ("AISC 360-16", "E3", "", ["from memory"]),
        ("ICC-ES AC358", "3.9", mark, ["from memory"]),
        ("IBC", "1804.1", "", []),
    ]
    together = f"common practice; AISC 360-16 E3; ICC-ES AC358 3.9 ({mark})"
    assert [part.marked for part in read_source(source)] == [*[together] * 3, "IBC 1804.1"]


@pytest.mark.parametrize(
    "rest",
    [
        "1926.1153(c)(1) Table 1 (ii) (from memory), (x), (c)(2)(i)-(ii), (c)(3)",
        "1926.1153(c)(1), (x)",  # the paragraph after (w), or the numeral after (ix)?
        "1926.1153(c)(1)(i), (ii)",
        "1926.1153(c)(1), (i)(A)",
        "1926.1153(c)(1), as 1926.1153(c)(2) has it",
    ],
)
def test_what_cant_be_taken_apart_for_certain_is_kept_whole(rest):
    (one,) = cited(f"29 CFR {rest}")
    assert one[:3] == ("29 CFR 1926 Subpart Z", rest, "")


def test_every_publication_that_a_part_names_has_it():
    text = "ACI 318-19 17.5.2 for anchors, AISC 360-16 B3.1 for tubes (from memory)"
    assert cited(text) == [
        ("ACI 318-19", text.removeprefix("ACI 318-19 "), "", ["from memory"]),
        ("AISC 360-16", text, "", ["from memory"]),
    ]


def test_what_a_firm_writes_without_a_publication_is_its_own():
    line = "29 CFR 1926.651(j)(2) asks for 2 ft; our loaders want a foot more"
    assert cited(line, local=True) == [
        (P, "1926.651(j)(2) asks for 2 ft", "", []),
        (OWN, "our loaders want a foot more", "", ["our own"]),
    ]
    assert cited("firm's rule", local=True) == [(OWN, "firm's rule", "", ["our own"])]
    assert cited("our own") == [(OWN, "our own", "", ["our own"])]
    assert cited("common practice", local=True)[0][0] == PRACTICE


def test_a_name_that_is_not_known_here_is_no_remark_on_what_stands_before_it():
    assert cited("29 CFR 1926.651(j)(2); Sample's Piling Tables, p. 3")[1] == (
        OTHER, "Sample's Piling Tables, p. 3", "", ["no clause named"]
    )  # fmt: skip


def kept(source):
    """A line as its parts hold it."""
    return "; ".join(part.text for part in read_source(source))


def test_nothing_of_a_line_of_the_book_is_lost():
    assert len(LINES) > 100
    for line in LINES:
        assert kept(line) == " ".join(line.split())


def test_every_body_whose_standards_the_book_cites_is_known():
    for line in LINES:
        for publication, clause, _, _ in cited(line):
            if publication in (OTHER, OWN):
                assert not re.search(r"\b(?:CFR|[A-Z]{3,})\b", clause), line


PIECES = st.sampled_from([
    "29 CFR 1926.651(b)(3)", "(b)(3)", "(x)", "ACI 318-19 14.5.2", "14.5.5", "Table A", "1926.404",
    " (from memory)", " (limits seen second hand)", " (both from memory)", ", ", "; ", " ",
    "common practice", "the firm's own", "IBC", "App. B", "written for trenches", "(", ")", "and",
])  # fmt: skip


@given(st.lists(PIECES, min_size=1, max_size=9).map("".join), st.booleans())
def test_no_word_and_no_mark_is_lost_however_a_line_is_put_together(line, local):
    parts = read_source(line, local=local)
    said = "".join(part.text for part in parts)
    assert re.sub(r"[;\s]", "", said) == re.sub(r"[;\s]", "", line)
    for part in parts:
        assert part.citations
        for mark, standing in (
            ("from memory", Standing.MEMORY),
            ("second hand", Standing.SECONDARY_COPY),
            ("common practice", Standing.COMMON_PRACTICE),
        ):
            assert (mark not in part.text) or standing in part.standings
        for one in part.citations:
            assert one.standings
            assert Standing.CONFIRMED not in one.standings or len(one.standings) == 1


def test_regulations_come_first_and_what_is_no_publication_last():
    names = [OTHER, "IBC", OWN, "ACI 318-19", "Common practice", "49 CFR 196", P, "IBC"]
    assert in_order(names) == [
        P, "49 CFR 196", "ACI 318-19", "IBC", "Common practice", OWN, OTHER,
    ]  # fmt: skip
    clauses = ["App. B", "1926.1153", "1926.651(a)", "1926.651"]
    assert sorted(clauses, key=natural) == ["1926.651", "1926.651(a)", "1926.1153", "App. B"]
