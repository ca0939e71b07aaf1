"""From an assessment to what people read: the printed sheet, the record, a few lines of text.

``render`` makes the sheet as one HTML page, ``record`` the same judgement for machines,
``summary`` the few lines for a terminal; ``write_sheet`` writes all pages of a site and its record
to a folder.
"""

from survey.sheets.crew import Languages
from survey.sheets.html import render
from survey.sheets.record import record, record_schema
from survey.sheets.record_file import read_record, record_line, write_record
from survey.sheets.summary import summary
from survey.sheets.write import Wished, every_path, sheet_path, write_sheet

__all__ = [
    "Languages", "Wished", "every_path", "read_record", "record", "record_line", "record_schema",
    "render", "sheet_path", "summary", "write_record", "write_sheet",
]  # fmt: skip
