"""The workbook that a surveyor fills: write the blank form, read a filled one.

In goes a file; out comes a :class:`~survey.answers.RawSurvey`, or an error that tells all that
is wrong with the file. ``write_form`` goes the other way.
"""

from survey.workbook.form import write_form
from survey.workbook.layout import FORM_VERSION
from survey.workbook.opening import open_survey
from survey.workbook.reading.read import read_workbook

__all__ = ["FORM_VERSION", "open_survey", "read_workbook", "write_form"]
