"""A finished DXF document as bytes, the same whoever writes it and when."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO

import ezdxf

from drafter.backends.dxf_document import RELEASE_12, Document


@contextmanager
def fixed_metadata() -> Iterator[None]:
    """Free the library from a user's own settings, and from the clock, and keep it quiet, while a document is made."""
    log = logging.getLogger("ezdxf")
    level = log.level
    log.setLevel(logging.ERROR)
    ezdxf.options.reset()
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = False
        log.setLevel(level)


def written(document: Document) -> bytes:
    """Return the bytes of a document, its blocks in its unit."""
    dxf = document.dxf
    if dxf.dxfversion > RELEASE_12:
        for block in dxf.blocks:
            block.units = dxf.units
    for name in sorted(dxf.entitydb.dxf_types_in_use()):
        dxf.classes.add_class(name)
    stream = StringIO(newline="\n")
    dxf.write(stream)
    encoded: bytes = dxf.encode(stream.getvalue())
    return encoded
