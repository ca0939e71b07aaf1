"""Turn a survey that was read into another file: JSON, a workbook, or plain tables."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from survey.errors import UserError
from survey.files import refuse_existing, replace, told
from survey.model import Picture
from survey.rewriting import ReadSurvey


@dataclass(frozen=True, slots=True)
class Converted:
    """The files that were written, and the pictures that no such file can have."""

    files: tuple[Path, ...]
    left_out: tuple[Picture, ...] = ()


def convert(told: ReadSurvey, out: Path) -> Converted:
    """Write a survey in the format that the new name tells.

    Args:
        told: the survey.
        out: a file ending in .json or .xlsx, or the name of a folder for tables in CSV; nothing
            that exists is written over.

    Raises:
        UserError: the name tells no format, a file exists, or can't be written there.
    """
    match out.suffix.lower():
        case ".json":
            return _as_json(told, out)
        case ".xlsx":
            from survey.workbook import write_form

            kept = write_form(out, told.survey, unread=told.unread, stray=told.raw.stray)
            return Converted((out,), kept)
        case "":
            return _as_tables(told, out)
        case other:
            raise UserError(
                f"{out}: nothing is written as '{other}'. Give a name that ends in .json or .xlsx, "
                "or a folder's name for tables in CSV."
            )


def _as_json(told: ReadSurvey, out: Path) -> Converted:
    from survey.document import write_document
    from survey.photos.unpacking import with_pictures_in_files

    refuse_existing(out)
    survey = with_pictures_in_files(told.survey, out.parent)
    _write(out, write_document(survey, told.unread, told.raw.stray))
    return Converted((out,), survey.pictures)


def _as_tables(told: ReadSurvey, out: Path) -> Converted:
    from survey.tables import tables

    files = {out / f"{name}.csv": text for name, text in tables(told.survey).items()}
    for file in files:
        refuse_existing(file)
    for file, text in files.items():
        _write(file, text)
    return Converted(tuple(files))


def _write(file: Path, text: str) -> None:
    with told(file, "survey"):
        file.parent.mkdir(parents=True, exist_ok=True)
        replace(file, text)
