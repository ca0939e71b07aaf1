"""Our own comments are told from those of people, whoever changed them and however."""

import pytest

from survey.workbook.marks import is_mark, mark

SAID = "read 'five feet', expected a length"


@pytest.mark.parametrize("text", [SAID, "one\n\ntwo", "", "in [brackets] [0123abcd]"])
def test_a_mark_is_known_also_where_a_program_breaks_its_lines_anew(text):
    assert is_mark(mark(text))
    assert is_mark(f"\n{mark(text).replace(' ', chr(10))} ")


@pytest.mark.parametrize(
    "changed",
    [
        mark(SAID).replace("five feet", "gas pipe here"),
        mark(SAID).replace(" [", " gas smell! ["),
        mark(SAID) + " gas smell",
        f"gas smell {mark(SAID)}",
        f"pier-survey: {SAID}",
        "pier-survey: gas smell [00000000]",
        "",
    ],
)
def test_what_a_person_has_written_or_changed_is_no_mark(changed):
    assert not is_mark(changed)
