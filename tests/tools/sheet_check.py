"""Reads HTML calculation sheets as a person with a calculator would, and says where they are wrong.

usage: sheet_check.py [--at-least N] [--allow-term-rounding] FILE...
       sheet_check.py --self-test

Every substitution is worked out from the numbers and units printed in it and held against the printed result, to half a
unit of its last digit. Nothing of the project's own code is used: units, functions and MathML are read here anew.
Needs html5lib; `sheet-check.sh` calls this with it.
"""

import argparse
import sys
from pathlib import Path

sys.dont_write_bytecode = True

from sheet.page import Report, check_page  # noqa: E402
from sheet.self_test import self_test  # noqa: E402


def main():
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("files", nargs="*", type=Path)
    arguments.add_argument("--at-least", type=int, default=1, help="fail if fewer lines were worked out")
    arguments.add_argument(
        "--allow-term-rounding",
        action="store_true",
        help="pass results that differ by no more than the rounding of the terms printed explains, and count them",
    )
    arguments.add_argument("--self-test", action="store_true", help="show on small pages that faults are found")
    given = arguments.parse_args()
    if given.self_test:
        return self_test()
    if not given.files:
        arguments.error("no file")
    report = Report()
    for file in given.files:
        check_page(str(file), file.read_text(encoding="utf-8"), given.allow_term_rounding, report)
    for text in report.wrong:
        print(text)
    print(", ".join(f"{count} {what}" for what, count in report.counts.items()) or "nothing read")
    if report.counts["lines worked out"] < given.at_least:
        print(f"fewer than {given.at_least} lines were worked out")
        return 1
    print(f"{len(report.wrong)} disagreements")
    return 1 if report.wrong else 0


sys.exit(main())
