"""What stands on the form beside the questions, in plain words."""

from __future__ import annotations

from survey.vocabulary import Kind, Subject, Vocabulary, Word
from survey.workbook._layout import BLANK_ROWS

TITLE = "Survey of a site before steel piers are set beside its footings"
PURPOSE = "One workbook a job. What is filled in here decides whether the job may start."

STEPS = (
    "Save this workbook under the name of the job.",
    "Fill in the sheets from left to right: Site, Walls, Piers, Utilities, Neighbours, Soil. "
    "Releases is for the engineer or the competent person.",
    "On every sheet but Site, one row is one thing. Give it a short label of its own in the first "
    "column, such as W1, P1 or U1. Answers name walls by their label.",
    "List the walls from left to right as seen from outside, round the building. Stations are "
    "measured along a wall from its left corner, offsets straight out from its face.",
    "Write in the white cells. Where a list drops down, choose from it.",
    "Write lengths as 3 ft 6 in, 3'-6\", 42 in or 1.07 m. A bare number is in the unit that "
    "stands above the column or beside the answer.",
    "Write dates as 2026-04-03 or 3 Apr 2026.",
    "If there are no utilities, no neighbours or no soil layers to list, an empty sheet does not "
    "say so. The three questions on Site that begin with 'Are all' do.",
    f"You may add rows below the {BLANK_ROWS} that are there, and move rows and columns. Do not "
    "rename a sheet or touch the hidden row below the headings.",
)

MEANINGS = (
    ("blank", "Not known. Leave blank what you could not see, measure or ask. 'not known' says "
     "the same. It is never taken as no, none or zero: it is asked again before work starts."),
    ("does not apply", "The question does not come up, because of another answer in the same row; "
     "the help says which. It does not mean that nobody looked: that is not known."),
)  # fmt: skip

LABEL_EXAMPLE = {
    Subject.WALL: "W1",
    Subject.PIER: "P1",
    Subject.UTILITY: "U1",
    Subject.NEIGHBOUR: "N1",
    Subject.SOIL_LAYER: "S1",
    Subject.PHOTO: "Photo 1",
    Subject.RELEASE: "R1",
}


def label_help(subject: Subject) -> str:
    """Help for the column of labels."""
    return f"A short name of its own for each {subject.value}, such as {LABEL_EXAMPLE[subject]}."


def heading(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def unit_text(word: Word) -> str:
    """What to write in the cell: the unit of a bare number, or the sort of answer."""
    match word.kind:
        case Kind.LENGTH if word.unit == "ft":
            return "ft, or 3 ft 6 in"
        case Kind.CHOICE | Kind.YES_NO:
            return "choose"
        case Kind.DATE:
            return "date"
        case Kind.TEXT:
            return "text"
        case Kind.REFERENCE:
            return "label of wall"
        case Kind.COUNT:
            return "number"
        case _:
            return word.unit or ""


def asked_as(word: Word) -> str:
    """What stands on the form for a question: itself on Site, else the heading of its column."""
    return word.prompt if word.subject is Subject.SITE else heading(word.name)


def condition(vocabulary: Vocabulary, word: Word) -> str:
    """When the question applies, if that depends on another answer."""
    if word.asks_when is None:
        return ""
    other = vocabulary[word.asks_when.word]
    *more, last = word.asks_when.choices
    choices = f"{', '.join(more)} or {last}" if more else last
    return f"Only if '{asked_as(other)}' is {choices}; else it does not apply."


def has_help(word: Word) -> bool:
    """Whether there is help for a question besides the question itself."""
    return word.help != "" or word.asks_when is not None


def help_text(vocabulary: Vocabulary, word: Word, *, with_prompt: bool) -> str:
    """All help for a question, with the question itself where it is not shown elsewhere."""
    parts = (word.prompt if with_prompt else "", word.help, condition(vocabulary, word))
    return " ".join(part if part[-1] in ".?!" else f"{part}." for part in parts if part)
