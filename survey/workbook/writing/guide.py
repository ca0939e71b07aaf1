"""What shows at a cell while it is filled in: help, and what may be chosen."""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from survey.vocabulary import DOES_NOT_APPLY, NOT_KNOWN, Kind, Word
from survey.workbook import texts
from survey.workbook.layout import LISTS, column_name
from survey.workbook.writing.cells import coded, write
from survey.workbook.writing.plan import Plan

LONGEST_MESSAGE, _LONGEST_MESSAGE_TITLE = 255, 32


@dataclass
class Lists:
    """The hidden sheet with what the drop-downs offer, one column a list."""

    sheet: Worksheet
    places: dict[tuple[str, ...], str] = field(default_factory=dict)

    def place(self, offered: tuple[str, ...]) -> str:
        """Cells that hold a list, written the first time it is asked for."""
        if offered not in self.places:
            column = len(self.places) + 1
            for number, choice in enumerate(offered, start=1):
                write(self.sheet.cell(number, column), choice)
            name = column_name(column - 1)
            self.places[offered] = f"{LISTS}!${name}$1:${name}${len(offered)}"
        return self.places[offered]

    def hide(self) -> None:
        """Put the sheet out of sight and lock it."""
        self.sheet.sheet_state = "hidden"
        self.sheet.protection.sheet = True


def guide(
    sheet: Worksheet, plan: Plan, lists: Lists, questions: Iterable[tuple[Word, str, str]]
) -> None:
    """Show the help at each question's cells and drop down what may be chosen.

    Args:
        sheet: on which the questions stand.
        plan: of the whole form.
        lists: where the choices are kept.
        questions: each with its whole help and its cells.
    """
    for word, help_text, cells in questions:
        offered = _offered(plan, word, lists)
        rule = DataValidation(
            type="list" if offered else None,
            formula1=offered,
            allow_blank=True,
            showErrorMessage=offered is not None,
            # A wall may be named before it is listed; other answers can only be from the list.
            errorStyle="warning" if word.kind is Kind.REFERENCE else "stop",
            errorTitle="Not in the list",
            error="Choose from the list that drops down, or leave the cell blank: not known.",
            showInputMessage=True,
            promptTitle=coded(_cut(texts.heading(word.name), _LONGEST_MESSAGE_TITLE)),
            prompt=coded(_cut(help_text, LONGEST_MESSAGE)),
        )
        rule.add(cells)
        sheet.add_data_validation(rule)


def _offered(plan: Plan, word: Word, lists: Lists) -> str | None:
    """Cells with the answers to choose from."""
    if word.kind is Kind.REFERENCE:
        assert word.refers_to is not None
        page = plan.list_of(word.refers_to)
        return None if page is None else page.labels
    if not word.choices:
        return None
    states = (NOT_KNOWN,) if word.asks_when is None else (NOT_KNOWN, DOES_NOT_APPLY)
    return lists.place((*word.choices, *(str(state) for state in states)))


def letters(text: str) -> int:
    """How many letters a spreadsheet counts: an emoji is two."""
    return len(text.encode("utf-16-le")) // 2


def _cut(text: str, longest: int) -> str:
    if letters(text) <= longest:
        return text
    while letters(text) >= longest:
        text = text[:-1].rstrip()
    return f"{text}…"
