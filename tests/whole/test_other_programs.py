"""Programs and libraries that know nothing of us open the form, and see the same cells in it."""

import io
import re
import shutil
import subprocess
import warnings
import zipfile

import openpyxl
import pandas as pd
import pytest
from python_calamine import CalamineWorkbook

from survey.answers import read_survey
from survey.workbook import open_survey
from tests.forms import blank_form, filled_form, full_survey
from tests.office import ODS, SOFFICE, XLSX, convert
from tests.strategies import plain

GNUMERIC = shutil.which("ssconvert")
FORMS = {"blank": blank_form, "filled": filled_form}
# What the standard has (18.3.1.46, 18.2.29, 18.2.5) and this program has no place for: headers of
# even and of first pages, the lock of a workbook, rows and columns repeated in print at once.
_NOT_KNOWN_TO_GNUMERIC = re.compile(
    r"expected element '(even|first)(Header|Footer)' in state : \n\tworksheet -> headerFooter\n"
    r"|expected element 'workbookProtection' in state : \n\tworkbook\n"
    r"|At A1: '\S*' Multiple expressions are not supported in this context\n"
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    found = tmp_path_factory.mktemp("forms")
    for name, make in FORMS.items():
        (found / f"{name}.xlsx").write_bytes(make())
    return found


@pytest.fixture(scope="module")
def by_libreoffice(folder):
    convert([folder / f"{name}.xlsx" for name in FORMS], XLSX, folder / "xlsx")
    convert([folder / "filled.xlsx"], ODS, folder / "ods")
    return folder


def cells(path):
    """What stands in the cells of a workbook, by sheet and place, for the reader that we use."""
    book = CalamineWorkbook.from_path(str(path))
    return {
        name: texts(book.get_sheet_by_name(name).to_python(skip_empty_area=False))
        for name in book.sheet_names
    }


def texts(rows):
    return {
        (row, column): str(value).removesuffix(".0").removesuffix(" 00:00:00")
        for row, line in enumerate(rows)
        for column, value in enumerate(line)
        if not pd.isna(value) and value != ""
    }


@pytest.mark.parametrize("name", FORMS)
def test_two_other_readers_see_the_same_cells(name, folder):
    path = folder / f"{name}.xlsx"
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        book = openpyxl.load_workbook(path, data_only=True)
        frames = pd.read_excel(path, sheet_name=None, header=None, engine="openpyxl")
    seen = cells(path)
    assert {s.title: texts(s.iter_rows(values_only=True)) for s in book.worksheets} == seen
    assert {name: texts(frame.astype(object).to_numpy()) for name, frame in frames.items()} == seen


@pytest.mark.skipif(GNUMERIC is None, reason="no second spreadsheet program is installed")
@pytest.mark.parametrize("name", FORMS)
def test_a_second_program_reads_it_without_a_complaint(name, folder, tmp_path):
    saved = tmp_path / "saved.xlsx"
    run = subprocess.run(
        [GNUMERIC, "--recalc", folder / f"{name}.xlsx", saved],
        check=True, capture_output=True, text=True, timeout=60,
    )  # fmt: skip
    told = run.stderr.replace("Unexpected", "expected")
    assert _NOT_KNOWN_TO_GNUMERIC.sub("", told) == ""
    survey, problems = read_survey(open_survey(saved))
    assert problems == ()
    if name == "filled":
        assert plain(survey) == plain(full_survey())


@pytest.mark.skipif(GNUMERIC is None or SOFFICE is None, reason="two programs are needed")
@pytest.mark.parametrize("name", FORMS)
def test_two_programs_count_the_same_open_answers(name, by_libreoffice, tmp_path):
    """They differ in how truth values compare with numbers; the second does it as Excel does."""
    plain_form, saved = tmp_path / "plain.xlsx", tmp_path / "saved.xlsx"
    plain_form.write_bytes(without_trim((by_libreoffice / f"{name}.xlsx").read_bytes()))
    subprocess.run(
        [GNUMERIC, "--recalc", plain_form, saved], check=True, capture_output=True, timeout=60
    )
    by_one = open_by_question(by_libreoffice / "xlsx" / f"{name}.xlsx")
    assert len(by_one) > 200
    assert open_by_question(saved) == by_one


def open_by_question(path):
    """How often each question is open, as the form's formulas count it."""
    counts = CalamineWorkbook.from_path(str(path)).get_sheet_by_name("Checks").to_python()
    return {(sheet, key): count for sheet, key, count, *_rest in counts[1:] if key}


def without_trim(content):
    """The form without the one function that the second program does not work out row by row."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(packed, "w") as new:
        for name in old.namelist():
            part = old.read(name)
            if name.startswith("xl/worksheets/"):
                part = re.sub(rb"TRIM\(([^()]*:[^()]*)\)", rb"\1", part)
            new.writestr(name, part, zipfile.ZIP_DEFLATED)
    return packed.getvalue()


@pytest.mark.skipif(SOFFICE is None, reason="no other spreadsheet program is installed")
@pytest.mark.parametrize("ending", ["xlsx", "ods"])
def test_saved_by_another_program_it_says_the_same(ending, by_libreoffice):
    survey, problems = read_survey(open_survey(by_libreoffice / ending / f"filled.{ending}"))
    assert problems == ()
    assert plain(survey) == plain(full_survey())
