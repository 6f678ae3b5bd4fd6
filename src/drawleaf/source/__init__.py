"""Reading: YAML with positions, expressions, diagnostics, the catalogue in ``shared/``."""
