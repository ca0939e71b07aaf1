"""The hands of a person in front of LibreOffice: run by a Python that has its UNO bridge.

No part of the project is imported here. Orders come as lines of JSON on standard input,
``["verb", argument, ...]``; each is answered by one line, ``{"did": ...}`` or ``{"failed": ...}``.
Cells are given by the sheet's name and the cell's column and row, both counted from 0.
"""

import json
import sys
import time

if __name__ == "__main__":  # who only looks for tests in this file may have no UNO bridge
    import uno
    from com.sun.star.awt import Size
    from com.sun.star.beans import PropertyValue
    from com.sun.star.table import CellAddress

FILTERS = {".xlsx": "Calc MS Excel 2007 XML", ".ods": "calc8", ".pdf": "calc_pdf_Export"}
PAPER = {"letter": (27_940, 21_590), "a4": (29_700, 21_000)}  # landscape, in 0.01 mm


def properties(**values):
    return tuple(PropertyValue(Name=name, Value=value) for name, value in values.items())


class Hands:
    """One workbook at a time, as it stands on the screen."""

    def __init__(self, address):
        local = uno.getComponentContext()
        resolve = local.ServiceManager.createInstanceWithContext(
            "com.sun.star.bridge.UnoUrlResolver", local
        ).resolve
        for _ in range(600):
            try:
                self.context = resolve(f"uno:{address};urp;StarOffice.ComponentContext")
                break
            except Exception:
                time.sleep(0.1)
        self.book = None

    def service(self, name):
        return self.context.ServiceManager.createInstanceWithContext(name, self.context)

    def sheet(self, name):
        return self.book.Sheets.getByName(name)

    def cell(self, sheet, column, row):
        return self.sheet(sheet).getCellByPosition(column, row)

    def press(self, command, **values):
        """What a menu or a key does."""
        frame = self.book.CurrentController.Frame
        dispatcher = self.service("com.sun.star.frame.DispatchHelper")
        dispatcher.executeDispatch(frame, f".uno:{command}", "", 0, properties(**values))

    def select(self, thing):
        self.book.CurrentController.select(thing)

    def open(self, path):
        desktop = self.service("com.sun.star.frame.Desktop")
        url = uno.systemPathToFileUrl(path)
        # Never run a macro, never follow a link: 0 is NEVER_EXECUTE, NO_UPDATE.
        told = properties(MacroExecutionMode=0, UpdateDocMode=0)
        self.book = desktop.loadComponentFromURL(url, "_blank", 0, told)
        return [[s.Name, s.IsVisible, s.isProtected()] for s in self.book.Sheets]

    def close(self):
        self.book.close(True)
        self.book = None

    def save(self, path):
        name = FILTERS[path[path.rindex(".") :]]
        self.book.storeToURL(uno.systemPathToFileUrl(path), properties(FilterName=name))

    def paper(self, name):
        """Choose the paper of every sheet, landscape or upright as it is."""
        wide, high = PAPER[name]
        styles = self.book.StyleFamilies.getByName("PageStyles")
        for style in {sheet.PageStyle for sheet in self.book.Sheets}:
            page = styles.getByName(style)
            page.Size = Size(wide, high) if page.IsLandscape else Size(high, wide)

    def texts(self, sheet):
        """What every cell of a sheet shows, from A1."""
        cells = self._used(sheet)
        return [[str(value) for value in row] for row in cells.DataArray]

    def _used(self, sheet):
        cursor = self.sheet(sheet).createCursor()
        cursor.gotoEndOfUsedArea(False)
        end = cursor.RangeAddress
        return self.sheet(sheet).getCellRangeByPosition(0, 0, end.EndColumn, end.EndRow)

    def read(self, sheet, column, row):
        return self.cell(sheet, column, row).String

    def hidden(self, sheet, column, row):
        cell = self.cell(sheet, column, row)
        return not (cell.Columns.getByIndex(0).IsVisible and cell.Rows.getByIndex(0).IsVisible)

    def type(self, sheet, column, row, text):
        """Go to a cell, type, press enter; gives back what it shows then."""
        cell = self.cell(sheet, column, row)
        self.select(cell)
        self.press("EnterString", StringName=text)
        return cell.String

    def clear(self, sheet, column, row):
        self.select(self.cell(sheet, column, row))
        self.press("ClearContents")

    def locked(self, sheet, column, row):
        return self.cell(sheet, column, row).CellProtection.IsLocked

    def validation(self, sheet, column, row):
        """What a cell tells and takes: its prompt, its list, and whether it refuses others."""
        rule = self.cell(sheet, column, row).Validation
        kind, formula = rule.Type.value, rule.getFormula1()
        return {
            "kind": kind,
            "refuses": rule.ShowErrorMessage and rule.ErrorAlertStyle.value == "STOP",
            "drops_down": rule.ShowList != 0,
            "title": rule.InputTitle if rule.ShowInputMessage else "",
            "prompt": rule.InputMessage if rule.ShowInputMessage else "",
            "offers": self._offers(formula) if kind == "LIST" else [],
        }

    def _offers(self, formula):
        if formula.startswith('"'):
            return formula.strip('"').split(";")
        names = self.book.NamedRanges
        if names.hasByName(formula):
            formula = names.getByName(formula).Content
        sheet, _, cells = formula.replace("$", "").replace("!", ".").rpartition(".")
        found = self.sheet(sheet.strip("'")).getCellRangeByName(cells)
        return [str(row[0]) for row in found.DataArray if row[0] != ""]

    def insert_row(self, sheet, row):
        self.select(self.cell(sheet, 0, row))
        self.press("InsertRowsBefore")

    def insert_column(self, sheet, column):
        self.select(self.cell(sheet, column, 0))
        self.press("InsertColumnsBefore")

    def move_column(self, sheet, column, to):
        """Cut a whole column out and put it into an empty one, as with the mouse."""
        place = self.sheet(sheet)
        whole = place.Columns.getByIndex(column).RangeAddress
        place.moveRange(CellAddress(whole.Sheet, to, 0), whole)

    def delete_column(self, sheet, column):
        self.sheet(sheet).Columns.removeByIndex(column, 1)

    def unprotect(self, sheet):
        """Take the lock off a sheet; it has no password."""
        self.sheet(sheet).unprotect("")
        return not self.sheet(sheet).isProtected()

    def picture(self, sheet, column, row, path):
        """Insert a picture from a file at a cell; gives back how many the sheet has then."""
        self.select(self.cell(sheet, column, row))
        self.press("InsertGraphic", FileName=uno.systemPathToFileUrl(path), AsLink=False)
        return self.sheet(sheet).DrawPage.Count


def main():
    hands = Hands(sys.argv[1])
    for line in sys.stdin:
        verb, *arguments = json.loads(line)
        try:
            answer = {"did": getattr(hands, verb)(*arguments)}
        except Exception as fault:
            answer = {"failed": f"{verb}{arguments}: {fault!r}"}
        print(json.dumps(answer), flush=True)


if __name__ == "__main__":
    main()
