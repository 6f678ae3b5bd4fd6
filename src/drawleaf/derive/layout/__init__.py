"""Sheets and boards laid out for cutting. Hands out the layouts and the order of their cuts; the search is in `search/`."""
