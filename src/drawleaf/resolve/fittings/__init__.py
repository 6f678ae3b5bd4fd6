"""Bought hardware set on parts; a file a family in `families/`."""
