"""The survey as JSON: a versioned document, checked by pydantic, with its JSON Schema.

The document says what the workbook says, in the same words: each row is an object whose keys
are the words' keys and whose values are written as on the form (``"3 ft 6 in"``, ``"yes"``,
``"2026-12-01"``, or a number in the unit that the schema states). ``null`` or a missing key is
*not known*. What could not be read stands as it was written, so nothing is lost on the way.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable, Mapping
from pathlib import PurePath
from types import MappingProxyType
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from survey.answers import MOST_ROWS, PERHAPS_OWN, RawRow, RawSurvey
from survey.errors import Problem, UnreadableSurveyError
from survey.model import LISTS, Row, Survey, Value
from survey.rewriting import LABEL, Place
from survey.vocabulary import (
    VOCABULARY,
    Kind,
    Missing,
    Subject,
    Units,
    Vocabulary,
    Word,
    nearest,
    write_exactly,
)
from survey.vocabulary.quantity import usual_units

Scalar = str | int | float | bool | None
# Limits keep a hostile file from taking all time and memory.
_MOST_KEYS, _MOST_FAULTS, _MOST_NOT_READ = 1000, 50, 10_000
Cells = Annotated[dict[str, Scalar], Field(max_length=_MOST_KEYS)]
Rows = Annotated[list[Cells], Field(max_length=MOST_ROWS)]
_HELP = "A survey in JSON follows the schema that 'pier-survey schema' prints."


class NotRead(BaseModel):
    """Something outside the questions of the file that this survey came from."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    where: str
    read: str
    expected: str


