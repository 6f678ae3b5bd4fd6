"""The piece and its steps in three dimensions, as the drawings show them, for editions in which they can be turned."""
