"""The piece as far as it is made at a step. Hands out solids as they are then."""
