"""The marks on a part drawing: one file for each thing that is dimensioned or noted."""
