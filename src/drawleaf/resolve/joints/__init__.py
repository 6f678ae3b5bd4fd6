"""Joints between parts: which faces meet, and with what they are fastened."""
