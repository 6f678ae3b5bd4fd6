"""From solids to drawings: projection with hidden lines removed, dimensions, one SVG each. `drawings.py` lists them all."""
