"""What is put on a sheet: lines, lettering, dimensions, balloons, and SVG. Knows nothing of furniture; imports nothing of draw."""
