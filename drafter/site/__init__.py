"""Stage 1: the text of a site file to a checked `Site`."""

from drafter.site.model import Site
from drafter.site.reading import check_again, read, site_schema

__all__ = ["Site", "check_again", "read", "site_schema"]
