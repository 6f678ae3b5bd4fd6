"""How the booklet fills paper: fonts, paper, measured text, figures and their pages."""