class SurveyDocument(BaseModel):
    """A survey in JSON, version 1."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    pier_survey: Literal[1] = Field(description="Version of this format.")
    units: Literal["US customary", "metric"] = Field(
        "US customary", description="Units of bare numbers, and of the form made from it."
    )
    site: Cells
    walls: Rows = []
    piers: Rows = []
    utilities: Rows = []
    neighbours: Rows = []
    soil_layers: Rows = []
    photos: Rows = []
    releases: Rows = []
    not_read: Annotated[list[NotRead], Field(max_length=_MOST_NOT_READ)] = []


def read_document(text: str | bytes, name: str, vocabulary: Vocabulary = VOCABULARY) -> RawSurvey:
    """Read a JSON survey into raw rows.

    Args:
        text: the whole document.
        name: the file's name, for messages.
        vocabulary: the questions that it may answer.

    Raises:
        UnreadableSurveyError: it is no JSON, no survey, or has keys that no word has; all
            faults at once.
    """
    try:
        document = SurveyDocument.model_validate_json(text)
    except ValidationError as fault:
        raise UnreadableSurveyError(
            name, [_reason(error) for error in fault.errors()[:_MOST_FAULTS]], _HELP
        ) from None
    faults: list[str] = []
    site = _raw_row(vocabulary, Subject.SITE, "site", document.site, faults)
    lists = {
        subject: [
            _raw_row(vocabulary, subject, f"{name_}[{i}]", row, faults)
            for i, row in enumerate(getattr(document, name_), start=1)
        ]
        for subject, name_ in LISTS.items()
    }
    if faults:
        raise UnreadableSurveyError(name, faults, f"{_HELP} {PERHAPS_OWN}")
    stray = tuple(Problem(one.where, one.read, one.expected) for one in document.not_read)
    return RawSurvey(PurePath(name).stem, site, lists, stray, Units(document.units))


def _reason(error: Mapping[str, Any]) -> str:
    path = ".".join(str(part) for part in error["loc"]) or "the file"
    return f"{path}: {error['msg']}"


def _raw_row(
    vocabulary: Vocabulary,
    subject: Subject,
    path: str,
    row: Mapping[str, Scalar],
    faults: list[str],
) -> RawRow:
    words = {word.key: word for word in vocabulary.asked_of(subject)}
    keys = [*words, "label"] if subject is not Subject.SITE else list(words)
    for key in row:
        if key not in keys and len(faults) < _MOST_FAULTS:
            near = nearest(key, keys)
            hint = f"; did you mean '{near}'?" if near else ""
            faults.append(f"{path}: no question of a {subject.value} has the key '{key}'{hint}")
    cells = {word.name: (row.get(key), f"{path}.{key}") for key, word in words.items()}
    label = row.get("label")
    return RawRow(path, "" if label is None else str(label), cells, f"{path}.label")


def write_document(
    survey: Survey,
    unread: Mapping[Place, str] = MappingProxyType({}),
    stray: Iterable[Problem] = (),
) -> str:
    """The survey as a JSON document; reading it back gives the same answers and problems.

    Args:
        survey: the survey; pictures that stand in its workbook are not part of the document.
        unread: texts that could not be read, by their place; written as they stood.
        stray: what stands outside the questions of its file.
    """
    document: dict[str, Any] = {
        "pier_survey": 1,
        "units": survey.units.value,
        "site": _write_row(survey, survey.site, unread),
    }
    for subject, name in LISTS.items():
        document[name] = [
            {
                "label": unread.get((subject, row.label, LABEL), row.label),
                **_write_row(survey, row, unread),
            }
            for row in survey.rows(subject)
        ]
    document["not_read"] = [
        {"where": one.where, "read": one.read, "expected": one.expected} for one in stray
    ]
    return json.dumps(document, indent=1, ensure_ascii=False)


def _write_row(survey: Survey, row: Row, unread: Mapping[Place, str]) -> dict[str, Scalar]:
    written: dict[str, Scalar] = {}
    for word in survey.vocabulary.asked_of(row.subject):
        place = (row.subject, row.label, word.name)
        value = _write_value(word, row.value(word.name), survey.units)
        written[word.key] = unread.get(place, value)
    return written


def _write_value(word: Word, value: Value, units: Units) -> Scalar:
    if isinstance(value, Missing):
        return None
    if isinstance(value, dt.date):
        return value.isoformat()
    if not word.measured:
        return str(value)
    assert isinstance(value, (int, float))
    if word.kind is Kind.COUNT:
        return int(value)
    return write_exactly(value, word.kind, word.unit_in(units))


def json_schema(vocabulary: Vocabulary = VOCABULARY) -> dict[str, Any]:
    """JSON Schema (2020-12) of the document, with every question, unit and choice."""
    schema = SurveyDocument.model_json_schema()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    for subject, name in {Subject.SITE: "site", **LISTS}.items():
        row = _row_schema(vocabulary, subject)
        described = schema["properties"][name]
        schema["properties"][name] = row if subject is Subject.SITE else {**described, "items": row}
    return schema


def _row_schema(vocabulary: Vocabulary, subject: Subject) -> dict[str, Any]:
    properties: dict[str, Any] = (
        {}
        if subject is Subject.SITE
        else {"label": {"type": "string", "description": f"Name of the {subject.value}, unique."}}
    )
    for word in vocabulary.asked_of(subject):
        properties[word.key] = _value_schema(word)
    return {"type": "object", "additionalProperties": False, "properties": properties}


def _value_schema(word: Word) -> dict[str, Any]:
    described = " ".join(part for part in (word.prompt, word.help) if part)
    states = ["not known", *(["does not apply"] if word.asks_when else [])]
    match word.kind:
        case Kind.CHOICE:
            return {"enum": [*word.choices, *states, None], "description": described}
        case Kind.YES_NO:
            return {"enum": ["yes", "no", *states, True, False, None], "description": described}
        case Kind.DATE:
            return {"type": ["string", "null"], "format": "date", "description": described}
        case Kind.TEXT | Kind.REFERENCE:
            return {"type": ["string", "null"], "description": described}
        case _:
            units = ", ".join(unit for unit in usual_units(word.kind).values() if unit)
            unit = (
                f" Bare numbers in {word.unit} ({word.unit_in(Units.METRIC)} if the document's "
                f"units are metric); text may carry a unit: {units}."
                if word.unit
                else ""
            )
            return {"type": ["number", "string", "null"], "description": described + unit}
