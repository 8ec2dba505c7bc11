"""From the typesetter's tagged file to one for a press: its pages alone, and what PDF/X-4 says of them.

Source: ISO 15930-7:2010, 6.2 and 6.7 (identification, document information); the numbers of the clauses from
memory. Tags, links and bookmarks are for readers of a screen file.
"""

from __future__ import annotations

import hashlib
import io
import uuid
from collections.abc import Iterator
from contextlib import contextmanager

import pikepdf
from markupsafe import escape
from pikepdf import Name

_OF_THE_SCREEN = (Name.Annots, Name.StructParents, Name.Tabs)
_METADATA = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" \
xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfxid="http://www.npes.org/pdfx/ns/id/" \
xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/">
<pdfxid:GTS_PDFXVersion>PDF/X-4</pdfxid:GTS_PDFXVersion>
<pdf:Trapped>False</pdf:Trapped>
<pdf:Producer>{producer}</pdf:Producer>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
<dc:identifier>{version}</dc:identifier>
<xmp:CreateDate>{date}</xmp:CreateDate>
<xmp:ModifyDate>{date}</xmp:ModifyDate>
<xmp:MetadataDate>{date}</xmp:MetadataDate>
<xmpMM:DocumentID>xmp.did:{identity}</xmpMM:DocumentID>
<xmpMM:VersionID>1</xmpMM:VersionID>
<xmpMM:RenditionClass>default</xmpMM:RenditionClass>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="w"?>"""


@contextmanager
def pages_alone(tagged: bytes) -> Iterator[pikepdf.Pdf]:
    """The pages of a file in a new one that holds nothing else; marked content still stands in their text."""
    with pikepdf.open(io.BytesIO(tagged)) as source, pikepdf.new() as pdf:
        for page in source.pages:
            for name in _OF_THE_SCREEN:
                if name in page:
                    del page[name]
        pdf.pages.extend(source.pages)
        pdf.Root.Lang = source.Root.Lang
        for key in source.docinfo.keys():  # noqa: SIM118 - a PDF's dictionary iterates otherwise
            pdf.docinfo[key] = str(source.docinfo[key])
        yield pdf


def declare(pdf: pikepdf.Pdf, version: str, day: str) -> None:
    """Say in the metadata that this is PDF/X-4, not trapped, and which ``version`` of what it holds.

    ``day`` (2026-04-02) is the document's, and an identity from the version for a random one.
    """
    imprint = {
        key: str(pdf.docinfo.get(f"/{key.title()}", "")) for key in ("producer", "title", "author", "subject")
    }
    identity = uuid.UUID(hashlib.sha256(version.encode()).hexdigest()[:32])
    escaped = {key: escape(value) for key, value in (imprint | {"version": version}).items()}
    text = _METADATA.format(date=f"{day}T00:00:00+00:00", identity=identity, **escaped)
    pdf.Root.Metadata = pdf.make_stream(text.encode("utf-8"), Type=Name.Metadata, Subtype=Name.XML)
    pdf.docinfo[Name.Trapped] = Name("/False")
    for key in (Name.CreationDate, Name.ModDate):
        pdf.docinfo[key] = f"D:{day.replace('-', '')}000000+00'00'"
