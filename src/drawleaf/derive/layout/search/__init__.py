"""The search for good layouts, blind to furniture: rectangles and lengths in, cutting trees out, with lower bounds."""
