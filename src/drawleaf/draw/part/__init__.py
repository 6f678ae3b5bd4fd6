"""A drawing of each part with its sizes and notes. Hands out `draw_part`; the marks of its work are in `marks/`."""
