"""From what is seen to paper: faces painted, hatching, long parts drawn with stretches left out."""
