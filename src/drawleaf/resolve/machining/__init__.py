"""Machining that is no joint: edges, recesses, outlines, bores, leaning ends."""
