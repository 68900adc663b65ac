"""The workbook's library writes with Python's own XML library, whatever else is installed.

It takes lxml where it finds it, and then writes other bytes. Which of the two was taken is settled
when the library is first imported, perhaps by the user's own program; so the names are exchanged
while a workbook is written, and put back afterwards.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from xml.etree import ElementTree

import openpyxl
from et_xmlfile import xmlfile
from openpyxl.cell import _writer as cells
from openpyxl.xml import constants

_PREFIXES = {
    constants.DCTERMS_PREFIX: constants.DCTERMS_NS,
    "dcmitype": "http://purl.org/dc/dcmitype/",
    "cp": constants.COREPROPS_NS,
    "c": constants.CHART_NS,
    "a": constants.DRAWING_NS,
    "s": constants.SHEET_MAIN_NS,
    "r": constants.REL_NS,
    "vt": constants.VTYPES_NS,
    "xdr": constants.SHEET_DRAWING_NS,
    "cdr": constants.CHART_DRAWING_NS,
    "xml": constants.XML_NS,
    "cust": constants.CUSTPROPS_NS,
}
"""The names of namespaces that the library registers with the XML library it takes."""
_NAMES = {
    "Element": ElementTree.Element,
    "SubElement": ElementTree.SubElement,
    "QName": ElementTree.QName,
    "fromstring": ElementTree.fromstring,
    "tostring": partial(ElementTree.tostring, encoding="utf-8"),
    "xmlfile": xmlfile,
    "write_cell": cells.etree_write_cell,
}
_ONE_AT_A_TIME = threading.RLock()


@contextmanager
def plain_xml() -> Iterator[None]:
    """Meanwhile the workbook's library uses Python's own XML library.

    Returns:
        A context.
    """
    if not openpyxl.LXML:
        yield
        return
    with _ONE_AT_A_TIME:
        for prefix, uri in _PREFIXES.items():
            ElementTree.register_namespace(prefix, uri)
        taken = [
            (vars(module), name, vars(module)[name])
            for key, module in list(sys.modules.items())
            if key.startswith("openpyxl.")
            for name in _NAMES
            if name in vars(module)
        ]
        try:
            for names, name, _ in taken:
                names[name] = _NAMES[name]
            yield
        finally:
            for names, name, before in taken:
                names[name] = before
