"""What stands on the form beside the questions, in plain words."""

from __future__ import annotations

from collections.abc import Sequence

from survey.vocabulary import Kind, Subject, Units, Vocabulary, Word

TITLE = "Survey of a site before steel piers are set beside its footings"
PURPOSE = "One workbook a job. What is filled in here decides whether the job may start."
SHORT = (
    "This is the short form, for a first visit: only the questions that decide. Fill it in and run "
    "'pier-survey check' on it: the sheet says what else is needed. 'pier-survey form --from' then "
    "gives this workbook back with the open questions marked, and nothing is lost."
)
WANTED = (
    "Marked cells are the open questions of the last check: those with a thick frame. What was "
    "answered before stands where it stood."
)

MEANINGS = (
    ("blank", "Not known. Leave blank what you could not see, measure or ask. 'not known' says "
     "the same. It is never taken as no, none or zero: it is asked again before work starts."),
    ("yes or no", "Only what you have seen, measured or been told by somebody who knows. If you "
     "are not sure, the answer is not known."),
    ("does not apply", "The question does not come up, because of another answer in the same row; "
     "the help says which. It does not mean that nobody looked: that is not known."),
)  # fmt: skip

PICTURE_HELP = "Put the picture into this cell, or give the name of its file. One row, one picture."

LABEL_EXAMPLE = {
    Subject.WALL: "W1",
    Subject.PIER: "P1",
    Subject.UTILITY: "U1",
    Subject.NEIGHBOUR: "N1",
    Subject.SOIL_LAYER: "S1",
    Subject.PHOTO: "Photo 1",
    Subject.RELEASE: "R1",
}

_LENGTHS = {
    Units.US_CUSTOMARY: "Write lengths as 3 ft 6 in, 3'-6\", 42 in or 1.07 m.",
    Units.METRIC: "Write lengths as 1.07 m, 1070 mm, 107 cm or 3 ft 6 in.",
}


def steps(units: Units, sheets: Sequence[str]) -> tuple[str, ...]:
    """How the form is filled in.

    Args:
        units: of the form.
        sheets: those with questions, in order.
    """
    told = (
        "Save this workbook under the name of the job.",
        f"Fill in the sheets from left to right: {', '.join(sheets)}. They follow the walk: what "
        "is known at the desk, round the house, inside, then what we plan.",
        "On sheets with columns, one row is one thing. If there are too few rows, insert more "
        "above the last one. Give each a short label of its own in the first column, such as W1, "
        "P1 or U1. Answers name walls by their label.",
        "List the walls from left to right as seen from outside, round the building. Stations are "
        "measured along a wall from its left corner, offsets straight out from its face.",
        "Where a list drops down, choose from it: yes, no or not known, or one of the choices.",
        f"{_LENGTHS[units]} A bare number is in the unit that stands above the column or beside "
        "the answer.",
        "Write dates as 2026-04-03 or 3 Apr 2026.",
        "If there are no utilities, no neighbours or no soil layers to list, an empty sheet does "
        "not say so. The three questions on sheet Plan that begin with 'Are all' do.",
        "Photos: a row each. Put the picture into the row, or write the name of its file and keep "
        "the file beside this workbook.",
        "Sketch: draw the walls, piers and lines as you see them. Nothing is read from it.",
        "Releases is for the engineer or the competent person." if "Releases" in sheets else "",
        "Everything but the answers is locked, without a password. Do not rename a sheet or touch "
        "hidden rows and columns.",
    )
    return tuple(step for step in told if step)


def label_help(subject: Subject) -> str:
    """Help for the column of labels."""
    return f"A short name of its own for each {subject.value}, such as {LABEL_EXAMPLE[subject]}."


def heading(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def unit_text(word: Word, units: Units) -> str:
    """What to write in the cell: the unit of a bare number, or the sort of answer."""
    unit = word.unit_in(units)
    match word.kind:
        case Kind.LENGTH if unit == "ft":
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
            return unit or ""


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
