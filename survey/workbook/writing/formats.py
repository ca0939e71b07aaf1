"""The looks of a cell that follow from the answers: odd, ruled out, open.

One rule for all cells that are alike, in that order: the first that fits wins. What stands on
another sheet is named, not addressed: not every program takes such an address in a rule.
"""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Iterable

from openpyxl.formatting.rule import Rule
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from survey.vocabulary import Word
from survey.vocabulary.walk import MAY_STAY_BLANK
from survey.workbook.writing import look
from survey.workbook.writing.checks import Shown
from survey.workbook.writing.look import Look
from survey.workbook.writing.plan import FIRST, PagePlan, Plan
from survey.workbook.writing.states import applies, is_open, ruled_out


def format_states(book: Workbook, plan: Plan, odd: Iterable[Shown]) -> None:
    """Give each sheet with questions the rules that show the state of its cells."""
    for number, shown in enumerate(odd, start=1):
        name = _name(book, f"odd_{number}", shown.formula)
        found = f"{name}=1" if shown.page.is_site else f"INDEX({name},ROW())>0"
        _show(book[shown.page.sheet], shown.cells, found, Look.ODD)
    for page in plan.pages:
        _format_page(book, plan, page)


def _format_page(book: Workbook, plan: Plan, page: PagePlan) -> None:
    sheet, vocabulary = book[page.sheet], plan.order.vocabulary
    listed = "" if page.is_site else f'*($A{FIRST}<>"")'

    def given(other: Word) -> str:
        return _given(book, plan, page, other)

    for word in page.words:
        if excluded := ruled_out(vocabulary, word, given):
            _show(sheet, [page.answers(word)], f"({excluded})>0", Look.RULED_OUT)
    asked = [word for word in page.words if word.name not in MAY_STAY_BLANK]
    alike: dict[tuple[str, ...], list[Word]] = {}
    for word in asked:
        if word.asks_when is None:
            alike.setdefault(word.choices, []).append(word)
    for words in alike.values():
        formula = f"{is_open(words[0], _first_cell(page, words[0]))}{listed}>0"
        _show(sheet, [page.answers(word) for word in words], formula, Look.OPEN)
    for word in asked:
        if in_force := applies(vocabulary, word, given):
            formula = f"{is_open(word, _first_cell(page, word))}{listed}{in_force}>0"
            _show(sheet, [page.answers(word)], formula, Look.OPEN)


def _given(book: Workbook, plan: Plan, page: PagePlan, other: Word) -> str:
    """The answer on which a question of a page depends: of the same row, or of the site."""
    if not page.is_site:
        return f"${page.column(other)}{FIRST}"
    elsewhere = plan.page_of(other.name)
    assert elsewhere is not None, f"the form lacks '{other.name}', on which a question depends"
    if elsewhere is page:
        return f"$B${page.places[other.name]}"
    place = elsewhere.places[other.name]
    return _name(book, f"given_{elsewhere.sheet}_{place}", elsewhere.reference(other))


def _first_cell(page: PagePlan, word: Word) -> str:
    return page.answers(word).split(":")[0]


def _name(book: Workbook, name: str, formula: str) -> str:
    book.defined_names[name] = DefinedName(name, attr_text=formula)
    return name


def _show(sheet: Worksheet, cells: Iterable[str], formula: str, changed: Look) -> None:
    """Add a rule; its formula is that of the first of the cells."""
    rule = Rule(type="expression", dxf=look.state(changed), formula=[formula], stopIfTrue=True)
    sheet.conditional_formatting.add(" ".join(cells), rule)
