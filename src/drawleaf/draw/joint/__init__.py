"""Enlarged details of joints."""
