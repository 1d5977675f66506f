"""Makes the small workbooks of tests/tables/workbooks with openpyxl 3.0.9 and odfpy 1.4.2 (Debian 12:
python3-openpyxl, python3-odf): python3 tests/reference/make/32-workbooks.py"""
import datetime
from pathlib import Path
from odf.opendocument import OpenDocumentSpreadsheet
from odf.style import Style
from odf.number import DateStyle, Day, Month, Year, Text
from odf.table import CoveredTableCell, Table, TableCell, TableRow
from odf.text import P
from openpyxl import Workbook

folder = Path(__file__).parents[2] / "tables" / "workbooks"
made = datetime.datetime(2026, 3, 31)

book = Workbook()
book.properties.created = book.properties.modified = made
harvest = book.active
harvest.title = "Harvest"
for line in [
    ["Bench 3, weighed by KM"],
    [],
    ["Pot", "Fresh weight", None, "Date"],
    [None, "start", "harvest", None],
    ["1A-A1", 2.1, 12.5, datetime.datetime(2026, 3, 31, 10, 30)],
    ["1A-A2", 2.2, "13,25 g", datetime.date(2026, 3, 31)],
    ["1A-A3", 2.3, 14, datetime.date(2026, 4, 1)],
    ["1A-B1", None, None, None],
    ["Mean", 2.2, "=AVERAGE(C5:C7)", None],
]:
    harvest.append(line)
harvest.merge_cells("A1:D1")
harvest.merge_cells("B3:C3")
harvest.merge_cells("A3:A4")
harvest.merge_cells("C7:C8")
rack = book.create_sheet("Fresh weight at harvest")
for line in [["Tray 1A"], [None, 1, 2, 3], ["B", 4.1, 4.2, 4.3], ["A", 3.1, "dead", 3.3]]:
    rack.append(line)
book.save(folder / "harvest.xlsx")

document = OpenDocumentSpreadsheet()
date_style = DateStyle(name="N1")
for part in [Day(style="long"), Text(text="."), Month(style="long"), Text(text="."), Year(style="long")]:
    date_style.addElement(part)
document.automaticstyles.addElement(date_style)
cell_style = Style(name="day", family="table-cell", datastylename="N1")
document.automaticstyles.addElement(cell_style)
table = Table(name="Ernte")
document.spreadsheet.addElement(table)


def cell(value, **span):
    if isinstance(value, (int, float)):
        made_of = TableCell(valuetype="float", value=value, **span)
    elif isinstance(value, datetime.date):
        made_of = TableCell(valuetype="date", datevalue=value.isoformat(), stylename=cell_style)
        made_of.addElement(P(text=value.strftime("%d.%m.%Y")))
        return made_of
    else:
        made_of = TableCell(valuetype="string", **span)
    made_of.addElement(P(text=str(value)))
    return made_of


def line(*cells):
    row = TableRow()
    for one in cells:
        row.addElement(one)
    table.addElement(row)


line(cell("Ernte", numbercolumnsspanned=3, numberrowsspanned=1), CoveredTableCell(), CoveredTableCell())
line(cell("Topf"), cell("Datum"), cell("Fresh weight (kg)"))
line(cell("1A-A1"), cell(datetime.date(2026, 3, 31)), cell(0.0125))
line(cell("1A-A2"), cell(datetime.date(2026, 3, 31)), cell("0,01325"))
document.save(folder / "ernte.ods")
