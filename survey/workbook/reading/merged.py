"""Cells that a surveyor merged: one answer for several rows, or nobody knows for which question."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from survey.answers import as_text
from survey.errors import Problem
from survey.vocabulary import tidy
from survey.workbook.layout import column_name
from survey.workbook.reading.book import Area, Grid, Sheet

_MOST_TOUCHED = 100_000  # cells; merged areas of a real workbook don't overlap
_LONGEST_SHOWN = 80


@dataclass(frozen=True, slots=True)
class Unmerged:
    """The cells of a sheet as if none were merged, and what could not be told."""

    grid: Grid
    problems: tuple[Problem, ...] = ()


def unmerged(
    sheet: Sheet, rows: Sequence[int], columns: Mapping[int, bool], several: bool
) -> Unmerged:
    """Give each answer cell what the merged cell over it says.

    Args:
        sheet: a sheet of the form.
        rows: numbers of the rows with answers, from 0.
        columns: numbers of the columns with answers, and whether one answer may hold for
            several rows; a label may not.
        several: whether a row is one thing of a list; otherwise each row is another question.

    Returns:
        In the grid, an answer that is merged over several rows of one question stands in each of
        them; cells merged in any other way are blank but for a label, and a problem.
    """
    areas = [area for area in sheet.merged if rows and area.bottom >= rows[0]]
    if not areas:
        return Unmerged(sheet.grid)
    grid = [list(row) for row in sheet.grid]
    problems = []
    touched = 0
    for area in areas:
        cells = list(_within(area, rows, columns)) if touched <= _MOST_TOUCHED else []
        touched += len(cells)
        first = (area.top, area.left)
        if not cells or cells == [first]:
            continue
        told = sheet.grid[area.top][area.left] if area.top < len(grid) else ""
        hidden = [cell for cell in cells if cell != first and sheet.grid[cell[0]][cell[1]] != ""]
        one_question = {column for _row, column in cells} == {area.left} and columns[area.left]
        if several and one_question and first[0] in rows and not hidden:
            for row, column in cells:
                grid[row][column] = told
            continue
        for row, column in cells:
            if columns[column]:
                grid[row][column] = ""
        where = f"{sheet.name}!{column_name(area.left)}{area.top + 1}"
        problems.append(Problem(where, tidy(as_text(told))[:_LONGEST_SHOWN], _EXPECTED))
    if touched > _MOST_TOUCHED:
        problems.insert(0, Problem(f"{sheet.name}!A1", "", "merged cells that do not overlap"))
    return Unmerged(grid, tuple(problems))


_EXPECTED = (
    "cells that are not merged over several questions or labels: which of them is answered can't "
    "be told; unmerge the cells and write each answer in its own"
)


def _within(
    area: Area, rows: Sequence[int], columns: Mapping[int, bool]
) -> Iterator[tuple[int, int]]:
    here = [column for column in columns if area.left <= column <= area.right]
    for row in rows:
        if area.top <= row <= area.bottom:
            for column in here:
                yield row, column
