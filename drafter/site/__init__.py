"""Stage 1: the text of a site file to a checked `Site`."""

from drafter.site.model import Site
from drafter.site.reading import read, site_schema

__all__ = ["Site", "read", "site_schema"]
