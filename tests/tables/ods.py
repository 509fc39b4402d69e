"""Writes CSV files as the sheets of one OpenDocument workbook: days as days, numbers as numbers, empty cells counted."""
import csv, re, sys
try:
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.table import Table, TableCell, TableRow
    from odf.text import P
except ImportError:
    sys.exit(77)
folder, out = sys.argv[1:]


def cell_of(text):
    if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
        cell = TableCell(valuetype="date", datevalue=text)
    elif re.fullmatch(r"-?\d+(\.\d+)?", text):
        cell = TableCell(valuetype="float", value=text)
    else:
        cell = TableCell(valuetype="string")
    cell.addElement(P(text=text))
    return cell


def row_of(texts):
    row, empty = TableRow(), 0
    for text in texts:
        if not text:
            empty += 1
            continue
        if empty:
            row.addElement(TableCell(numbercolumnsrepeated=empty))
            empty = 0
        row.addElement(cell_of(text))
    return row


book = OpenDocumentSpreadsheet()
for name, above in (("Channels", 0), ("People", 0), ("Places", 2)):
    sheet = Table(name=name)
    if above:
        sheet.addElement(row_of(["A title"]))
        sheet.addElement(TableRow(numberrowsrepeated=above - 1))
    with open(f"{folder}/{name}.csv", newline="", encoding="utf-8") as file:
        for texts in filter(None, csv.reader(file)):
            sheet.addElement(row_of(texts))
    book.spreadsheet.addElement(sheet)
book.save(out)
