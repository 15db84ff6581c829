"""Writes drafter/site/site_schema.json anew from the model: `python tests/renew_schema.py`."""

import json
from pathlib import Path

from drafter.site import site_schema

FILE = Path(__file__).parents[1] / "drafter" / "site" / "site_schema.json"


def schema_text() -> str:
    """The schema as its file holds it."""
    return json.dumps(site_schema(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    FILE.write_text(schema_text(), encoding="utf-8")
