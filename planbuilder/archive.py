"""What makes the PDF last: PDF/A-3 and PDF/UA in one file, with fields that every viewer draws.

WeasyPrint writes one of the two; the other is a word in the metadata, since the pages obey both.
ISO 19005-3 (PDF/A-3), ISO 14289-1 (PDF/UA-1).
"""

from __future__ import annotations

import warnings
from typing import Any
from xml.etree import ElementTree as ET

VARIANT = "pdf/a-3a"
_RDF = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}"
_UA = "http://www.aiim.org/pdfua/ns/id/"
_EXTENSION = "http://www.aiim.org/pdfa/ns/extension/"
_SCHEMA = "http://www.aiim.org/pdfa/ns/schema#"
_PROPERTY = "http://www.aiim.org/pdfa/ns/property#"
_NO_LOOK = b"/Tx BMC EMC"  # an empty field looks like the paper below it


def write_archive(document: Any, **options: Any) -> bytes:  # noqa: ANN401 - WeasyPrint has no types
    """The bytes of *document* as PDF/A-3a that is PDF/UA-1 too.

    It must have been rendered with the variant of this module.
    """
    plain = document.metadata.generate_rdf_metadata
    document.metadata.generate_rdf_metadata = lambda *names: _with_ua(plain(*names))
    with warnings.catch_warnings():
        # WeasyPrint leaves the file of its colour profile to be closed by Python.
        warnings.simplefilter("ignore", ResourceWarning)
        data: bytes = document.write_pdf(finisher=_finish, **options)
    return data


def _with_ua(packet: bytes) -> bytes:
    """The metadata with the part of PDF/UA, and the description of it that PDF/A asks for."""
    for prefix, name in (
        ("pdfaExtension", _EXTENSION),
        ("pdfaSchema", _SCHEMA),
        ("pdfaProperty", _PROPERTY),
    ):
        ET.register_namespace(prefix, name)
    rdf = ET.fromstring(packet)  # noqa: S314 - written by WeasyPrint a moment ago
    about = {f"{_RDF}about": ""}
    ET.SubElement(ET.SubElement(rdf, f"{_RDF}Description", about), f"{{{_UA}}}part").text = "1"
    extension = ET.SubElement(rdf, f"{_RDF}Description", about)
    schema = _item(ET.SubElement(extension, f"{{{_EXTENSION}}}schemas"), "Bag")
    _say(
        schema,
        _SCHEMA,
        {"schema": "PDF/UA identification schema", "namespaceURI": _UA, "prefix": "pdfuaid"},
    )
    _say(
        _item(ET.SubElement(schema, f"{{{_SCHEMA}}}property"), "Seq"),
        _PROPERTY,
        {
            "name": "part",
            "valueType": "Integer",
            "category": "internal",
            "description": "Part of PDF/UA",
        },
    )
    written: bytes = ET.tostring(rdf, encoding="utf-8")
    return written


def _item(parent: ET.Element, kind: str) -> ET.Element:
    listed = ET.SubElement(parent, f"{_RDF}{kind}")
    return ET.SubElement(listed, f"{_RDF}li", {f"{_RDF}parseType": "Resource"})


def _say(element: ET.Element, namespace: str, words: dict[str, str]) -> None:
    for name, text in words.items():
        ET.SubElement(element, f"{{{namespace}}}{name}").text = text


def _finish(document: Any, pdf: Any) -> None:  # noqa: ANN401 - as above
    """What WeasyPrint leaves undone."""
    pdf.objects[_number(pdf.catalog["Metadata"])].compress = False  # archives read it as text
    files = pdf.catalog["AF"]
    files[:] = dict.fromkeys(files)  # each file is listed twice
    for element in pdf.objects:
        if isinstance(element, dict) and element.get("S") == "/TH":
            _say_scope(pdf, element)
    form = pdf.catalog.get("AcroForm")
    if form is None:
        return
    del form["NeedAppearances"]  # viewers are not to draw what an archive has to show
    _name_joined_letters(document, pdf, form)
    for field in _fields(pdf):
        _draw(pdf, form, field)


def _say_scope(pdf: Any, head: Any) -> None:  # noqa: ANN401 - as above
    """Say of a head of a table what it heads: its column where it stands on top, else its row.

    WeasyPrint links each cell to its heads, which not every reader follows.
    """
    row = pdf.objects[_number(head["P"])]
    part = pdf.objects[_number(row["P"])]
    head["A"]["Scope"] = "/Column" if part["S"] == "/THead" else "/Row"


def _name_joined_letters(document: Any, pdf: Any, form: Any) -> None:  # noqa: ANN401 - as above
    """Say what letters stand behind joined ones like fi, in typefaces that fields use.

    WeasyPrint embeds those whole, and then names only the signs that have a code of their own.
    """
    fonts = pdf.objects[_number(pdf.objects[_number(form["DR"])]["Font"])]
    for font in document.fonts.values():
        if not font.used_in_forms:
            continue
        lines = pdf.objects[_number(pdf.objects[_number(fonts[font.hash])]["ToUnicode"])].stream
        known = {line[:6] for line in map(_bytes, lines)}
        rows = [
            f"<{glyph:04x}> <{text.encode('utf-16-be').hex()}>".encode()
            for glyph, text in sorted(font.to_unicode.items())
            if f"<{glyph:04x}>".encode() not in known
        ]
        if rows:
            at = lines.index(b"endcmap")
            lines[at:at] = [b"%d beginbfchar" % len(rows), *rows, b"endbfchar"]


def _bytes(line: bytes | str) -> bytes:
    return line if isinstance(line, bytes) else line.encode()


def _number(reference: bytes) -> int:
    return int(reference.split()[0])


def _fields(pdf: Any) -> list[Any]:  # noqa: ANN401 - as above
    return [one for one in pdf.objects if isinstance(one, dict) and one.get("Subtype") == "/Widget"]


def _draw(pdf: Any, form: Any, field: Any) -> None:  # noqa: ANN401 - as above
    """Give *field* a box that is the right way up, and a look of its own while it is empty."""
    import pydyf  # noqa: PLC0415 - comes with WeasyPrint, which only a PDF pays for

    left, top, right, bottom = (float(one) for one in field["Rect"])
    field["Rect"] = pydyf.Array((left, min(top, bottom), right, max(top, bottom)))
    is_tick = field["FT"] == "/Btn"
    look = pydyf.Stream(
        [b"" if is_tick else _NO_LOOK],
        {
            "Type": "/XObject",
            "Subtype": "/Form",
            "BBox": pydyf.Array((0, 0, right - left, abs(top - bottom))),
            "Resources": form["DR"],
        },
        compress=False,
    )
    pdf.add_object(look)
    if is_tick:
        field["AP"]["N"]["Off"] = look.reference
    else:
        field["AP"] = pydyf.Dictionary({"N": look.reference})
