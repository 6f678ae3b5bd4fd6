"""Compile one plain-text woodworking plan into a booklet."""

__version__ = "0.1.0"
