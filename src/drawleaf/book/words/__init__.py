"""From values to words: formats of figures, phrases, the author's own templates."""
