"""The hidden sheet that counts what is open and finds what is odd, by formulas.

Columns A to C have a line for each question: how often it is open. Columns E to G have one for
each oddity: how often it occurs, and a sentence for the cover. From column I on, row n looks at
row n of a list, so that rows may be inserted there: lengths are read as people write them, each in
a column of its tidied text and one of its inches, and each oddity has a column of its own.

A length that these formulas can't read, such as 1/3 ft, is compared with nothing: what is shown
here helps the surveyor to look again, and decides nothing.
"""

# openpyxl has no types of its own.
# mypy: disable-error-code="no-untyped-call"

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import reduce

from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.worksheet import Worksheet

from survey.vocabulary import MEASURES, Kind, Subject, Word
from survey.vocabulary.walk import MAY_STAY_BLANK
from survey.workbook.layout import CHECKS, column_name
from survey.workbook.writing.cells import write
from survey.workbook.writing.plan import FIRST, PagePlan, Plan
from survey.workbook.writing.states import applies, is_open, text


@dataclass(frozen=True, slots=True)
class Oddity:
    """Two answers of one row that can hardly both be right.

    Args:
        subject: of the row.
        greater, less: the questions; it is odd if the first is greater than the second. One of a
            wall is looked up by the wall that the row names.
        says: what is odd, in few words.
        same_too: whether it is odd as well if both are the same.
    """

    subject: Subject
    greater: str
    less: str
    says: str
    same_too: bool = False


@dataclass(frozen=True, slots=True)
class Shown:
    """An oddity of this form: the cells that show it, and when."""

    page: PagePlan
    cells: tuple[str, ...]
    formula: str


ODDITIES = (
    Oddity(Subject.SITE, "survey date", "crew date", "the survey is later than the crew"),
    Oddity(Subject.SITE, "crew date", "last crew date", "the crew's last day is before its first"),
    Oddity(Subject.SITE, "ticket start", "ticket end", "the ticket ends before it starts"),
    Oddity(Subject.WALL, "carried to", "wall length", "carried beyond the wall's end"),
    Oddity(Subject.PIER, "station", "wall length", "station beyond the wall's end"),
    Oddity(Subject.PIER, "footing depth", "pit depth", "footing deeper than the pit"),
    Oddity(Subject.PIER, "footing thickness", "footing depth", "footing thicker than it is deep"),
    Oddity(Subject.SOIL_LAYER, "layer top", "layer bottom", "bottom not below its top",
           same_too=True),
)  # fmt: skip
_ODD, _TWICE, _NO_LABEL = 1, 1, 2  # what stands in a row of an oddity's column; else 0
_STEP = 0.001  # inches; lengths are compared in whole steps

# As tidied, a length is "3ft6.5in", "42in", "1.07m" or a bare number.
_TIDIED = (
    ("\N{NO-BREAK SPACE}", " "), ("\N{RIGHT SINGLE QUOTATION MARK}", "'"), ("\N{PRIME}", "'"),
    ("\N{RIGHT DOUBLE QUOTATION MARK}", '"'), ("\N{DOUBLE PRIME}", '"'), ("''", "in"), ('"', "in"),
    ("'", "ft"), ("feet", "ft"), ("foot", "ft"), ("inches", "in"), ("inch", "in"), ("ft.", "ft"),
    ("in.", "in"), ("½", " 1/2"), ("¼", " 1/4"), ("¾", " 3/4"), ("  ", " "), (" 1/2", ".5"),
    (" 1/4", ".25"), (" 3/4", ".75"), (" 1/8", ".125"), (" 3/8", ".375"), (" 5/8", ".625"),
    (" 7/8", ".875"), (" ft", "ft"), ("ft ", "ft"), ("ft-", "ft"), (" in", "in"), (" mm", "mm"),
    (" cm", "cm"), (" m", "m"),
)  # fmt: skip
_NO_LENGTH = "-"  # no number can be taken from it or added to it


class _Shared(ArrayFormula):
    """A formula that is written once for a column; the cells below only point at it.

    A sheet of formulas that repeat themselves would cost whoever opens the form more time than
    all that is answered.
    """

    t = "shared"

    def __init__(self, number: int, ref: str | None = None, text: str | None = None) -> None:
        super().__init__(ref, text)
        self.si = number

    def __iter__(self) -> Iterator[tuple[str, str]]:
        yield from super().__iter__()
        yield "si", str(self.si)


