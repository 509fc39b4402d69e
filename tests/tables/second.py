"""Writes CSV files as the sheets of one workbook: days as days, numbers as numbers."""
import csv, datetime, re, sys
try:
    import openpyxl
except ImportError:
    sys.exit(77)
folder, out = sys.argv[1:]
book = openpyxl.Workbook()
book.remove(book.active)
for name, above in (("Channels", 0), ("People", 0), ("Places", 2)):
    sheet = book.create_sheet(name)
    if above:
        sheet.cell(1, 1, "A title")
    with open(f"{folder}/{name}.csv", newline="", encoding="utf-8") as file:
        rows = [row for row in csv.reader(file) if row]
    for at, row in enumerate(rows, above + 1):
        for column, text in enumerate(row, 1):
            cell = sheet.cell(at, column)
            if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
                cell.value = datetime.date.fromisoformat(text)
            elif re.fullmatch(r"-?\d+(\.\d+)?", text):
                cell.value = float(text)
            elif text:
                cell.value = text
book.save(out)
