# Prints what openpyxl sees in a workbook: each table's cells as text, stored
# values for formulas, and the formulas by place. Usage: read_workbook.py FILE.xlsx
import json
import sys

import openpyxl


def text(v):
    if v is None:
        return ""
    if isinstance(v, bool):
        return "TRUE" if v else "FALSE"
    return str(v)


stored = openpyxl.load_workbook(sys.argv[1], data_only=True)
plain = openpyxl.load_workbook(sys.argv[1])
tables = {ws.title: [[text(c.value) for c in row] for row in ws.iter_rows()] for ws in stored}
formulas = {
    ws.title + "!" + c.coordinate: c.value
    for ws in plain for row in ws.iter_rows() for c in row if c.data_type == "f"
}
print(json.dumps({"tables": tables, "formulas": formulas}, ensure_ascii=False))