class _Rows:
    """The columns that look at the rows of the lists, from left to right."""

    def __init__(self, sheet: Worksheet, plan: Plan) -> None:
        self.sheet, self.plan = sheet, plan
        self.next_column = 9
        self.lengths: dict[str, str] = {}

    def add(self, page: PagePlan, heading: str, formula: str) -> str:
        """Write one formula for every row of a list; returns the letters of its column."""
        number, letters = self.next_column, column_name(self.next_column - 1)
        self.next_column += 1
        write(self.sheet.cell(1, number), heading)
        cells = f"{letters}{FIRST}:{letters}{page.last}"
        self.sheet.cell(FIRST, number).value = _Shared(number, cells, f"={formula}")
        for row in range(FIRST + 1, page.last + 1):
            self.sheet.cell(row, number).value = _Shared(number)
        return letters

    def inches(self, page: PagePlan, word: Word) -> str:
        """Letters of the column with the lengths that answer a question, in inches."""
        if word.name not in self.lengths:
            raw = f'{_in_this_row(page, page.column(word))}&""'
            tidied = self.add(page, word.name, _tidied(raw))
            bare = MEASURES[Kind.LENGTH].units[
                (word.unit_in(self.plan.order.units) or "in").lower()
            ]
            read = _inches(f"{tidied}{FIRST}", bare)
            self.lengths[word.name] = self.add(page, f"{word.name}, in", read)
        return self.lengths[word.name]

    def length(self, page: PagePlan, word: Word) -> str | None:
        """The inches of a length for a row of a page: its own, or that of the wall it names."""
        if word.subject is page.page.subject:
            return f"{self.inches(page, word)}{FIRST}" if word.name in page.places else None
        walls = self.plan.list_of(word.subject)
        names = next((w for w in page.words if w.refers_to is word.subject), None)
        if walls is None or names is None or word.name not in walls.places:
            return None
        letters = self.inches(walls, word)
        found = f"MATCH({_in_this_row(page, page.column(names))},{walls.labels},0)"
        return f"INDEX(${letters}${FIRST}:${letters}${walls.last},{found})"


def fill_checks(sheet: Worksheet, plan: Plan) -> tuple[Mapping[str, str], tuple[Shown, ...]]:
    """Write the sheet.

    Returns:
        Formulas for the cover, by sheet: how many answers are open on it and, below the sheet's
        name with a question mark, what is odd in words; and the cells that show what is odd.
    """
    counted = _count_open(sheet, plan)
    shown, said = _find_odd(sheet, plan)
    cover = {}
    for page in plan.pages:
        lines = said.get(page.sheet, ())
        cover[page.sheet] = counted[page.sheet]
        cover[f"{page.sheet}?"] = "&".join(f"{CHECKS}!$G${line}" for line in lines) or '""'
    sheet.sheet_state = "hidden"
    sheet.protection.sheet = True
    return cover, shown


def _count_open(sheet: Worksheet, plan: Plan) -> Mapping[str, str]:
    """A line for each question; gives the formula of each sheet's sum."""
    for column, heading in enumerate(("Sheet", "Question", "Open"), start=1):
        write(sheet.cell(1, column), heading)

    def reference(word: Word) -> str:
        page = plan.page_of(word.name)
        assert page is not None, f"the form lacks '{word.name}', on which another question depends"
        return page.reference(word)

    row, sums = 1, {}
    for page in plan.pages:
        first = row + 1
        for word in page.words:
            if word.name in MAY_STAY_BLANK:
                continue
            row += 1
            write(sheet.cell(row, 1), page.sheet)
            write(sheet.cell(row, 2), word.key)
            counted = (
                f"{is_open(word, reference(word))}{applies(plan.order.vocabulary, word, reference)}"
            )
            formula = counted if page.is_site else f'({page.labels}<>"")*{counted}'
            sheet.cell(row, 3).value = f"=SUMPRODUCT(1*{formula})"
        sums[page.sheet] = f"SUM({CHECKS}!$C${first}:$C${row})" if row >= first else "0"
    return sums


def _find_odd(
    sheet: Worksheet, plan: Plan
) -> tuple[tuple[Shown, ...], Mapping[str, tuple[int, ...]]]:
    """A line for each oddity; gives the cells that show it, and the lines of each sheet."""
    for column, heading in enumerate(("Sheet", "Odd", "In words"), start=5):
        write(sheet.cell(1, column), heading)
    rows, shown = _Rows(sheet, plan), list[Shown]()
    said: dict[str, tuple[int, ...]] = {}
    sought = (odd for page in plan.pages for odd in _sought(rows, page))
    for line, odd in enumerate(sought, start=2):
        write(sheet.cell(line, 5), odd.page.sheet)
        sheet.cell(line, 6).value = f"={odd.count}"
        heading = text(f"{odd.says[0].upper()}{odd.says[1:]}")
        more = f'IF(F{line}>1," and "&(F{line}-1)&" more","")'
        named = f'&": "&{odd.first}&{more}' if odd.first else ""
        sheet.cell(line, 7).value = f'=IF(F{line}=0,"",{heading}{named}&". ")'
        said[odd.page.sheet] = (*said.get(odd.page.sheet, ()), line)
        shown.append(Shown(odd.page, odd.cells, odd.places or f"{CHECKS}!$F${line}"))
    return tuple(shown), said


@dataclass(frozen=True, slots=True)
class _Sought:
    """An oddity of one sheet: the cells that show it and, as formulas, how often it occurs.

    On a list, there are also the cells with its places, and the label of the first one.
    """

    page: PagePlan
    cells: tuple[str, ...]
    says: str
    count: str
    places: str = ""
    first: str = ""


def _sought(rows: _Rows, page: PagePlan) -> Iterator[_Sought]:
    if not page.is_site:
        yield from _odd_labels(rows, page)
    for odd in ODDITIES:
        if odd.subject is not page.page.subject:
            continue
        greater, less = (rows.plan.order.vocabulary[name] for name in (odd.greater, odd.less))
        marked = tuple(page.answers(w) for w in (greater, less) if w.name in page.places)
        if page.is_site:
            if len(marked) == 2:
                yield _Sought(page, marked, odd.says, _later(page, greater, less))
            continue
        first, second = rows.length(page, greater), rows.length(page, less)
        if first and second:
            most = -_STEP if odd.same_too else _STEP
            column = rows.add(page, odd.says, f"IFERROR(1*({first}-{second}>{most}),0)")
            yield _in_rows(page, marked, odd.says, column)


def _odd_labels(rows: _Rows, page: PagePlan) -> Iterator[_Sought]:
    label, cells = _in_this_row(page, "A"), (f"A{FIRST}:A{page.last}",)
    answers = f"{page.sheet}!$B$1:${column_name(len(page.words))}${page.last}"
    nameless = f"{_NO_LABEL}*(COUNTA(INDEX({answers},ROW(),0))>0)"
    twice = f"{_TWICE}*(COUNTIF({page.labels},{label})>1)"
    column = rows.add(page, f"{page.sheet}: labels", f'IF({label}="",{nameless},{twice})')
    yield _in_rows(page, cells, "label given twice", column, _TWICE)
    yield _in_rows(page, cells, "answers without a label", column, _NO_LABEL)


def _in_rows(
    page: PagePlan, cells: tuple[str, ...], says: str, column: str, code: int = _ODD
) -> _Sought:
    places = f"${column}$1:${column}${page.last}"
    found = f"MATCH({code},{places},0)"
    label = f"INDEX({page.sheet}!$A$1:$A${page.last},{found})"
    first = f'"row "&{found}' if code == _NO_LABEL else label
    return _Sought(page, cells, says, f"COUNTIF({places},{code})", f"{CHECKS}!{places}", first)


def _later(page: PagePlan, greater: Word, less: Word) -> str:
    first, second = page.reference(greater), page.reference(less)
    return f"IF(AND(ISNUMBER({first}),ISNUMBER({second})),1*({first}>{second}),0)"


def _in_this_row(page: PagePlan, letters: str) -> str:
    """The cell of a list's column in the row of the formula, whatever rows were inserted there."""
    return f"INDEX({page.sheet}!${letters}$1:${letters}${page.last},ROW())"


def _tidied(raw: str) -> str:
    """The text of a length with its units written one way, and no blanks."""
    return reduce(
        lambda inner, change: f"SUBSTITUTE({inner},{text(change[0])},{text(change[1])})",
        _TIDIED,
        f"LOWER(TRIM({raw}))",
    )


def _inches(tidied: str, bare: float) -> str:
    """The inches of a tidied length."""
    foot = f'FIND("ft",{tidied})'
    rest = f"MID({tidied},{foot}+2,20)"
    inches = f'IF({rest}="",0,{_number(f"""SUBSTITUTE({rest},"in","")""")})'
    read = f"{_number(tidied)}*{bare!r}"
    for unit, factor in (("m", 1000 / 25.4), ("cm", 10 / 25.4), ("mm", 1 / 25.4), ("in", 1.0)):
        without = f"LEFT({tidied},LEN({tidied})-{len(unit)})"
        read = f'IF(RIGHT({tidied},{len(unit)})="{unit}",{_number(without)}*{factor!r},{read})'
    feet = f"12*{_number(f'LEFT({tidied},{foot}-1)')}+{inches}"
    return f'IFERROR(IF(ISNUMBER({foot}),{feet},{read}),"{_NO_LENGTH}")'


def _number(part: str) -> str:
    """A text as a plain number; with an exponent after it, 3-6 or 1/2 is no date."""
    return f'VALUE({part}&"e0")'
